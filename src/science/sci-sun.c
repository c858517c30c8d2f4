#include "sci-sun.h"

#include <math.h>

/* Of the sun at its mean distance: 8.794 seconds of arc. */
#define PARALLAX (8.794 / 3600)

SciSun
sci_sun_position (double ephemeris_day)
{
  double t = (ephemeris_day - SCI_J2000) / 36525;
  double mean = 280.46646 + t * (36000.76983 + t * 0.0003032);
  double anomaly = 357.52911 + t * (35999.05029 - t * 0.0001537);
  double eccentricity = 0.016708634 - t * (0.000042037 + t * 0.0000001267);
  double node = (125.04 - 1934.136 * t) * SCI_DEGREE;
  double m = anomaly * SCI_DEGREE;
  double centre = (1.914602 - t * (0.004817 + t * 0.000014)) * sin (m) + (0.019993 - t * 0.000101) * sin (2 * m) +
                  0.000289 * sin (3 * m);
  SciSun sun = { .centre = centre };
  SciEquatorial place;

  sun.mean_longitude = sci_degrees (mean);
  sun.mean_anomaly = sci_degrees (anomaly);
  sun.true_longitude = sci_degrees (mean + centre);
  sun.longitude = sci_degrees (mean + centre - 0.00569 - 0.00478 * sin (node));
  sun.distance_au = 1.000001018 * (1 - eccentricity * eccentricity) / (1 + eccentricity * cos (m + centre * SCI_DEGREE));
  sun.obliquity = sci_obliquity (ephemeris_day) + 0.00256 * cos (node);
  place = sci_equatorial (sun.longitude, 0, sun.obliquity);
  sun.right_ascension = place.right_ascension;
  sun.declination = place.declination;
  return sun;
}

/* The equation of the equinoxes is taken to be its largest term, the one that
 * the apparent longitude above holds too. */
double
sci_sun_hour_angle_of (int64_t instant_ms, double longitude, const SciSun *sun)
{
  double day = sci_julian_from_instant (instant_ms);
  double node = (125.04 - 1934.136 * (day - SCI_J2000) / 36525) * SCI_DEGREE;
  double sidereal = sci_sidereal_mean (day) - 0.00478 * sin (node) * cos (sun->obliquity * SCI_DEGREE);

  return remainder (sidereal + longitude - sun->right_ascension, 360);
}

SciHorizontal
sci_sun_horizontal (int64_t instant_ms, double latitude, double longitude)
{
  SciSun sun = sci_sun_position (sci_ephemeris_day (instant_ms));
  SciHorizontal seen = sci_horizontal (sci_sun_hour_angle_of (instant_ms, longitude, &sun), sun.declination, latitude);

  seen.altitude -= PARALLAX * cos (seen.altitude * SCI_DEGREE);
  return seen;
}

double
sci_sun_altitude (int64_t instant_ms, double latitude, double longitude)
{
  return sci_sun_horizontal (instant_ms, latitude, longitude).altitude;
}

double
sci_sun_hour_angle (int64_t instant_ms, double longitude)
{
  SciSun sun = sci_sun_position (sci_ephemeris_day (instant_ms));

  return sci_sun_hour_angle_of (instant_ms, longitude, &sun);
}

double
sci_sun_time (int64_t instant_ms, double longitude)
{
  double hours = 12 + sci_sun_hour_angle (instant_ms, longitude) / 15;

  return hours < 24 ? hours : hours - 24;
}

double
sci_sun_dark_share (int64_t instant_ms, double latitude, double longitude, double altitude_deg)
{
  double day_ms = (double) SCI_DAY_MS;
  double ahead_ms = longitude / 360 * day_ms;
  double noon = (floor (((double) instant_ms + ahead_ms) / day_ms) + 0.5) * day_ms - ahead_ms;
  double declination, up, across;

  if (!isfinite (noon))
    return NAN;
  declination = sci_sun_position (sci_ephemeris_day ((int64_t) noon)).declination * SCI_DEGREE;
  up = sin (altitude_deg * SCI_DEGREE) - sin (latitude * SCI_DEGREE) * sin (declination);
  across = cos (latitude * SCI_DEGREE) * cos (declination);
  if (fabs (up) >= across)
    return up > 0 ? 1 : 0;
  return 1 - acos (up / across) / (180 * SCI_DEGREE);
}
