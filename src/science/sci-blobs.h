/* How much one patch of a picture stands out. */
#pragma once

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
 *   and twice as wide as high) at places a fifth of a side apart, of
 *   (sum in it - median sum of such rectangles) / root of its area, in pixels of a
 *   picture 160 wide; NaN without memory
 *
 * Notes:
 *   The root of the area is what the sum's deviation grows with when pixels stir
 *   independently of each other. The median takes what stirs everywhere.
 *
 * References:
 *   Crow 1984, Computer Graphics 18(3), 207: sums over rectangles by a table of
 *   running sums.
 */
double sci_blobs_measure (const float *excess, int width, int height);
