/* How much one patch of a picture stands out. */
#pragma once

#include <stdbool.h>

/* Rows at the head and the foot that are not looked at, as shares of the height:
 * cameras write a line with date and temperature there (common practice, no
 * source). */
#define SCI_HEAD_SHARE (1.0 / 20)
#define SCI_FOOT_SHARE (1.0 / 12)

/* The patch that stands out most.
 *
 * Given:
 *   excess  width * height: how much each pixel is out of the ordinary, >= 0
 *   width   pixels
 *   height  pixels
 *
 * Returned:
 *   the largest, over rectangles of six sizes (4 % to 28 % of the width, square
 *   and twice as wide as high) at places a quarter of a side apart, of
 *   (sum in it - median sum of such rectangles) / side^POWER, with the side as the root
 *   of its area for a picture 160 pixels wide; NaN without memory
 *
 * Notes:
 *   Power 1 would be right when pixels were out of the ordinary independently of
 *   each other, power 2 is the mean in the rectangle; leaves move in clusters,
 *   so the truth lies between. The median takes what stirs everywhere.
 *
 * References:
 *   Crow 1984, Computer Graphics 18(3), 207: sums over rectangles by a table of
 *   running sums.
 */
double sci_blobs_measure (const float *excess, int width, int height);
