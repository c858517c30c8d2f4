#include "config.h"

#include "tpt-job-station.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-effort-private.h"
#include "tpt-error.h"
#include "tpt-log-private.h"
#include "tpt-query.h"
#include "tpt-records.h"
#include "tpt-timeline.h"

/* The timeline looks back half a year. */
#define TIMELINE_DAYS 183

struct _TptRigItem {
  GObject parent_instance;

  TptRecord *unit;    /* (owned) */
  TptRecord *fitting; /* (owned) */
  TptRecord *reading; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptRigItem, tpt_rig_item, G_TYPE_OBJECT)

static void
tpt_rig_item_finalize (GObject *object)
{
  TptRigItem *self = TPT_RIG_ITEM (object);

  g_clear_object (&self->unit);
  g_clear_object (&self->fitting);
  g_clear_object (&self->reading);

  G_OBJECT_CLASS (tpt_rig_item_parent_class)->finalize (object);
}

static void
tpt_rig_item_class_init (TptRigItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_rig_item_finalize;
}

static void
tpt_rig_item_init (TptRigItem *self)
{
}

TptRecord *
tpt_rig_item_get_unit (TptRigItem *self)
{
  return self->unit;
}

TptRecord *
tpt_rig_item_get_fitting (TptRigItem *self)
{
  return self->fitting;
}

TptRecord *
tpt_rig_item_get_reading (TptRigItem *self)
{
  return self->reading;
}

struct _TptJobStation {
  TptJob parent_instance;

  /* Input arguments */
  char *station; /* (owned): its code */
  TptInstant on;

  /* In-progress data */
  GPtrArray *deployments; /* (owned): all of the station's */
  GPtrArray *visits_by_time; /* (owned) */
  GHashTable *names;         /* (owned) (element-type utf8 utf8): of units by code */

  /* Results */
  TptRecord *record;     /* (owned) */
  TptRecord *deployment; /* (owned) (nullable) */
  GListStore *rig;       /* (owned) */
  GListStore *visits;    /* (owned) */
  GListStore *log;       /* (owned) */
  TptFigure *timeline;   /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptJobStation, tpt_job_station, TPT_TYPE_JOB)

static gboolean
covers (TptRecord *record, const char *from, const char *to, TptInstant at)
{
  TptInstant start = tpt_record_get_instant (record, from);
  TptInstant end = tpt_record_get_instant (record, to);

  return start <= at && (end == TPT_NO_INSTANT || end > at);
}

static gboolean
read_station (TptJobStation *self, TptStore *store, GError **error)
{
  self->record = tpt_store_find (store, TPT_TABLE_STATIONS, self->station, error);
  if (self->record == NULL)
    {
      if (error != NULL && *error == NULL)
        g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("There is no station “%s” in this project"), self->station);
      return FALSE;
    }
  self->deployments = tpt_store_list (store, TPT_TABLE_DEPLOYMENTS, "station", self->station, error);
  self->visits_by_time = tpt_store_list (store, TPT_TABLE_VISITS, "station", self->station, error);
  if (self->deployments == NULL || self->visits_by_time == NULL)
    return FALSE;
  for (guint i = 0; i < self->deployments->len; i++)
    if (covers (self->deployments->pdata[i], "start", "end", self->on))
      g_set_object (&self->deployment, self->deployments->pdata[i]);
  return TRUE;
}

/* The newest reading of @unit by the moment of asking; %NULL when there is none. */
static TptRecord *
find_reading (TptJobStation *self, TptStore *store, const char *unit, GError **error)
{
  g_autoptr (GPtrArray) readings = tpt_store_list (store, TPT_TABLE_READINGS, "unit", unit, error);

  if (readings == NULL)
    return NULL;
  for (guint v = self->visits_by_time->len; v > 0; v--)
    {
      TptRecord *visit = self->visits_by_time->pdata[v - 1];

      if (tpt_record_get_instant (visit, "at") > self->on)
        continue;
      for (guint i = 0; i < readings->len; i++)
        if (g_strcmp0 (tpt_record_get_text (readings->pdata[i], "visit"), tpt_record_get_code (visit)) == 0)
          return g_object_ref (readings->pdata[i]);
    }
  return NULL;
}

static int
rank_kind (TptRecord *unit)
{
  static const char *const order[] = { "camera", "trigger", "flash", "pack", "card", "housing", "other" };

  for (guint i = 0; i < G_N_ELEMENTS (order); i++)
    if (g_strcmp0 (tpt_record_get_text (unit, "kind"), order[i]) == 0)
      return (int) i;
  return G_N_ELEMENTS (order);
}

static int
compare_rig_cb (gconstpointer a, gconstpointer b, gpointer data)
{
  TptRigItem *x = (gpointer) a, *y = (gpointer) b;
  int by_kind = rank_kind (x->unit) - rank_kind (y->unit);

  return by_kind != 0 ? by_kind : g_strcmp0 (tpt_record_get_code (x->unit), tpt_record_get_code (y->unit));
}

static gboolean
read_rig (TptJobStation *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) fittings = NULL;

  if (self->deployment == NULL)
    return TRUE;
  fittings = tpt_store_list (store, TPT_TABLE_FITTINGS, "deployment", tpt_record_get_code (self->deployment), error);
  if (fittings == NULL)
    return FALSE;
  for (guint i = 0; i < fittings->len; i++)
    {
      g_autoptr (TptRigItem) item = NULL;
      GError *failure = NULL;

      if (!covers (fittings->pdata[i], "from", "to", self->on))
        continue;
      item = g_object_new (TPT_TYPE_RIG_ITEM, NULL);
      item->fitting = g_object_ref (fittings->pdata[i]);
      item->unit = tpt_store_find (store, TPT_TABLE_UNITS, tpt_record_get_text (item->fitting, "unit"), error);
      if (item->unit == NULL)
        return FALSE;
      item->reading = find_reading (self, store, tpt_record_get_code (item->unit), &failure);
      if (failure != NULL)
        {
          g_propagate_error (error, failure);
          return FALSE;
        }
      g_list_store_insert_sorted (self->rig, item, compare_rig_cb, NULL);
    }
  return TRUE;
}

/* (transfer none): what people call a unit; its code when the file fails or has
 * no such unit any more. */
static const char *
find_name (TptJobStation *self, TptStore *store, const char *code)
{
  const char *name = code != NULL ? g_hash_table_lookup (self->names, code) : NULL;
  g_autoptr (TptRecord) unit = NULL;

  if (code == NULL || name != NULL)
    return name;
  unit = tpt_store_find (store, TPT_TABLE_UNITS, code, NULL);
  g_hash_table_insert (self->names, g_strdup (code), unit != NULL ? tpt_log_name_unit (unit) : g_strdup (code));
  return g_hash_table_lookup (self->names, code);
}

/* What happened to a unit between visits, while it was here. */
static gboolean
add_entries (TptJobStation *self, TptStore *store, TptRecord *fitting, const char *name, GError **error)
{
  g_autoptr (GPtrArray) entries =
    tpt_store_list (store, TPT_TABLE_UNIT_LOG, "unit", tpt_record_get_text (fitting, "unit"), error);

  if (entries == NULL)
    return FALSE;
  for (guint i = 0; i < entries->len; i++)
    if (covers (fitting, "from", "to", tpt_record_get_instant (entries->pdata[i], "at")))
      tpt_log_add_named_entry (self->log, entries->pdata[i], name);
  return TRUE;
}

/* The readings of the station's visits, one list per visit, in their order. */
static gboolean
read_log (TptJobStation *self, TptStore *store, GError **error)
{
  for (guint i = 0; i < self->deployments->len; i++)
    {
      TptRecord *deployment = self->deployments->pdata[i];
      g_autoptr (GPtrArray) fittings =
        tpt_store_list (store, TPT_TABLE_FITTINGS, "deployment", tpt_record_get_code (deployment), error);

      if (fittings == NULL)
        return FALSE;
      tpt_log_add_deployment (self->log, deployment);
      for (guint f = 0; f < fittings->len; f++)
        {
          const char *name = find_name (self, store, tpt_record_get_text (fittings->pdata[f], "unit"));

          tpt_log_add_fitting (self->log, fittings->pdata[f], deployment, name);
          if (!add_entries (self, store, fittings->pdata[f], name, error))
            return FALSE;
        }
    }
  for (guint i = 0; i < self->visits_by_time->len; i++)
    {
      TptRecord *visit = self->visits_by_time->pdata[i];
      g_autoptr (GPtrArray) readings =
        tpt_store_list (store, TPT_TABLE_READINGS, "visit", tpt_record_get_code (visit), error);

      if (readings == NULL)
        return FALSE;
      g_list_store_insert (self->visits, 0, visit);
      tpt_log_add_visit (self->log, visit, readings);
      for (guint r = 0; r < readings->len; r++)
        tpt_log_add_reading (self->log, readings->pdata[r], visit,
                             find_name (self, store, tpt_record_get_text (readings->pdata[r], "unit")),
                             find_name (self, store, tpt_record_get_text (readings->pdata[r], "replacement")));
    }
  tpt_log_sort (self->log);
  return TRUE;
}

static void
add_days (TptFigure *timeline, GArray *times, TptZone *zone)
{
  guint frames = 0;

  for (guint i = 0; i < times->len; i++)
    {
      gint64 day = tpt_zone_local_day (zone, g_array_index (times, TptInstant, i));
      gboolean last = i + 1 == times->len || tpt_zone_local_day (zone, g_array_index (times, TptInstant, i + 1)) != day;

      frames++;
      if (!last)
        continue;
      tpt_timeline_add_day (timeline, day, frames);
      frames = 0;
    }
}

static gboolean
add_series (TptJobStation *self, TptStore *store, TptRigItem *item, GError **error)
{
  g_autoptr (GPtrArray) readings =
    tpt_store_list (store, TPT_TABLE_READINGS, "unit", tpt_record_get_code (item->unit), error);
  int series = -1;

  if (readings == NULL)
    return FALSE;
  for (guint v = 0; v < self->visits_by_time->len; v++)
    for (guint i = 0; i < readings->len; i++)
      {
        TptRecord *reading = readings->pdata[i], *visit = self->visits_by_time->pdata[v];
        const char *action = tpt_record_get_text (reading, "action");
        TptInstant at = tpt_record_get_instant (visit, "at");
        gboolean renewed = g_strcmp0 (action, "swapped") == 0 || g_strcmp0 (action, "charged") == 0;

        if (g_strcmp0 (tpt_record_get_text (reading, "visit"), tpt_record_get_code (visit)) != 0 || at > self->on ||
            !tpt_record_is_set (reading, "percent"))
          continue;
        if (series < 0)
          series = tpt_timeline_add_series (self->timeline, tpt_log_unit_label (item->unit));
        tpt_timeline_add_reading (self->timeline, series, at, tpt_record_get_real (reading, "percent"), FALSE);
        if (renewed)
          tpt_timeline_add_reading (self->timeline, series, at, 100, TRUE);
      }
  return TRUE;
}

/* When a rig stood there and did not work, and why. */
static gboolean
add_gaps (TptJobStation *self, TptStore *store, TptRange range, GError **error)
{
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  g_autoptr (GPtrArray) efforts = NULL;

  filter->stations = g_strdupv ((char *[]){ self->station, NULL });
  filter->range = range;
  efforts = tpt_effort_read (store, filter, self->on, error);
  if (efforts == NULL)
    return FALSE;
  for (guint i = 0; i < efforts->len; i++)
    {
      const TptEffort *effort = efforts->pdata[i];

      for (guint g = 0; g < effort->gaps->len; g++)
        {
          const TptGap *gap = &g_array_index (effort->gaps, TptGap, g);

          tpt_timeline_add_gap (self->timeline, gap->range, tpt_gap_why_label (gap->why));
        }
    }
  return TRUE;
}

static gboolean
draw_timeline (TptJobStation *self, TptStore *store, GError **error)
{
  TptZone *zone = tpt_store_get_zone (store);
  TptRange range = { self->on - TIMELINE_DAYS * TPT_DAY, self->on };
  g_autoptr (GArray) times =
    tpt_store_read_frame_times (store, tpt_record_get_id (self->record), range, error);

  if (times == NULL)
    return FALSE;
  self->timeline = tpt_timeline_new (range, zone);
  if (!add_gaps (self, store, range, error))
    return FALSE;
  add_days (self->timeline, times, zone);
  for (guint i = 0; i < self->visits_by_time->len; i++)
    {
      TptRecord *visit = self->visits_by_time->pdata[i];
      TptInstant at = tpt_record_get_instant (visit, "at");

      if (at >= range.from && at <= range.to)
        tpt_timeline_add_visit (self->timeline, at, _("visit"));
    }
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->rig)); i++)
    {
      g_autoptr (TptRigItem) item = g_list_model_get_item (G_LIST_MODEL (self->rig), i);

      if (!add_series (self, store, item, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
tpt_job_station_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobStation *self = TPT_JOB_STATION (job);
  gboolean good;

  if (self->on == TPT_NO_INSTANT)
    self->on = tpt_store_get_now (store);
  self->names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  good = read_station (self, store, error) && read_rig (self, store, error) && read_log (self, store, error) &&
         draw_timeline (self, store, error);
  g_clear_pointer (&self->deployments, g_ptr_array_unref);
  g_clear_pointer (&self->visits_by_time, g_ptr_array_unref);
  g_clear_pointer (&self->names, g_hash_table_unref);
  return good;
}

static void
tpt_job_station_dispose (GObject *object)
{
  TptJobStation *self = TPT_JOB_STATION (object);

  g_assert (self->deployments == NULL && self->visits_by_time == NULL);
  g_clear_pointer (&self->station, g_free);
  g_clear_object (&self->record);
  g_clear_object (&self->deployment);
  g_clear_object (&self->rig);
  g_clear_object (&self->visits);
  g_clear_object (&self->log);
  g_clear_pointer (&self->timeline, tpt_figure_unref);

  G_OBJECT_CLASS (tpt_job_station_parent_class)->dispose (object);
}

static void
tpt_job_station_class_init (TptJobStationClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_station_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_station_run;
}

static void
tpt_job_station_init (TptJobStation *self)
{
  self->rig = g_list_store_new (TPT_TYPE_RIG_ITEM);
  self->visits = g_list_store_new (TPT_TYPE_RECORD);
  self->log = g_list_store_new (TPT_TYPE_LOG_ITEM);
}

TptJobStation *
tpt_job_station_new (const char *station, TptInstant on)
{
  TptJobStation *self = g_object_new (TPT_TYPE_JOB_STATION, NULL);

  self->station = g_strdup (station);
  self->on = on;
  return self;
}

TptRecord *
tpt_job_station_get_record (TptJobStation *self)
{
  return self->record;
}

TptRecord *
tpt_job_station_get_deployment (TptJobStation *self)
{
  return self->deployment;
}

GListModel *
tpt_job_station_get_rig (TptJobStation *self)
{
  return G_LIST_MODEL (self->rig);
}

GListModel *
tpt_job_station_get_visits (TptJobStation *self)
{
  return G_LIST_MODEL (self->visits);
}

GListModel *
tpt_job_station_get_log (TptJobStation *self)
{
  return G_LIST_MODEL (self->log);
}

TptFigure *
tpt_job_station_get_timeline (TptJobStation *self)
{
  return self->timeline;
}
