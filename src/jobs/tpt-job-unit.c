#include "config.h"

#include "tpt-job-unit.h"

#include "tpt-log-private.h"
#include "tpt-query.h"
#include "tpt-records.h"
#include "tpt-unit-battery-private.h"
#include "tpt-unit-item-private.h"

struct _TptJobUnit {
  TptJob parent_instance;

  /* Input arguments */
  char *unit; /* (owned): its code */
  TptInstant on;

  /* Results */
  TptUnitItem *item;  /* (owned) */
  GListStore *log;    /* (owned) */
  TptFigure *battery; /* (owned) (nullable) */
  char *why_not;      /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptJobUnit, tpt_job_unit, TPT_TYPE_JOB)

static void
take_reading (TptUnitItem *item, const TptUnitEvent *event)
{
  TptLastReading last = { .at = event->at };
  const char *action = tpt_record_get_text (event->record, "action"), *state = tpt_record_get_text (event->record, "state");

  last.volts = tpt_record_get_real (event->record, "volts");
  last.percent = tpt_record_get_real (event->record, "percent");
  g_strlcpy (last.action, action != NULL ? action : "", sizeof last.action);
  g_strlcpy (last.state, state != NULL ? state : "", sizeof last.state);
  tpt_unit_item_take_reading (item, &last);
}

static gboolean
take_fittings (TptJobUnit *self, TptUnitLife *life, TptStore *store, GError **error)
{
  for (guint i = 0; i < life->fittings->len; i++)
    {
      const TptUnitEvent *event = life->fittings->pdata[i];
      g_autoptr (TptRecord) station = tpt_store_find (store, TPT_TABLE_STATIONS, event->station, error);

      if (station == NULL)
        return FALSE;
      tpt_unit_item_take_fitting (self->item, event->record, station, self->on);
    }
  return TRUE;
}

static gboolean
fill_item (TptJobUnit *self, TptUnitLife *life, TptStore *store, GError **error)
{
  self->item = tpt_unit_item_new (life->unit);
  if (!take_fittings (self, life, store, error))
    return FALSE;
  if (life->readings->len > 0)
    take_reading (self->item, life->readings->pdata[life->readings->len - 1]);
  for (guint i = 0; i < life->entries->len; i++)
    tpt_unit_item_take_entry (self->item, ((const TptUnitEvent *) life->entries->pdata[i])->record, self->on);
  return TRUE;
}

static gboolean
tpt_job_unit_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobUnit *self = TPT_JOB_UNIT (job);
  g_autoptr (TptUnitLife) life = NULL;

  if (self->on == TPT_NO_INSTANT)
    self->on = tpt_store_get_now (store);
  life = tpt_unit_life_read (store, self->unit, self->on, error);
  if (life == NULL || !fill_item (self, life, store, error))
    return FALSE;
  tpt_log_tell_unit (life, self->log, tpt_store_get_zone (store));
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return FALSE;
  return tpt_unit_battery_draw (life, store, self->on, &self->battery, &self->why_not, error);
}

static void
tpt_job_unit_dispose (GObject *object)
{
  TptJobUnit *self = TPT_JOB_UNIT (object);

  g_clear_pointer (&self->unit, g_free);
  g_clear_object (&self->item);
  g_clear_object (&self->log);
  g_clear_pointer (&self->battery, tpt_figure_unref);
  g_clear_pointer (&self->why_not, g_free);

  G_OBJECT_CLASS (tpt_job_unit_parent_class)->dispose (object);
}

static void
tpt_job_unit_class_init (TptJobUnitClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_unit_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_unit_run;
}

static void
tpt_job_unit_init (TptJobUnit *self)
{
  self->log = g_list_store_new (TPT_TYPE_LOG_ITEM);
}

TptJobUnit *
tpt_job_unit_new (const char *unit, TptInstant on)
{
  TptJobUnit *self = g_object_new (TPT_TYPE_JOB_UNIT, NULL);

  self->unit = g_strdup (unit);
  self->on = on;
  return self;
}

TptUnitItem *
tpt_job_unit_get_item (TptJobUnit *self)
{
  return self->item;
}

GListModel *
tpt_job_unit_get_log (TptJobUnit *self)
{
  return G_LIST_MODEL (self->log);
}

TptFigure *
tpt_job_unit_get_battery (TptJobUnit *self)
{
  return self->battery;
}

const char *
tpt_job_unit_get_why_not (TptJobUnit *self)
{
  return self->why_not;
}
