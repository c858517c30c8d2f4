/* The sun: where it stands, and how much of a day is dark.
 *
 * Instants in ms since 1970-01-01T00:00:00Z; angles in degrees, north and
 * east positive. Plain C, no state.
 */
#pragma once

#include "sci-sky.h"

/* Heights of the sun's centre at which a day turns: the upper limb on a flat
 * horizon with ordinary refraction, and the ends of civil and nautical
 * twilight. Common practice. */
#define SCI_SUNRISE_ALTITUDE (-50.0 / 60)
#define SCI_CIVIL_ALTITUDE (-6.0)
#define SCI_NAUTICAL_ALTITUDE (-12.0)

/* The sun from the centre of the Earth, against the equinox of date. */
typedef struct {
  double mean_longitude; /* degrees, 0..360, as all longitudes here */
  double mean_anomaly;
  double centre; /* equation of the centre, degrees */
  double true_longitude;
  double longitude; /* apparent */
  double latitude;  /* 0 from sci_sun_position() */
  double distance_au;
  double obliquity; /* that was used for the next two */
  double right_ascension;
  double declination;
} SciSun;

/* The apparent position, by the short formulas.
 *
 * Given:
 *   ephemeris_day  double  dynamical time, see sci_ephemeris_day()
 *
 * Returned:
 *   SciSun
 *
 * Notes:
 *   Within 0.01 degrees from 1900 to 2100. A dozen sines: made for calls by the
 *   hundred thousand.
 *
 * References:
 *   Meeus 1998, ch. 25, low accuracy.
 */
SciSun sci_sun_position (double ephemeris_day);

/* The apparent position, by the planetary theory.
 *
 * Given:
 *   ephemeris_day  double  dynamical time
 *
 * Returned:
 *   SciSun; the centre of the Earth, with aberration and nutation; mean
 *   longitude, mean anomaly, centre and distance as from sci_sun_position()
 *
 * Notes:
 *   Within a second of arc from 1900 to 2100. Five times slower than the
 *   short formulas: for the equation of time and the phases of the moon.
 *
 * References:
 *   Meeus 1998, ch. 25, higher accuracy, and appendix III: the terms of
 *   Bretagnon & Francou 1988, Astron. Astrophys. 202:309-315 (VSOP87).
 */
SciSun sci_sun_position_fine (double ephemeris_day);

/* Apparent minus mean solar time.
 *
 * Given:
 *   ephemeris_day  double  dynamical time
 *
 * Returned:
 *   minutes, -20..20; positive when a sundial is ahead of the clock
 *
 * References:
 *   Meeus 1998, eq. 28.1.
 */
double sci_equation_of_time (double ephemeris_day);

/* Altitude of the sun's centre.
 *
 * Given:
 *   instant_ms           int64_t
 *   latitude, longitude  double   degrees
 *
 * Returned:
 *   degrees above the horizon, as seen from the surface, without refraction
 *
 * Notes:
 *   Within 0.011 degrees of a full ephemeris at sixty instants from 2008 to
 *   2027; the parallax of 0.002 degrees is applied.
 */
double sci_sun_altitude (int64_t instant_ms, double latitude, double longitude);

/* The same with the azimuth. */
SciHorizontal sci_sun_horizontal (int64_t instant_ms, double latitude, double longitude);

/* Apparent solar time, hours, 0 <= h < 24: what a sundial shows, 12 when the
 * sun crosses the meridian southward (or northward) of the place. */
double sci_sun_time (int64_t instant_ms, double longitude);

/* Degrees the sun has gone westward past the meridian, -180..180. */
double sci_sun_hour_angle (int64_t instant_ms, double longitude);

/* The same of a sun whose position at the instant is known already. */
double sci_sun_hour_angle_of (int64_t instant_ms, double longitude, const SciSun *sun);

/* Share of a day during which the sun stands below an altitude.
 *
 * Given:
 *   instant_ms           int64_t
 *   latitude, longitude  double   degrees
 *   altitude_deg         double   such as SCI_SUNRISE_ALTITUDE
 *
 * Returned:
 *   0..1, of the 24 hours from midnight to midnight of local mean solar time
 *   that hold the instant; 0 where the sun stays above, 1 where it stays below;
 *   NaN for a place that is not known (NaN)
 *
 * Notes:
 *   The declination of that day's noon is used all day. Against the altitude
 *   summed over each minute of a year: within 0.001 up to 50 degrees of
 *   latitude. Farther north or south the same but for the few days on which
 *   the sun skims the altitude: within 0.02 up to 70 degrees, 0.035 up to 80.
 *   At a pole, where the sun crosses twice a year, those days are taken to be
 *   wholly the one or the other. A few sines: may be called for every day of
 *   a forecast.
 *
 * References:
 *   Meeus 1998, eq. 15.1.
 */
double sci_sun_dark_share (int64_t instant_ms, double latitude, double longitude, double altitude_deg);

/* The sun's day at a place. */
typedef struct {
  SciPassage rise;     /* through SCI_SUNRISE_ALTITUDE */
  SciPassage civil;    /* up: civil dawn; down: civil dusk */
  SciPassage nautical;
  int64_t transit;     /* highest, south or north; SCI_NO_INSTANT when not in the span */
  double transit_altitude; /* degrees without refraction; NAN without transit */
} SciSunDay;

/* What the sun does between two instants.
 *
 * Given:
 *   from, to             int64_t  ms, the ends of a local civil date, which
 *                                 has 23 or 25 hours when clocks change
 *   latitude, longitude  double   degrees, finite
 *
 * Returned:
 *   SciSunDay; see sci_passage() for days that hold two of a kind
 *
 * Notes:
 *   Measured against a full ephemeris: within 10 s up to 50 degrees of
 *   latitude and a minute at 68 to 71, where the sun skims the horizon. Sea
 *   horizon and ordinary refraction: hills and forest shift the light by
 *   many minutes.
 */
SciSunDay sci_sun_day (int64_t from, int64_t to, double latitude, double longitude);
