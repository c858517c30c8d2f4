#include "config.h"

#include "tpt-job-false-triggers.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "sci-poisson.h"
#include "tpt-blanks-private.h"
#include "tpt-records.h"
#include "tpt-words.h"

#define LEVEL 0.95

/* In the order of their table. */
enum {
  SENSOR_ACTIVE,
  SENSOR_PASSIVE,
  SENSOR_UNKNOWN,
  N_SENSORS,
};

static const char *const sensors[] = { "active-beam", "passive-infrared", NULL };

/* What could have fired a rig, and when it was in it. */
typedef struct {
  TptInstant from, to; /* to: none while it still is */
  gboolean trigger;    /* else a camera */
  int sensor;
} Watcher;

typedef struct {
  TptBlankShare *station; /* (not owned) */
  GArray *watchers;       /* (owned) (element-type Watcher) */
} Rig;

struct _TptJobFalseTriggers {
  TptJob parent_instance;

  /* Input arguments */
  TptFilter *filter; /* (owned) */

  /* In-progress data */
  GHashTable *rigs; /* (owned): id of a deployment to Rig */

  /* Results */
  TptBlankShare all;
  GPtrArray *sensors;  /* (owned) */
  GPtrArray *stations; /* (owned) */
  TptBlankDifference difference;
  gint64 undecided;
};

G_DEFINE_FINAL_TYPE (TptJobFalseTriggers, tpt_job_false_triggers, TPT_TYPE_JOB)

static void
free_share (gpointer data)
{
  TptBlankShare *share = data;

  g_free (share->code);
  g_free (share->label);
  g_free (share);
}

static void
free_rig (gpointer data)
{
  Rig *rig = data;

  g_array_unref (rig->watchers);
  g_free (rig);
}

static TptBlankShare *
add_share (GPtrArray *shares, const char *code, const char *label)
{
  TptBlankShare *share = g_new0 (TptBlankShare, 1);

  share->code = g_strdup (code);
  share->label = g_strdup (label);
  g_ptr_array_add (shares, share);
  return share;
}

static gboolean
read_stations (TptJobFalseTriggers *self, TptStore *store, GHashTable *shares, GError **error)
{
  g_autoptr (GPtrArray) stations = tpt_store_list (store, TPT_TABLE_STATIONS, NULL, NULL, error);

  for (guint i = 0; stations != NULL && i < stations->len; i++)
    {
      const char *code = tpt_record_get_code (stations->pdata[i]);
      TptBlankShare *share;

      if (self->filter->stations != NULL && !g_strv_contains ((const char *const *) self->filter->stations, code))
        continue;
      share = add_share (self->stations, code, code);
      g_hash_table_insert (shares, share->code, share);
    }
  return stations != NULL;
}

/* Deployments at stations that are not asked for have no rig here. */
static gboolean
read_deployments (TptJobFalseTriggers *self, TptStore *store, GHashTable *shares, GHashTable *by_code, GError **error)
{
  g_autoptr (GPtrArray) deployments = tpt_store_list (store, TPT_TABLE_DEPLOYMENTS, NULL, NULL, error);

  for (guint i = 0; deployments != NULL && i < deployments->len; i++)
    {
      TptRecord *deployment = deployments->pdata[i];
      TptBlankShare *share = g_hash_table_lookup (shares, tpt_record_get_text (deployment, "station"));
      Rig *rig;

      if (share == NULL)
        continue;
      rig = g_new (Rig, 1);
      *rig = (Rig){ share, g_array_new (FALSE, FALSE, sizeof (Watcher)) };
      g_hash_table_insert (self->rigs, GSIZE_TO_POINTER ((gsize) tpt_record_get_id (deployment)), rig);
      g_hash_table_insert (by_code, g_strdup (tpt_record_get_code (deployment)), rig);
    }
  return deployments != NULL;
}

static int
read_sensor (TptRecord *unit)
{
  const char *sensor = tpt_record_get_text (unit, "sensor");

  for (int i = 0; i < SENSOR_UNKNOWN; i++)
    if (g_strcmp0 (sensor, sensors[i]) == 0)
      return i;
  return SENSOR_UNKNOWN;
}

static void
add_watcher (Rig *rig, TptRecord *fitting, TptRecord *unit)
{
  const char *kind = tpt_record_get_text (unit, "kind");
  Watcher watcher = { tpt_record_get_instant (fitting, "from"), tpt_record_get_instant (fitting, "to"),
                      g_strcmp0 (kind, "trigger") == 0, read_sensor (unit) };

  if (watcher.trigger || g_strcmp0 (kind, "camera") == 0)
    g_array_append_val (rig->watchers, watcher);
}

static gboolean
read_watchers (TptStore *store, GHashTable *by_code, GError **error)
{
  g_autoptr (GPtrArray) units = tpt_store_list (store, TPT_TABLE_UNITS, NULL, NULL, error);
  g_autoptr (GPtrArray) fittings = units != NULL ? tpt_store_list (store, TPT_TABLE_FITTINGS, NULL, NULL, error) : NULL;
  g_autoptr (GHashTable) known = g_hash_table_new (g_str_hash, g_str_equal);

  if (fittings == NULL)
    return FALSE;
  for (guint i = 0; i < units->len; i++)
    g_hash_table_insert (known, (gpointer) tpt_record_get_code (units->pdata[i]), units->pdata[i]);
  for (guint i = 0; i < fittings->len; i++)
    {
      TptRecord *fitting = fittings->pdata[i];
      TptRecord *unit = g_hash_table_lookup (known, tpt_record_get_text (fitting, "unit"));
      Rig *rig = g_hash_table_lookup (by_code, tpt_record_get_text (fitting, "deployment"));

      if (rig != NULL && unit != NULL)
        add_watcher (rig, fitting, unit);
    }
  return TRUE;
}

/* Of two triggers of different kinds nobody can say which one fired. */
static int
find_sensor (const Rig *rig, TptInstant at)
{
  int by_trigger = -1, by_camera = -1;

  for (guint i = 0; i < rig->watchers->len; i++)
    {
      const Watcher *watcher = &g_array_index (rig->watchers, Watcher, i);
      int *found = watcher->trigger ? &by_trigger : &by_camera;

      if (watcher->from <= at && (watcher->to == TPT_NO_INSTANT || at < watcher->to))
        *found = *found < 0 || *found == watcher->sensor ? watcher->sensor : SENSOR_UNKNOWN;
    }
  return by_trigger >= 0 ? by_trigger : by_camera >= 0 ? by_camera : SENSOR_UNKNOWN;
}

static gboolean
is_asked_for (TptJobFalseTriggers *self, TptZone *zone, TptInstant at)
{
  TptRange range = self->filter->range;

  return (range.from == TPT_NO_INSTANT || at >= range.from) && (range.to == TPT_NO_INSTANT || at < range.to) &&
         tpt_filter_has_hour (self->filter, zone, at);
}

static void
count (TptBlankShare *share, const TptFired *fired)
{
  share->triggers++;
  share->blank += fired->what == TPT_FIRED_BLANK;
}

static gboolean
tally (TptJobFalseTriggers *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) firings = tpt_store_read_firings (store, error);
  g_autoptr (GArray) verdicts = firings != NULL ? tpt_store_read_verdicts (store, error) : NULL;
  g_autoptr (GArray) all = verdicts != NULL ? tpt_blanks_decide (firings, verdicts) : NULL;

  if (all == NULL || g_cancellable_set_error_if_cancelled (cancellable, error))
    return FALSE;
  for (guint i = 0; i < all->len; i++)
    {
      const TptFired *fired = &g_array_index (all, TptFired, i);
      const Rig *rig = g_hash_table_lookup (self->rigs, GSIZE_TO_POINTER ((gsize) fired->deployment_id));

      if (rig == NULL || !is_asked_for (self, tpt_store_get_zone (store), fired->at))
        continue;
      if (fired->what == TPT_FIRED_UNDECIDED)
        {
          self->undecided++;
          continue;
        }
      count (&self->all, fired);
      count (rig->station, fired);
      count (self->sensors->pdata[find_sensor (rig, fired->at)], fired);
    }
  return TRUE;
}

static void
estimate (TptBlankShare *share)
{
  SciInterval wilson = sci_wilson (share->blank, share->triggers, LEVEL);

  share->share = wilson.estimate;
  share->low = wilson.lower;
  share->high = wilson.upper;
}

static void
compare_sensors (TptJobFalseTriggers *self)
{
  const TptBlankShare *active = self->sensors->pdata[SENSOR_ACTIVE], *passive = self->sensors->pdata[SENSOR_PASSIVE];
  SciInterval found = sci_newcombe (passive->blank, passive->triggers, active->blank, active->triggers, LEVEL);

  self->difference = (TptBlankDifference){ found.estimate, found.lower, found.upper };
}

static void
estimate_all (GPtrArray *shares)
{
  for (guint i = shares->len; i > 0; i--)
    {
      TptBlankShare *share = shares->pdata[i - 1];

      if (share->triggers > 0)
        estimate (share);
      else
        g_ptr_array_remove_index (shares, i - 1);
    }
}

static gboolean
read_rigs (TptJobFalseTriggers *self, TptStore *store, GError **error)
{
  g_autoptr (GHashTable) shares = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GHashTable) by_code = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  return read_stations (self, store, shares, error) && read_deployments (self, store, shares, by_code, error) &&
         read_watchers (store, by_code, error);
}

static gboolean
tpt_job_false_triggers_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobFalseTriggers *self = TPT_JOB_FALSE_TRIGGERS (job);
  gboolean good;

  if (!tpt_store_check_stations (store, (const char *const *) self->filter->stations, error))
    return FALSE;
  self->rigs = g_hash_table_new_full (NULL, NULL, NULL, free_rig);
  for (guint i = 0; i < N_SENSORS; i++)
    add_share (self->sensors, sensors[i], sensors[i] != NULL ? tpt_choice_label (sensors[i]) : _("Sensor not known"));
  good = read_rigs (self, store, error) && tally (self, store, cancellable, error);
  g_clear_pointer (&self->rigs, g_hash_table_unref);
  if (!good)
    return FALSE;
  compare_sensors (self);
  estimate (&self->all);
  estimate_all (self->sensors);
  estimate_all (self->stations);
  return TRUE;
}

static void
tpt_job_false_triggers_dispose (GObject *object)
{
  TptJobFalseTriggers *self = TPT_JOB_FALSE_TRIGGERS (object);

  g_assert (self->rigs == NULL);
  g_clear_pointer (&self->filter, tpt_filter_free);
  g_clear_pointer (&self->sensors, g_ptr_array_unref);
  g_clear_pointer (&self->stations, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_job_false_triggers_parent_class)->dispose (object);
}

static void
tpt_job_false_triggers_class_init (TptJobFalseTriggersClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_false_triggers_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_false_triggers_run;
  TPT_JOB_CLASS (klass)->lengthy = TRUE; /* it reads every trigger there is */
}

static void
tpt_job_false_triggers_init (TptJobFalseTriggers *self)
{
  self->sensors = g_ptr_array_new_with_free_func (free_share);
  self->stations = g_ptr_array_new_with_free_func (free_share);
}

TptJobFalseTriggers *
tpt_job_false_triggers_new (const TptFilter *filter)
{
  TptJobFalseTriggers *self = g_object_new (TPT_TYPE_JOB_FALSE_TRIGGERS, NULL);

  self->filter = tpt_filter_copy (filter);
  return self;
}

const TptBlankShare *
tpt_job_false_triggers_get_all (TptJobFalseTriggers *self)
{
  return &self->all;
}

GPtrArray *
tpt_job_false_triggers_get_sensors (TptJobFalseTriggers *self)
{
  return self->sensors;
}

GPtrArray *
tpt_job_false_triggers_get_stations (TptJobFalseTriggers *self)
{
  return self->stations;
}

const TptBlankShare *
tpt_job_false_triggers_find_station (TptJobFalseTriggers *self, const char *station)
{
  for (guint i = 0; i < self->stations->len; i++)
    if (g_strcmp0 (((TptBlankShare *) self->stations->pdata[i])->code, station) == 0)
      return self->stations->pdata[i];
  return NULL;
}

const TptBlankDifference *
tpt_job_false_triggers_get_difference (TptJobFalseTriggers *self)
{
  return &self->difference;
}

gint64
tpt_job_false_triggers_get_undecided (TptJobFalseTriggers *self)
{
  return self->undecided;
}

char *
tpt_blank_share_describe (const TptBlankShare *share)
{
  g_autofree char *blank = tpt_words_number ((double) share->blank), *all = tpt_words_number ((double) share->triggers);

  if (share->triggers == 0)
    return g_strdup (_("No trigger has been decided yet"));
  /* Translators: numbers of triggers, then percent with its limits. */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%1$s of %2$s decided trigger was blank: %3$.0f %% (%4$.0f–%5$.0f)",
                                       "%1$s of %2$s decided triggers were blank: %3$.0f %% (%4$.0f–%5$.0f)", share->triggers),
                          blank, all, 100 * share->share, 100 * share->low, 100 * share->high);
}

gboolean
tpt_blank_share_is_high (const TptBlankShare *share, const TptBlankShare *all)
{
  return share->low > all->share;
}
