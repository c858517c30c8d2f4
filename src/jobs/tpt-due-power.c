/* What a unit's cells hold and what it draws, from what is on record. */
#include "config.h"

#include <math.h>

#include "sci-energy.h"
#include "tpt-due-facts-private.h"
#include "tpt-due-power-private.h"

/* A rating that was guessed from size and chemistry. */
#define GUESSED_LOG_SD 0.35
/* Sets whose capacity or drain is not on record are given this many days, give
 * or take a factor of three; readings then teach the pace. No source. */
#define PACE_DAYS 90.0

SciChemistry
tpt_due_chemistry (TptRecord *unit)
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

static SciCellSize
cell_size_of (TptRecord *unit)
{
  static const char *const words[] = { NULL, "AAA", "AA", "C", "D", "9V", "18650", "21700" };
  const char *word = tpt_record_get_text (unit, "cell_size");

  for (gsize i = 1; i < G_N_ELEMENTS (words); i++)
    if (g_strcmp0 (word, words[i]) == 0)
      return (SciCellSize) i;
  return SCI_CELL_UNKNOWN;
}

static double
or_nothing (TptRecord *unit, const char *column)
{
  double value = tpt_record_get_real (unit, column);

  return isnan (value) ? 0 : value;
}

static gboolean
draws (TptRecord *unit)
{
  static const char *const columns[] = { "sleep_ma", "awake_ma", "frame_mas", "flash_ws" };

  for (gsize i = 0; i < G_N_ELEMENTS (columns); i++)
    if (tpt_record_get_real (unit, columns[i]) > 0)
      return TRUE;
  return FALSE;
}

static gboolean
has_cells (TptRecord *unit)
{
  return tpt_record_get_real (unit, "cell_mah") > 0 || tpt_record_is_set (unit, "chemistry") ||
         tpt_record_is_set (unit, "cell_size") || tpt_record_is_set (unit, "cells_series");
}

static double
volts_of (TptRecord *pack)
{
  return (double) tpt_record_get_integer (pack, "cells_series", 1) * sci_cells_nominal_volts (tpt_due_chemistry (pack));
}

/* A flash fires in the dark only; the rest is spent on every trigger. */
static double
charge_per_trigger (const TptDueDeployment *deployment, TptRecord *unit, double volts, double night_share)
{
  double frames = deployment->frames_per_trigger;
  double flash_ws = tpt_record_get_real (unit, "flash_ws");
  double power = tpt_record_get_real (unit, "power_fraction");
  double mas = or_nothing (unit, "awake_ma") * or_nothing (unit, "awake_s") + or_nothing (unit, "frame_mas") * frames;

  if (flash_ws > 0)
    mas += sci_flash_mas (flash_ws, isnan (power) ? 1 : power, volts) * frames * night_share;
  return mas;
}

/* Units without cells of their own live on the packs of the rig, share and
 * share alike. */
static void
add_consumers (const TptDueFacts *facts, const TptDueDeployment *deployment, TptRecord *pack, double night_share, TptDuePower *power)
{
  const GArray *rig = g_hash_table_lookup (facts->rigs, &deployment->id);
  guint packs = 0;
  double sleep = 0, mas = 0;
  gboolean any = FALSE;

  for (guint i = 0; rig != NULL && i < rig->len; i++)
    {
      const TptFittingRow *row = &g_array_index (facts->fittings, TptFittingRow, g_array_index (rig, guint, i));
      TptRecord *unit = g_hash_table_lookup (facts->unit_ids, &row->unit_id);

      if (unit == NULL)
        continue;
      if (g_strcmp0 (tpt_record_get_text (unit, "kind"), "pack") == 0)
        packs += !draws (unit);
      else if (!has_cells (unit) && draws (unit))
        {
          sleep += or_nothing (unit, "sleep_ma");
          mas += charge_per_trigger (deployment, unit, volts_of (pack), night_share);
          any = TRUE;
        }
    }
  power->sleep_ma += sleep / MAX (packs, 1);
  power->mas_per_trigger += mas / MAX (packs, 1);
  power->drain_known |= any;
}

/* To the day, which is as well as it is known. */
static double
years_since (TptRecord *unit, TptInstant at)
{
  const char *acquired = tpt_record_get_text (unit, "acquired");
  TptReading bought;

  if (acquired == NULL || !tpt_reading_parse (acquired, &bought, NULL))
    return NAN;
  return (double) (at - bought.clock_ms) / TPT_DAY / 365.25;
}

static void
find_capacity (const TptDueDeployment *deployment, TptRecord *unit, TptInstant at, TptDuePower *power)
{
  SciChemistry chemistry = tpt_due_chemistry (unit);
  double mah = tpt_record_get_real (unit, "cell_mah");

  if (!(mah > 0))
    {
      mah = sci_cells_usual_mah (chemistry, cell_size_of (unit));
      power->full_log_sd = GUESSED_LOG_SD;
    }
  mah *= (double) tpt_record_get_integer (unit, "cells_parallel", 1);
  mah *= sci_cells_temperature_share (chemistry, tpt_record_get_real (deployment->record, "temperature_c"));
  if (g_strcmp0 (tpt_record_get_text (unit, "kind"), "pack") == 0)
    mah *= sci_cells_age_share (chemistry, years_since (unit, at));
  power->full_mah = mah;
}

TptDuePower
tpt_due_power (const TptDueFacts *facts, const TptDueDeployment *deployment, TptRecord *unit, TptInstant at)
{
  TptDuePower power = { .full_mah = NAN, .has_cells = has_cells (unit), .drain_known = draws (unit) };
  double night_share;

  if (!power.has_cells)
    return power;
  night_share = tpt_due_night_share (facts, deployment, at);
  find_capacity (deployment, unit, at, &power);
  power.sleep_ma = or_nothing (unit, "sleep_ma");
  power.mas_per_trigger = charge_per_trigger (deployment, unit, volts_of (unit), night_share);
  if (!power.drain_known && g_strcmp0 (tpt_record_get_text (unit, "kind"), "pack") == 0)
    add_consumers (facts, deployment, unit, night_share, &power);
  if (isnan (power.full_mah) || !power.drain_known)
    {
      power.full_mah = 100;
      power.sleep_ma = power.full_mah / PACE_DAYS / 24;
      power.mas_per_trigger = 0;
      power.pace_only = TRUE;
      return power;
    }
  power.sleep_ma += power.full_mah / 24 *
                    sci_cells_self_discharge (tpt_due_chemistry (unit), tpt_record_get_real (deployment->record, "temperature_c"));
  return power;
}
