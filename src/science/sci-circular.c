#include "sci-circular.h"

#include <math.h>

#include "sci-bessel.h"

#define TURN 6.283185307179586477
#define DAY 24.0

/* Shorter than this a resultant has no direction: rounding of equal and opposite hours. */
#define NO_DIRECTION 1e-9

/* Beyond it the asymptotic series is taken. */
#define MOST_KAPPA 1e4
#define MOST_MOMENT 10
#define MOST_STEPS 200

/* Below it the series for small kappa is the better guess. */
#define HALF_WAY 0.5

double
sci_hour_wrap (double hour)
{
  double wrapped = hour - DAY * floor (hour / DAY);

  return wrapped >= DAY ? 0 : wrapped; /* a hair before midnight rounds up to it */
}

static double
sum_moment (const double *hours, size_t n, int j, double *re, double *im)
{
  double length;

  *re = *im = 0;
  for (size_t i = 0; i < n; i++)
    {
      double angle = TURN / DAY * j * sci_hour_wrap (hours[i]);

      *re += cos (angle);
      *im += sin (angle);
    }
  length = hypot (*re, *im) / (double) n;
  return length > 1 ? 1 : length;
}

double
sci_circular_moment (const double *hours, size_t n, int j)
{
  double re, im;

  return n > 0 ? sum_moment (hours, n, j, &re, &im) : NAN;
}

SciCircular
sci_circular_summary (const double *hours, size_t n)
{
  SciCircular self = { n, NAN, NAN, NAN, NAN, NAN };
  double re, im;

  if (n == 0)
    return self;
  self.r = sum_moment (hours, n, 1, &re, &im);
  if (isnan (self.r))
    return self;
  if (self.r >= NO_DIRECTION)
    self.mean_hour = sci_hour_wrap (atan2 (im, re) * DAY / TURN);
  self.sd_hours = sqrt (-2 * log (self.r)) * DAY / TURN;
  self.z = (double) n * self.r * self.r;
  self.p = sci_rayleigh_p (n, self.r);
  return self;
}

double
sci_rayleigh_p (size_t n, double r)
{
  double m = (double) n, length = m * r;

  if (n == 0 || !(r >= 0 && r <= 1))
    return NAN;
  return fmin (exp (sqrt (1 + 4 * m + 4 * (m * m - length * length)) - (1 + 2 * m)), 1);
}

/* I_j / I_0 at kappa, and its slope. */
static double
find_length (double kappa, int j, double *slope)
{
  double ratios[MOST_MOMENT + 2];

  sci_bessel_ratios (kappa, j + 1, ratios);
  *slope = (ratios[j - 1] + ratios[j + 1]) / 2 - ratios[j] * ratios[1];
  return ratios[j];
}

/* From 1 - length = j^2 / 2k - j^2 (j^2 - 2) / 8k^2. */
static double
guess_large (double length, int j)
{
  double j2 = (double) j * j, lack = 1 - length;

  return j2 / (4 * lack) * (1 + sqrt (fmax (1 - 2 * lack * (j2 - 2) / j2, 0)));
}

/* From I_j / I_0 = (kappa / 2)^j / j! for small kappa. */
static double
guess_small (double length, int j)
{
  double product = length;

  for (int i = 2; i <= j; i++)
    product *= i;
  return 2 * pow (product, 1.0 / j);
}

double
sci_von_mises_kappa (double length, int j)
{
  double low = 0, high = 1.01 * MOST_KAPPA, kappa, slope;

  if (!(length >= 0 && length <= 1) || j < 1 || j > MOST_MOMENT)
    return NAN;
  if (length == 0 || length == 1)
    return length == 0 ? 0 : INFINITY;
  kappa = guess_large (length, j);
  if (kappa >= MOST_KAPPA)
    return kappa;
  if (length < HALF_WAY)
    kappa = guess_small (length, j);
  for (int i = 0; i < MOST_STEPS; i++)
    {
      double lack = length - find_length (kappa, j, &slope), next;

      if (lack > 0)
        low = kappa;
      else
        high = kappa;
      next = kappa + lack / slope;
      if (!(next > low && next < high))
        next = low > 0 ? sqrt (low * high) : high / 2;
      if (fabs (next - kappa) <= 1e-14 * kappa || high - low <= 1e-14 * high)
        return next;
      kappa = next;
    }
  return kappa;
}

double
sci_circular_span (const double *hours, size_t n, double *begin)
{
  double widest = -1;

  if (n == 0)
    return NAN;
  for (size_t i = 0; i < n; i++)
    {
      double gap = i > 0 ? hours[i] - hours[i - 1] : hours[0] + DAY - hours[n - 1];

      if (gap <= widest)
        continue;
      widest = gap;
      if (begin != NULL)
        *begin = hours[i];
    }
  return DAY - widest;
}
