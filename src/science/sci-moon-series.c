#include "sci-moon.h"

#include <math.h>
#include <stddef.h>

#define LENGTH(array) (sizeof (array) / sizeof *(array))

/* Radius of the Earth that the parallax is reckoned with, km. */
#define EARTH_KM 6378.14

/* Multiples of the arguments; coefficients in 1e-6 degrees (sine) and m
 * (cosine), Meeus 1998, table 47.A. */
typedef struct {
  signed char d, m, mp, f;
  int longitude;
  int distance;
} LongTerm;

static const LongTerm along[] = {
  { 0, 0, 1, 0, 6288774, -20905355 }, { 2, 0, -1, 0, 1274027, -3699111 }, { 2, 0, 0, 0, 658314, -2955968 },
  { 0, 0, 2, 0, 213618, -569925 }, { 0, 1, 0, 0, -185116, 48888 }, { 0, 0, 0, 2, -114332, -3149 },
  { 2, 0, -2, 0, 58793, 246158 }, { 2, -1, -1, 0, 57066, -152138 }, { 2, 0, 1, 0, 53322, -170733 },
  { 2, -1, 0, 0, 45758, -204586 }, { 0, 1, -1, 0, -40923, -129620 }, { 1, 0, 0, 0, -34720, 108743 },
  { 0, 1, 1, 0, -30383, 104755 }, { 2, 0, 0, -2, 15327, 10321 }, { 0, 0, 1, 2, -12528, 0 },
  { 0, 0, 1, -2, 10980, 79661 }, { 4, 0, -1, 0, 10675, -34782 }, { 0, 0, 3, 0, 10034, -23210 },
  { 4, 0, -2, 0, 8548, -21636 }, { 2, 1, -1, 0, -7888, 24208 }, { 2, 1, 0, 0, -6766, 30824 },
  { 1, 0, -1, 0, -5163, -8379 }, { 1, 1, 0, 0, 4987, -16675 }, { 2, -1, 1, 0, 4036, -12831 },
  { 2, 0, 2, 0, 3994, -10445 }, { 4, 0, 0, 0, 3861, -11650 }, { 2, 0, -3, 0, 3665, 14403 },
  { 0, 1, -2, 0, -2689, -7003 }, { 2, 0, -1, 2, -2602, 0 }, { 2, -1, -2, 0, 2390, 10056 },
  { 1, 0, 1, 0, -2348, 6322 }, { 2, -2, 0, 0, 2236, -9884 }, { 0, 1, 2, 0, -2120, 5751 },
  { 0, 2, 0, 0, -2069, 0 }, { 2, -2, -1, 0, 2048, -4950 }, { 2, 0, 1, -2, -1773, 4130 },
  { 2, 0, 0, 2, -1595, 0 }, { 4, -1, -1, 0, 1215, -3958 }, { 0, 0, 2, 2, -1110, 0 },
  { 3, 0, -1, 0, -892, 3258 }, { 2, 1, 1, 0, -810, 2616 }, { 4, -1, -2, 0, 759, -1897 },
  { 0, 2, -1, 0, -713, -2117 }, { 2, 2, -1, 0, -700, 2354 }, { 2, 1, -2, 0, 691, 0 },
  { 2, -1, 0, -2, 596, 0 }, { 4, 0, 1, 0, 549, -1423 }, { 0, 0, 4, 0, 537, -1117 },
  { 4, -1, 0, 0, 520, -1571 }, { 1, 0, -2, 0, -487, -1739 }, { 2, 1, 0, -2, -399, 0 },
  { 0, 0, 2, -2, -381, -4421 }, { 1, 1, 1, 0, 351, 0 }, { 3, 0, -2, 0, -340, 0 },
  { 4, 0, -3, 0, 330, 0 }, { 2, -1, 2, 0, 327, 0 }, { 0, 2, 1, 0, -323, 1165 },
  { 1, 1, -1, 0, 299, 0 }, { 2, 0, 3, 0, 294, 0 }, { 2, 0, -1, -2, 0, 8752 },
};

/* Table 47.B: 1e-6 degrees (sine). */
typedef struct {
  signed char d, m, mp, f;
  int latitude;
} AcrossTerm;

static const AcrossTerm across[] = {
  { 0, 0, 0, 1, 5128122 }, { 0, 0, 1, 1, 280602 }, { 0, 0, 1, -1, 277693 }, { 2, 0, 0, -1, 173237 },
  { 2, 0, -1, 1, 55413 }, { 2, 0, -1, -1, 46271 }, { 2, 0, 0, 1, 32573 }, { 0, 0, 2, 1, 17198 },
  { 2, 0, 1, -1, 9266 }, { 0, 0, 2, -1, 8822 }, { 2, -1, 0, -1, 8216 }, { 2, 0, -2, -1, 4324 },
  { 2, 0, 1, 1, 4200 }, { 2, 1, 0, -1, -3359 }, { 2, -1, -1, 1, 2463 }, { 2, -1, 0, 1, 2211 },
  { 2, -1, -1, -1, 2065 }, { 0, 1, -1, -1, -1870 }, { 4, 0, -1, -1, 1828 }, { 0, 1, 0, 1, -1794 },
  { 0, 0, 0, 3, -1749 }, { 0, 1, -1, 1, -1565 }, { 1, 0, 0, 1, -1491 }, { 0, 1, 1, 1, -1475 },
  { 0, 1, 1, -1, -1410 }, { 0, 1, 0, -1, -1344 }, { 1, 0, 0, -1, -1335 }, { 0, 0, 3, 1, 1107 },
  { 4, 0, 0, -1, 1021 }, { 4, 0, -1, 1, 833 }, { 0, 0, 1, -3, 777 }, { 4, 0, -2, 1, 671 },
  { 2, 0, 0, -3, 607 }, { 2, 0, 2, -1, 596 }, { 2, -1, 1, -1, 491 }, { 2, 0, -2, 1, -451 },
  { 0, 0, 3, -1, 439 }, { 2, 0, 2, 1, 422 }, { 2, 0, -3, -1, 421 }, { 2, 1, -1, 1, -366 },
  { 2, 1, 0, 1, -351 }, { 4, 0, 0, 1, 331 }, { 2, -1, 1, 1, 315 }, { 2, -2, 0, -1, 302 },
  { 0, 0, 1, 3, -283 }, { 2, 1, 1, -1, -229 }, { 1, 1, 0, -1, 223 }, { 1, 1, 0, 1, 223 },
  { 0, 1, -2, -1, -220 }, { 2, 1, -1, -1, -220 }, { 1, 0, 1, 1, -185 }, { 2, -1, -2, -1, 181 },
  { 0, 1, 2, 1, -177 }, { 4, 0, -2, -1, 176 }, { 4, -1, -1, -1, 166 }, { 1, 0, 1, -1, -164 },
  { 4, 0, 1, -1, 132 }, { 1, 0, -1, -1, -119 }, { 4, -1, 0, -1, 115 }, { 2, -2, 0, 1, 107 },
};

/* The angles of the theory, radians, and how the Earth's orbit has changed. */
typedef struct {
  double mean_longitude; /* of the moon */
  double d;  /* mean elongation */
  double m;  /* anomaly of the sun */
  double mp; /* of the moon */
  double f;  /* from the node */
  double venus, jupiter, third;
  double e[3]; /* factor of terms that hold m 0, 1 or 2 times */
} Arguments;

static Arguments
find_arguments (double t)
{
  double e = 1 - t * (0.002516 + t * 0.0000074);

  return (Arguments) {
    .mean_longitude =
      SCI_DEGREE * (218.3164477 + t * (481267.88123421 - t * (0.0015786 - t * (1 / 538841.0 - t / 65194000)))),
    .d = SCI_DEGREE * (297.8501921 + t * (445267.1114034 - t * (0.0018819 - t * (1 / 545868.0 - t / 113065000)))),
    .m = SCI_DEGREE * (357.5291092 + t * (35999.0502909 - t * (0.0001536 - t / 24490000))),
    .mp = SCI_DEGREE * (134.9633964 + t * (477198.8675055 + t * (0.0087414 + t * (1 / 69699.0 - t / 14712000)))),
    .f = SCI_DEGREE * (93.2720950 + t * (483202.0175233 - t * (0.0036539 + t * (1 / 3526000.0 - t / 863310000)))),
    .venus = SCI_DEGREE * (119.75 + 131.849 * t),
    .jupiter = SCI_DEGREE * (53.09 + 479264.290 * t),
    .third = SCI_DEGREE * (313.45 + 481266.484 * t),
    .e = { 1, e, e * e },
  };
}

static double
sum_latitude (const Arguments *a)
{
  double sum = -2235 * sin (a->mean_longitude) + 382 * sin (a->third) + 175 * sin (a->venus - a->f) +
               175 * sin (a->venus + a->f) + 127 * sin (a->mean_longitude - a->mp) - 115 * sin (a->mean_longitude + a->mp);

  for (size_t i = 0; i < LENGTH (across); i++)
    {
      const AcrossTerm *term = &across[i];

      sum += term->latitude * a->e[term->m < 0 ? -term->m : term->m] *
             sin (term->d * a->d + term->m * a->m + term->mp * a->mp + term->f * a->f);
    }
  return sum / 1e6;
}

static void
sum_longitude (const Arguments *a, double *longitude, double *distance_km)
{
  double degrees = 3958 * sin (a->venus) + 1962 * sin (a->mean_longitude - a->f) + 318 * sin (a->jupiter), metres = 0;

  for (size_t i = 0; i < LENGTH (along); i++)
    {
      const LongTerm *term = &along[i];
      double e = a->e[term->m < 0 ? -term->m : term->m];
      double angle = term->d * a->d + term->m * a->m + term->mp * a->mp + term->f * a->f;

      degrees += term->longitude * e * sin (angle);
      metres += term->distance * e * cos (angle);
    }
  *longitude = sci_degrees (a->mean_longitude / SCI_DEGREE + degrees / 1e6);
  *distance_km = 385000.56 + metres / 1000;
}

SciMoon
sci_moon_position (double ephemeris_day)
{
  Arguments arguments = find_arguments ((ephemeris_day - SCI_J2000) / 36525);
  double nutation, obliquity;
  SciEquatorial place;
  SciMoon moon;

  sum_longitude (&arguments, &moon.longitude, &moon.distance_km);
  moon.latitude = sum_latitude (&arguments);
  moon.parallax = asin (EARTH_KM / moon.distance_km) / SCI_DEGREE;
  sci_nutation (ephemeris_day, &nutation, &obliquity);
  moon.apparent_longitude = sci_degrees (moon.longitude + nutation);
  place = sci_equatorial (moon.apparent_longitude, moon.latitude, sci_obliquity (ephemeris_day) + obliquity);
  moon.right_ascension = place.right_ascension;
  moon.declination = place.declination;
  return moon;
}
