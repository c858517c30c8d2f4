#include "sci-bessel.h"

#include <math.h>

#define MOST_X 1e5
#define MOST_ORDER 10000

/* From where the recurrence must start: orders beyond are below
 * exp (-(start^2 - n^2) / 2x) of order @n, and what the guess at the beginning spoils
 * is the square of it. */
static int
find_start (int n, double x)
{
  return (int) sqrt ((double) n * n + 80 * x) + 24;
}

/* I_(k+1) / I_k from I_(k+2) / I_(k+1). */
static double
step_down (double ratio, int k, double x)
{
  return x / (2 * (k + 1) + x * ratio);
}

void
sci_bessel_ratios (double x, int n, double *ratios)
{
  int in_range = x >= 0 && x <= MOST_X && n >= 0 && n <= MOST_ORDER;
  double ratio = 0;

  for (int k = 0; k <= n && !in_range; k++)
    ratios[k] = NAN;
  if (!in_range)
    return;
  for (int k = find_start (n, x); k >= 0; k--)
    {
      ratio = step_down (ratio, k, x);
      if (k < n)
        ratios[k + 1] = ratio;
    }
  ratios[0] = 1;
  for (int k = 1; k <= n; k++)
    ratios[k] *= ratios[k - 1];
}

double
sci_bessel_i_scaled (int order, double x)
{
  double ratio = 0, sum = 0, wanted = 1;

  if (!(x >= 0 && x <= MOST_X && order >= 0 && order <= MOST_ORDER))
    return NAN;
  /* sum: of I_j / I_k over j > k; exp (x) = I_0 + 2 (I_1 + I_2 + ...). */
  for (int k = find_start (order, x); k >= 0; k--)
    {
      ratio = step_down (ratio, k, x);
      sum = ratio * (1 + sum);
      if (k < order)
        wanted *= ratio;
    }
  return wanted / (1 + 2 * sum);
}
