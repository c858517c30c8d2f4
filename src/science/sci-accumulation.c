#include "sci-community.h"

#include <math.h>
#include <stdlib.h>

/* Sums over the chances C(m, k) / C(n, k) that none of k units is one with it; the
 * variance is a small difference of large ones, hence the longer numbers. */
static void
sum_chances (const SciTally *tally, const long double *chances, long double *absent, long double *pairs)
{
  *absent = *pairs = 0;
  for (size_t m = 0; m <= tally->units; m++)
    {
      *absent += (long double) tally->absent[m] * chances[m];
      *pairs += (long double) tally->pairs[m] * chances[m];
    }
}

/* From k units to k + 1. */
static void
take_one_more (long double *chances, size_t n, size_t k)
{
  long double left = 1.0L / (long double) (n - k);

  for (size_t m = 0; m <= n; m++)
    chances[m] = m > k ? chances[m] * (long double) (m - k) * left : 0;
}

static void
accumulate (const SciTally *tally, long double *chances, double *mean, double *sd)
{
  long double species, absent, pairs;

  for (size_t m = 0; m <= tally->units; m++)
    chances[m] = 1;
  sum_chances (tally, chances, &species, &pairs);
  for (size_t k = 0; k < tally->units; k++)
    {
      take_one_more (chances, tally->units, k);
      sum_chances (tally, chances, &absent, &pairs);
      mean[k] = (double) (species - absent);
      if (sd != NULL)
        sd[k] = (double) sqrtl (fmaxl (pairs - absent * absent, 0));
    }
}

void
sci_accumulation (const SciTally *tally, double *mean, double *sd)
{
  long double *chances = calloc (tally->units + 1, sizeof *chances);

  if (chances != NULL)
    accumulate (tally, chances, mean, sd);
  for (size_t k = 0; chances == NULL && k < tally->units; k++)
    {
      mean[k] = NAN;
      if (sd != NULL)
        sd[k] = NAN;
    }
  free (chances);
}
