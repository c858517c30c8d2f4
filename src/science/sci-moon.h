/* The moon: where it stands, how much of it is lit, when it rises and turns.
 *
 * Instants in ms since 1970-01-01T00:00:00Z; angles in degrees, north and
 * east positive; distances in km. Plain C, no state.
 */
#pragma once

#include <stdbool.h>

#include "sci-sky.h"

/* The moon from the centre of the Earth, against the equinox of date. */
typedef struct {
  double longitude; /* geometric, 0..360 */
  double latitude;
  double apparent_longitude; /* with nutation, 0..360 */
  double distance_km;        /* between the centres */
  double parallax;           /* horizontal, at the equator */
  double right_ascension;    /* apparent */
  double declination;
} SciMoon;

/* The apparent position.
 *
 * Given:
 *   ephemeris_day  double  dynamical time, see sci_ephemeris_day()
 *
 * Returned:
 *   SciMoon
 *
 * Notes:
 *   All terms of the reference: about 10 seconds of arc in longitude and 4 in
 *   latitude, by its author, from 1900 to 2100. Some 180 sines.
 *
 * References:
 *   Meeus 1998, Astronomical Algorithms, 2nd ed., ch. 47, after Chapront-Touze
 *   & Chapront 1983, Astron. Astrophys. 124:50-62.
 */
SciMoon sci_moon_position (double ephemeris_day);

/* How the moon looks from a place. */
typedef struct {
  double altitude; /* of its centre, without refraction */
  double azimuth;
  double distance_km; /* from the place to the moon's centre */
} SciMoonSeen;

/* Where the moon stands for somebody at sea level.
 *
 * Given:
 *   instant_ms           int64_t
 *   latitude, longitude  double   degrees
 *
 * Returned:
 *   SciMoonSeen; the parallax, up to a degree, is applied for the ellipsoid
 *
 * References:
 *   Meeus 1998, ch. 11 for the observer.
 */
SciMoonSeen sci_moon_seen (int64_t instant_ms, double latitude, double longitude);

/* How the sun lights the moon, from the centre of the Earth. */
typedef struct {
  double elongation;  /* of the moon east of the sun, along the ecliptic, 0..360 */
  double phase_angle; /* between sun and Earth, seen from the moon, 0..180 */
  double lit;         /* share of the disc that is lit, 0..1 */
  double bright_limb; /* direction of its middle, from celestial north eastward, 0..360 */
  bool waxing;
} SciMoonLight;

/* References: Meeus 1998, eqs 48.1 to 48.3 and 48.5. */
SciMoonLight sci_moon_light (double ephemeris_day);

typedef enum {
  SCI_MOON_NEW,
  SCI_MOON_FIRST_QUARTER,
  SCI_MOON_FULL,
  SCI_MOON_LAST_QUARTER,
} SciMoonPhase;

/* When a phase comes next.
 *
 * Given:
 *   instant_ms  int64_t
 *   phase       SciMoonPhase
 *
 * Returned:
 *   the first such instant at or after the one given
 *
 * Notes:
 *   The moment at which the elongation is 0, 90, 180 or 270 degrees; within
 *   half a minute from 1950 to 2050.
 */
int64_t sci_moon_phase_next (int64_t instant_ms, SciMoonPhase phase);

/* Moonrise and moonset between two instants.
 *
 * Given:
 *   from, to             int64_t  ms, the ends of a local civil date
 *   latitude, longitude  double   degrees, finite
 *
 * Returned:
 *   upper limb on a sea horizon with 34' of refraction. There is about one
 *   date in a month on which the moon does not rise, and one on which it does
 *   not set: then that one is SCI_NO_INSTANT.
 */
SciPassage sci_moon_day (int64_t from, int64_t to, double latitude, double longitude);
