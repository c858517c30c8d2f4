#include "sci-night.h"

#include <math.h>

#include "sci-moon.h"
#include "sci-sun.h"

#define HOUR_MS 3600000.0

SciNightSky
sci_night_sky (int64_t at)
{
  double day = sci_ephemeris_day (at);
  SciMoonLight light = sci_moon_light (day);
  SciSun sun = sci_sun_position (day);
  double mean_hour = (double) (at - SCI_DAY_MS * (int64_t) floor ((double) at / (double) SCI_DAY_MS)) / HOUR_MS;
  double ahead = sci_sun_hour_angle_of (at, 0, &sun) / 15 + 12 - mean_hour;

  return (SciNightSky) {
    .at = at,
    .declination = sun.declination,
    .sundial_hours = ahead - 24 * round (ahead / 24),
    .elongation = light.elongation,
    .lit = light.lit,
  };
}

/* Hours from midnight to where the sun goes through the altitude: 0 to 12. */
static double
find_half_night (double latitude, double declination, double altitude)
{
  double down = sin (altitude * SCI_DEGREE) - sin (latitude * SCI_DEGREE) * sin (declination * SCI_DEGREE);
  double across = cos (latitude * SCI_DEGREE) * cos (declination * SCI_DEGREE);

  if (down >= across)
    return 12;
  return down <= -across ? 0 : 12 - acos (down / across) / SCI_DEGREE / 15;
}

SciSpan
sci_night_dark (const SciNightSky *sky, double latitude, double longitude, double altitude_deg)
{
  double utc_hour =
    (double) (sky->at - SCI_DAY_MS * (int64_t) floor ((double) sky->at / (double) SCI_DAY_MS)) / HOUR_MS;
  double since_midnight = utc_hour + longitude / 15 + sky->sundial_hours;
  double half = find_half_night (latitude, sky->declination, altitude_deg) * HOUR_MS;
  double middle = (double) sky->at - (since_midnight - 24 * round (since_midnight / 24)) * HOUR_MS;

  return (SciSpan) { llround (middle - half), llround (middle + half) };
}

void
sci_night_moon (const SciNightSky *before, const SciNightSky *after, int64_t at, double *elongation, double *lit)
{
  double share = (double) (at - before->at) / (double) (after->at - before->at);
  double moved = after->elongation - before->elongation;

  if (moved < 0) /* past new moon */
    moved += 360;
  *elongation = fmod (before->elongation + share * moved, 360);
  *lit = before->lit + share * (after->lit - before->lit);
}

int
sci_moon_eighth (double elongation)
{
  return (int) floor ((elongation + 22.5) / 45) % 8;
}
