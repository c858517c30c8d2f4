#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-error.h"
#include "tpt-log-private.h"
#include "tpt-records.h"
#include "tpt-words.h"

struct _TptLogItem {
  GObject parent_instance;

  TptInstant at;
  char *text; /* (owned) */
  char *unit; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptLogItem, tpt_log_item, G_TYPE_OBJECT)

enum {
  PROP_0,
  PROP_TEXT,
  N_PROPS,
};

static GParamSpec *properties[N_PROPS];

static void
tpt_log_item_finalize (GObject *object)
{
  TptLogItem *self = TPT_LOG_ITEM (object);

  g_free (self->text);
  g_free (self->unit);

  G_OBJECT_CLASS (tpt_log_item_parent_class)->finalize (object);
}

static void
tpt_log_item_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  if (id == PROP_TEXT)
    g_value_set_string (value, TPT_LOG_ITEM (object)->text);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
tpt_log_item_class_init (TptLogItemClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->finalize = tpt_log_item_finalize;
  object_class->get_property = tpt_log_item_get_property;

  properties[PROP_TEXT] = g_param_spec_string ("text", NULL, NULL, NULL, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
tpt_log_item_init (TptLogItem *self)
{
}

TptInstant
tpt_log_item_get_at (TptLogItem *self)
{
  return self->at;
}

const char *
tpt_log_item_get_text (TptLogItem *self)
{
  return self->text;
}

const char *
tpt_log_item_get_unit (TptLogItem *self)
{
  return self->unit;
}

void
tpt_log_add (GListStore *log, TptInstant at, const char *unit, const char *text)
{
  g_autoptr (TptLogItem) item = g_object_new (TPT_TYPE_LOG_ITEM, NULL);

  item->at = at;
  item->unit = g_strdup (unit);
  item->text = g_strdup (text);
  g_list_store_append (log, item);
}

static int
compare_newest_cb (gconstpointer a, gconstpointer b, gpointer data)
{
  const TptLogItem *x = a, *y = b;

  return (x->at < y->at) - (x->at > y->at);
}

void
tpt_log_sort (GListStore *log)
{
  g_list_store_sort (log, compare_newest_cb, NULL);
}

const char *
tpt_log_unit_label (TptRecord *unit)
{
  const char *label = tpt_record_get_text (unit, "label");

  return label != NULL ? label : tpt_record_get_code (unit);
}

void
tpt_log_add_deployment (GListStore *log, TptRecord *deployment)
{
  TptInstant end = tpt_record_get_instant (deployment, "end");

  tpt_log_add (log, tpt_record_get_instant (deployment, "start"), NULL, _("Set out"));
  if (end != TPT_NO_INSTANT)
    tpt_log_add (log, end, NULL, _("Brought in"));
}

/* A unit that came and went with its rig needs no line in the station's log;
 * one that was changed in between does. */
void
tpt_log_add_fitting (GListStore *log, TptRecord *fitting, TptRecord *deployment)
{
  const char *unit = tpt_record_get_text (fitting, "unit");
  TptInstant from = tpt_record_get_instant (fitting, "from"), to = tpt_record_get_instant (fitting, "to");

  if (from != tpt_record_get_instant (deployment, "start"))
    {
      g_autofree char *text = g_strdup_printf (_("%s fitted"), unit);
      tpt_log_add (log, from, unit, text);
    }
  if (to != TPT_NO_INSTANT && to != tpt_record_get_instant (deployment, "end"))
    {
      g_autofree char *text = g_strdup_printf (_("%s taken out"), unit);
      tpt_log_add (log, to, unit, text);
    }
}

static void
append_part (GString *text, const char *part)
{
  if (part == NULL || *part == '\0')
    return;
  g_string_append (text, text->len == 0 ? "" : ", ");
  g_string_append (text, part);
}

void
tpt_log_add_visit (GListStore *log, TptRecord *visit, GPtrArray *readings)
{
  g_autoptr (GString) parts = g_string_new (NULL);
  g_autofree char *text = NULL;
  const char *found = tpt_record_get_text (visit, "found");
  gint64 frames = tpt_record_get_integer (visit, "frames_on_card", -1);

  if (found != NULL && g_strcmp0 (found, "working") != 0)
    append_part (parts, tpt_choice_label (found));
  if (frames >= 0)
    {
      g_autofree char *number = tpt_words_number ((double) frames);
      g_autofree char *part = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s frame", "%s frames", (gulong) frames), number);
      append_part (parts, part);
    }
  append_part (parts, tpt_record_get_text (visit, "left"));
  append_part (parts, tpt_record_get_text (visit, "notes"));
  text = parts->len > 0 ? g_strdup_printf (_("Visit: %s"), parts->str) : g_strdup (_("Visit"));
  tpt_log_add (log, tpt_record_get_instant (visit, "at"), NULL, text);
}

static void
append_measures (GString *parts, TptRecord *reading)
{
  if (tpt_record_is_set (reading, "percent"))
    {
      g_autofree char *part = g_strdup_printf (_("%.0f %% left"), tpt_record_get_real (reading, "percent"));
      append_part (parts, part);
    }
  if (tpt_record_is_set (reading, "volts"))
    {
      g_autofree char *part = g_strdup_printf (_("%.2f V"), tpt_record_get_real (reading, "volts"));
      append_part (parts, part);
    }
}

void
tpt_log_add_reading (GListStore *log, TptRecord *reading, TptRecord *visit, gboolean place)
{
  g_autoptr (GString) parts = g_string_new (NULL);
  g_autofree char *text = NULL;
  const char *action = tpt_record_get_text (reading, "action");
  const char *unit = tpt_record_get_text (reading, "unit");

  if (g_strcmp0 (tpt_record_get_text (reading, "state"), "dead") == 0)
    append_part (parts, _("dead"));
  append_measures (parts, reading);
  if (action != NULL && g_strcmp0 (action, "none") != 0)
    {
      g_autofree char *lower = tpt_choice_inline (action);
      append_part (parts, lower);
    }
  append_part (parts, tpt_record_get_text (reading, "notes"));
  if (parts->len == 0)
    return;

  text = place ? g_strdup_printf (_("At %s: %s"), tpt_record_get_text (visit, "station"), parts->str)
               : g_strdup_printf ("%s: %s", unit, parts->str);
  tpt_log_add (log, tpt_record_get_instant (visit, "at"), unit, text);
}

struct _TptJobUnitLog {
  TptJob parent_instance;

  /* Input arguments */
  char *unit; /* (owned): its code */

  /* Results */
  TptRecord *record; /* (owned) */
  GListStore *log;   /* (owned) */
};

G_DEFINE_FINAL_TYPE (TptJobUnitLog, tpt_job_unit_log, TPT_TYPE_JOB)

static void
add_date (TptJobUnitLog *self, TptZone *zone, const char *column, const char *text)
{
  const char *date = tpt_record_get_text (self->record, column);
  TptReading reading;

  if (date != NULL && tpt_reading_parse (date, &reading, NULL))
    tpt_log_add (self->log, tpt_zone_day_from_number (zone, reading.clock_ms / TPT_DAY), self->unit, text);
}

static void
add_dates (TptJobUnitLog *self, TptZone *zone)
{
  const char *cause = tpt_record_get_text (self->record, "retire_cause");
  g_autofree char *retired =
    cause != NULL ? g_strdup_printf (_("Retired: %s"), tpt_choice_label (cause)) : g_strdup (_("Retired"));

  add_date (self, zone, "acquired", _("Acquired"));
  add_date (self, zone, "retired", retired);
}

static gboolean
add_fittings (TptJobUnitLog *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) fittings = tpt_store_list (store, TPT_TABLE_FITTINGS, "unit", self->unit, error);

  if (fittings == NULL)
    return FALSE;
  for (guint i = 0; i < fittings->len; i++)
    {
      TptRecord *fitting = fittings->pdata[i];
      g_autoptr (TptRecord) deployment =
        tpt_store_find (store, TPT_TABLE_DEPLOYMENTS, tpt_record_get_text (fitting, "deployment"), error);
      g_autofree char *text = NULL;
      TptInstant to = tpt_record_get_instant (fitting, "to");

      if (deployment == NULL)
        return FALSE;
      text = g_strdup_printf (_("Fitted at %s"), tpt_record_get_text (deployment, "station"));
      tpt_log_add (self->log, tpt_record_get_instant (fitting, "from"), self->unit, text);
      if (to == TPT_NO_INSTANT)
        continue;
      g_free (text);
      text = g_strdup_printf (_("Taken out at %s"), tpt_record_get_text (deployment, "station"));
      tpt_log_add (self->log, to, self->unit, text);
    }
  return TRUE;
}

static gboolean
add_readings (TptJobUnitLog *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) readings = tpt_store_list (store, TPT_TABLE_READINGS, "unit", self->unit, error);

  if (readings == NULL)
    return FALSE;
  for (guint i = 0; i < readings->len; i++)
    {
      g_autoptr (TptRecord) visit =
        tpt_store_find (store, TPT_TABLE_VISITS, tpt_record_get_text (readings->pdata[i], "visit"), error);

      if (visit == NULL)
        return FALSE;
      tpt_log_add_reading (self->log, readings->pdata[i], visit, TRUE);
    }
  return TRUE;
}

static gboolean
tpt_job_unit_log_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobUnitLog *self = TPT_JOB_UNIT_LOG (job);
  GError *failure = NULL;

  self->record = tpt_store_find (store, TPT_TABLE_UNITS, self->unit, &failure);
  if (self->record == NULL)
    {
      if (failure == NULL)
        g_set_error (&failure, TPT_ERROR, TPT_ERROR_DATA, _("There is no unit “%s” in this project"), self->unit);
      g_propagate_error (error, failure);
      return FALSE;
    }
  add_dates (self, tpt_store_get_zone (store));
  if (!add_fittings (self, store, error) || !add_readings (self, store, error))
    return FALSE;
  tpt_log_sort (self->log);
  return TRUE;
}

static void
tpt_job_unit_log_dispose (GObject *object)
{
  TptJobUnitLog *self = TPT_JOB_UNIT_LOG (object);

  g_clear_pointer (&self->unit, g_free);
  g_clear_object (&self->record);
  g_clear_object (&self->log);

  G_OBJECT_CLASS (tpt_job_unit_log_parent_class)->dispose (object);
}

static void
tpt_job_unit_log_class_init (TptJobUnitLogClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_unit_log_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_unit_log_run;
}

static void
tpt_job_unit_log_init (TptJobUnitLog *self)
{
  self->log = g_list_store_new (TPT_TYPE_LOG_ITEM);
}

TptJobUnitLog *
tpt_job_unit_log_new (const char *unit)
{
  TptJobUnitLog *self = g_object_new (TPT_TYPE_JOB_UNIT_LOG, NULL);

  self->unit = g_strdup (unit);
  return self;
}

TptRecord *
tpt_job_unit_log_get_record (TptJobUnitLog *self)
{
  return self->record;
}

GListModel *
tpt_job_unit_log_get_log (TptJobUnitLog *self)
{
  return G_LIST_MODEL (self->log);
}
