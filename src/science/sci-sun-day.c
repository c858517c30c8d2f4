#include "sci-sun.h"

#include <math.h>

/* What a height is measured from. */
typedef struct {
  double latitude;
  double longitude;
  double level;
} Level;

static double
height_above (int64_t instant_ms, const void *data)
{
  const Level *level = data;

  return sci_sun_altitude (instant_ms, level->latitude, level->longitude) - level->level;
}

static SciPassage
find_passage (int64_t from, int64_t to, double latitude, double longitude, double altitude)
{
  Level level = { latitude, longitude, altitude };

  return sci_passage (height_above, &level, from, to);
}

/* A mean sun turns by 360 degrees a day; the true one differs by less than
 * half a minute a day, so the second round is good to milliseconds. */
static int64_t
find_transit (int64_t from, int64_t to, double longitude)
{
  double per_degree = (double) SCI_DAY_MS / 360;
  int64_t at = from + (int64_t) (sci_degrees (-sci_sun_hour_angle (from, longitude)) * per_degree);

  for (int i = 0; i < 3; i++)
    at -= (int64_t) (sci_sun_hour_angle (at, longitude) * per_degree);
  return at >= from && at < to ? at : SCI_NO_INSTANT;
}

SciSunDay
sci_sun_day (int64_t from, int64_t to, double latitude, double longitude)
{
  SciSunDay day = {
    .rise = find_passage (from, to, latitude, longitude, SCI_SUNRISE_ALTITUDE),
    .civil = find_passage (from, to, latitude, longitude, SCI_CIVIL_ALTITUDE),
    .nautical = find_passage (from, to, latitude, longitude, SCI_NAUTICAL_ALTITUDE),
    .transit = find_transit (from, to, longitude),
    .transit_altitude = NAN,
  };

  if (day.transit != SCI_NO_INSTANT)
    day.transit_altitude = sci_sun_altitude (day.transit, latitude, longitude);
  return day;
}
