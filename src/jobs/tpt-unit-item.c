#include "config.h"

#include "tpt-unit-item-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-words.h"

struct _TptUnitItem {
  GObject parent_instance;

  TptRecord *record;  /* (owned) */
  TptRecord *station; /* (owned) (nullable) */
  TptInstant since;
  TptLastReading reading; /* @at is %TPT_NO_INSTANT for none */
  TptRecord *entry;       /* (owned) (nullable): the newest of harm or repair */
};

G_DEFINE_FINAL_TYPE (TptUnitItem, tpt_unit_item, G_TYPE_OBJECT)

static void
tpt_unit_item_finalize (GObject *object)
{
  TptUnitItem *self = TPT_UNIT_ITEM (object);

  g_clear_object (&self->record);
  g_clear_object (&self->station);
  g_clear_object (&self->entry);

  G_OBJECT_CLASS (tpt_unit_item_parent_class)->finalize (object);
}

static void
tpt_unit_item_class_init (TptUnitItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_unit_item_finalize;
}

static void
tpt_unit_item_init (TptUnitItem *self)
{
  self->since = TPT_NO_INSTANT;
  self->reading = (TptLastReading){ .at = TPT_NO_INSTANT, .volts = NAN, .percent = NAN };
}

TptUnitItem *
tpt_unit_item_new (TptRecord *record)
{
  TptUnitItem *self = g_object_new (TPT_TYPE_UNIT_ITEM, NULL);

  self->record = g_object_ref (record);
  return self;
}

void
tpt_unit_item_take_fitting (TptUnitItem *self, TptRecord *fitting, TptRecord *station, TptInstant on)
{
  TptInstant from = tpt_record_get_instant (fitting, "from"), to = tpt_record_get_instant (fitting, "to");

  if (from > on)
    return;
  if (to == TPT_NO_INSTANT || to > on)
    {
      g_set_object (&self->station, station);
      self->since = from;
    }
  else if (self->station == NULL)
    self->since = MAX (self->since, to);
}

void
tpt_unit_item_take_reading (TptUnitItem *self, const TptLastReading *reading)
{
  self->reading = *reading;
}

static gboolean
tells_of_harm (TptRecord *entry)
{
  static const char *const harms[] = { "damage", "failure", "loss", NULL };

  return g_strv_contains (harms, tpt_record_get_text (entry, "what"));
}

void
tpt_unit_item_take_entry (TptUnitItem *self, TptRecord *entry, TptInstant on)
{
  gboolean counts = tells_of_harm (entry) || g_strcmp0 (tpt_record_get_text (entry, "what"), "repair") == 0;
  TptInstant at = tpt_record_get_instant (entry, "at");

  if (counts && at <= on && (self->entry == NULL || at >= tpt_record_get_instant (self->entry, "at")))
    g_set_object (&self->entry, entry);
}

/* The kinds in the order in which the table has them. */
static int
rank_kind (TptRecord *unit)
{
  const TptTable *table = tpt_table_get (TPT_TABLE_UNITS);
  const char *const *kinds = table->columns[tpt_table_find (table, "kind")].choices;
  int rank = 0;

  while (kinds[rank] != NULL && g_strcmp0 (kinds[rank], tpt_record_get_text (unit, "kind")) != 0)
    rank++;
  return rank;
}

int
tpt_unit_item_compare (TptUnitItem *a, TptUnitItem *b)
{
  int by_kind = rank_kind (a->record) - rank_kind (b->record);

  return by_kind != 0 ? by_kind : g_strcmp0 (tpt_record_get_code (a->record), tpt_record_get_code (b->record));
}

TptRecord *
tpt_unit_item_get_record (TptUnitItem *self)
{
  return self->record;
}

const char *
tpt_unit_item_get_code (TptUnitItem *self)
{
  return tpt_record_get_code (self->record);
}

const char *
tpt_unit_item_get_title (TptUnitItem *self)
{
  const char *label = tpt_record_get_text (self->record, "label");

  return label != NULL ? label : tpt_record_get_code (self->record);
}

TptUnitPlace
tpt_unit_item_get_place (TptUnitItem *self)
{
  if (self->station != NULL)
    return TPT_UNIT_IN_RIG;
  return tpt_record_is_set (self->record, "retired") ? TPT_UNIT_RETIRED : TPT_UNIT_ON_SHELF;
}

const char *
tpt_unit_item_get_station (TptUnitItem *self)
{
  return self->station != NULL ? tpt_record_get_code (self->station) : NULL;
}

const char *
tpt_unit_item_get_station_title (TptUnitItem *self)
{
  const char *name = self->station != NULL ? tpt_record_get_text (self->station, "name") : NULL;

  return name != NULL ? name : tpt_unit_item_get_station (self);
}

TptInstant
tpt_unit_item_get_since (TptUnitItem *self)
{
  return self->since;
}

/* Repaired on a visit counts as well as repaired at home. */
gboolean
tpt_unit_item_is_harmed (TptUnitItem *self)
{
  if (self->entry == NULL || !tells_of_harm (self->entry))
    return FALSE;
  return !g_str_equal (self->reading.action, "repaired") || self->reading.at < tpt_record_get_instant (self->entry, "at");
}

static char *
word_retired (TptUnitItem *self, TptZone *zone, TptInstant now)
{
  const char *cause = tpt_record_get_text (self->record, "retire_cause");
  g_autofree char *word = cause != NULL ? tpt_choice_inline (cause) : NULL;
  g_autofree char *day = NULL;
  TptReading date;

  if (!tpt_reading_parse (tpt_record_get_text (self->record, "retired"), &date, NULL))
    return g_strdup (_("Retired"));
  day = tpt_words_day (tpt_zone_day_from_number (zone, date.clock_ms / TPT_DAY), zone, now);
  return word != NULL ? g_strdup_printf (_("Retired %1$s: %2$s"), day, word) : g_strdup_printf (_("Retired %s"), day);
}

char *
tpt_unit_item_word_place (TptUnitItem *self, TptZone *zone, TptInstant now)
{
  g_autofree char *day = self->since != TPT_NO_INSTANT ? tpt_words_day (self->since, zone, now) : NULL;

  switch (tpt_unit_item_get_place (self))
    {
    case TPT_UNIT_IN_RIG:
      return g_strdup_printf (_("At %1$s since %2$s"), tpt_unit_item_get_station_title (self), day);
    case TPT_UNIT_RETIRED:
      return word_retired (self, zone, now);
    case TPT_UNIT_ON_SHELF:
    default:
      return day != NULL ? g_strdup_printf (_("On the shelf since %s"), day) : g_strdup (_("On the shelf, never set out"));
    }
}

static char *
word_harm (TptUnitItem *self, TptZone *zone, TptInstant now)
{
  const char *cause = tpt_record_get_text (self->entry, "cause");
  g_autofree char *what = tpt_choice_inline (tpt_record_get_text (self->entry, "what"));
  g_autofree char *day = tpt_words_day (tpt_record_get_instant (self->entry, "at"), zone, now);
  g_autofree char *why = cause != NULL ? tpt_choice_inline (cause) : NULL;

  if (why == NULL)
    return g_strdup_printf (_("%1$s on %2$s"), what, day);
  return g_strdup_printf (_("%1$s on %2$s: %3$s"), what, day, why);
}

static gboolean
was_renewed (const TptLastReading *reading)
{
  return g_str_equal (reading->action, "swapped") || g_str_equal (reading->action, "charged");
}

char *
tpt_unit_item_word_state (TptUnitItem *self, TptZone *zone, TptInstant now)
{
  const TptLastReading *reading = &self->reading;
  g_autofree char *day = reading->at != TPT_NO_INSTANT ? tpt_words_day (reading->at, zone, now) : NULL;
  g_autofree char *action = NULL;

  if (tpt_unit_item_is_harmed (self))
    return word_harm (self, zone, now);
  if (day == NULL)
    return NULL;
  if (*reading->action != '\0' && !g_str_equal (reading->action, "none"))
    action = tpt_choice_inline (reading->action);
  if (was_renewed (reading) || (action != NULL && isnan (reading->percent) && isnan (reading->volts)))
    return g_strdup_printf (_("%1$s on %2$s"), action, day);
  if (g_str_equal (reading->state, "dead") && action == NULL)
    return g_strdup_printf (_("found dead on %s"), day);
  if (!isnan (reading->percent))
    return g_strdup_printf (_("%1$.0f %% left on %2$s"), reading->percent, day);
  if (!isnan (reading->volts))
    return g_strdup_printf (_("%1$.2f V on %2$s"), reading->volts, day);
  return g_strdup_printf (_("seen on %s"), day);
}
