/* Hiding a place: the cell of a decimal grid it lies in.
 *
 * Cells are counted in whole numbers of nanodegrees (0.1 mm), so that a
 * decimal coordinate such as 2.512 falls into the cell a person would say,
 * although 2.512 / 0.001 in doubles does not. A coordinate within half a
 * nanodegree of an edge is taken to lie on it.
 *
 * Never generalise by random displacement, and never publish distances,
 * bearings, sun times or elevation beside the result: they give it away.
 */
#pragma once

/* Latitude and longitude, degrees, WGS84, north and east positive. */
typedef struct {
  double latitude;
  double longitude;
} SciPlace;

/* The cell a place lies in.
 *
 * Given:
 *   place     SciPlace  latitude -90..90, longitude -180..180
 *   decimals  int       cell size 10^-decimals degrees: 0, 1, 2 or 3 for the
 *                       sensitivity categories 1 to 4
 *
 * Returned:
 *   sci_generalise_corner: the south-west corner of the cell
 *   sci_generalise_centre: the centre of the cell
 *   sci_generalise_round:  the coordinate rounded to decimals, ties away from
 *                          zero; the centre of a cell of the grid shifted by
 *                          half a cell
 *
 * Notes:
 *   A cell holds its south and west edge. The pole belongs to the last row;
 *   longitude 180 is -180 for corner and centre, while rounding may yield
 *   either. NaN for NaN, a place outside the range or other decimals. The
 *   doubles returned are the nearest to the decimal meant.
 *
 * References:
 *   Chapman 2020, Current Best Practices for Generalizing Sensitive Species
 *   Occurrence Data, GBIF, doi 10.15468/doc-5jp4-5g10.
 */
SciPlace sci_generalise_corner (SciPlace place, int decimals);
SciPlace sci_generalise_centre (SciPlace place, int decimals);
SciPlace sci_generalise_round (SciPlace place, int decimals);

/* Greatest distance between a place and the centre published for it.
 *
 * Given:
 *   latitude  double  latitude of the centre, degrees
 *   decimals  int     as above
 *
 * Returned:
 *   m, from the centre to the farther (equatorward) corner, WGS84
 *
 * Notes:
 *   To be added to the uncertainty the position had before. NaN outside the
 *   ranges.
 */
double sci_generalise_half_diagonal (double latitude, int decimals);
