/* Distances and simple projections on WGS84.
 *
 * Angles in degrees, north and east positive; lengths in metres.
 */
#pragma once

#include <stdbool.h>

/* Semi-major axis (m) and flattening of WGS84: NIMA TR8350.2, 3rd ed. 2000, table 3.1. */
#define SCI_WGS84_A 6378137.0
#define SCI_WGS84_F (1.0 / 298.257223563)

/* The latitude where the square of web Mercator ends: atan (sinh (pi)). */
#define SCI_MERCATOR_LATITUDE 85.051128779806592

/* Distance along the shortest line on the ellipsoid.
 *
 * Given:
 *   latitude1, longitude1  double  degrees
 *   latitude2, longitude2  double  degrees; longitudes may differ by any
 *                                  multiple of 360
 *
 * Returned:
 *   m; 0 for coincident points; NaN for NaN or a latitude beyond 90
 *
 * Notes:
 *   Vincenty's inverse, at most 200 rounds: 0.1 mm. It does not converge for
 *   some nearly antipodal points (both ends within about half a degree of
 *   opposite). There the line is cut at a point a quarter turn from the first
 *   end and the sum of both halves, each an ordinary line, is made least over
 *   the direction of that point: measured within 0.1 mm, about two hundred
 *   times slower.
 *
 * References:
 *   Vincenty 1975, Survey Review 23(176):88-93.
 */
double sci_distance (double latitude1, double longitude1, double latitude2, double longitude2);

/* Length of one degree of latitude and of longitude.
 *
 * Given:
 *   latitude  double  degrees
 *
 * Returned:
 *   north  double  m per degree along the meridian, at that latitude
 *   east   double  m per degree along the parallel; 0 at a pole
 */
void sci_metres_per_degree (double latitude, double *north, double *east);

/* Web Mercator, as in map tiles, on the unit square.
 *
 * Given:
 *   latitude, longitude  double  degrees; latitude is held within
 *                                +-SCI_MERCATOR_LATITUDE
 *   x, y                 double  0..1, x from 180 W eastward, y from the north
 *
 * Returned:
 *   x, y, or latitude and longitude
 *
 * Notes:
 *   Spherical formulas on geodetic latitude, as all web maps use. Not wrapped:
 *   longitude 190 has x > 1, so that lines across 180 stay whole. Forward and
 *   back agree to 1e-12 degrees within +-85.
 *
 * References:
 *   Snyder 1987, USGS Professional Paper 1395, eqs 7-1, 7-2, 7-4 (sphere).
 */
void sci_mercator_forward (double latitude, double longitude, double *x, double *y);
void sci_mercator_inverse (double x, double y, double *latitude, double *longitude);

/* Ground metres per unit of the unit square.
 *
 * Given:
 *   latitude  double  degrees
 *
 * Returned:
 *   m on the ellipsoid, eastward, per unit of x
 */
double sci_mercator_metres (double latitude);

/* Length for a scale bar.
 *
 * Given:
 *   longest  double  the longest bar that fits, in any unit, > 0
 *
 * Returned:
 *   the greatest of 1, 2, 5 times a power of ten that is at most longest;
 *   NaN when longest is not positive and finite
 */
double sci_scale_bar (double longest);

/* Plane coordinates around an origin, for maps of a few tens of kilometres. */
typedef struct {
  double latitude;
  double longitude;
  double north_m;
  double east_m;
} SciLocal;

/* Local equirectangular projection.
 *
 * Given:
 *   latitude, longitude  double  origin or place, degrees
 *   x, y                 double  m east and north of the origin
 *
 * Returned:
 *   the projection; x, y; latitude and longitude (-180..180)
 *
 * Notes:
 *   Takes the short way round 180. Lengths are true along the origin's
 *   parallel and wrong by about tan (latitude) * dy / 6.4e6 m elsewhere:
 *   measured at most 0.2 % within 10 km of an origin below 45 degrees.
 */
SciLocal sci_local_new (double latitude, double longitude);
void sci_local_forward (const SciLocal *local, double latitude, double longitude, double *x, double *y);
void sci_local_inverse (const SciLocal *local, double x, double y, double *latitude, double *longitude);
