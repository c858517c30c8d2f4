#include "config.h"

#include "tpt-findings-choice.h"

#include <math.h>
#include <string.h>

#define MOST_STEPS 100

static const TptRange no_range = { TPT_NO_INSTANT, TPT_NO_INSTANT };

/* Everything that can be chosen; what history is made of. */
typedef struct {
  GStrv stations;      /* (owned) (nullable): sorted, each once */
  char *species;       /* (owned) (nullable) */
  char *other_species; /* (owned) (nullable) */
  TptRange period;
  TptRange other_period;
  int hour_from; /* minutes; -1 for any */
  int hour_to;
  gboolean hours_by_sun;
} State;

struct _TptFindingsChoice {
  GObject parent_instance;

  State now;
  GArray *past; /* (owned) (element-type State) */
};

G_DEFINE_FINAL_TYPE (TptFindingsChoice, tpt_findings_choice, G_TYPE_OBJECT)

enum {
  SIGNAL_CHANGED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static gboolean
is_set (TptRange range)
{
  return range.from != TPT_NO_INSTANT || range.to != TPT_NO_INSTANT;
}

static State
make_empty (void)
{
  return (State) { .period = no_range, .other_period = no_range, .hour_from = -1, .hour_to = -1 };
}

static State
copy_state (const State *state)
{
  State copy = *state;

  copy.stations = g_strdupv (state->stations);
  copy.species = g_strdup (state->species);
  copy.other_species = g_strdup (state->other_species);
  return copy;
}

static void
clear_state_cb (gpointer data)
{
  State *state = data;

  g_clear_pointer (&state->stations, g_strfreev);
  g_clear_pointer (&state->species, g_free);
  g_clear_pointer (&state->other_species, g_free);
}

static gboolean
have_same_stations (const State *a, const State *b)
{
  if (a->stations == NULL || b->stations == NULL)
    return a->stations == b->stations;
  return g_strv_equal ((const char *const *) a->stations, (const char *const *) b->stations);
}

static gboolean
is_same_range (TptRange a, TptRange b)
{
  return a.from == b.from && a.to == b.to;
}

static gboolean
have_same_hours (const State *a, const State *b)
{
  if (a->hour_from < 0 || b->hour_from < 0)
    return a->hour_from == b->hour_from;
  return a->hour_from == b->hour_from && a->hour_to == b->hour_to && a->hours_by_sun == b->hours_by_sun;
}

static TptFindingsPart
tell_difference (const State *a, const State *b)
{
  TptFindingsPart parts = TPT_PART_NONE;

  if (!have_same_stations (a, b))
    parts |= TPT_PART_STATIONS;
  if (g_strcmp0 (a->species, b->species) != 0)
    parts |= TPT_PART_SPECIES;
  if (!is_same_range (a->period, b->period))
    parts |= TPT_PART_PERIOD;
  if (!have_same_hours (a, b))
    parts |= TPT_PART_HOURS;
  if (g_strcmp0 (a->other_species, b->other_species) != 0 || !is_same_range (a->other_period, b->other_period))
    parts |= TPT_PART_OTHER;
  return parts;
}

/* What cannot stand beside what is chosen goes. */
static void
settle (State *state)
{
  if (state->species == NULL || g_strcmp0 (state->species, state->other_species) == 0)
    g_clear_pointer (&state->other_species, g_free);
  if (!is_set (state->period) || is_same_range (state->period, state->other_period) || state->other_species != NULL)
    state->other_period = no_range;
}

/* Takes @next over, remembering what was; tells what is new. */
static void
take (TptFindingsChoice *self, State *next, gboolean remember)
{
  TptFindingsPart parts;

  settle (next);
  parts = tell_difference (&self->now, next);
  if (parts == TPT_PART_NONE)
    {
      clear_state_cb (next);
      return;
    }
  if (remember && self->past->len == MOST_STEPS)
    g_array_remove_index (self->past, 0);
  if (remember)
    g_array_append_val (self->past, self->now); /* which owns it from here on */
  else
    clear_state_cb (&self->now);
  self->now = *next;
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0, (guint) parts);
}

static void
tpt_findings_choice_finalize (GObject *object)
{
  TptFindingsChoice *self = TPT_FINDINGS_CHOICE (object);

  clear_state_cb (&self->now);
  g_array_unref (self->past);
  G_OBJECT_CLASS (tpt_findings_choice_parent_class)->finalize (object);
}

static void
tpt_findings_choice_class_init (TptFindingsChoiceClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_findings_choice_finalize;
  signals[SIGNAL_CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                          G_TYPE_NONE, 1, G_TYPE_UINT);
}

static void
tpt_findings_choice_init (TptFindingsChoice *self)
{
  self->now = make_empty ();
  self->past = g_array_new (FALSE, FALSE, sizeof (State));
  g_array_set_clear_func (self->past, clear_state_cb);
}

TptFindingsChoice *
tpt_findings_choice_new (void)
{
  return g_object_new (TPT_TYPE_FINDINGS_CHOICE, NULL);
}

static int
compare_codes_cb (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* (transfer full) (nullable): of @codes and, without duplicates, @more; sorted. */
static GStrv
join (const char *const *codes, const char *const *more)
{
  g_autoptr (GPtrArray) all = g_ptr_array_new ();

  for (guint i = 0; codes != NULL && codes[i] != NULL; i++)
    g_ptr_array_add (all, (gpointer) codes[i]);
  for (guint i = 0; more != NULL && more[i] != NULL; i++)
    if (codes == NULL || !g_strv_contains (codes, more[i]))
      g_ptr_array_add (all, (gpointer) more[i]);
  if (all->len == 0)
    return NULL;
  g_ptr_array_sort (all, compare_codes_cb);
  g_ptr_array_add (all, NULL);
  return g_strdupv ((GStrv) all->pdata);
}

static GStrv
leave_out (const char *const *codes, const char *code)
{
  g_autoptr (GPtrArray) rest = g_ptr_array_new ();

  for (guint i = 0; codes[i] != NULL; i++)
    if (strcmp (codes[i], code) != 0)
      g_ptr_array_add (rest, (gpointer) codes[i]);
  g_ptr_array_add (rest, NULL);
  return rest->len > 1 ? g_strdupv ((GStrv) rest->pdata) : NULL;
}

void
tpt_findings_choice_set_stations (TptFindingsChoice *self, const char *const *codes, gboolean add)
{
  State next = copy_state (&self->now);
  const char *const *before = (const char *const *) self->now.stations;
  gboolean single = codes != NULL && codes[0] != NULL && codes[1] == NULL;

  g_strfreev (next.stations);
  if (add && single && before != NULL && g_strv_contains (before, codes[0]))
    next.stations = leave_out (before, codes[0]);
  else
    next.stations = join (add ? before : NULL, codes);
  take (self, &next, TRUE);
}

void
tpt_findings_choice_set_species (TptFindingsChoice *self, const char *name)
{
  State next = copy_state (&self->now);

  g_free (next.species);
  next.species = g_strdup (name);
  take (self, &next, TRUE);
}

void
tpt_findings_choice_set_period (TptFindingsChoice *self, TptRange period)
{
  State next = copy_state (&self->now);

  next.period = period;
  take (self, &next, TRUE);
}

static int
round_to_minutes (double hour)
{
  return (int) lround (hour * 60) % (24 * 60);
}

void
tpt_findings_choice_set_hours (TptFindingsChoice *self, double from, double to, gboolean by_sun)
{
  State next = copy_state (&self->now);
  gboolean any = isnan (from) || isnan (to) || round_to_minutes (from) == round_to_minutes (to);

  next.hour_from = any ? -1 : round_to_minutes (from);
  next.hour_to = any ? -1 : round_to_minutes (to);
  next.hours_by_sun = !any && by_sun;
  take (self, &next, TRUE);
}

void
tpt_findings_choice_compare_species (TptFindingsChoice *self, const char *name)
{
  State next = copy_state (&self->now);
  char **place = next.species == NULL && name != NULL ? &next.species : &next.other_species;

  g_free (*place);
  *place = g_strdup (name);
  take (self, &next, TRUE);
}

void
tpt_findings_choice_compare_periods (TptFindingsChoice *self, TptRange period, TptRange other)
{
  State next = copy_state (&self->now);

  next.period = period;
  next.other_period = other;
  g_clear_pointer (&next.other_species, g_free);
  take (self, &next, TRUE);
}

void
tpt_findings_choice_clear (TptFindingsChoice *self, TptFindingsPart parts)
{
  State next = copy_state (&self->now);

  if (parts & TPT_PART_STATIONS)
    g_clear_pointer (&next.stations, g_strfreev);
  if (parts & TPT_PART_SPECIES)
    {
      g_free (next.species);
      next.species = parts & TPT_PART_OTHER ? NULL : g_strdup (next.other_species);
    }
  if (parts & TPT_PART_PERIOD)
    next.period = no_range;
  if (parts & TPT_PART_HOURS)
    next.hour_from = next.hour_to = -1;
  if (parts & TPT_PART_OTHER)
    {
      g_clear_pointer (&next.other_species, g_free);
      next.other_period = no_range;
    }
  take (self, &next, TRUE);
}

gboolean
tpt_findings_choice_can_go_back (TptFindingsChoice *self)
{
  return self->past->len > 0;
}

void
tpt_findings_choice_go_back (TptFindingsChoice *self)
{
  State before;

  if (self->past->len == 0)
    return;
  before = copy_state (&g_array_index (self->past, State, self->past->len - 1));
  g_array_set_size (self->past, self->past->len - 1);
  take (self, &before, FALSE);
}

void
tpt_findings_choice_reset (TptFindingsChoice *self)
{
  clear_state_cb (&self->now);
  self->now = make_empty ();
  g_array_set_size (self->past, 0);
}

TptFindingsPart
tpt_findings_choice_get_parts (TptFindingsChoice *self)
{
  State empty = make_empty ();

  return tell_difference (&self->now, &empty);
}

const char *const *
tpt_findings_choice_get_stations (TptFindingsChoice *self)
{
  return (const char *const *) self->now.stations;
}

const char *
tpt_findings_choice_get_species (TptFindingsChoice *self)
{
  return self->now.species;
}

TptRange
tpt_findings_choice_get_period (TptFindingsChoice *self)
{
  return self->now.period;
}

double
tpt_findings_choice_get_hour_from (TptFindingsChoice *self)
{
  return self->now.hour_from < 0 ? NAN : self->now.hour_from / 60.0;
}

/* An end at midnight is that of the day. */
double
tpt_findings_choice_get_hour_to (TptFindingsChoice *self)
{
  return self->now.hour_from < 0 ? NAN : self->now.hour_to == 0 ? 24 : self->now.hour_to / 60.0;
}

gboolean
tpt_findings_choice_get_hours_by_sun (TptFindingsChoice *self)
{
  return self->now.hours_by_sun;
}

TptBeside
tpt_findings_choice_get_beside (TptFindingsChoice *self)
{
  return self->now.other_species != NULL ? TPT_BESIDE_SPECIES
         : is_set (self->now.other_period) ? TPT_BESIDE_PERIOD
                                           : TPT_BESIDE_NOTHING;
}

const char *
tpt_findings_choice_get_other_species (TptFindingsChoice *self)
{
  return self->now.other_species;
}

TptRange
tpt_findings_choice_get_other_period (TptFindingsChoice *self)
{
  return self->now.other_period;
}

static TptFilter *
make_filter (const State *state, const char *species, TptRange period, TptFindingsPart without)
{
  TptFilter *filter = tpt_filter_new ();

  if (!(without & TPT_PART_STATIONS))
    filter->stations = g_strdupv (state->stations);
  if (!(without & TPT_PART_SPECIES) && species != NULL)
    filter->species = g_strdupv ((char *[]) { (char *) species, NULL });
  if (!(without & TPT_PART_PERIOD))
    filter->range = period;
  if (!(without & TPT_PART_HOURS))
    {
      filter->hour_from = state->hour_from;
      filter->hour_to = state->hour_to;
      filter->hours_by_sun = state->hours_by_sun;
    }
  return filter;
}

TptFilter *
tpt_findings_choice_make_filter (TptFindingsChoice *self, TptFindingsPart without)
{
  return make_filter (&self->now, self->now.species, self->now.period, without);
}

TptFilter *
tpt_findings_choice_make_other_filter (TptFindingsChoice *self, TptFindingsPart without)
{
  TptBeside beside = tpt_findings_choice_get_beside (self);

  if (beside == TPT_BESIDE_SPECIES && !(without & TPT_PART_SPECIES))
    return make_filter (&self->now, self->now.other_species, self->now.period, without);
  if (beside == TPT_BESIDE_PERIOD && !(without & TPT_PART_PERIOD))
    return make_filter (&self->now, self->now.species, self->now.other_period, without);
  return NULL;
}

static TptInstant
shift (TptInstant at, int years, TptZone *zone)
{
  TptInstant moved, second;
  gint64 number, of_day;
  int year, month, day;

  if (at == TPT_NO_INSTANT)
    return at;
  number = tpt_zone_local_day (zone, at);
  of_day = at + tpt_zone_offset_at (zone, at) * TPT_SECOND - number * TPT_DAY;
  tpt_civil_from_days (number, &year, &month, &day);
  if (month == 2 && day == 29 && tpt_days_from_civil (year + years, 3, 1) - tpt_days_from_civil (year + years, 2, 28) == 1)
    day = 28;
  tpt_zone_resolve (zone, tpt_days_from_civil (year + years, month, day) * TPT_DAY + of_day, &moved, &second);
  return moved;
}

TptRange
tpt_findings_shift_years (TptRange period, int years, TptZone *zone)
{
  return (TptRange) { shift (period.from, years, zone), shift (period.to, years, zone) };
}
