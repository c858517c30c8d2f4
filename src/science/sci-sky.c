#include "sci-sky.h"

#include <math.h>
#include <stddef.h>

#define LENGTH(array) (sizeof (array) / sizeof *(array))

/* Julian day of 1970 January 1, 0h. */
#define UNIX_EPOCH 2440587.5
#define FIRST_GREGORIAN INT32_C (15821015)

#define DELTA_T_FIRST 1950
#define DELTA_T_STEP 5
static const double delta_t[] = {
  29.1, 31.1, 33.2, 35.7, 40.2, 45.5, 50.5, 54.3, 56.9, 60.8, 63.8, 64.7, 66.1, 67.6, 69.4, 69.1,
};

double
sci_degrees (double degrees)
{
  double turn = fmod (degrees, 360);

  if (turn < 0)
    turn += 360;
  return turn < 360 ? turn : 0; /* a hair below 0 becomes 360 itself */
}

double
sci_julian_day (int year, int month, double day)
{
  int date = year * 10000 + month * 100 + (int) day;
  int y = month <= 2 ? year - 1 : year, m = month <= 2 ? month + 12 : month;
  double century = floor (y / 100.0);
  double gregorian = date >= FIRST_GREGORIAN ? 2 - century + floor (century / 4) : 0;

  return floor (365.25 * (y + 4716)) + floor (30.6001 * (m + 1)) + day + gregorian - 1524.5;
}

double
sci_julian_from_instant (int64_t instant_ms)
{
  return UNIX_EPOCH + (double) instant_ms / (double) SCI_DAY_MS;
}

int64_t
sci_instant_from_julian (double julian_day)
{
  return (int64_t) llround ((julian_day - UNIX_EPOCH) * (double) SCI_DAY_MS);
}

double
sci_delta_t (double julian_day)
{
  double step = ((julian_day - SCI_J2000) / 365.25 + 2000 - DELTA_T_FIRST) / DELTA_T_STEP;
  int last = (int) LENGTH (delta_t) - 1;
  int i = (int) fmax (0, fmin (last - 1, floor (step)));

  step = fmax (0, fmin (1, step - i));
  return delta_t[i] + step * (delta_t[i + 1] - delta_t[i]);
}

double
sci_ephemeris_day (int64_t instant_ms)
{
  double day = sci_julian_from_instant (instant_ms);

  return day + sci_delta_t (day) / 86400;
}

int64_t
sci_instant_from_ephemeris (double ephemeris_day)
{
  return sci_instant_from_julian (ephemeris_day - sci_delta_t (ephemeris_day) / 86400);
}

double
sci_sidereal_mean (double julian_day)
{
  double days = julian_day - SCI_J2000, t = days / 36525;

  return sci_degrees (280.46061837 + 360.98564736629 * days + t * t * (0.000387933 - t / 38710000));
}

double
sci_sidereal_apparent (double julian_day)
{
  double ephemeris_day = julian_day + sci_delta_t (julian_day) / 86400;
  double longitude, obliquity;

  sci_nutation (ephemeris_day, &longitude, &obliquity);
  obliquity += sci_obliquity (ephemeris_day);
  return sci_degrees (sci_sidereal_mean (julian_day) + longitude * cos (obliquity * SCI_DEGREE));
}

/* Multiples of the arguments, and coefficients of sine (longitude) and cosine
 * (obliquity) with their change per century, in 0.0001 seconds of arc. */
typedef struct {
  signed char d, m, mp, f, om;
  double sine, sine_t, cosine, cosine_t;
} NutationTerm;

static const NutationTerm nutation[] = {
  { 0, 0, 0, 0, 1, -171996, -174.2, 92025, 8.9 },
  { -2, 0, 0, 2, 2, -13187, -1.6, 5736, -3.1 },
  { 0, 0, 0, 2, 2, -2274, -0.2, 977, -0.5 },
  { 0, 0, 0, 0, 2, 2062, 0.2, -895, 0.5 },
  { 0, 1, 0, 0, 0, 1426, -3.4, 54, -0.1 },
  { 0, 0, 1, 0, 0, 712, 0.1, -7, 0 },
  { -2, 1, 0, 2, 2, -517, 1.2, 224, -0.6 },
  { 0, 0, 0, 2, 1, -386, -0.4, 200, 0 },
  { 0, 0, 1, 2, 2, -301, 0, 129, -0.1 },
  { -2, -1, 0, 2, 2, 217, -0.5, -95, 0.3 },
  { -2, 0, 1, 0, 0, -158, 0, 0, 0 },
  { -2, 0, 0, 2, 1, 129, 0.1, -70, 0 },
  { 0, 0, -1, 2, 2, 123, 0, -53, 0 },
};

void
sci_nutation (double ephemeris_day, double *longitude, double *obliquity)
{
  double t = (ephemeris_day - SCI_J2000) / 36525;
  double d = 297.85036 + 445267.111480 * t - 0.0019142 * t * t;
  double m = 357.52772 + 35999.050340 * t - 0.0001603 * t * t;
  double mp = 134.96298 + 477198.867398 * t + 0.0086972 * t * t;
  double f = 93.27191 + 483202.017538 * t - 0.0036825 * t * t;
  double om = 125.04452 - 1934.136261 * t + 0.0020708 * t * t;

  *longitude = *obliquity = 0;
  for (size_t i = 0; i < LENGTH (nutation); i++)
    {
      const NutationTerm *term = &nutation[i];
      double angle = SCI_DEGREE * (term->d * d + term->m * m + term->mp * mp + term->f * f + term->om * om);

      *longitude += (term->sine + term->sine_t * t) * sin (angle);
      *obliquity += (term->cosine + term->cosine_t * t) * cos (angle);
    }
  *longitude /= 3.6e7;
  *obliquity /= 3.6e7;
}

double
sci_obliquity (double ephemeris_day)
{
  double t = (ephemeris_day - SCI_J2000) / 36525;

  return 23 + (26 + (21.448 - t * (46.8150 + t * (0.00059 - t * 0.001813))) / 60) / 60;
}

SciEquatorial
sci_equatorial (double longitude, double latitude, double obliquity)
{
  double sin_e = sin (obliquity * SCI_DEGREE), cos_e = cos (obliquity * SCI_DEGREE);
  double sin_l = sin (longitude * SCI_DEGREE), cos_l = cos (longitude * SCI_DEGREE);
  double sin_b = sin (latitude * SCI_DEGREE), cos_b = cos (latitude * SCI_DEGREE);

  return (SciEquatorial) {
    .right_ascension = sci_degrees (atan2 (sin_l * cos_e * cos_b - sin_b * sin_e, cos_l * cos_b) / SCI_DEGREE),
    .declination = asin (sin_b * cos_e + cos_b * sin_e * sin_l) / SCI_DEGREE,
  };
}

SciHorizontal
sci_horizontal (double hour_angle, double declination, double latitude)
{
  double sin_h = sin (hour_angle * SCI_DEGREE), cos_h = cos (hour_angle * SCI_DEGREE);
  double sin_d = sin (declination * SCI_DEGREE), cos_d = cos (declination * SCI_DEGREE);
  double sin_p = sin (latitude * SCI_DEGREE), cos_p = cos (latitude * SCI_DEGREE);
  double up = sin_p * sin_d + cos_p * cos_d * cos_h;
  double east = -cos_d * sin_h, north = sin_d * cos_p - cos_d * cos_h * sin_p;

  return (SciHorizontal) {
    .altitude = atan2 (up, hypot (east, north)) / SCI_DEGREE,
    .azimuth = sci_degrees (atan2 (east, north) / SCI_DEGREE),
  };
}
