/* Expectations over a negative binomial count, fast for small and large counts.
 *
 * Used by the run-out forecast, where the chance that a station is still up
 * falls smoothly with the number of triggers, except for jumps at known counts.
 */
#pragma once

/* A function of the count n. */
typedef struct {
  /* Value at @n, 0..1, not growing with n. Called with n that are not whole
   * where the function is smooth, hence defined and smooth between them. */
  double (*value) (const void *data, double n);

  /* How far up (@direction 1) or down (-1) from @n the function is smooth
   * enough for one panel of eight Gauss-Legendre points, in counts: about
   * three times the distance over which it changes. */
  double (*reach) (const void *data, double n, int direction);

  const void *data;
} SciCountFunc;

/* Sum of value (n) times the negative binomial mass over 0 <= n < below.
 *
 * Given:
 *   size   double        gamma shape, 0 < size <= 1e15
 *   odds   double        mean / size, >= 0
 *   func   SciCountFunc
 *   below  double        whole number >= 0, or infinity
 *
 * Returned:
 *   the sum, 0..1
 *
 * Notes:
 *   Walks from the mode both ways until what is left is below 1e-8. Where the
 *   terms change fast they are added one by one; elsewhere blocks of at least
 *   32 counts are taken as integrals, with the first Euler-Maclaurin
 *   correction at both ends of each run of blocks. Absolute error against the
 *   plain sum measured below 1e-7 for means from 0.1 to 1e5 and shapes from
 *   0.3 to 1e6; about 50 evaluations for a smooth function.
 *
 * References:
 *   Abramowitz & Stegun 1964, 25.4.29 with table 25.4 (Gauss), 23.1.30
 *   (Euler-Maclaurin).
 */
double sci_count_expect (double size, double odds, const SciCountFunc *func, double below);
