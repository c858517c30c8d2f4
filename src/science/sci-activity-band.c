/* Limits of a curve: from resamples, and by its standard error. */
#include "sci-activity-private.h"

#include <math.h>
#include <stdlib.h>

#include "sci-bessel.h"
#include "sci-special.h"

static void
swap (double *a, double *b)
{
  double value = *a;

  *a = *b;
  *b = value;
}

/* Puts the value that has @k smaller ones in its place: none before it is larger, none behind smaller. */
static void
select_value (double *values, size_t n, size_t k)
{
  size_t from = 0, to = n - 1;

  while (from < to)
    {
      double pivot = values[from + (to - from) / 2];
      size_t i = from, j = to;

      for (;;)
        {
          while (values[i] < pivot)
            i++;
          while (values[j] > pivot)
            j--;
          if (i >= j)
            break;
          swap (&values[i++], &values[j--]);
        }
      /* Up to j nothing is larger than the pivot, behind it nothing smaller. */
      if (k <= j)
        to = j;
      else
        from = j + 1;
    }
}

static double
find_quantile (double *values, size_t n, double p)
{
  double place = p * (double) (n - 1), next = INFINITY;
  size_t k = (size_t) place;

  select_value (values, n, k);
  if (k + 1 == n)
    return values[k];
  for (size_t i = k + 1; i < n; i++)
    next = fmin (next, values[i]);
  return values[k] + (place - (double) k) * (next - values[k]);
}

void
sci_percentiles (double *values, size_t n, double level, double *low, double *high)
{
  *low = n > 0 ? find_quantile (values, n, (1 - level) / 2) : NAN;
  *high = n > 0 ? find_quantile (values, n, (1 + level) / 2) : NAN;
}

/* Limits of a count with this mean and variance, scaled. */
static void
set_limits (double mean, double variance, double least_unit, double level, double *low, double *high)
{
  double unit = fmax (mean > 0 ? variance / mean : 0, least_unit), count = mean / unit;

  *low = count >= 0.1 ? unit * sci_gamma_p_inverse (count, (1 - level) / 2) : 0;
  *high = unit * sci_gamma_p_inverse (count + 1, (1 + level) / 2);
}

bool
sci_activity_band (const SciActivity *self, size_t points, double level, double *low, double *high)
{
  SciWaves narrow = { 0 };
  double i0 = sci_bessel_i_scaled (0, self->nu);
  /* the integral of a squared kernel, per hour */
  double square = sci_bessel_i_scaled (0, 2 * self->nu) / (i0 * i0 * SCI_DAY_HOURS);
  SciActivity twice = *self;

  if (!sci_waves_init (&narrow, self->moments.n))
    return false;
  sci_activity_smooth (&self->moments, 2 * self->nu, &narrow);
  twice.waves = narrow;
  sci_activity_curve (self, points, low);
  sci_activity_curve (&twice, points, high);
  for (size_t i = 0; i < points; i++)
    {
      double mean = low[i], variance = fmax (high[i] * square - mean * mean, 0) / (double) self->n;

      set_limits (mean, variance, square / (double) self->n * 0.5, level, &low[i], &high[i]);
    }
  sci_waves_clear (&narrow);
  return true;
}
