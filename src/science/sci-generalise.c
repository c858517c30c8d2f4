#include "sci-generalise.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>

#include "sci-geodesy.h"

#define NANO INT64_C (1000000000)

static const SciPlace nowhere = { NAN, NAN };

/* Cell size in nanodegrees; 0 for a size that is not offered. */
static int64_t
cell_nano (int decimals)
{
  static const int64_t sizes[] = { NANO, NANO / 10, NANO / 100, NANO / 1000 };

  return decimals >= 0 && decimals <= 3 ? sizes[decimals] : 0;
}

static bool
is_valid (SciPlace place, int decimals)
{
  return cell_nano (decimals) != 0 && fabs (place.latitude) <= 90 && fabs (place.longitude) <= 180;
}

static int64_t
floor_divide (int64_t a, int64_t b)
{
  return a / b - (a % b < 0);
}

static int64_t
round_divide (int64_t a, int64_t b)
{
  return a < 0 ? -((-a + b / 2) / b) : (a + b / 2) / b;
}

/* A quotient of whole numbers is the double nearest to the decimal meant;
 * adding 0 turns -0 into 0. */
static double
nano_to_degrees (int64_t nano, int decimals)
{
  double scale = (double) (10 * NANO / cell_nano (decimals));

  return (double) round_divide (nano, cell_nano (decimals) / 10) / scale + 0.0;
}

/* South-west corner of the cell that holds @place, in nanodegrees. */
static void
find_cell (SciPlace place, int decimals, int64_t *south, int64_t *west)
{
  int64_t cell = cell_nano (decimals);

  *south = cell * floor_divide (llround (place.latitude * NANO), cell);
  *west = cell * floor_divide (llround (place.longitude * NANO), cell);
  if (*south == 90 * NANO)
    *south -= cell;
  if (*west == 180 * NANO)
    *west = -180 * NANO;
}

SciPlace
sci_generalise_corner (SciPlace place, int decimals)
{
  int64_t south, west;

  if (!is_valid (place, decimals))
    return nowhere;
  find_cell (place, decimals, &south, &west);
  return (SciPlace) { nano_to_degrees (south, decimals), nano_to_degrees (west, decimals) };
}

SciPlace
sci_generalise_centre (SciPlace place, int decimals)
{
  int64_t half = cell_nano (decimals) / 2;
  int64_t south, west;

  if (!is_valid (place, decimals))
    return nowhere;
  find_cell (place, decimals, &south, &west);
  return (SciPlace) {
    nano_to_degrees (south + half, decimals),
    nano_to_degrees (west + half, decimals),
  };
}

SciPlace
sci_generalise_round (SciPlace place, int decimals)
{
  int64_t cell = cell_nano (decimals);

  if (!is_valid (place, decimals))
    return nowhere;
  return (SciPlace) {
    nano_to_degrees (cell * round_divide (llround (place.latitude * NANO), cell), decimals),
    nano_to_degrees (cell * round_divide (llround (place.longitude * NANO), cell), decimals),
  };
}

double
sci_generalise_half_diagonal (double latitude, int decimals)
{
  double half = (double) cell_nano (decimals) / (2.0 * NANO);

  if (!is_valid ((SciPlace) { latitude, 0 }, decimals))
    return NAN;
  return sci_distance (latitude, 0, fabs (fabs (latitude) - half) * (latitude < 0 ? -1 : 1), half);
}
