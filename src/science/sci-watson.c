#include "sci-circular.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#define PI 3.141592653589793238

/* Below it p is 1 to the last digit, and its series slow. */
#define LEAST_U2 2e-3
#define MOST_TERMS 100

/* Wrapped and in order; false when one is not finite. */
static bool
sort_hours (const double *hours, size_t n, double *sorted)
{
  bool finite = true;

  for (size_t i = 0; i < n; i++)
    {
      sorted[i] = sci_hour_wrap (hours[i]);
      finite = finite && isfinite (sorted[i]);
    }
  if (finite)
    sci_hours_sort (sorted, n);
  return finite;
}

static double
find_u2 (const double *a, size_t n_a, const double *b, size_t n_b)
{
  double total = (double) (n_a + n_b), sum = 0, squares = 0;

  for (size_t i = 0, k = 0; i < n_a || k < n_b;)
    {
      double hour = i == n_a ? b[k] : k == n_b ? a[i] : fmin (a[i], b[k]);
      size_t before = i + k;
      double difference, times;

      while (i < n_a && a[i] == hour)
        i++;
      while (k < n_b && b[k] == hour)
        k++;
      times = (double) (i + k - before);
      difference = (double) i / (double) n_a - (double) k / (double) n_b;
      sum += times * difference;
      squares += times * difference * difference;
    }
  return fmax ((double) n_a * (double) n_b / (total * total) * (squares - sum * sum / total), 0);
}

static double
find_p (double u2)
{
  double p = 0;

  if (u2 < LEAST_U2)
    return 1;
  for (int m = 1; m <= MOST_TERMS; m++)
    {
      double term = exp (-2 * m * m * PI * PI * u2);

      p += m % 2 == 1 ? 2 * term : -2 * term;
      if (term < 1e-17 * p)
        break;
    }
  return fmin (p, 1);
}

SciWatson
sci_watson_two (const double *a, size_t n_a, const double *b, size_t n_b)
{
  SciWatson self = { NAN, NAN };
  double *sorted = n_a > 0 && n_b > 0 ? malloc ((n_a + n_b) * sizeof *sorted) : NULL;

  if (sorted != NULL && sort_hours (a, n_a, sorted) && sort_hours (b, n_b, sorted + n_a))
    {
      self.u2 = find_u2 (sorted, n_a, sorted + n_a, n_b);
      self.p = find_p (self.u2);
    }
  free (sorted);
  return self;
}
