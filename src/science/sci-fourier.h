/* Sums of waves on a grid. */
#pragma once

#include <stddef.h>

/* The tables of one length; read-only once made, for any number of threads. */
typedef struct SciFourier SciFourier;

/* Given:
 *   n  size_t  a power of two, 2 to 2^24
 *
 * Returned:
 *   NULL for another number, or without memory
 */
SciFourier *sci_fourier_new (size_t n);
void sci_fourier_free (SciFourier *self);
size_t sci_fourier_get_length (const SciFourier *self);

/* The discrete Fourier transform, in place.
 *
 * Given:
 *   re, im  double[n]  x
 *
 * Returned:
 *   re, im  double[n]  X_k = sum over m of x_m exp (+2 pi i k m / n), not scaled
 *
 * Notes:
 *   Error measured below 1e-15 times the sum of |x| for n = 16384.
 *
 * References:
 *   Cooley & Tukey 1965, Math. Comput. 19:297-301.
 */
void sci_fourier_transform (const SciFourier *self, double *re, double *im);

/* Weights of the four points of a grid around a place that read off a curve
 * there (or put a record there): Lagrange's cubic.
 *
 * Given:
 *   t        double     0 to 1: how far the place is from the second point to the third
 *
 * Returned:
 *   weights  double[4]  sum 1
 *
 * Notes:
 *   Of a wave of k turns on a grid of n points at most 0.024 (2 pi k / n)^4 of
 *   its height is lost.
 *
 * References:
 *   Abramowitz & Stegun 1964, 25.2.13.
 */
void sci_cubic_weights (double t, double weights[4]);
