/* Rates and shares with their intervals. */
#pragma once

#include <stdint.h>

/* An estimate and the limits of its interval; all NaN when the data carry none. */
typedef struct {
  double estimate;
  double lower;
  double upper;
} SciInterval;

/* Events per unit of effort with the exact Poisson interval.
 *
 * Given:
 *   n       int64_t  events counted, n >= 0
 *   effort  double   effort (trap nights), effort > 0
 *   per     double   effort the rate is quoted for, usually 100
 *   level   double   coverage, 0 < level < 1, usually 0.95
 *
 * Returned:
 *   per * n / effort and its central interval; lower is 0 for n = 0
 *
 * Notes:
 *   Exact under Poisson counts, hence conservative; clumped events make it
 *   too narrow. All NaN without effort or outside the ranges. Agrees with the
 *   defining chi-square quantiles to 1e-12 relative.
 *
 * References:
 *   Garwood 1936, Biometrika 28:437-442.
 */
SciInterval sci_poisson_rate (int64_t n, double effort, double per, double level);

/* A share with Wilson's score interval.
 *
 * Given:
 *   x      int64_t  cases, 0 <= x <= n
 *   n      int64_t  trials, n > 0
 *   level  double   coverage, 0 < level < 1
 *
 * Returned:
 *   x / n and its interval inside 0..1, without continuity correction
 *
 * Notes:
 *   All NaN for n = 0 or outside the ranges. Not exact: coverage is near the
 *   level on average, a little below it for some n and share.
 *
 * References:
 *   Wilson 1927, J. Am. Stat. Assoc. 22:209-212.
 */
SciInterval sci_wilson (int64_t x, int64_t n, double level);

/* Difference of two independent shares, with Newcombe's hybrid score interval.
 *
 * Given:
 *   x1, n1  int64_t  cases and trials of the first, 0 <= x1 <= n1, n1 > 0
 *   x2, n2  int64_t  the same of the second
 *   level   double   coverage, 0 < level < 1
 *
 * Returned:
 *   x1 / n1 - x2 / n2 and its interval inside -1..1
 *
 * Notes:
 *   From the Wilson limits of both shares, without continuity correction: his
 *   method 10. All NaN outside the ranges.
 *
 * References:
 *   Newcombe 1998, Stat. Med. 17:873-890.
 */
SciInterval sci_newcombe (int64_t x1, int64_t n1, int64_t x2, int64_t n2, double level);
