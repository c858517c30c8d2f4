#include "config.h"

#include "tpt-rig-helper.h"

#include <math.h>

#include "sci-budget.h"
#include "sci-optics.h"
#include "tpt-due-power-private.h"

/* Sizes of sensors, and the blur usual for each: common practice, no source. */
static const TptRigSensor sensors[] = {
  { "36 × 24 mm", 36, 24, 0.03 },
  { "23.6 × 15.7 mm", 23.6, 15.7, 0.019 },
  { "22.3 × 14.9 mm", 22.3, 14.9, 0.018 },
  { "17.3 × 13 mm", 17.3, 13, 0.015 },
  { "13.2 × 8.8 mm", 13.2, 8.8, 0.011 },
  { "6.17 × 4.55 mm", 6.17, 4.55, 0.004 },
};

const TptRigSensor *
tpt_rig_sensors (guint *n)
{
  *n = G_N_ELEMENTS (sensors);
  return sensors;
}

static double
or_else (double value, double fallback)
{
  return isnan (value) ? fallback : value;
}

static void
reckon_view (const TptRigInputs *in, TptRigOutputs *out)
{
  double width = in->sensor != NULL ? in->sensor->width_mm : NAN, height = in->sensor != NULL ? in->sensor->height_mm : NAN;
  double circle = in->sensor != NULL ? in->sensor->circle_mm : NAN;
  SciSharp sharp;

  out->across = sci_angle_of_view (width, in->focal_mm);
  out->upright = sci_angle_of_view (height, in->focal_mm);
  out->corner = sci_angle_of_view (hypot (width, height), in->focal_mm);
  out->width_m = sci_frame_width (width, in->focal_mm, in->beam_m);
  out->height_m = sci_frame_width (height, in->focal_mm, in->beam_m);
  out->hyperfocal_m = sci_hyperfocal (in->focal_mm, in->f_number, circle);
  sharp = sci_depth_of_field (out->hyperfocal_m, in->focal_mm, in->focus_m);
  out->near_m = sharp.near_m;
  out->far_m = sharp.far_m;
}

static void
reckon_flash (const TptRigInputs *in, TptRigOutputs *out)
{
  out->guide_m = sci_guide_number (in->guide_m, in->iso, in->power, in->n_flashes);
  out->flash_f = sci_flash_f_number (out->guide_m, in->flash_m);
  out->reach_m = sci_flash_reach (out->guide_m, in->f_number);
  out->stops = sci_flash_stops (out->guide_m, in->flash_m, in->f_number);
}

static gboolean
is_kind (TptRecord *unit, const char *kind)
{
  return g_strcmp0 (tpt_record_get_text (unit, "kind"), kind) == 0;
}

static gboolean
has_cells (TptRecord *unit)
{
  return tpt_record_get_real (unit, "cell_mah") > 0;
}

static double
volts_of (TptRecord *unit)
{
  return (double) tpt_record_get_integer (unit, "cells_series", 1) * sci_cells_nominal_volts (tpt_due_chemistry (unit));
}

/* What @unit draws from cells of @volts, added to @budget. */
static void
add_use (const TptRigInputs *in, TptRecord *unit, double volts, double share, SciBudget *budget)
{
  double frames = or_else (in->frames_per_trigger, 1), flash_ws = tpt_record_get_real (unit, "flash_ws");
  double awake = or_else (tpt_record_get_real (unit, "awake_ma"), 0) * or_else (tpt_record_get_real (unit, "awake_s"), 0);
  double power = isnan (in->power) ? or_else (tpt_record_get_real (unit, "power_fraction"), 1) : in->power;

  budget->standby_ma += share * or_else (tpt_record_get_real (unit, "sleep_ma"), 0);
  budget->trigger_mah += share * (awake + or_else (tpt_record_get_real (unit, "frame_mas"), 0) * frames) / 3600;
  if (flash_ws > 0)
    budget->flash_mah += share * sci_flash_mas (flash_ws, power, volts) * frames / 3600;
}

/* Units without cells of their own live on the packs of the rig, share and
 * share alike, as the forecast has it. */
static void
add_guests (const TptRigInputs *in, TptRecord *pack, SciBudget *budget)
{
  guint packs = 0;

  for (guint i = 0; i < in->units->len; i++)
    packs += is_kind (in->units->pdata[i], "pack") && has_cells (in->units->pdata[i]);
  for (guint i = 0; i < in->units->len; i++)
    if (!has_cells (in->units->pdata[i]))
      add_use (in, in->units->pdata[i], volts_of (pack), 1.0 / packs, budget);
}

static double
days_of (const TptRigInputs *in, TptRecord *unit)
{
  SciChemistry chemistry = tpt_due_chemistry (unit);
  SciBudget budget = {
    .cell_volts = sci_cells_nominal_volts (chemistry),
    .cell_mah = tpt_record_get_real (unit, "cell_mah"),
    .n_series = (double) tpt_record_get_integer (unit, "cells_series", 1),
    .n_parallel = (double) tpt_record_get_integer (unit, "cells_parallel", 1),
    .derating = sci_cells_temperature_share (chemistry, in->temperature_c),
    .triggers_per_day = in->triggers_per_day,
    .night_share = in->night_share,
  };

  add_use (in, unit, volts_of (unit), 1, &budget);
  if (is_kind (unit, "pack"))
    add_guests (in, unit, &budget);
  return sci_budget (&budget).days;
}

/* What draws nothing on record says nothing. */
static void
reckon_energy (const TptRigInputs *in, TptRigOutputs *out)
{
  for (guint i = 0; in->units != NULL && i < in->units->len; i++)
    {
      double days = has_cells (in->units->pdata[i]) ? days_of (in, in->units->pdata[i]) : NAN;

      if (isfinite (days) && !(out->days <= days))
        {
          out->days = days;
          out->first = in->units->pdata[i];
        }
    }
}

/* Frames are as large as recorded; a gigabyte is a thousand megabytes, as cards
 * are sold. */
static void
reckon_card (const TptRigInputs *in, TptRigOutputs *out)
{
  for (guint i = 0; in->units != NULL && i < in->units->len; i++)
    {
      double gigabytes = is_kind (in->units->pdata[i], "card") ? tpt_record_get_real (in->units->pdata[i], "capacity_gb") : NAN;
      double days = gigabytes * 1000 / in->frame_mb / (in->triggers_per_day * in->frames_per_trigger);

      if (isfinite (days) && !(out->card_days >= days))
        out->card_days = days;
    }
}

void
tpt_rig_reckon (const TptRigInputs *inputs, TptRigOutputs *outputs)
{
  *outputs = (TptRigOutputs){ .days = NAN, .card_days = NAN };
  reckon_view (inputs, outputs);
  reckon_flash (inputs, outputs);
  reckon_energy (inputs, outputs);
  reckon_card (inputs, outputs);
}
