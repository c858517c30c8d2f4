#include "config.h"

#include "tpt-job-outlook.h"

#include <math.h>

#include "tpt-due-curve-private.h"
#include "tpt-due-inputs-private.h"
#include "tpt-job-due-private.h"

/* Steps between the moment of asking and the end of the axis. */
#define STEPS 20
/* More likely out than not: now rather than soon. */
#define NOW_CHANCE 0.5

/* Of one station. */
typedef struct {
  TptStationItem *item;  /* (owned): as of the date it was asked about */
  TptDueCurve *station;  /* (owned) (nullable): its chance does not hang on the date */
  TptDueCurve *card;     /* (owned) (nullable) */
  GPtrArray *units;      /* (owned) (element-type TptDueCurve) */
} Outlook;

struct _TptJobOutlook {
  TptJob parent_instance;

  /* Input arguments */
  TptJobDue *due; /* (owned) */

  /* Results */
  GPtrArray *outlooks; /* (owned) (element-type Outlook) */
};

G_DEFINE_FINAL_TYPE (TptJobOutlook, tpt_job_outlook, TPT_TYPE_JOB)

static void
free_outlook (gpointer data)
{
  Outlook *outlook = data;

  g_object_unref (outlook->item);
  g_clear_pointer (&outlook->station, tpt_due_curve_free);
  g_clear_pointer (&outlook->card, tpt_due_curve_free);
  g_ptr_array_unref (outlook->units);
  g_free (outlook);
}

/* --- the curves ------------------------------------------------------------- */

typedef struct {
  const TptDueInputs *inputs;
  const SciUnit *unit;
} Part;

static double
station_chance (double day, gpointer data)
{
  const TptDueInputs *in = ((Part *) data)->inputs;

  return sci_station_p_down (&in->rate, in->units, in->n_units, &in->card, in->elapsed + day);
}

static double
card_chance (double day, gpointer data)
{
  const TptDueInputs *in = ((Part *) data)->inputs;

  return sci_card_p_full (&in->rate, &in->card, in->elapsed + day);
}

static double
unit_chance (double day, gpointer data)
{
  const Part *part = data;

  return sci_unit_p_out (&part->inputs->rate, part->unit, part->inputs->elapsed + day);
}

static double
days_after (TptInstant at, TptInstant on)
{
  return (double) (at - on) / TPT_DAY;
}

static void
add_day (GArray *days, TptInstant at, TptInstant on, double last)
{
  double day = at != TPT_NO_INSTANT ? days_after (at, on) : -1;

  if (day > 0 && day < last)
    g_array_append_val (days, day);
}

/* Even steps, and the days at which a part's chance is known to be 10, 50 and
 * 90 %, where it rises. */
static TptDueCurve *
make_curve (TptJobOutlook *self, const TptInterval *interval, gboolean costly, TptChanceFunc chance, Part *part)
{
  TptInstant on = tpt_job_due_get_on (self->due);
  double last = days_after (tpt_job_due_get_axis (self->due).to, on);
  g_autoptr (GArray) days = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint i = 0; i <= STEPS; i++)
    {
      double day = last * i / STEPS;
      g_array_append_val (days, day);
    }
  add_day (days, interval->p10, on, last);
  add_day (days, interval->p50, on, last);
  add_day (days, interval->p90, on, last);
  return tpt_due_curve_new (days, costly, chance, part);
}

static void
make_part_curves (TptJobOutlook *self, Outlook *outlook, const TptDueInputs *inputs)
{
  const TptForecast *forecast = tpt_station_item_get_forecast (outlook->item);
  Part part = { inputs, NULL };

  if (!isnan (forecast->card.p_full))
    outlook->card = make_curve (self, &forecast->card.interval, FALSE, card_chance, &part);
  for (guint i = 0; i < forecast->units->len; i++)
    {
      const TptUnitForecast *unit = forecast->units->pdata[i];

      part.unit = &inputs->units[i];
      g_ptr_array_add (outlook->units,
                       isnan (unit->p_out) ? NULL : make_curve (self, &unit->interval, FALSE, unit_chance, &part));
    }
}

static Outlook *
make_outlook (TptJobOutlook *self, TptStationItem *item)
{
  const TptDueInputs *inputs = tpt_due_inputs_of (item);
  const TptForecast *forecast = tpt_station_item_get_forecast (item);
  Outlook *outlook = g_new0 (Outlook, 1);
  Part part = { inputs, NULL };

  outlook->item = g_object_ref (item);
  outlook->units = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_due_curve_free);
  if (isnan (forecast->p_down) || inputs == NULL || inputs->n_units != forecast->units->len)
    return outlook;
  if (!inputs->found_down)
    outlook->station = make_curve (self, &forecast->interval, TRUE, station_chance, &part);
  make_part_curves (self, outlook, inputs);
  return outlook;
}

static gboolean
tpt_job_outlook_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobOutlook *self = TPT_JOB_OUTLOOK (job);
  GListModel *stations = tpt_job_due_get_stations (self->due);

  for (guint i = 0; i < g_list_model_get_n_items (stations); i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (stations, i);

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      g_ptr_array_add (self->outlooks, make_outlook (self, item));
    }
  return TRUE;
}

/* --- asking ------------------------------------------------------------------- */

static TptSymbolState
state_of (TptSymbolState before, double chance, double threshold)
{
  if (before == TPT_STATE_DOWN || before == TPT_STATE_UNKNOWN)
    return before;
  if (chance >= NOW_CHANCE)
    return TPT_STATE_NOW;
  return chance >= threshold ? TPT_STATE_SOON : TPT_STATE_FINE;
}

static double
find_lost (const Outlook *outlook, double day)
{
  const TptDueInputs *inputs = tpt_due_inputs_of (outlook->item);

  if (outlook->station != NULL)
    return tpt_due_curve_get_lost (outlook->station, day);
  return inputs != NULL && inputs->found_down ? day : NAN;
}

static void
move_parts (const Outlook *outlook, TptForecast *forecast, double day, double threshold)
{
  for (guint i = 0; i < outlook->units->len; i++)
    {
      TptUnitForecast *unit = forecast->units->pdata[i];

      if (outlook->units->pdata[i] == NULL)
        continue;
      unit->p_out = tpt_due_curve_get_chance (outlook->units->pdata[i], day);
      unit->interval.state = state_of (unit->interval.state, unit->p_out, threshold);
    }
  if (outlook->card == NULL)
    return;
  forecast->card.p_full = tpt_due_curve_get_chance (outlook->card, day);
  forecast->card.interval.state = state_of (forecast->card.interval.state, forecast->card.p_full, threshold);
}

/* (transfer full) */
static TptStationItem *
move_item (const Outlook *outlook, double day, double threshold)
{
  TptStationItem *item = tpt_station_item_copy (outlook->item);
  TptForecast *forecast = tpt_station_item_get_forecast (item);

  forecast->lost_nights = find_lost (outlook, day);
  move_parts (outlook, forecast, day, threshold);
  if (outlook->station == NULL)
    return item;
  forecast->p_down = tpt_due_curve_get_chance (outlook->station, day);
  forecast->state = state_of (forecast->state, forecast->p_down, threshold);
  forecast->interval.state = forecast->state;
  return item;
}

static void
tpt_job_outlook_dispose (GObject *object)
{
  TptJobOutlook *self = TPT_JOB_OUTLOOK (object);

  g_clear_object (&self->due);
  g_clear_pointer (&self->outlooks, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_job_outlook_parent_class)->dispose (object);
}

static void
tpt_job_outlook_class_init (TptJobOutlookClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_outlook_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_outlook_run;
  TPT_JOB_CLASS (klass)->lengthy = TRUE; /* nobody waits for it */
}

static void
tpt_job_outlook_init (TptJobOutlook *self)
{
  self->outlooks = g_ptr_array_new_with_free_func (free_outlook);
}

TptJobOutlook *
tpt_job_outlook_new (TptJobDue *due)
{
  TptJobOutlook *self = g_object_new (TPT_TYPE_JOB_OUTLOOK, NULL);

  self->due = g_object_ref (due);
  return self;
}

/* A station that the forecast can tell but that kept nothing to tell it by on
 * another date leaves the whole outlook without an answer. */
static gboolean
is_whole (TptJobOutlook *self)
{
  for (guint i = 0; i < self->outlooks->len; i++)
    {
      const Outlook *outlook = self->outlooks->pdata[i];

      if (!isnan (tpt_station_item_get_forecast (outlook->item)->p_down) && isnan (find_lost (outlook, 0)))
        return FALSE;
    }
  return TRUE;
}

gboolean
tpt_job_outlook_covers (TptJobOutlook *self, TptInstant until)
{
  return until > tpt_job_due_get_on (self->due) && until <= tpt_job_due_get_axis (self->due).to && is_whole (self);
}

double
tpt_job_outlook_get_lost_nights (TptJobOutlook *self, TptInstant until)
{
  double day = days_after (until, tpt_job_due_get_on (self->due)), lost = 0;

  if (!tpt_job_outlook_covers (self, until))
    return NAN;
  for (guint i = 0; i < self->outlooks->len; i++)
    {
      double own = find_lost (self->outlooks->pdata[i], day);

      lost += isnan (own) ? 0 : own;
    }
  return lost;
}

TptJobDue *
tpt_job_outlook_ask (TptJobOutlook *self, TptInstant until)
{
  double day = days_after (until, tpt_job_due_get_on (self->due));
  g_autoptr (GPtrArray) items = NULL;

  if (!tpt_job_outlook_covers (self, until))
    return NULL;
  items = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; i < self->outlooks->len; i++)
    g_ptr_array_add (items, move_item (self->outlooks->pdata[i], day, tpt_job_due_get_threshold (self->due)));
  return tpt_job_due_derive (self->due, until, items);
}
