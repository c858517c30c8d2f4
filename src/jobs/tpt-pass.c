#include "config.h"

#include "tpt-pass-private.h"

#include <math.h>

#include "sci-detection.h"
#include "sci-effort.h"
#include "sci-poisson.h"
#include "tpt-effort-private.h"
#include "tpt-records.h"
#include "tpt-sightings-private.h"

#define LEVEL 0.95

/* Minutes; the most is that of the command line. */
#define INDEPENDENCE_USUAL 30
#define INDEPENDENCE_MOST 1e6

/* Of a million detections each, they take some 30 MB. */
#define PASSES_KEPT 8

/* A camera at work adds a trap night a day: passes of the same minute are the same. */
#define NOW_STEP TPT_MINUTE

/* What is kept with the store. */
typedef struct {
  TptSightings *sightings; /* (owned) */
  GQueue passes;           /* (owned) (element-type KeptPass): the latest first */
} Memo;

typedef struct {
  char *key;     /* (owned) */
  TptPass *pass; /* (owned) */
} KeptPass;

static void
free_kept (gpointer data)
{
  KeptPass *kept = data;

  g_free (kept->key);
  tpt_pass_unref (kept->pass);
  g_free (kept);
}

static void
free_memo (gpointer data)
{
  Memo *memo = data;

  g_queue_clear_full (&memo->passes, free_kept);
  tpt_sightings_unref (memo->sightings);
  g_free (memo);
}

TptPass *
tpt_pass_ref (TptPass *self)
{
  g_atomic_ref_count_inc (&self->references);
  return self;
}

void
tpt_pass_unref (TptPass *self)
{
  if (!g_atomic_ref_count_dec (&self->references))
    return;
  g_clear_pointer (&self->filter, tpt_filter_free);
  g_clear_pointer (&self->species, g_ptr_array_unref);
  g_clear_pointer (&self->places, g_ptr_array_unref);
  g_clear_pointer (&self->efforts, g_ptr_array_unref);
  g_clear_pointer (&self->effort_place, g_array_unref);
  g_clear_pointer (&self->detections, g_array_unref);
  g_clear_pointer (&self->zone, tpt_zone_unref);
  g_clear_pointer (&self->sightings, tpt_sightings_unref);
  g_free (self->nights);
  g_free (self);
}

/* Where each place of the sightings is among the places of the pass, or -1. */
static int *
choose_places (TptPass *self, const TptFilter *filter)
{
  GPtrArray *all = self->sightings->places;
  int *chosen = g_new (int, all->len);

  self->places = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; i < all->len; i++)
    {
      const char *code = tpt_record_get_code (all->pdata[i]);
      gboolean wanted = filter->stations == NULL || g_strv_contains ((const char *const *) filter->stations, code);

      chosen[i] = wanted ? (int) self->places->len : -1;
      if (wanted)
        g_ptr_array_add (self->places, g_object_ref (all->pdata[i]));
    }
  return chosen;
}

/* The period asked about, and nothing that lies ahead. */
static SciSpan
get_span (const TptPass *self)
{
  const TptRange *range = &self->filter->range;

  return (SciSpan){ range->from != TPT_NO_INSTANT ? range->from : INT64_MIN,
                    range->to != TPT_NO_INSTANT ? MIN (range->to, self->now) : self->now };
}

static void
add_clipped (GArray *ranges, TptRange range, SciSpan span)
{
  SciSpan part = sci_span_clip ((SciSpan){ range.from, range.to }, span);
  TptRange clipped = { part.from, part.to };

  if (part.from < part.to)
    g_array_append_val (ranges, clipped);
}

static void
add_clipped_gap (GArray *gaps, const TptGap *gap, SciSpan span)
{
  SciSpan part = sci_span_clip ((SciSpan){ gap->range.from, gap->range.to }, span);
  TptGap clipped = { { part.from, part.to }, gap->why };

  if (part.from < part.to)
    g_array_append_val (gaps, clipped);
}

static TptEffort *
clip_effort (const TptEffort *whole, SciSpan span)
{
  TptEffort *effort = g_new0 (TptEffort, 1);
  gint64 total = 0;

  effort->deployment = g_strdup (whole->deployment);
  effort->deployment_id = whole->deployment_id;
  effort->station = g_strdup (whole->station);
  effort->station_id = whole->station_id;
  effort->worked = g_array_new (FALSE, FALSE, sizeof (TptRange));
  effort->gaps = g_array_new (FALSE, FALSE, sizeof (TptGap));
  for (guint i = 0; i < whole->worked->len; i++)
    add_clipped (effort->worked, g_array_index (whole->worked, TptRange, i), span);
  for (guint i = 0; i < whole->gaps->len; i++)
    add_clipped_gap (effort->gaps, &g_array_index (whole->gaps, TptGap, i), span);
  for (guint i = 0; i < effort->worked->len; i++)
    {
      const TptRange *worked = &g_array_index (effort->worked, TptRange, i);
      total += worked->to - worked->from;
    }
  effort->nights = sci_nights (total);
  return effort;
}

static void
widen_period (TptPass *self, const TptEffort *effort)
{
  for (guint i = 0; i < effort->worked->len; i++)
    {
      const TptRange *worked = &g_array_index (effort->worked, TptRange, i);

      self->period.from = self->period.from == TPT_NO_INSTANT ? worked->from : MIN (self->period.from, worked->from);
      self->period.to = self->period.to == TPT_NO_INSTANT ? worked->to : MAX (self->period.to, worked->to);
    }
}

static void
count_effort (TptPass *self, const int *chosen)
{
  SciSpan span = get_span (self);

  self->nights = g_new0 (double, self->places->len + 1);
  self->efforts = g_ptr_array_new_with_free_func (tpt_effort_free);
  self->effort_place = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < self->sightings->efforts->len; i++)
    {
      int place = chosen[g_array_index (self->sightings->effort_place, guint, i)];
      TptEffort *effort;

      if (place < 0)
        continue;
      effort = clip_effort (self->sightings->efforts->pdata[i], span);
      g_ptr_array_add (self->efforts, effort);
      g_array_append_val (self->effort_place, place);
      self->nights[place] += effort->nights;
      self->all_nights += effort->nights;
      widen_period (self, effort);
    }
}

/* The records of one species at one station, by time. */
typedef struct {
  guint species;
  guint place; /* of the pass */
  guint first; /* row */
  guint end;
} Group;

/* The first row of a group that starts at @at or later. */
static guint
find_start (const TptSighting *rows, guint first, guint end, TptInstant at)
{
  while (first < end)
    {
      guint middle = first + (end - first) / 2;

      if (rows[middle].start < at)
        first = middle + 1;
      else
        end = middle;
    }
  return first;
}

static void
cut_group (Group *group, const TptSighting *rows, TptRange range)
{
  if (range.from != TPT_NO_INSTANT)
    group->first = find_start (rows, group->first, group->end, range.from);
  if (range.to != TPT_NO_INSTANT)
    group->end = find_start (rows, group->first, group->end, range.to);
}

static void
add_detection (TptPass *self, const Group *group, const TptSighting *rows, guint first, guint end)
{
  TptDetection detection = { rows[first].start, rows[first].end, group->species, group->place, 0, first };
  double hour = NAN;

  for (guint i = first; i < end; i++)
    {
      detection.until = MAX (detection.until, MAX (rows[i].start, rows[i].end));
      detection.animals = MAX (detection.animals, rows[i].count);
    }
  if (self->filter->hour_from >= 0)
    hour = tpt_sightings_get_hour (self->sightings, first, self->filter->hours_by_sun);
  if (tpt_filter_takes_hour (self->filter, hour))
    g_array_append_val (self->detections, detection);
}

/* Room for the numbering of one group. */
typedef struct {
  gint64 *starts;
  gint64 *ends;
  gsize *numbers;
} Workbench;

static void
count_group (TptPass *self, const Group *group, const TptSighting *rows, const Workbench *bench)
{
  guint n = group->end - group->first;

  for (guint i = 0; i < n; i++)
    {
      bench->starts[i] = rows[group->first + i].start;
      bench->ends[i] = rows[group->first + i].end;
    }
  sci_detections (bench->starts, bench->ends, n, (gint64) (self->independence_min * TPT_MINUTE),
                  self->from_first ? SCI_GAP_FROM_FIRST : SCI_GAP_FROM_LAST, FALSE, bench->numbers);
  for (guint i = 0, first; i < n;)
    {
      for (first = i; i < n && bench->numbers[i] == bench->numbers[first]; i++)
        ;
      add_detection (self, group, rows, group->first + first, group->first + i);
    }
}

static gboolean
count_detections (TptPass *self, const int *chosen, GCancellable *cancellable, GError **error)
{
  const TptSightings *all = self->sightings;
  const TptSighting *rows = (const TptSighting *) (gpointer) all->rows->data;
  g_autofree gint64 *starts = g_new (gint64, all->rows->len), *ends = g_new (gint64, all->rows->len);
  g_autofree gsize *numbers = g_new (gsize, all->rows->len);
  Workbench bench = { starts, ends, numbers };

  self->detections = g_array_new (FALSE, FALSE, sizeof (TptDetection));
  for (guint first = 0, end; first < all->rows->len; first = end)
    {
      Group group = { all->species_of[first], 0, first, 0 };
      int place = chosen[all->place_of[first]];

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      for (end = first + 1; end < all->rows->len && all->species_of[end] == all->species_of[first] &&
                            all->place_of[end] == all->place_of[first];)
        end++;
      if (place < 0)
        continue;
      group.place = (guint) place;
      group.end = end;
      cut_group (&group, rows, self->filter->range);
      count_group (self, &group, rows, &bench);
    }
  return TRUE;
}

static TptPass *
make_pass (TptSightings *sightings, const TptFilter *filter, TptInstant now, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptPass) self = g_new0 (TptPass, 1);
  g_autofree int *chosen = NULL;

  g_atomic_ref_count_init (&self->references);
  self->filter = tpt_filter_copy (filter);
  self->sightings = tpt_sightings_ref (sightings);
  self->species = g_ptr_array_ref (sightings->species);
  self->zone = tpt_zone_ref (sightings->zone);
  self->now = now;
  self->independence_min = filter->independence_min;
  self->from_first = filter->gap_from_first;
  self->period = (TptRange){ TPT_NO_INSTANT, TPT_NO_INSTANT };
  chosen = choose_places (self, filter);
  count_effort (self, chosen);
  if (!count_detections (self, chosen, cancellable, error))
    return NULL;
  return g_steal_pointer (&self);
}

/* What is no number of minutes in the file, somebody's slip, is no choice. */
static double
read_independence (TptStore *store)
{
  double minutes = tpt_store_get_setting_real (store, "independence_min", INDEPENDENCE_USUAL);

  return minutes >= 0 && minutes <= INDEPENDENCE_MOST ? minutes : INDEPENDENCE_USUAL;
}

/* What is left open in a filter is the project's choice. */
static TptFilter *
settle_filter (TptStore *store, const TptFilter *filter)
{
  TptFilter *settled = tpt_filter_copy (filter);
  g_autofree char *from = tpt_store_get_setting (store, "independence_from");

  g_clear_pointer (&settled->species, g_strfreev);
  if (isnan (settled->independence_min))
    settled->independence_min = read_independence (store);
  if (settled->gap_from_first < 0)
    settled->gap_from_first = g_strcmp0 (from, "first") == 0;
  if (settled->hour_from < 0)
    settled->hours_by_sun = FALSE;
  return settled;
}

static char *
make_key (const TptFilter *filter, TptInstant now)
{
  g_autofree char *stations = filter->stations != NULL ? g_strjoinv ("\x1f", filter->stations) : g_strdup ("*");

  return g_strdup_printf ("%s|%" G_GINT64_FORMAT "|%" G_GINT64_FORMAT "|%d|%d|%d|%.17g|%d|%" G_GINT64_FORMAT, stations,
                          filter->range.from, filter->range.to, filter->hour_from, filter->hour_to,
                          filter->hours_by_sun, filter->independence_min, filter->gap_from_first, now / NOW_STEP);
}

static TptPass *
find_kept (Memo *memo, const char *key)
{
  for (GList *l = memo->passes.head; l != NULL; l = l->next)
    {
      KeptPass *kept = l->data;

      if (!g_str_equal (kept->key, key))
        continue;
      g_queue_unlink (&memo->passes, l);
      g_queue_push_head_link (&memo->passes, l);
      return tpt_pass_ref (kept->pass);
    }
  return NULL;
}

static void
keep (Memo *memo, const char *key, TptPass *pass)
{
  KeptPass *kept = g_new (KeptPass, 1);

  kept->key = g_strdup (key);
  kept->pass = tpt_pass_ref (pass);
  g_queue_push_head (&memo->passes, kept);
  while (memo->passes.length > PASSES_KEPT)
    free_kept (g_queue_pop_tail (&memo->passes));
}

static Memo *
get_memo (TptStore *store, GCancellable *cancellable, GError **error)
{
  Memo *memo;
  TptSightings *sightings;

  if (!tpt_store_hold (store, error))
    return NULL;
  memo = tpt_store_get_memo (store);
  if (memo == NULL && (sightings = tpt_sightings_read (store, cancellable, error)) != NULL)
    {
      memo = g_new0 (Memo, 1);
      memo->sightings = sightings;
      tpt_store_take_memo (store, memo, free_memo);
    }
  tpt_store_release (store);
  return memo;
}

TptPass *
tpt_pass_get (TptStore *store, const TptFilter *filter, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptFilter) settled = settle_filter (store, filter);
  TptInstant now = tpt_store_get_now (store);
  g_autofree char *key = make_key (settled, now);
  Memo *memo = NULL;
  TptPass *pass;

  if (tpt_store_check_stations (store, (const char *const *) filter->stations, error))
    memo = get_memo (store, cancellable, error);
  if (memo == NULL)
    return NULL;
  pass = find_kept (memo, key);
  if (pass != NULL)
    return pass;
  pass = make_pass (memo->sightings, settled, now, cancellable, error);
  if (pass != NULL)
    keep (memo, key, pass);
  return pass;
}

double
tpt_pass_get_hour (TptPass *self, const TptDetection *detection, gboolean by_sun)
{
  return tpt_sightings_get_hour (self->sightings, detection->sighting, by_sun);
}

double
tpt_pass_get_altitude (TptPass *self, const TptDetection *detection)
{
  return tpt_sightings_get_altitude (self->sightings, detection->sighting);
}

void
tpt_rate_fill (TptRate *rate)
{
  SciInterval interval = sci_poisson_rate (rate->detections, rate->nights, 100, LEVEL);

  rate->per_100 = interval.estimate;
  rate->low = interval.lower;
  rate->high = interval.upper;
}
