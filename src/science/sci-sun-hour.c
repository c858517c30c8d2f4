#include "sci-sun-hour.h"

#include <math.h>

#include "sci-sun.h"

double
sci_anchor_hour (double clock, double sunrise, double sunset, double anchor_rise, double anchor_set)
{
  double hour, since_set;

  if (!(clock >= 0 && clock < 24) || !(sunrise < sunset) || !(anchor_rise < anchor_set) || !(sunset - sunrise < 24) ||
      !(anchor_set - anchor_rise < 24))
    return NAN;
  if (clock >= sunrise && clock <= sunset)
    hour = anchor_rise + (clock - sunrise) / (sunset - sunrise) * (anchor_set - anchor_rise);
  else
    {
      since_set = clock > sunset ? clock - sunset : clock + 24 - sunset;
      hour = anchor_set + since_set / (24 - (sunset - sunrise)) * (24 - (anchor_set - anchor_rise));
    }
  hour = fmod (hour, 24);
  return hour < 0 ? hour + 24 : hour;
}

/* Half the time the sun spends above an altitude, hours of its own clock; NaN
 * where it does not cross it. */
static double
find_half_day (double latitude, double declination, double altitude)
{
  double up = sin (altitude * SCI_DEGREE) - sin (latitude * SCI_DEGREE) * sin (declination * SCI_DEGREE);
  double across = cos (latitude * SCI_DEGREE) * cos (declination * SCI_DEGREE);

  return fabs (up) < across ? acos (up / across) / SCI_DEGREE / 15 : NAN;
}

double
sci_sun_hour (int64_t instant_ms, double latitude, double longitude)
{
  double half, since_noon;
  SciSun sun;

  if (!isfinite (latitude) || !isfinite (longitude))
    return NAN;
  sun = sci_sun_position (sci_ephemeris_day (instant_ms));
  since_noon = sci_sun_hour_angle_of (instant_ms, longitude, &sun) / 15;
  half = find_half_day (latitude, sun.declination, SCI_SUNRISE_ALTITUDE);
  return sci_anchor_hour (since_noon < 12 ? since_noon + 12 : since_noon - 12, 12 - half, 12 + half, 6, 18);
}

bool
sci_sun_rise_set (int64_t noon_ms,
                  double latitude,
                  double longitude,
                  int64_t *rise_ms,
                  int64_t *set_ms,
                  double *twilight_hours)
{
  double half, civil, since_noon;
  SciSun sun;

  *rise_ms = *set_ms = SCI_NO_INSTANT;
  *twilight_hours = NAN;
  if (!isfinite (latitude) || !isfinite (longitude))
    return false;
  sun = sci_sun_position (sci_ephemeris_day (noon_ms));
  since_noon = sci_sun_hour_angle_of (noon_ms, longitude, &sun) / 15;
  half = find_half_day (latitude, sun.declination, SCI_SUNRISE_ALTITUDE);
  civil = find_half_day (latitude, sun.declination, SCI_CIVIL_ALTITUDE);
  if (isnan (half))
    return false;
  *rise_ms = noon_ms + (int64_t) llround ((-half - since_noon) * 3600e3);
  *set_ms = noon_ms + (int64_t) llround ((half - since_noon) * 3600e3);
  *twilight_hours = civil - half;
  return true;
}
