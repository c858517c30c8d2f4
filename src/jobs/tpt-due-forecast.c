#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "sci-energy.h"
#include "tpt-due-facts-private.h"
#include "tpt-due-inputs-private.h"
#include "tpt-error.h"
#include "tpt-records.h"

/* How well the rated charge of fresh cells is known: temperature, age, make.
 * Common practice, no source. */
#define CAPACITY_LOG_SD 0.2
/* A meter's percent is good to about ten points. Common practice, no source. */
#define PERCENT_SD 0.1
/* A rate learned over more days than this is forgotten: seasons change. */
#define MEMORY_DAYS 60.0
/* More likely out than not. */
#define DOWN_CHANCE 0.5

/* What one rig's forecast is made from. */
typedef struct {
  TptDueFacts *facts;
  TptForecast *out;
  TptRecord *deployment;
  TptRecord *last_visit; /* (nullable) */
  TptInstant known_at;
  double frames_per_trigger;
  SciRate rate;
  GArray *units; /* (owned) (element-type SciUnit), as in out->units */
  double full_mah[64];
  SciCard card;
  double card_frames; /* frames a whole card holds, or NAN */
  gboolean found_down; /* and left so */
} Rig;

static double
days_between (TptInstant from, TptInstant to)
{
  return (double) (to - from) / TPT_DAY;
}

static double
or_else (double value, double fallback)
{
  return isnan (value) ? fallback : value;
}

static const TptLastReading *
find_reading (TptDueFacts *facts, TptRecord *unit)
{
  gint64 id = tpt_record_get_id (unit);
  guint low = 0, high = facts->readings->len;

  while (low < high)
    {
      guint middle = (low + high) / 2;
      const TptLastReading *row = &g_array_index (facts->readings, TptLastReading, middle);

      if (row->unit_id == id)
        return row;
      if (row->unit_id < id)
        low = middle + 1;
      else
        high = middle;
    }
  return NULL;
}

static gboolean
was_renewed (const TptLastReading *reading)
{
  return g_str_equal (reading->action, "swapped") || g_str_equal (reading->action, "charged");
}

static SciChemistry
chemistry_of (TptRecord *unit)
{
  static const struct {
    const char *word;
    SciChemistry chemistry;
  } words[] = {
    { "alkaline", SCI_CHEMISTRY_ALKALINE }, { "nimh", SCI_CHEMISTRY_NIMH },           { "lithium", SCI_CHEMISTRY_LITHIUM },
    { "li-ion", SCI_CHEMISTRY_LI_ION },     { "lead-acid", SCI_CHEMISTRY_LEAD_ACID },
  };
  const char *word = tpt_record_get_text (unit, "chemistry");

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_strcmp0 (word, words[i].word) == 0)
      return words[i].chemistry;
  return SCI_CHEMISTRY_UNKNOWN;
}

/* Nominal volts of one cell: IEC 60086 and 61951 designations, from memory. */
static double
nominal_volts (SciChemistry chemistry)
{
  switch (chemistry)
    {
    case SCI_CHEMISTRY_NIMH:
      return 1.2;
    case SCI_CHEMISTRY_LI_ION:
      return 3.6;
    case SCI_CHEMISTRY_LEAD_ACID:
      return 2.0;
    case SCI_CHEMISTRY_ALKALINE:
    case SCI_CHEMISTRY_LITHIUM:
    case SCI_CHEMISTRY_UNKNOWN:
    default:
      return 1.5;
    }
}

/* The days that taught the rate, and the triggers on them: from the first frame
 * on record, which itself begins the count, to the last visit. A rig found dead
 * taught only until its last frame. */
static gboolean
learn_rate (Rig *rig, GError **error)
{
  TptInstant start = tpt_record_get_instant (rig->deployment, "start");
  TptSigns signs;
  double triggers, days;

  if (!tpt_store_read_signs_of (rig->facts->store, tpt_record_get_id (rig->deployment), rig->known_at, &signs, error))
    return FALSE;
  triggers = MAX ((double) signs.triggers - 1, 0);
  days = days_between (start, rig->known_at);
  if (signs.triggers > 0)
    days = days_between (signs.first, rig->found_down ? signs.last : rig->known_at);
  if (signs.triggers == 0 && rig->last_visit != NULL && tpt_record_is_set (rig->last_visit, "frames_on_card"))
    triggers = (double) tpt_record_get_integer (rig->last_visit, "frames_on_card", 0) / rig->frames_per_trigger;
  else if (signs.triggers == 0)
    days = 0; /* nothing came home yet: nothing learned */
  rig->rate = sci_rate_posterior (rig->facts->prior_a, rig->facts->prior_b, triggers, MAX (days, 0));
  if (rig->rate.b > MEMORY_DAYS)
    {
      rig->rate.a *= MEMORY_DAYS / rig->rate.b;
      rig->rate.b = MEMORY_DAYS;
    }
  rig->out->triggers_per_day = rig->rate.a / rig->rate.b;
  return TRUE;
}

/* What a unit had left when it was last seen, or full when fitted. */
static SciFraction
share_left (TptRecord *unit, const TptLastReading *reading, SciChemistry chemistry)
{
  double series = (double) tpt_record_get_integer (unit, "cells_series", 1);

  if (reading == NULL || was_renewed (reading))
    return (SciFraction){ 1, 0 };
  if (g_str_equal (reading->state, "dead") && !g_str_equal (reading->action, "repaired"))
    return (SciFraction){ 0, 0 };
  if (!isnan (reading->percent))
    return (SciFraction){ reading->percent / 100, PERCENT_SD };
  if (!isnan (reading->volts) && chemistry != SCI_CHEMISTRY_UNKNOWN)
    return sci_cells_fraction (chemistry, reading->volts / series);
  return (SciFraction){ NAN, NAN };
}

static double
drain_per_day (Rig *rig, const SciUnit *unit)
{
  return 24 * unit->sleep_ma + rig->out->triggers_per_day * unit->mas_per_trigger / 3600;
}

static double
charge_per_trigger (Rig *rig, TptRecord *unit, SciChemistry chemistry)
{
  double awake = or_else (tpt_record_get_real (unit, "awake_ma"), 0) * or_else (tpt_record_get_real (unit, "awake_s"), 0);
  double frames = or_else (tpt_record_get_real (unit, "frame_mas"), 0) * rig->frames_per_trigger;
  double flash_ws = tpt_record_get_real (unit, "flash_ws");
  double volts = (double) tpt_record_get_integer (unit, "cells_series", 1) * nominal_volts (chemistry);
  double flash = 0;

  if (!isnan (flash_ws))
    flash = sci_flash_mas (flash_ws, or_else (tpt_record_get_real (unit, "power_fraction"), 1), volts) * rig->frames_per_trigger;
  return awake + frames + flash;
}

/* A reading older than the last visit is carried on to it at the usual drain. */
static SciUnit
describe_unit (Rig *rig, TptRecord *unit, TptInstant fitted_at, double full_mah)
{
  SciChemistry chemistry = chemistry_of (unit);
  const TptLastReading *reading = find_reading (rig->facts, unit);
  SciFraction share;
  SciUnit result;
  TptInstant seen_at;

  if (reading != NULL && reading->at < fitted_at)
    reading = NULL;
  seen_at = reading != NULL ? reading->at : fitted_at;
  share = share_left (unit, reading, chemistry);
  if (isnan (share.fraction))
    {
      share = (SciFraction){ 1, 0 };
      seen_at = fitted_at;
    }
  result.sleep_ma = or_else (tpt_record_get_real (unit, "sleep_ma"), 0);
  result.mas_per_trigger = charge_per_trigger (rig, unit, chemistry);
  result.charge_mah = full_mah * share.fraction - drain_per_day (rig, &result) * MAX (days_between (seen_at, rig->known_at), 0);
  result.charge_mah = MAX (result.charge_mah, 0);
  result.charge_log_sd = CAPACITY_LOG_SD;
  if (share.fraction > 0 && share.sd > 0)
    result.charge_log_sd = hypot (CAPACITY_LOG_SD, sci_fraction_log_sd (share));
  return result;
}

static void
add_unit (Rig *rig, TptRecord *unit, TptInstant fitted_at)
{
  double mah = tpt_record_get_real (unit, "cell_mah");
  TptUnitForecast *row;
  SciUnit energy;
  const char *label = tpt_record_get_text (unit, "label");

  if (isnan (mah) || rig->units->len >= G_N_ELEMENTS (rig->full_mah))
    return;
  mah *= (double) tpt_record_get_integer (unit, "cells_parallel", 1);
  energy = describe_unit (rig, unit, fitted_at, mah);
  rig->full_mah[rig->units->len] = mah;
  g_array_append_val (rig->units, energy);

  row = g_new0 (TptUnitForecast, 1);
  row->unit = g_strdup (tpt_record_get_code (unit));
  row->kind = g_strdup (tpt_record_get_text (unit, "kind"));
  row->label = g_strdup (label != NULL ? label : tpt_record_get_code (unit));
  g_ptr_array_add (rig->out->units, row);
}

/* Frames on the card at the last visit, unless a fresh one was put in there. */
static void
add_card (Rig *rig, TptRecord *unit, TptInstant fitted_at)
{
  double gigabytes = tpt_record_get_real (unit, "capacity_gb");
  double megabytes = tpt_record_get_real (rig->deployment, "frame_mb");
  const TptLastReading *reading = find_reading (rig->facts, unit);
  gboolean fresh = fitted_at >= rig->known_at || (reading != NULL && reading->at == rig->known_at && was_renewed (reading));
  double used = 0;

  rig->out->card.unit = g_strdup (tpt_record_get_code (unit));
  rig->card_frames = gigabytes * 1000 / megabytes;
  if (!fresh && rig->last_visit != NULL)
    used = tpt_record_is_set (rig->last_visit, "frames_on_card")
             ? (double) tpt_record_get_integer (rig->last_visit, "frames_on_card", 0)
             : rig->out->triggers_per_day * rig->frames_per_trigger * days_between (fitted_at, rig->known_at);
  rig->card.frames_left = isfinite (rig->card_frames) ? MAX (rig->card_frames - used, 0) : NAN;
  rig->out->card.frames_left = rig->card.frames_left;
}

static void
add_fittings (Rig *rig)
{
  GPtrArray *fittings = g_hash_table_lookup (rig->facts->fittings, tpt_record_get_code (rig->deployment));

  for (guint i = 0; fittings != NULL && i < fittings->len; i++)
    {
      TptRecord *unit = g_hash_table_lookup (rig->facts->units, tpt_record_get_text (fittings->pdata[i], "unit"));
      TptInstant from = tpt_record_get_instant (fittings->pdata[i], "from");

      if (unit == NULL)
        continue;
      if (g_strcmp0 (tpt_record_get_text (unit, "kind"), "card") == 0)
        add_card (rig, unit, from);
      else
        add_unit (rig, unit, from);
    }
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

static TptSymbolState
state_of (Rig *rig, double p_now, double p_until)
{
  if (isnan (p_until))
    return TPT_STATE_UNKNOWN;
  if (p_now >= DOWN_CHANCE)
    return TPT_STATE_DOWN;
  if (p_until >= DOWN_CHANCE)
    return TPT_STATE_NOW;
  return p_until >= rig->facts->threshold ? TPT_STATE_SOON : TPT_STATE_FINE;
}

static void
fill_parts (Rig *rig, const SciForecast *forecast, const SciRunout *runouts, double elapsed)
{
  double triggers = rig->out->triggers_per_day * elapsed;

  for (guint i = 0; i < rig->units->len; i++)
    {
      TptUnitForecast *row = rig->out->units->pdata[i];
      const SciUnit *unit = &g_array_index (rig->units, SciUnit, i);
      double left = (unit->charge_mah - drain_per_day (rig, unit) * elapsed) / rig->full_mah[i];

      row->p_out = runouts[i].p_out;
      row->left = CLAMP (left, 0, 1);
      row->interval = interval_of (rig, runouts[i].days, state_of (rig, sci_unit_p_out (&rig->rate, unit, elapsed), row->p_out));
    }
  if (isnan (rig->card.frames_left))
    return;
  rig->out->card.p_full = forecast->card.p_out;
  rig->out->card.left = CLAMP ((rig->card.frames_left - triggers * rig->frames_per_trigger) / rig->card_frames, 0, 1);
  rig->out->card.interval = interval_of (
    rig, forecast->card.days, state_of (rig, sci_card_p_full (&rig->rate, &rig->card, elapsed), forecast->card.p_out));
}

static void
name_limiting (Rig *rig, int limiting)
{
  g_free (rig->out->limiting);
  g_free (rig->out->limiting_label);
  rig->out->limiting = NULL;
  rig->out->limiting_label = NULL;
  if (limiting == SCI_LIMITING_CARD)
    {
      rig->out->limiting = g_strdup ("card");
      rig->out->limiting_label = g_strdup (_("card"));
    }
  else if (limiting >= 0)
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
  TptInstant at = tpt_record_get_instant (rig->last_visit, "at");
  const char *found = tpt_record_get_text (rig->last_visit, "found");

  rig->out->state = TPT_STATE_DOWN;
  rig->out->p_down = 1;
  rig->out->lost_nights = days_between (rig->facts->on, rig->facts->until);
  rig->out->interval = (TptInterval){ at, at, at, TPT_STATE_DOWN };
  if (rig->out->limiting == NULL || g_str_equal (found, "gone"))
    {
      g_free (rig->out->limiting_label);
      rig->out->limiting_label = tpt_choice_inline (found);
    }
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
  double p_now;

  if (n == 0 && isnan (rig->card.frames_left))
    return;
  sci_runout_forecast (&rig->rate, units, n, &rig->card, MAX (ahead, 1e-6), &forecast, runouts);
  p_now = sci_station_p_down (&rig->rate, units, n, &rig->card, elapsed);
  rig->out->p_down = forecast.station.p_out;
  rig->out->lost_nights = MAX (0, forecast.lost_nights - sci_station_lost_nights (&rig->rate, units, n, &rig->card, elapsed));
  rig->out->state = state_of (rig, p_now, forecast.station.p_out);
  rig->out->interval = interval_of (rig, forecast.station.days, rig->out->state);
  fill_parts (rig, &forecast, runouts, elapsed);
  name_limiting (rig, forecast.limiting);
}

/* A rig found dead counts as put right when anything was done about a unit. */
static gboolean
read_found_down (Rig *rig, gboolean *down, GError **error)
{
  const char *found = rig->last_visit != NULL ? tpt_record_get_text (rig->last_visit, "found") : NULL;
  g_autoptr (GPtrArray) readings = NULL;

  *down = FALSE;
  if (found == NULL || g_str_equal (found, "working") || g_str_equal (found, "disturbed"))
    return TRUE;
  readings = tpt_store_list (rig->facts->store, TPT_TABLE_READINGS, "visit", tpt_record_get_code (rig->last_visit), error);
  if (readings == NULL)
    return FALSE;
  *down = TRUE;
  for (guint i = 0; i < readings->len; i++)
    {
      const char *action = tpt_record_get_text (readings->pdata[i], "action");

      if (action != NULL && !g_str_equal (action, "none") && !g_str_equal (action, "cleaned"))
        *down = FALSE;
    }
  return TRUE;
}

static void
find_last_visit (Rig *rig)
{
  GPtrArray *visits = g_hash_table_lookup (rig->facts->visits, tpt_record_get_text (rig->deployment, "station"));
  TptInstant start = tpt_record_get_instant (rig->deployment, "start");

  rig->known_at = start;
  for (guint i = 0; visits != NULL && i < visits->len; i++)
    {
      TptInstant at = tpt_record_get_instant (visits->pdata[i], "at");

      if (at <= start)
        continue;
      rig->last_visit = visits->pdata[i];
      rig->known_at = at;
    }
}

/* For tpt-job-outlook.c, which asks about other dates. */
static void
keep_inputs (Rig *rig, TptStationItem *item)
{
  TptDueInputs inputs = {
    .rate = rig->rate,
    .units = (SciUnit *) (gpointer) rig->units->data,
    .n_units = rig->units->len,
    .card = rig->card,
    .elapsed = days_between (rig->known_at, rig->facts->on),
    .found_down = rig->found_down,
  };

  tpt_due_inputs_keep (item, &inputs);
}

gboolean
tpt_due_forecast (TptDueFacts *facts, TptStationItem *item, GError **error)
{
  g_autoptr (GArray) units = g_array_new (FALSE, FALSE, sizeof (SciUnit));
  Rig rig = {
    .facts = facts,
    .out = tpt_station_item_get_forecast (item),
    .deployment = tpt_station_item_get_deployment (item),
    .units = units,
    .card = { NAN, NAN },
    .card_frames = NAN,
  };

  find_last_visit (&rig);
  rig.out->known_at = rig.known_at;
  rig.frames_per_trigger = (double) tpt_record_get_integer (rig.deployment, "frames_per_trigger", 1);
  rig.card.frames_per_trigger = rig.frames_per_trigger;
  if (!read_found_down (&rig, &rig.found_down, error) || !learn_rate (&rig, error))
    return FALSE;
  add_fittings (&rig);
  run_forecast (&rig);
  if (rig.found_down)
    mark_down (&rig);
  keep_inputs (&rig, item);
  return TRUE;
}
