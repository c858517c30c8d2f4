/* What a camera's picture would show if nobody were in it, from other pictures
 * of the same place in the same light. */
#pragma once

#include <stdbool.h>

/* Pictures are grey, 8 bits, rows from the top without gaps, all of one size:
 * SCI_PICTURE_LEAST to SCI_PICTURE_MOST pixels wide and high. */
#define SCI_PICTURE_LEAST 32
#define SCI_PICTURE_MOST 512

/* The side of the blocks that lighting is compared by, pixels. */
#define SCI_BLOCK 4

/* How one picture's light becomes another's.
 *
 * level there = gain * level here + surface[0] + surface[1] u + surface[2] v
 *   + surface[3] u u + surface[4] u v + surface[5] v v,
 * u and v from -1 to 1 across the picture. */
typedef struct {
  double gain;
  double surface[6];
  double misfit; /* of the fit: 1.4826 times the median absolute residual, grey levels */
} SciLight;

/* Smoothed copy of a picture, and its means over blocks.
 *
 * Given:
 *   grey    width * height levels
 *   width   pixels
 *   height  pixels
 *
 * Returned:
 *   smooth  width * height: binomial 3 x 3 mean, edges repeated
 *   blocks  (width / SCI_BLOCK) * (height / SCI_BLOCK): mean level
 */
void sci_picture_smooth (const unsigned char *grey, int width, int height, float *smooth);
void sci_picture_blocks (const unsigned char *grey, int width, int height, float *blocks);

/* The light of one picture put on another.
 *
 * Given:
 *   from     blocks of the picture whose light is to be changed
 *   to       blocks of the picture whose light is wanted
 *   columns  blocks across, >= 8
 *   rows     blocks down, >= 8
 *
 * Returned:
 *   light    gain and surface
 *   true when the fit is of use: gain between 1/4 and 4
 *
 * Notes:
 *   Least squares with weights (1 - (r / 4.685 s)^2)^2, s the median absolute
 *   residual as a deviation, six rounds: what covers up to about a third of the
 *   picture and is unlike the rest, such as an animal, does not draw the fit.
 *   A gain takes exposure, the surface slow shading: clouds, a lamp that is
 *   weaker to the edges. Sharp shadows that wander are not modelled.
 *
 * References:
 *   Beaton & Tukey 1974, Technometrics 16, 147 (the weights; tuning constant
 *   4.685 for 95 % efficiency: common practice). Huber & Ronchetti, Robust
 *   Statistics, ch. 7 (weights found again in rounds).
 */
bool sci_light_fit (const float *from, const float *to, int columns, int rows, SciLight *light);

/* A picture as it would be without what is not there always.
 *
 * Given:
 *   views    n smoothed pictures, already in the wanted light
 *   n        how many, 1 to SCI_VIEWS_MOST
 *   n_pixels of each
 *
 * Returned:
 *   middle   median level of each pixel
 *   spread   1.4826 times the median absolute difference from it
 *
 * References:
 *   Median over time as a background: Piccardi 2004, IEEE SMC 4, 3099, section
 *   2.2 (from memory). The factor 1.4826: of a normal distribution.
 */
#define SCI_VIEWS_MOST 32
void sci_background_median (const float *const *views, int n, int n_pixels, float *middle, float *spread);

/* Changes a smoothed picture's light in place. */
void sci_light_apply (const SciLight *light, int width, int height, float *smooth);

/* The median of @n numbers, which are put into another order; NaN for none. */
double sci_median (float *values, int n);
