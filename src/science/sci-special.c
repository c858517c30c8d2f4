#include "sci-special.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>

#define LN_2PI 1.8378770664093454836
/* Stands for a zero denominator in Lentz's continued fractions. */
#define TINY 1e-300
#define MAX_TERMS 1000000
#define MAX_NEWTON 200

/* A distribution function, for the one inverse below. */
typedef struct {
  double a;
  double b;
  double low;
  double high;
  double (*chance) (double a, double b, double x);
  double (*log_density) (double a, double b, double x);
} Distribution;

double
sci_log_gamma (double x)
{
  int sign;

  return x > 0 ? lgamma_r (x, &sign) : NAN;
}

/* ln Gamma(x + 1) less Stirling's ln sqrt (2 pi x) + x ln x - x, for x > 0. */
static double
stirling_rest (double x)
{
  double xx = x * x;

  if (x < 16)
    return sci_log_gamma (x + 1) - (x + 0.5) * log (x) + x - LN_2PI / 2;
  /* Abramowitz & Stegun 1964, 6.1.41 */
  return (1.0 / 12 - (1.0 / 360 - (1.0 / 1260 - (1.0 / 1680 - 1.0 / 1188 / xx) / xx) / xx) / xx) / x;
}

/* x ln (x / mean) + mean - x, without cancellation where x is near the mean. */
static double
deviance (double x, double mean)
{
  double d = (x - mean) / mean;
  double term, sum;

  if (x <= 0)
    return mean;
  if (fabs (d) > 0.1)
    return mean * ((1 + d) * log1p (d) - d);
  /* (1 + d) ln (1 + d) - d = sum over k > 1 of (-d)^k / (k (k - 1)) */
  term = d * d;
  sum = term / 2;
  for (int k = 3; k < 20 && fabs (term) > DBL_EPSILON * sum; k++)
    {
      term *= -d;
      sum += term / (k * (k - 1.0));
    }
  return mean * sum;
}

/* ln of x^a e^-x / Gamma(a + 1) */
static double
log_gamma_front (double a, double x)
{
  return -deviance (a, x) - stirling_rest (a) - (LN_2PI + log (a)) / 2;
}

static double
gamma_series (double a, double x)
{
  double term = 1, sum = 1;

  for (int k = 1; k < MAX_TERMS && term > DBL_EPSILON * sum / 4; k++)
    {
      term *= x / (a + k);
      sum += term;
    }
  return exp (log_gamma_front (a, x)) * sum;
}

static double
keep_off_zero (double x)
{
  return fabs (x) < TINY ? TINY : x;
}

static double
gamma_fraction (double a, double x)
{
  double b = x + 1 - a;
  double c = 1 / TINY, d = 1 / keep_off_zero (b), f = d;

  for (int k = 1; k < MAX_TERMS; k++)
    {
      double top = k * (a - k), step;

      b += 2;
      d = 1 / keep_off_zero (b + top * d);
      c = keep_off_zero (b + top / c);
      step = c * d;
      f *= step;
      if (fabs (step - 1) < DBL_EPSILON)
        break;
    }
  return exp (log_gamma_front (a, x)) * a * f;
}

double
sci_gamma_p (double a, double x)
{
  if (!(a > 0) || !(x >= 0))
    return NAN;
  if (x == 0)
    return 0;
  if (isinf (x))
    return 1;
  return x < a + 1 ? fmin (1, gamma_series (a, x)) : 1 - gamma_fraction (a, x);
}

double
sci_gamma_q (double a, double x)
{
  if (!(a > 0) || !(x >= 0))
    return NAN;
  if (x == 0)
    return 1;
  if (isinf (x))
    return 0;
  return x < a + 1 ? fmax (0, 1 - gamma_series (a, x)) : gamma_fraction (a, x);
}

/* The x of chance @p: Newton from @guess, halving when a step leaves the bracket. */
static double
invert (const Distribution *dist, double p, double guess)
{
  double low = dist->low, high = dist->high, x = guess;

  for (int i = 0; i < MAX_NEWTON; i++)
    {
      double miss = dist->chance (dist->a, dist->b, x) - p, next;

      if (miss > 0)
        high = x;
      else
        low = x;
      if (fabs (miss) <= 4 * DBL_EPSILON * p)
        break;
      next = x - miss / exp (dist->log_density (dist->a, dist->b, x));
      if (!(next > low && next < high))
        next = isinf (high) ? 2 * x : low + (high - low) / 2;
      if (fabs (next - x) <= DBL_EPSILON * next)
        return next;
      x = next;
    }
  return x;
}

static double
gamma_chance (double a, double unused, double x)
{
  return sci_gamma_p (a, x);
}

static double
gamma_log_density (double a, double unused, double x)
{
  return log_gamma_front (a, x) + log (a / x);
}

static double
guess_gamma (double a, double p)
{
  double cube = 1 - 1 / (9 * a) + sci_normal_quantile (p) / (3 * sqrt (a));

  /* Wilson & Hilferty; for small x the leading term of the series. */
  if (a > 1 && cube > 0.1)
    return a * cube * cube * cube;
  return fmax (DBL_MIN, exp ((log (p) + sci_log_gamma (a + 1)) / a));
}

double
sci_gamma_p_inverse (double a, double p)
{
  Distribution dist = { a, 0, 0, INFINITY, gamma_chance, gamma_log_density };

  if (!(a > 0) || !(p >= 0 && p <= 1))
    return NAN;
  if (p == 0)
    return 0;
  return p == 1 ? INFINITY : invert (&dist, p, guess_gamma (a, p));
}

double
sci_chi_square_quantile (double df, double p)
{
  return 2 * sci_gamma_p_inverse (df / 2, p);
}

/* ln of x^a (1 - x)^b / B(a, b) */
static double
log_beta_front (double a, double b, double x)
{
  double n = a + b;

  return -deviance (a, n * x) - deviance (b, n * (1 - x))
         + stirling_rest (n) - stirling_rest (a) - stirling_rest (b)
         + (log (a) + log (b) - log (n) - LN_2PI) / 2;
}

/* The two kinds of partial numerators of Abramowitz & Stegun 26.5.8. */
static double
beta_numerator (double a, double b, double x, int k)
{
  double m = k / 2;

  if (k % 2 == 0)
    return m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
  return -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
}

static double
beta_fraction (double a, double b, double x)
{
  double c = 1, d = 1 / keep_off_zero (1 + beta_numerator (a, b, x, 1)), f = d;

  for (int k = 2; k < MAX_TERMS; k++)
    {
      double top = beta_numerator (a, b, x, k), step;

      d = 1 / keep_off_zero (1 + top * d);
      c = keep_off_zero (1 + top / c);
      step = c * d;
      f *= step;
      if (fabs (step - 1) < DBL_EPSILON)
        break;
    }
  return exp (log_beta_front (a, b, x)) * f / a;
}

double
sci_beta_i (double a, double b, double x)
{
  if (!(a > 0) || !(b > 0) || !(x >= 0 && x <= 1))
    return NAN;
  if (x == 0 || x == 1)
    return x;
  if (x < (a + 1) / (a + b + 2))
    return fmin (1, beta_fraction (a, b, x));
  return fmax (0, 1 - beta_fraction (b, a, 1 - x));
}

static double
beta_log_density (double a, double b, double x)
{
  return log_beta_front (a, b, x) - log (x) - log1p (-x);
}

double
sci_beta_i_inverse (double a, double b, double p)
{
  Distribution dist = { a, b, 0, 1, sci_beta_i, beta_log_density };

  if (!(a > 0) || !(b > 0) || !(p >= 0 && p <= 1))
    return NAN;
  return p == 0 || p == 1 ? p : invert (&dist, p, a / (a + b));
}

double
sci_normal_cdf (double z)
{
  return 0.5 * erfc (-z * M_SQRT1_2);
}

/* z of a lower tail @p <= 0.5 */
static double
lower_quantile (double p)
{
  double t = sqrt (-2 * log (p));
  double z = -(t - (2.515517 + t * (0.802853 + t * 0.010328))
                     / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308))));

  for (int i = 0; i < 3; i++)
    {
      double step = (sci_normal_cdf (z) - p) * exp (z * z / 2 + LN_2PI / 2);

      z -= step / (1 + z * step / 2);
    }
  return z;
}

double
sci_normal_quantile (double p)
{
  if (!(p >= 0 && p <= 1))
    return NAN;
  if (p == 0 || p == 1)
    return p == 0 ? -INFINITY : INFINITY;
  return p <= 0.5 ? lower_quantile (p) : -lower_quantile (1 - p);
}

static bool
is_negbin (double n, double size, double odds)
{
  return n >= 0 && size > 0 && odds >= 0 && isfinite (size) && isfinite (odds);
}

double
sci_negbin_log_mass (double n, double size, double odds)
{
  double total = n + size;

  if (!is_negbin (n, size, odds))
    return NAN;
  if (n == 0)
    return -size * log1p (odds);
  if (odds == 0)
    return -INFINITY;
  return -deviance (size, total / (1 + odds)) - deviance (n, total * (odds / (1 + odds)))
         + stirling_rest (total) - stirling_rest (size) - stirling_rest (n)
         + (log (size) - log (total) - log (n) - LN_2PI) / 2;
}

double
sci_negbin_cdf (double n, double size, double odds)
{
  if (!is_negbin (n, size, odds))
    return NAN;
  return sci_beta_i (size, floor (n) + 1, 1 / (1 + odds));
}

double
sci_negbin_at_least (double n, double size, double odds)
{
  if (!is_negbin (n, size, odds))
    return NAN;
  return ceil (n) == 0 ? 1 : sci_beta_i (ceil (n), size, odds / (1 + odds));
}

double
sci_student_two_sided (double t, double df)
{
  return isinf (t) ? 0 : sci_beta_i (df / 2, 0.5, df / (df + t * t));
}

double
sci_student_quantile_two_sided (double p, double df)
{
  double x = sci_beta_i_inverse (df / 2, 0.5, p);

  return sqrt (df * (1 - x) / x);
}
