/* The run-out forecast of one rig. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "tpt-due-facts-private.h"
#include "tpt-due-inputs-private.h"
#include "tpt-share-private.h"

/* More likely out than not. */
#define DOWN_CHANCE 0.5
/* How well the size of a frame is known: measured on cards, or from a form. No
 * source. */
#define MEASURED_FRAME_SD 0.05
#define STATED_FRAME_SD 0.08
/* SD cards go to 2 TB, SDXC; from memory. A larger number is a slip. */
#define LARGEST_CARD_GB 2048.0

/* What one rig's forecast is made from. */
typedef struct {
  const TptDueFacts *facts;
  const TptDueDeployment *deployment;
  TptForecast *out;
  const TptVisitRow *visit; /* (nullable): the last */
  TptInstant known_at;
  SciRate rate;
  GArray *units;    /* (owned) (element-type SciUnit): as in out->units; unknown ones are NAN */
  GArray *full_mah; /* (owned) (element-type double): likewise */
  SciCard card;
  double card_frames; /* a whole card holds */
  gboolean left_down; /* found out of order, and nothing done */
} Rig;

static double
days_between (TptInstant from, TptInstant to)
{
  return (double) (to - from) / TPT_DAY;
}

static double
drain_until (const Rig *rig, const SciUnit *unit, double days)
{
  return 24 * unit->sleep_ma * days + unit->mas_per_trigger * sci_rate_mean (&rig->rate, days) / 3600;
}

static void
add_unit (Rig *rig, TptRecord *unit)
{
  const char *label = tpt_record_get_text (unit, "label");
  TptUnitForecast *row = g_new0 (TptUnitForecast, 1);
  double full;
  SciUnit energy = tpt_due_unit (rig->facts, rig->deployment, unit, &full, &row->why);

  row->unit = g_strdup (tpt_record_get_code (unit));
  row->kind = g_strdup (tpt_record_get_text (unit, "kind"));
  row->label = g_strdup (label != NULL ? label : tpt_record_get_code (unit));
  row->p_out = row->left = NAN;
  row->interval = (TptInterval){ TPT_NO_INSTANT, TPT_NO_INSTANT, TPT_NO_INSTANT, TPT_STATE_UNKNOWN };
  g_ptr_array_add (rig->out->units, row);
  g_array_append_val (rig->units, energy);
  g_array_append_val (rig->full_mah, full);
}

static gboolean
is_fresh_card (const Rig *rig, TptInstant fitted_at)
{
  const GArray *list = g_hash_table_lookup (rig->facts->fresh_cards, &rig->deployment->station_id);

  if (fitted_at >= rig->known_at)
    return TRUE;
  for (guint i = 0; list != NULL && i < list->len; i++)
    if (g_array_index (list, TptInstant, i) == rig->known_at)
      return TRUE;
  return FALSE;
}

/* When the card that is in there came in empty. */
static TptInstant
emptied_at (const Rig *rig, TptInstant fitted_at)
{
  const GArray *list = g_hash_table_lookup (rig->facts->fresh_cards, &rig->deployment->station_id);
  TptInstant at = fitted_at;

  for (guint i = 0; list != NULL && i < list->len; i++)
    if (g_array_index (list, TptInstant, i) <= rig->known_at)
      at = MAX (at, g_array_index (list, TptInstant, i));
  return at;
}

/* Frames on the card when the rig was last known: counted then, or reckoned. */
static double
frames_used (const Rig *rig, TptInstant fitted_at, double *sd)
{
  double rel, triggers;

  *sd = 0;
  if (is_fresh_card (rig, fitted_at))
    return 0;
  if (rig->visit != NULL && rig->visit->frames_on_card >= 0)
    return (double) rig->visit->frames_on_card;
  triggers = tpt_due_count_triggers (rig->facts, rig->deployment, emptied_at (rig, fitted_at), rig->known_at, &rel);
  *sd = rel * triggers * rig->deployment->frames_per_trigger;
  return triggers * rig->deployment->frames_per_trigger;
}

static char *
say_why_no_card (double gigabytes, double megabytes, gboolean overfull)
{
  if (!(gigabytes > 0))
    return g_strdup (_("cannot say because the size of the card is not on record"));
  if (gigabytes > LARGEST_CARD_GB)
    return g_strdup_printf (_("cannot say because no card holds %.0f GB"), gigabytes);
  if (!(megabytes > 0))
    return g_strdup (_("cannot say because the size of a frame is not on record and no card came home"));
  return overfull ? g_strdup (_("cannot say because more frames are on the card than fit at the size on record")) : NULL;
}

static void
add_card (Rig *rig, TptRecord *unit, TptInstant fitted_at)
{
  double gigabytes = tpt_record_get_real (unit, "capacity_gb");
  double stated = tpt_record_get_real (rig->deployment->record, "frame_mb"), home = rig->deployment->home_mb;
  double megabytes = fmax (home, stated); /* the one that is known, else the one that fills the card sooner */
  double used_sd, used = frames_used (rig, fitted_at, &used_sd);
  double frame_sd = megabytes == home ? MEASURED_FRAME_SD : STATED_FRAME_SD;
  TptCardForecast *out = &rig->out->card;
  gboolean full = rig->visit != NULL && g_str_equal (rig->visit->found, "card-full");
  double frames = gigabytes * 1000 / megabytes, left = frames - used;

  g_free (out->unit);
  g_free (out->why);
  out->unit = g_strdup (tpt_record_get_code (unit));
  out->why = say_why_no_card (gigabytes, megabytes, left < -3 * frame_sd * frames && !full);
  if (out->why != NULL)
    return;
  rig->card_frames = frames;
  rig->card.frames_left = out->frames_left = MAX (left, 0);
  if (left > 0)
    rig->card.log_sd = sqrt (log1p (pow (hypot (frame_sd * frames, used_sd) / left, 2)));
}

static void
add_fittings (Rig *rig)
{
  const GArray *fittings = g_hash_table_lookup (rig->facts->rigs, &rig->deployment->id);
  TptRecord *card = NULL;
  TptInstant card_from = TPT_NO_INSTANT;

  for (guint i = 0; fittings != NULL && i < fittings->len; i++)
    {
      const TptFittingRow *row = &g_array_index (rig->facts->fittings, TptFittingRow, g_array_index (fittings, guint, i));
      TptRecord *unit = g_hash_table_lookup (rig->facts->unit_ids, &row->unit_id);

      if (unit == NULL)
        continue;
      if (g_strcmp0 (tpt_record_get_text (unit, "kind"), "card") == 0)
        {
          card = unit;
          card_from = row->from;
        }
      else if (g_hash_table_contains (rig->facts->lives, &row->unit_id))
        add_unit (rig, unit);
    }
  if (card != NULL)
    add_card (rig, card, card_from);
}

static TptInstant
after_days (Rig *rig, double days)
{
  if (isnan (days) || !isfinite (days))
    return TPT_NO_INSTANT;
  return rig->known_at + (TptInstant) llround (days * TPT_DAY);
}

static TptInterval
interval_of (Rig *rig, SciRunoutDays days, TptSymbolState state)
{
  return (TptInterval){ after_days (rig, days.p10), after_days (rig, days.p50), after_days (rig, days.p90), state };
}

/* More likely out than not at the moment of asking is: past the median. */
static TptSymbolState
state_of (Rig *rig, double median, double p_until)
{
  if (isnan (p_until))
    return TPT_STATE_UNKNOWN;
  if (median <= days_between (rig->known_at, rig->facts->on))
    return TPT_STATE_DOWN;
  if (p_until >= DOWN_CHANCE)
    return TPT_STATE_NOW;
  return p_until >= rig->facts->threshold ? TPT_STATE_SOON : TPT_STATE_FINE;
}

static void
fill_card (Rig *rig, const SciRunout *runout, double elapsed)
{
  TptCardForecast *card = &rig->out->card;
  double used = sci_rate_mean (&rig->rate, elapsed) * rig->card.frames_per_trigger;

  if (isnan (rig->card.frames_left))
    return;
  card->p_full = runout->p_out;
  card->left = CLAMP ((rig->card.frames_left - used) / rig->card_frames, 0, 1);
  card->interval = interval_of (rig, runout->days, state_of (rig, runout->days.p50, card->p_full));
}

static void
fill_parts (Rig *rig, const SciForecast *forecast, const SciRunout *runouts, double elapsed)
{
  for (guint i = 0; i < rig->units->len; i++)
    {
      const SciUnit *unit = &g_array_index (rig->units, SciUnit, i);
      TptUnitForecast *row = rig->out->units->pdata[i];
      double left = (unit->charge_mah - drain_until (rig, unit, elapsed)) / g_array_index (rig->full_mah, double, i);

      if (row->why != NULL)
        continue;
      row->p_out = runouts[i].p_out;
      row->left = CLAMP (left, 0, 1);
      row->interval = interval_of (rig, runouts[i].days, state_of (rig, runouts[i].days.p50, row->p_out));
    }
  fill_card (rig, &forecast->card, elapsed);
}

static void
name_limiting (Rig *rig, int limiting)
{
  if (limiting == SCI_LIMITING_NONE)
    return;
  g_free (rig->out->limiting);
  g_free (rig->out->limiting_label);
  if (limiting == SCI_LIMITING_CARD)
    {
      rig->out->limiting = g_strdup ("card");
      rig->out->limiting_label = g_strdup (_("card"));
    }
  else
    {
      const TptUnitForecast *row = rig->out->units->pdata[limiting];

      rig->out->limiting = g_strdup (row->unit);
      rig->out->limiting_label = g_strdup (row->label);
    }
}

/* Found out of order and left so: known, not forecast. */
static void
mark_down (Rig *rig)
{
  TptInstant at = rig->visit->at;

  rig->out->state = TPT_STATE_DOWN;
  rig->out->p_down = 1;
  rig->out->lost_nights = days_between (rig->facts->on, rig->facts->until);
  rig->out->interval = (TptInterval){ at, at, at, TPT_STATE_DOWN };
  if (g_str_equal (rig->visit->found, "card-full"))
    name_limiting (rig, SCI_LIMITING_CARD);
  if (g_str_equal (rig->visit->found, "gone"))
    g_clear_pointer (&rig->out->limiting, g_free); /* nothing to bring for what is not there */
  if (rig->out->limiting == NULL)
    {
      g_free (rig->out->limiting_label);
      rig->out->limiting_label = tpt_choice_inline (rig->visit->found);
    }
}

static void
say_why_nothing (Rig *rig)
{
  const GPtrArray *units = rig->out->units;

  g_free (rig->out->why);
  if (rig->out->card.why != NULL)
    rig->out->why = g_strdup (rig->out->card.why);
  else if (units->len > 0)
    rig->out->why = g_strdup (((TptUnitForecast *) units->pdata[0])->why);
  else
    rig->out->why = g_strdup (_("cannot say because no cells and no card are on record in this rig"));
}

static void
run_forecast (Rig *rig)
{
  const SciUnit *units = (const SciUnit *) (gpointer) rig->units->data;
  gsize n = rig->units->len;
  double elapsed = days_between (rig->known_at, rig->facts->on);
  double ahead = days_between (rig->known_at, rig->facts->until);
  g_autofree SciRunout *runouts = g_new0 (SciRunout, n + 1);
  SciForecast forecast;

  if (isnan (sci_station_p_down (&rig->rate, units, n, &rig->card, 0)))
    {
      say_why_nothing (rig);
      return;
    }
  sci_runout_forecast (&rig->rate, units, n, &rig->card, MAX (ahead, 1e-6), &forecast, runouts);
  rig->out->p_down = forecast.station.p_out;
  rig->out->lost_nights = MAX (0, forecast.lost_nights - sci_station_lost_nights (&rig->rate, units, n, &rig->card, elapsed));
  rig->out->state = state_of (rig, forecast.station.days.p50, forecast.station.p_out);
  rig->out->interval = interval_of (rig, forecast.station.days, rig->out->state);
  fill_parts (rig, &forecast, runouts, elapsed);
  name_limiting (rig, forecast.limiting);
}

/* A rig found dead counts as put right when anything was done about a unit. */
static gboolean
was_left_down (const Rig *rig)
{
  const GArray *fittings = g_hash_table_lookup (rig->facts->rigs, &rig->deployment->id);

  if (rig->visit == NULL || !(g_str_equal (rig->visit->found, "dead") || g_str_equal (rig->visit->found, "card-full") ||
                              g_str_equal (rig->visit->found, "gone")))
    return FALSE;
  for (guint i = 0; fittings != NULL && i < fittings->len; i++)
    {
      const TptFittingRow *row = &g_array_index (rig->facts->fittings, TptFittingRow, g_array_index (fittings, guint, i));
      guint n;
      const TptReadingRow *readings = tpt_due_facts_find_readings (rig->facts, row->unit_id, &n);

      if (row->from == rig->visit->at)
        return FALSE; /* something new was fitted */
      for (guint k = 0; k < n; k++)
        if (readings[k].visit_id == rig->visit->id && *readings[k].action != '\0' && !g_str_equal (readings[k].action, "none") &&
            !g_str_equal (readings[k].action, "cleaned"))
          return FALSE;
    }
  return TRUE;
}

/* For tpt-job-outlook.c, which asks about other dates. */
static void
keep_inputs (const Rig *rig, TptStationItem *item)
{
  TptDueInputs inputs = {
    .rate = rig->rate,
    .units = (SciUnit *) (gpointer) rig->units->data,
    .n_units = rig->units->len,
    .card = rig->card,
    .elapsed = days_between (rig->known_at, rig->facts->on),
    .found_down = rig->left_down,
  };

  tpt_due_inputs_keep (item, &inputs);
}

void
tpt_due_forecast (const TptDueFacts *facts, TptStationItem *item)
{
  g_autoptr (GArray) units = g_array_new (FALSE, FALSE, sizeof (SciUnit));
  g_autoptr (GArray) full = g_array_new (FALSE, FALSE, sizeof (double));
  Rig rig = {
    .facts = facts,
    .deployment = g_hash_table_lookup (facts->by_code, tpt_record_get_code (tpt_station_item_get_deployment (item))),
    .out = tpt_station_item_get_forecast (item),
    .units = units,
    .full_mah = full,
    .card = { NAN, NAN, 0 },
  };

  rig.card.frames_per_trigger = rig.deployment->frames_per_trigger;
  rig.known_at = tpt_due_known_at (facts, rig.deployment, &rig.visit);
  rig.out->known_at = rig.known_at;
  rig.rate = tpt_due_rate (facts, rig.deployment, rig.known_at);
  rig.out->triggers_per_day = sci_rate_mean (&rig.rate, 28) / 28;
  add_fittings (&rig);
  run_forecast (&rig);
  rig.left_down = was_left_down (&rig);
  if (rig.left_down)
    mark_down (&rig);
  keep_inputs (&rig, item);
}

typedef struct {
  const TptDueFacts *facts;
  GPtrArray *items;
} Stations;

static void
forecast_cb (gpointer data, guint index)
{
  Stations *self = data;

  if (tpt_station_item_get_deployment (self->items->pdata[index]) != NULL)
    tpt_due_forecast (self->facts, self->items->pdata[index]);
}

void
tpt_due_forecast_all (const TptDueFacts *facts, GPtrArray *items, GCancellable *cancellable)
{
  Stations stations = { facts, items };

  tpt_share_work (items->len, forecast_cb, &stations, cancellable);
}
