#include "sci-survival.h"

#include <math.h>
#include <stdlib.h>

#include "sci-special.h"

/* As R compares survival with a half. */
#define HALF_TOLERANCE 1.4901161193847656e-8

static int
compare_lives (const void *pa, const void *pb)
{
  const SciLife *a = pa, *b = pb;

  if (a->time != b->time)
    return a->time < b->time ? -1 : 1;
  return (int) b->failed - (int) a->failed;
}

void
sci_lives_sort (SciLife *lives, size_t n)
{
  if (n > 1)
    qsort (lives, n, sizeof *lives, compare_lives);
}

static double
cut (double share)
{
  return fmin (fmax (share, 0), 1);
}

/* @spread: standard error of ln S. */
static void
set_limits (SciSurvivalStep *step, SciLimits limits, double z, double spread)
{
  double s = step->survival, reach = z * spread;
  double low = s * exp (-reach), high = s * exp (reach);

  if (limits == SCI_LIMITS_PLAIN)
    {
      low = s * (1 - reach);
      high = s * (1 + reach);
    }
  else if (limits == SCI_LIMITS_LOG_LOG)
    {
      low = exp (-exp (log (-log (s)) - reach / log (s)));
      high = exp (-exp (log (-log (s)) + reach / log (s)));
    }
  step->error = s * spread;
  step->lower = cut (low);
  step->upper = cut (high);
}

size_t
sci_survival_curve (SciLife *lives, size_t n, SciLimits limits, double level, SciSurvivalStep *steps)
{
  double z = -sci_normal_quantile ((1 - level) / 2);
  double survival = 1, variance = 0;
  size_t count = 0;

  sci_lives_sort (lives, n);
  for (size_t i = 0; i < n;)
    {
      SciSurvivalStep step = { .time = lives[i].time, .at_risk = n - i, .error = NAN, .lower = NAN, .upper = NAN };
      double at_risk = (double) step.at_risk, left;

      for (; i < n && lives[i].time == step.time; i++)
        step.failures += lives[i].failed;
      if (step.failures == 0)
        continue;
      left = at_risk - (double) step.failures;
      survival *= left / at_risk;
      step.survival = survival;
      if (left > 0)
        {
          variance += (double) step.failures / (at_risk * left);
          set_limits (&step, limits, z, sqrt (variance));
        }
      steps[count++] = step;
    }
  return count;
}

typedef double (*Height) (const SciSurvivalStep *step);

static double
get_survival (const SciSurvivalStep *step)
{
  return step->survival;
}

static double
get_lower (const SciSurvivalStep *step)
{
  return step->lower;
}

static double
get_upper (const SciSurvivalStep *step)
{
  return step->upper;
}

/* Where a curve falls below a half; NaN heights do not. */
static double
find_half (const SciSurvivalStep *steps, size_t n, Height height)
{
  for (size_t i = 0; i < n; i++)
    {
      double here = height (&steps[i]);

      if (!(here < 0.5 + HALF_TOLERANCE))
        continue;
      if (here < 0.5 - HALF_TOLERANCE)
        return steps[i].time;
      for (size_t next = i + 1; next < n; next++)
        if (height (&steps[next]) < here)
          return (steps[i].time + steps[next].time) / 2;
      return steps[i].time;
    }
  return NAN;
}

SciInterval
sci_survival_median (const SciSurvivalStep *steps, size_t n)
{
  return (SciInterval) {
    .estimate = find_half (steps, n, get_survival),
    .lower = find_half (steps, n, get_lower),
    .upper = find_half (steps, n, get_upper),
  };
}

/* From the right, so that the area beyond each step is at hand. */
double
sci_survival_mean (const SciSurvivalStep *steps, size_t n, double to, double *error)
{
  double area = 0, variance = 0, right = to;

  for (size_t i = n; i > 0; i--)
    {
      const SciSurvivalStep *step = &steps[i - 1];
      double at_risk = (double) step->at_risk, left = at_risk - (double) step->failures;

      if (step->time >= to)
        continue;
      area += step->survival * (right - step->time);
      right = step->time;
      if (left > 0)
        variance += area * area * (double) step->failures / (at_risk * left);
    }
  if (error != NULL)
    *error = sqrt (variance);
  return area + right;
}

static SciInterval
no_interval (void)
{
  return (SciInterval) { NAN, NAN, NAN };
}

SciInterval
sci_mtbf (int64_t failures, double total, SciStop stop, double level)
{
  double r = (double) failures, tail = (1 - level) / 2;
  bool by_time = stop == SCI_STOPPED_BY_TIME;

  if (failures < (by_time ? 0 : 1) || !(total > 0) || !(level > 0 && level < 1))
    return no_interval ();
  return (SciInterval) {
    .estimate = failures > 0 ? total / r : NAN,
    .lower = 2 * total / sci_chi_square_quantile (2 * r + (by_time ? 2 : 0), 1 - tail),
    .upper = failures > 0 ? 2 * total / sci_chi_square_quantile (2 * r, tail) : INFINITY,
  };
}

double
sci_mtbf_at_least (int64_t failures, double total, double level)
{
  if (failures < 0 || !(total > 0) || !(level > 0 && level < 1))
    return NAN;
  return 2 * total / sci_chi_square_quantile (2 * (double) failures + 2, level);
}
