/* Days, time scales and spheres: what the sun and the moon share.
 *
 * Instants are milliseconds since 1970-01-01T00:00:00Z, UTC, without leap
 * seconds. Angles are in degrees; longitudes on Earth east positive; azimuths
 * from north, eastward. Universal time (UT1) is taken to be UTC, which is
 * within 0.9 s. Plain C, no state: every function may be called from any
 * thread.
 */
#pragma once

#include <stdint.h>

#define SCI_DEGREE (3.14159265358979323846 / 180)
#define SCI_DAY_MS INT64_C (86400000)

/* No such moment. */
#define SCI_NO_INSTANT INT64_MIN

/* Julian day of 2000 January 1, 12h, from where centuries are counted. */
#define SCI_J2000 2451545.0

/* Julian day of a date.
 *
 * Given:
 *   year   int     astronomical: 0 is 1 BC, -4712 the first
 *   month  int     1..12
 *   day    double  with the time of day as a fraction
 *
 * Returned:
 *   the Julian day; dates before 1582 October 15 are Julian, later Gregorian
 *
 * References:
 *   Meeus 1998, Astronomical Algorithms, 2nd ed., ch. 7.
 */
double sci_julian_day (int year, int month, double day);

/* The Julian day of an instant, in universal time, and back (rounded to the
 * millisecond; the day itself resolves about 0.05 ms). */
double sci_julian_from_instant (int64_t instant_ms);
int64_t sci_instant_from_julian (double julian_day);

/* Dynamical time minus universal time.
 *
 * Given:
 *   julian_day  double
 *
 * Returned:
 *   s
 *
 * Notes:
 *   Straight lines between the observed values of every fifth year from 1950
 *   to 2025; outside, the value at the end. Within 1 s from 1950 to 2030;
 *   by 1900 or 2070 it may be off by half a minute, which moves the moon by a
 *   quarter of a minute of arc and the sun by a second of arc.
 *
 * References:
 *   Observed values as published by the Earth rotation services, from memory.
 */
double sci_delta_t (double julian_day);

/* The ephemeris day: the Julian day of an instant in dynamical time, and back. */
double sci_ephemeris_day (int64_t instant_ms);
int64_t sci_instant_from_ephemeris (double ephemeris_day);

/* Sidereal time at Greenwich.
 *
 * Given:
 *   julian_day  double  universal time
 *
 * Returned:
 *   degrees, 0..360; apparent includes the equation of the equinoxes
 *
 * References:
 *   Meeus 1998, eq. 12.4 and p. 88.
 */
double sci_sidereal_mean (double julian_day);
double sci_sidereal_apparent (double julian_day);

/* Nutation in longitude and in obliquity.
 *
 * Given:
 *   ephemeris_day  double
 *
 * Returned:
 *   longitude, obliquity  double  degrees
 *
 * Notes:
 *   The thirteen largest terms of the 1980 theory: what is left out sums to
 *   less than 0.06 seconds of arc.
 *
 * References:
 *   Meeus 1998, ch. 22, table 22.A.
 */
void sci_nutation (double ephemeris_day, double *longitude, double *obliquity);

/* Mean obliquity of the ecliptic, degrees; Meeus 1998, eq. 22.2. */
double sci_obliquity (double ephemeris_day);

/* A direction from the centre of the Earth, against the equator of date. */
typedef struct {
  double right_ascension; /* 0..360 */
  double declination;
} SciEquatorial;

/* A direction from a place: without refraction. */
typedef struct {
  double altitude;
  double azimuth; /* 0..360 */
} SciHorizontal;

/* From the ecliptic to the equator. All angles in degrees; Meeus 1998, eqs
 * 13.3 and 13.4. */
SciEquatorial sci_equatorial (double longitude, double latitude, double obliquity);

/* From the equator to the horizon.
 *
 * Given:
 *   hour_angle   double  degrees westward from the meridian
 *   declination  double  degrees
 *   latitude     double  of the place, degrees
 *
 * Returned:
 *   altitude and azimuth; at the zenith and at a pole the azimuth is of no
 *   meaning
 *
 * References:
 *   Meeus 1998, eqs 13.5 and 13.6, with the azimuth turned to north.
 */
SciHorizontal sci_horizontal (double hour_angle, double declination, double latitude);

/* An angle brought into 0..360. */
double sci_degrees (double degrees);

/* The height of something above the level asked about, in degrees, at an
 * instant; @data is the caller's. */
typedef double (*SciHeightFunc) (int64_t instant_ms, const void *data);

typedef enum {
  SCI_PASSAGE_CROSSES, /* at least one of the two happens */
  SCI_PASSAGE_ABOVE,   /* above the level from end to end */
  SCI_PASSAGE_BELOW,
} SciPassageKind;

/* When something goes up through a level and down through it. */
typedef struct {
  SciPassageKind kind;
  int64_t up;   /* or SCI_NO_INSTANT */
  int64_t down; /* or SCI_NO_INSTANT */
} SciPassage;

/* Looks for passages within a span.
 *
 * Given:
 *   height    SciHeightFunc  continuous, never NaN
 *   data      const void *   handed to height
 *   from, to  int64_t        ms, from <= t < to
 *
 * Returned:
 *   the first way up and the last way down, each to 50 ms. Where a day holds
 *   two of a kind, as near the ends of a polar day, these are the two that
 *   enclose its noon.
 *
 * Notes:
 *   Looked at every five minutes: a body that peeps over the level for less
 *   may be missed. For the sun it then rose by less than 0.005 degrees.
 */
SciPassage sci_passage (SciHeightFunc height, const void *data, int64_t from, int64_t to);
