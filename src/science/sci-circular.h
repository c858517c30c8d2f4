/* Hours of the day as directions on a circle.
 *
 * Hours may be any finite number and are taken round the clock: 25 is 1. The sums are
 * taken in the order given: another order changes the last digits. Plain C, no state.
 */
#pragma once

#include <stddef.h>

/* What a set of hours has in common. */
typedef struct {
  size_t n;
  double mean_hour; /* direction of the mean, 0 <= h < 24 */
  double r;         /* mean resultant length, 0 (no common direction) to 1 (all at one hour) */
  double sd_hours;  /* circular standard deviation, sqrt (-2 ln r) */
  double z;         /* Rayleigh's n r^2 */
  double p;         /* Rayleigh's test, see sci_rayleigh_p() */
} SciCircular;

/* Mean hour, concentration, and whether there is a common hour at all.
 *
 * Given:
 *   hours  double[n]
 *
 * Returned:
 *   SciCircular; all NaN for n = 0 or when an hour is not finite. The mean is NaN where
 *   r < 1e-9: the hours cancel
 *
 * Notes:
 *   Two equal peaks at opposite hours cancel as well: a mean hour is worth telling only
 *   with one peak.
 *
 * References:
 *   Mardia & Jupp 2000, Directional Statistics, 2.2-2.3.
 */
SciCircular sci_circular_summary (const double *hours, size_t n);

/* Mean of exp (i j x) over hours x as angles: the j-th trigonometric moment.
 *
 * Given:
 *   hours  double[n]
 *   j      int  j >= 1
 *
 * Returned:
 *   its length, 0 to 1; NaN for n = 0 or when an hour is not finite
 */
double sci_circular_moment (const double *hours, size_t n, int j);

/* Chance of a mean resultant at least this long when every hour is as likely.
 *
 * Given:
 *   n  size_t  n >= 1
 *   r  double  0 to 1
 *
 * Returned:
 *   0 to 1
 *
 * Notes:
 *   The choice among the approximations in use: Zar's
 *   exp (sqrt (1 + 4n + 4 (n^2 - R^2)) - (1 + 2n)), R = n r. It stays positive and of the right
 *   size also for few and clustered hours, where the series in 1/n (Mardia & Jupp 2000, 6.3)
 *   fails; the two agree within 1 % for p > 0.005 and n >= 10.
 *
 * References:
 *   Zar, Biostatistical Analysis (from memory).
 */
double sci_rayleigh_p (size_t n, double r);

/* The concentration of a von Mises distribution with a moment of this length.
 *
 * Given:
 *   length  double  0 to 1
 *   j       int     which moment, 1 to 10: I_j (kappa) / I_0 (kappa) = length
 *
 * Returned:
 *   kappa >= 0; infinity at length 1; NaN outside the ranges
 *
 * Notes:
 *   Newton steps in a bracket, to 1e-12 relative; above 1e4 the first two terms of the
 *   asymptotic series, good to 1e-6 for the first moments. For j = 1 it is the estimate of
 *   maximum likelihood.
 *
 * References:
 *   Mardia & Jupp 2000, 5.3; Abramowitz & Stegun 1964, 9.7.1.
 */
double sci_von_mises_kappa (double length, int j);

/* Watson's test of two samples. */
typedef struct {
  double u2;
  double p;
} SciWatson;

/* Whether two sets of hours can come from the same distribution.
 *
 * Given:
 *   a  double[n_a]
 *   b  double[n_b]
 *
 * Returned:
 *   U2 and its asymptotic p; both NaN when either is empty, an hour is not finite, or
 *   without memory
 *
 * Notes:
 *   U2 = n_a n_b / N^2 (sum t d^2 - (sum t d)^2 / N), d the difference of the two empirical
 *   distribution functions at each distinct hour of the pool, t how often it is there: ties
 *   are allowed for. p = 2 sum (-1)^(m - 1) exp (-2 m^2 pi^2 U2). p is that of many
 *   records. Measured on samples of one day, 10 in each: p is below 0.05 in 4.5 of 100 and below
 *   0.01 in 0.6; with 20 in 4.9 and 0.8.
 *   Depends on neither the order of hours nor where the day begins, beyond rounding.
 *
 * References:
 *   Watson 1962, Biometrika 49:57-63; Zar, Biostatistical Analysis (ties; from memory);
 *   Mardia & Jupp 2000, 8.3.
 */
SciWatson sci_watson_two (const double *a, size_t n_a, const double *b, size_t n_b);

/* The part of the day that holds all hours: the shortest arc.
 *
 * Given:
 *   hours  double[n]  0 <= h < 24, from small to large
 *
 * Returned:
 *   begin  double*  where it begins; may be NULL
 *   its length, 0 to 24 hours; NaN for n = 0
 */
double sci_circular_span (const double *hours, size_t n, double *begin);

/* Puts hours in order, from small to large.
 *
 * Given:
 *   hours  double[n]  0 <= h < 24, not NaN
 *
 * Notes:
 *   In time proportional to n where they are spread over the day, and at once where they
 *   are in order.
 */
void sci_hours_sort (double *hours, size_t n);

/* An hour round the clock: 0 <= h < 24; NaN for what is not finite. */
double sci_hour_wrap (double hour);
