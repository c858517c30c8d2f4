/* The dark hours of each date, for summing them over many stations and years.
 *
 * Instants in ms since 1970-01-01T00:00:00Z; angles in degrees, north and east
 * positive. Plain C, no state. */
#pragma once

#include "sci-effort.h"
#include "sci-sky.h"

/* The sky at an instant, the same for all places. */
typedef struct {
  int64_t at;
  double declination;   /* of the sun */
  double sundial_hours; /* apparent less mean solar time */
  double elongation;    /* of the moon east of the sun, 0..360 */
  double lit;           /* share of its disc, 0..1 */
} SciNightSky;

/* Some 200 sines: once for each date. */
SciNightSky sci_night_sky (int64_t at);

/* The span around a midnight of the sun during which it stands below an altitude.
 *
 * Given:
 *   sky                  SciNightSky  of an instant within half a day of that midnight
 *   latitude, longitude  double       degrees, finite
 *   altitude_deg         double       such as -6
 *
 * Returned:
 *   SciSpan around the midnight of the sun at that place that is nearest to the sky's
 *   instant; empty where the sun stays above, a whole day where it stays below
 *
 * Notes:
 *   The sun keeps the declination it has at the sky's instant. Ends within 3 minutes up to
 *   50 degrees of latitude, their distance over a year within 0.1 %. Four sines.
 *
 * References:
 *   Meeus 1998, eq. 15.1.
 */
SciSpan sci_night_dark (const SciNightSky *sky, double latitude, double longitude, double altitude_deg);

/* The moon between two skies a day apart.
 *
 * Given:
 *   before, after  SciNightSky  a day apart
 *   at             int64_t      between them
 *
 * Returned:
 *   elongation  double  0..360; within 0.1 degrees
 *   lit         double  within 0.004
 */
void sci_night_moon (const SciNightSky *before, const SciNightSky *after, int64_t at, double *elongation, double *lit);

/* The eighth of the moon's round: 0 around new, 2 around the first quarter, 4 around full. */
int sci_moon_eighth (double elongation);
