/* Two rates against each other. */
#pragma once

#include <stdint.h>

typedef struct {
  double ratio; /* NaN where neither has events, infinite where the second has none */
  double lower;
  double upper;
  double p; /* two-sided, of equal rates */
} SciRateRatio;

/* Ratio of two Poisson rates with its exact interval and test.
 *
 * Given:
 *   n1, t1  int64_t, double  events and effort of the first, n1 >= 0, t1 > 0
 *   n2, t2  int64_t, double  the same of the second
 *   level   double           coverage, 0 < level < 1
 *
 * Returned:
 *   (n1 / t1) / (n2 / t2) and its limits; lower 0 with n1 = 0, upper infinite with n2 = 0
 *
 * Notes:
 *   Given n1 + n2, n1 is binomial: the limits are those of Clopper and Pearson, the p sums
 *   all outcomes that are no more likely than the one at hand (those within 1e-7 relative
 *   count as equal). Exact under Poisson counts, hence conservative; clumped events make
 *   it too narrow. All NaN without effort on either side or outside the ranges; without
 *   any events the limits are 0 and infinity, p 1. Against R poisson.test 1e-9 relative.
 *
 * References:
 *   Przyborowski & Wilenski 1940, Biometrika 31:313-323 (the conditional test);
 *   Clopper & Pearson 1934, Biometrika 26:404-413; both from memory.
 */
SciRateRatio sci_rate_ratio (int64_t n1, double t1, int64_t n2, double t2, double level);
