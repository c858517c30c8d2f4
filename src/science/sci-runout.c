#include "sci-runout.h"

#include <math.h>
#include <stdbool.h>

#include "sci-count.h"
#include "sci-special.h"

#define HOURS_PER_DAY 24.0
#define MAS_PER_MAH 3600.0
/* Beyond this many deviations a part is in or out for certain (1e-9). */
#define SURE 6.0
/* Width of a panel in deviations of the charge. */
#define PANEL 3.0

/* All parts of a station at one moment T. */
typedef struct {
  const SciUnit *units;
  size_t n_units;
  double hours;
  const SciUnit *card; /* may be NULL: its count is exact */
} Moment;

static bool
is_known (const SciUnit *unit)
{
  return !isnan (unit->charge_mah + unit->charge_log_sd + unit->sleep_ma + unit->mas_per_trigger);
}

/* Part of a unit's life that depends on the count, and smoothly so. */
static bool
is_smooth (const SciUnit *unit)
{
  return is_known (unit) && unit->mas_per_trigger > 0 && unit->charge_log_sd > 0;
}

static double
drain_mah (const SciUnit *unit, double hours, double n)
{
  return unit->sleep_ma * hours + unit->mas_per_trigger * n / MAS_PER_MAH;
}

/* Deviations by which the drain exceeds the median charge, on the log scale. */
static double
excess (const SciUnit *unit, double hours, double n)
{
  return log (drain_mah (unit, hours, n) / unit->charge_mah) / unit->charge_log_sd;
}

/* The count at which that excess is @z; may be negative. */
static double
count_at_excess (const SciUnit *unit, double hours, double z)
{
  double charge = unit->charge_mah * exp (unit->charge_log_sd * z);

  return (charge - unit->sleep_ma * hours) * MAS_PER_MAH / unit->mas_per_trigger;
}

static double
chance_up (const void *data, double n)
{
  const Moment *moment = data;
  double chance = 1;

  for (size_t i = 0; i < moment->n_units; i++)
    if (is_smooth (&moment->units[i]))
      chance *= sci_normal_cdf (-excess (&moment->units[i], moment->hours, n));
  if (moment->card != NULL)
    chance *= sci_normal_cdf (-excess (moment->card, moment->hours, n));
  return chance;
}

static double
unit_reach (const SciUnit *unit, double hours, double n, int direction)
{
  double z = excess (unit, hours, n);
  double sd = unit->charge_log_sd;
  double width = PANEL * sd * drain_mah (unit, hours, n) * MAS_PER_MAH / unit->mas_per_trigger;

  if (direction > 0)
    {
      if (z >= SURE)
        return INFINITY;
      return z < -SURE ? count_at_excess (unit, hours, -SURE) - n : width;
    }
  if (z <= -SURE)
    return INFINITY;
  return z > SURE ? n - count_at_excess (unit, hours, SURE) : width / (1 + PANEL * sd);
}

static double
shortest_reach (const void *data, double n, int direction)
{
  const Moment *moment = data;
  double reach = moment->card != NULL ? unit_reach (moment->card, moment->hours, n, direction) : INFINITY;

  for (size_t i = 0; i < moment->n_units; i++)
    if (is_smooth (&moment->units[i]))
      reach = fmin (reach, unit_reach (&moment->units[i], moment->hours, n, direction));
  return reach;
}

static bool
is_card_known (const SciCard *card)
{
  return card != NULL && !isnan (card->frames_left) && !isnan (card->frames_per_trigger);
}

/* A card whose frames are not known to the last one runs out as cells do: a
 * frame of charge a frame. */
static SciUnit
card_as_unit (const SciCard *card)
{
  return (SciUnit) { card->frames_left, card->log_sd, 0, MAS_PER_MAH * card->frames_per_trigger };
}

static bool
is_smooth_card (const SciCard *card)
{
  return is_card_known (card) && card->log_sd > 0 && card->frames_left > 0 && card->frames_per_trigger > 0;
}

/* Triggers that fill the card. */
static double
card_limit (const SciCard *card)
{
  if (card->frames_left <= 0)
    return 0;
  return card->frames_per_trigger > 0 ? ceil (card->frames_left / card->frames_per_trigger) : INFINITY;
}

/* Triggers that run an unit of exactly known charge down; 0 when sleep alone has. */
static double
sharp_limit (const SciUnit *unit, double hours)
{
  double left = unit->charge_mah - unit->sleep_ma * hours;

  if (left <= 0)
    return 0;
  return unit->mas_per_trigger > 0 ? ceil (left * MAS_PER_MAH / unit->mas_per_trigger) : INFINITY;
}

/* Chance that a unit which triggers cost nothing is up. */
static double
chance_asleep (const SciUnit *unit, double hours)
{
  return unit->sleep_ma * hours > 0 ? sci_normal_cdf (-excess (unit, hours, 0)) : 1;
}

static double
p_down_of_known (const SciRate *rate, const SciUnit *units, size_t n_units, const SciCard *card, double days)
{
  bool any_smooth = is_smooth_card (card);
  const SciUnit card_unit = any_smooth ? card_as_unit (card) : (SciUnit) { 0 };
  const Moment moment = { units, n_units, HOURS_PER_DAY * days, any_smooth ? &card_unit : NULL };
  const SciCountFunc func = { chance_up, shortest_reach, &moment };
  double limit = !any_smooth && is_card_known (card) ? card_limit (card) : INFINITY;
  double size, odds, asleep = 1;

  sci_rate_count (rate, days, &size, &odds);
  for (size_t i = 0; i < n_units; i++)
    {
      const SciUnit *unit = &units[i];

      if (!is_known (unit))
        continue;
      if (unit->charge_mah <= 0 || unit->charge_log_sd == 0)
        limit = fmin (limit, sharp_limit (unit, moment.hours));
      else if (is_smooth (unit))
        any_smooth = true;
      else
        asleep *= chance_asleep (unit, moment.hours);
    }
  if (limit <= 0)
    return 1;
  if (any_smooth)
    return fmax (0, 1 - asleep * sci_count_expect (size, odds, &func, limit));
  return 1 - asleep + (isinf (limit) ? 0 : asleep * sci_negbin_at_least (limit, size, odds));
}

double
sci_station_p_down (const SciRate *rate,
                    const SciUnit *units,
                    size_t n_units,
                    const SciCard *card,
                    double days)
{
  bool any_known = is_card_known (card);

  for (size_t i = 0; i < n_units; i++)
    any_known |= is_known (&units[i]);
  if (!any_known || !(rate->a > 0 && rate->b > 0 && days >= 0))
    return NAN;
  return p_down_of_known (rate, units, n_units, card, days);
}

double
sci_unit_p_out (const SciRate *rate, const SciUnit *unit, double days)
{
  return sci_station_p_down (rate, unit, 1, NULL, days);
}

double
sci_card_p_full (const SciRate *rate, const SciCard *card, double days)
{
  return sci_station_p_down (rate, NULL, 0, card, days);
}
