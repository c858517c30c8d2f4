#include "sci-rate-ratio.h"

#include <math.h>

#include "sci-special.h"

/* Two chances this close are equal but for rounding. */
#define EQUAL 1e-7

/* A binomial variable. */
typedef struct {
  double n;
  double share;
} Binomial;

static double
take_log_mass (const Binomial *chance, double x)
{
  return sci_log_gamma (chance->n + 1) - sci_log_gamma (x + 1) - sci_log_gamma (chance->n - x + 1) +
         x * log (chance->share) + (chance->n - x) * log1p (-chance->share);
}

static double
sum_up_to (const Binomial *chance, double x)
{
  if (x < 0)
    return 0;
  return x >= chance->n ? 1 : sci_beta_i (chance->n - x, x + 1, 1 - chance->share);
}

static double
sum_from (const Binomial *chance, double x)
{
  if (x <= 0)
    return 1;
  return x > chance->n ? 0 : sci_beta_i (x, chance->n - x + 1, chance->share);
}

/* Of the outcomes from @near, which is as likely as any, to @far, where chances only fall: the first
 * that is no more likely than @log_mass; one past @far when there is none. */
static double
find_unlikely (const Binomial *chance, double near, double far, double log_mass)
{
  double direction = far > near ? 1 : -1, low = 0, high = fabs (far - near) + 1;

  while (low < high)
    {
      double middle = floor ((low + high) / 2);

      if (take_log_mass (chance, near + direction * middle) <= log_mass + EQUAL)
        high = middle;
      else
        low = middle + 1;
    }
  return near + direction * low;
}

/* All outcomes that are no more likely than @x. */
static double
sum_unlikely (const Binomial *chance, double x)
{
  double mode = fmin (floor ((chance->n + 1) * chance->share), chance->n);
  double log_mass = take_log_mass (chance, x);

  if (log_mass >= take_log_mass (chance, mode) - EQUAL)
    return 1;
  if (x < mode)
    return sum_up_to (chance, x) +
           sum_from (chance, find_unlikely (chance, mode, chance->n + (mode == chance->n), log_mass));
  return sum_from (chance, x) + sum_up_to (chance, find_unlikely (chance, mode, -(mode == 0.0), log_mass));
}

/* The odds of a share of events, as a ratio of rates. */
static double
take_ratio (double share, double t1, double t2)
{
  return share >= 1 ? INFINITY : share / (1 - share) * (t2 / t1);
}

SciRateRatio
sci_rate_ratio (int64_t n1, double t1, int64_t n2, double t2, double level)
{
  double x = (double) n1, y = (double) n2, tail = (1 - level) / 2;
  Binomial chance = { x + y, t1 / (t1 + t2) };

  if (n1 < 0 || n2 < 0 || !(t1 > 0) || !(t2 > 0) || !(level > 0 && level < 1))
    return (SciRateRatio) { NAN, NAN, NAN, NAN };
  if (n1 == 0 && n2 == 0)
    return (SciRateRatio) { NAN, 0, INFINITY, 1 };
  return (SciRateRatio) {
    .ratio = n2 == 0 ? INFINITY : x / t1 / (y / t2),
    .lower = n1 == 0 ? 0 : take_ratio (sci_beta_i_inverse (x, y + 1, tail), t1, t2),
    .upper = n2 == 0 ? INFINITY : take_ratio (sci_beta_i_inverse (x + 1, y, 1 - tail), t1, t2),
    .p = fmin (1, sum_unlikely (&chance, x)),
  };
}
