#include "sci-rate.h"

#include <math.h>

#define YEAR 365.25
#define LONGEST_STEP 5.0
#define TURN 6.283185307179586477

SciRate
sci_rate_posterior (double prior_a, double prior_b, double n_triggers, double days)
{
  return (SciRate) { .a = prior_a + n_triggers, .b = prior_b + days };
}

static double
factor_on (const SciSeason *season, double day)
{
  double w = TURN * day / YEAR;

  return exp (season->cosine * cos (w) + season->sine * sin (w));
}

/* I0 (x), the mean of exp (x cos w) over a turn: its power series. */
static double
bessel_i0 (double x)
{
  double term = 1, total = 1;

  for (int k = 1; k < 60 && term > 1e-17 * total; k++)
    {
      term *= x * x / (4.0 * k * k);
      total += term;
    }
  return total;
}

static double
integrate_season (const SciSeason *season, double day, double days)
{
  int steps = 2 * (int) ceil (days / (2 * LONGEST_STEP));
  double step = days / steps, total = 0;

  if (!(days > 0))
    return 0;
  for (int i = 0; i <= steps; i++)
    total += (i == 0 || i == steps ? 1 : i % 2 == 1 ? 4 : 2) * factor_on (season, day + i * step);
  return total * step / 3;
}

double
sci_season_days (const SciSeason *season, double day, double days)
{
  double years = floor (days / YEAR);

  if (season->cosine == 0 && season->sine == 0)
    return days;
  return years * YEAR * bessel_i0 (hypot (season->cosine, season->sine))
         + integrate_season (season, day, days - years * YEAR);
}

double
sci_rate_mean (const SciRate *rate, double days)
{
  return rate->a / rate->b * sci_season_days (&rate->season, rate->day, days);
}

/* Share of the long run's variance that the mean of a level over @t memories
 * has, the level being known at the beginning: of a process that forgets
 * exponentially (Ornstein-Uhlenbeck). */
static double
share_wandered (double t)
{
  double g = -expm1 (-t) / t;

  return t < 1e-3 ? 2 * t / 3 : 2 / t * (1 - g) - g * g;
}

static double
wandered (const SciRate *rate, double days)
{
  return rate->drift_days > 0 ? rate->drift * share_wandered (days / rate->drift_days) : rate->drift;
}

void
sci_rate_count (const SciRate *rate, double days, double *size, double *odds)
{
  double season_days = sci_season_days (&rate->season, rate->day, days);
  double mean = rate->a / rate->b * season_days;

  if (!(mean > 0) || (rate->clump == 0 && rate->drift == 0))
    {
      *size = rate->a;
      *odds = season_days / rate->b;
      return;
    }
  *odds = rate->clump + mean * (1 / rate->a + wandered (rate, days));
  *size = mean / *odds;
}
