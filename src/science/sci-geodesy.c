#include "sci-geodesy.h"

#include <math.h>

#define DEGREE (M_PI / 180)
#define POLAR_AXIS (SCI_WGS84_A * (1 - SCI_WGS84_F))
#define MAX_ROUNDS 200
/* Directions tried, and halvings by the golden ratio, for nearly antipodal points. */
#define SCAN_STEPS 72
#define GOLDEN_STEPS 60

/* A place by its reduced latitude, and longitude, in radians. */
typedef struct {
  double sin_u;
  double cos_u;
  double longitude;
} Reduced;

/* The auxiliary sphere of one round: arc between the ends, squared cosine of
 * the azimuth at the equator, cosine of twice the arc to the midpoint. */
typedef struct {
  double sin_sigma;
  double cos_sigma;
  double sigma;
  double sin_alpha;
  double cos2_alpha;
  double cos_2m;
} Arc;

static double
wrap_degrees (double degrees)
{
  return remainder (degrees, 360);
}

static Reduced
reduce_place (double latitude, double longitude)
{
  double u = atan2 ((1 - SCI_WGS84_F) * sin (latitude * DEGREE), cos (latitude * DEGREE));

  return (Reduced) { sin (u), cos (u), longitude * DEGREE };
}

static Arc
arc_between (Reduced a, Reduced b, double lambda)
{
  double across = b.cos_u * sin (lambda);
  double along = a.cos_u * b.sin_u - a.sin_u * b.cos_u * cos (lambda);
  Arc arc;

  arc.sin_sigma = hypot (across, along);
  arc.cos_sigma = a.sin_u * b.sin_u + a.cos_u * b.cos_u * cos (lambda);
  arc.sigma = atan2 (arc.sin_sigma, arc.cos_sigma);
  arc.sin_alpha = arc.sin_sigma > 0 ? a.cos_u * across / arc.sin_sigma : 0;
  arc.cos2_alpha = 1 - arc.sin_alpha * arc.sin_alpha;
  /* On the equator every midpoint term is multiplied by zero. */
  arc.cos_2m = arc.cos2_alpha > 1e-15 ? arc.cos_sigma - 2 * a.sin_u * b.sin_u / arc.cos2_alpha : 0;
  return arc;
}

/* Vincenty's eq. 11: longitude on the sphere less longitude on the ellipsoid. */
static double
longitude_excess (const Arc *arc)
{
  const double f = SCI_WGS84_F;
  double c = f / 16 * arc->cos2_alpha * (4 + f * (4 - 3 * arc->cos2_alpha));
  double m = arc->cos_2m;

  return (1 - c) * f * arc->sin_alpha
         * (arc->sigma + c * arc->sin_sigma * (m + c * arc->cos_sigma * (2 * m * m - 1)));
}

/* Vincenty's eqs 3, 4, 6: metres along the ellipsoid. */
static double
arc_length (const Arc *arc)
{
  const double b = POLAR_AXIS;
  double u2 = arc->cos2_alpha * (SCI_WGS84_A * SCI_WGS84_A - b * b) / (b * b);
  double big_a = 1 + u2 / 16384 * (4096 + u2 * (-768 + u2 * (320 - 175 * u2)));
  double big_b = u2 / 1024 * (256 + u2 * (-128 + u2 * (74 - 47 * u2)));
  double m = arc->cos_2m, s = arc->sin_sigma;
  double inner = arc->cos_sigma * (2 * m * m - 1)
                 - big_b / 6 * m * (4 * s * s - 3) * (4 * m * m - 3);

  return b * big_a * (arc->sigma - big_b * s * (m + big_b / 4 * inner));
}

/* NaN when the rounds do not settle. */
static double
solve_vincenty (Reduced a, Reduced b)
{
  double difference = remainder (b.longitude - a.longitude, 2 * M_PI);
  double lambda = difference;

  for (int i = 0; i < MAX_ROUNDS; i++)
    {
      Arc arc = arc_between (a, b, lambda);
      double next = difference + longitude_excess (&arc);

      if (fabs (next) > M_PI)
        return NAN;
      if (fabs (next - lambda) < 1e-13)
        return arc_length (&arc);
      lambda = next;
    }
  return NAN;
}

/* A quarter turn from @a on the auxiliary sphere, leaving at @azimuth. */
static Reduced
quarter_turn (Reduced a, double azimuth)
{
  double sin_u = a.cos_u * cos (azimuth);

  return (Reduced) {
    .sin_u = sin_u,
    .cos_u = sqrt ((1 - sin_u) * (1 + sin_u)),
    .longitude = a.longitude + atan2 (sin (azimuth), -a.sin_u * cos (azimuth)),
  };
}

static double
length_by_way_of (Reduced a, Reduced b, double azimuth)
{
  Reduced way = quarter_turn (a, azimuth);

  return solve_vincenty (a, way) + solve_vincenty (way, b);
}

static double
find_direction (Reduced a, Reduced b)
{
  double best = 0, shortest = INFINITY;

  for (int i = 0; i < SCAN_STEPS; i++)
    {
      double azimuth = 2 * M_PI * i / SCAN_STEPS;
      double length = length_by_way_of (a, b, azimuth);

      if (length < shortest)
        {
          shortest = length;
          best = azimuth;
        }
    }
  return best;
}

static double
solve_antipodal (Reduced a, Reduced b)
{
  const double golden = (sqrt (5) - 1) / 2;
  double middle = find_direction (a, b);
  double low = middle - 2 * M_PI / SCAN_STEPS, high = middle + 2 * M_PI / SCAN_STEPS;

  for (int i = 0; i < GOLDEN_STEPS; i++)
    {
      double left = high - golden * (high - low), right = low + golden * (high - low);

      if (length_by_way_of (a, b, left) < length_by_way_of (a, b, right))
        high = right;
      else
        low = left;
    }
  return length_by_way_of (a, b, (low + high) / 2);
}

double
sci_distance (double latitude1, double longitude1, double latitude2, double longitude2)
{
  Reduced a = reduce_place (latitude1, longitude1);
  Reduced b = reduce_place (latitude2, longitude1 + wrap_degrees (longitude2 - longitude1));
  double length;

  if (!(fabs (latitude1) <= 90 && fabs (latitude2) <= 90) || !isfinite (a.longitude + b.longitude))
    return NAN;
  length = solve_vincenty (a, b);
  return isnan (length) ? solve_antipodal (a, b) : length;
}

void
sci_metres_per_degree (double latitude, double *north, double *east)
{
  const double e2 = SCI_WGS84_F * (2 - SCI_WGS84_F);
  double s = sin (latitude * DEGREE);
  double w = sqrt (1 - e2 * s * s);

  *north = DEGREE * SCI_WGS84_A * (1 - e2) / (w * w * w);
  *east = fabs (latitude) >= 90 ? 0 : DEGREE * SCI_WGS84_A / w * cos (latitude * DEGREE);
}

void
sci_mercator_forward (double latitude, double longitude, double *x, double *y)
{
  double held = fmax (-SCI_MERCATOR_LATITUDE, fmin (SCI_MERCATOR_LATITUDE, latitude));

  *x = longitude / 360 + 0.5;
  *y = 0.5 - asinh (tan (held * DEGREE)) / (2 * M_PI);
}

void
sci_mercator_inverse (double x, double y, double *latitude, double *longitude)
{
  *longitude = (x - 0.5) * 360;
  *latitude = atan (sinh ((0.5 - y) * 2 * M_PI)) / DEGREE;
}

double
sci_mercator_metres (double latitude)
{
  double north, east;

  sci_metres_per_degree (latitude, &north, &east);
  return 360 * east;
}

double
sci_scale_bar (double longest)
{
  static const double steps[] = { 5, 2, 1, 0.5 };
  double power;

  if (!(longest > 0) || isinf (longest))
    return NAN;
  power = pow (10, floor (log10 (longest)));
  for (int i = 0; i < 3; i++)
    if (steps[i] * power <= longest)
      return steps[i] * power;
  return steps[3] * power;
}

SciLocal
sci_local_new (double latitude, double longitude)
{
  SciLocal local = { .latitude = latitude, .longitude = longitude };

  sci_metres_per_degree (latitude, &local.north_m, &local.east_m);
  return local;
}

void
sci_local_forward (const SciLocal *local, double latitude, double longitude, double *x, double *y)
{
  *x = wrap_degrees (longitude - local->longitude) * local->east_m;
  *y = (latitude - local->latitude) * local->north_m;
}

void
sci_local_inverse (const SciLocal *local, double x, double y, double *latitude, double *longitude)
{
  *latitude = local->latitude + y / local->north_m;
  *longitude = wrap_degrees (local->longitude + x / local->east_m);
}
