#include "sci-budget.h"

#include <math.h>
#include <stdbool.h>

static bool
check_budget (const SciBudget *b)
{
  return b->cell_volts > 0 && b->cell_mah > 0 && b->n_series > 0 && b->n_parallel > 0 && b->derating > 0 && b->derating <= 1 &&
         b->standby_ma >= 0 && b->triggers_per_day >= 0 && b->trigger_mah >= 0 && b->night_share >= 0 && b->night_share <= 1 &&
         b->flash_mah >= 0;
}

SciBudgetResult
sci_budget (const SciBudget *b)
{
  SciBudgetResult result;

  if (!check_budget (b))
    return (SciBudgetResult) { NAN, NAN, NAN, NAN };
  result.pack_volts = b->cell_volts * b->n_series;
  result.pack_mah = b->cell_mah * b->n_parallel * b->derating;
  result.mah_per_day = 24 * b->standby_ma + b->triggers_per_day * (b->trigger_mah + b->night_share * b->flash_mah);
  result.days = result.mah_per_day > 0 ? result.pack_mah / result.mah_per_day : INFINITY;
  return result;
}
