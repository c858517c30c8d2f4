#include "sci-moon.h"

#include <math.h>

#include "sci-sun.h"

/* Equatorial radius of the Earth (km) and its polar share, WGS84; radius of
 * the moon. */
#define EARTH_KM 6378.137
#define EARTH_POLAR (1 - 1 / 298.257223563)
#define MOON_KM 1737.4
/* Astronomical unit, km: IAU 2012, resolution B2. */
#define AU_KM 149597870.7
#define REFRACTION (34.0 / 60)

/* Mean motion of the moon from the sun, degrees a day. */
#define ELONGATION_RATE (360 / 29.530588853)

/* From the place to the moon: along the meridian's plane outward, west, and
 * along the axis; km. */
static void
find_line (int64_t instant_ms, double latitude, double longitude, double line[3])
{
  SciMoon moon = sci_moon_position (sci_ephemeris_day (instant_ms));
  double sidereal = sci_sidereal_apparent (sci_julian_from_instant (instant_ms));
  double hour_angle = (sidereal + longitude - moon.right_ascension) * SCI_DEGREE;
  double declination = moon.declination * SCI_DEGREE;
  double reduced = atan2 (EARTH_POLAR * sin (latitude * SCI_DEGREE), cos (latitude * SCI_DEGREE));

  line[0] = moon.distance_km * cos (declination) * cos (hour_angle) - EARTH_KM * cos (reduced);
  line[1] = moon.distance_km * cos (declination) * sin (hour_angle);
  line[2] = moon.distance_km * sin (declination) - EARTH_KM * EARTH_POLAR * sin (reduced);
}

SciMoonSeen
sci_moon_seen (int64_t instant_ms, double latitude, double longitude)
{
  double sin_p = sin (latitude * SCI_DEGREE), cos_p = cos (latitude * SCI_DEGREE);
  double line[3], up, north, east;

  find_line (instant_ms, latitude, longitude, line);
  up = line[0] * cos_p + line[2] * sin_p;
  north = line[2] * cos_p - line[0] * sin_p;
  east = -line[1];
  return (SciMoonSeen) {
    .altitude = atan2 (up, hypot (north, east)) / SCI_DEGREE,
    .azimuth = sci_degrees (atan2 (east, north) / SCI_DEGREE),
    .distance_km = hypot (up, hypot (north, east)),
  };
}

static double
find_bright_limb (const SciMoon *moon, const SciSun *sun)
{
  double east = (sun->right_ascension - moon->right_ascension) * SCI_DEGREE;
  double sun_d = sun->declination * SCI_DEGREE, moon_d = moon->declination * SCI_DEGREE;

  return sci_degrees (atan2 (cos (sun_d) * sin (east), sin (sun_d) * cos (moon_d) - cos (sun_d) * sin (moon_d) * cos (east)) /
                      SCI_DEGREE);
}

SciMoonLight
sci_moon_light (double ephemeris_day)
{
  SciMoon moon = sci_moon_position (ephemeris_day);
  SciSun sun = sci_sun_position_fine (ephemeris_day);
  double elongation = sci_degrees (moon.apparent_longitude - sun.longitude);
  double apart = acos (cos (moon.latitude * SCI_DEGREE) * cos (elongation * SCI_DEGREE));
  double sun_km = sun.distance_au * AU_KM;
  double phase_angle = atan2 (sun_km * sin (apart), moon.distance_km - sun_km * cos (apart));

  return (SciMoonLight) {
    .elongation = elongation,
    .phase_angle = phase_angle / SCI_DEGREE,
    .lit = (1 + cos (phase_angle)) / 2,
    .bright_limb = find_bright_limb (&moon, &sun),
    .waxing = elongation < 180,
  };
}

static double
find_elongation (double ephemeris_day)
{
  return sci_moon_position (ephemeris_day).apparent_longitude - sci_sun_position_fine (ephemeris_day).longitude;
}

/* The true motion differs from the mean one by a quarter at most, so each
 * round leaves a third of the error or less: fifteen are good to a
 * millisecond. */
int64_t
sci_moon_phase_next (int64_t instant_ms, SciMoonPhase phase)
{
  double begin = sci_ephemeris_day (instant_ms), target = 90.0 * phase;
  double day = begin + sci_degrees (target - find_elongation (begin)) / ELONGATION_RATE;

  for (int i = 0; i < 15; i++)
    day += remainder (target - find_elongation (day), 360) / ELONGATION_RATE;
  return sci_instant_from_ephemeris (day);
}

typedef struct {
  double latitude;
  double longitude;
} Place;

/* Of the upper limb above the sea horizon as it is seen. */
static double
height_of_limb (int64_t instant_ms, const void *data)
{
  const Place *place = data;
  SciMoonSeen seen = sci_moon_seen (instant_ms, place->latitude, place->longitude);

  return seen.altitude + REFRACTION + asin (MOON_KM / seen.distance_km) / SCI_DEGREE;
}

SciPassage
sci_moon_day (int64_t from, int64_t to, double latitude, double longitude)
{
  Place place = { latitude, longitude };

  return sci_passage (height_of_limb, &place, from, to);
}
