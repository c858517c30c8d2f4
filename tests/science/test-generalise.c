/* Chapman 2020, Current Best Practices for Generalizing Sensitive Species
 * Occurrence Data: a decimal grid of 1, 0.1, 0.01, 0.001 degrees. Cells worked
 * out in decimal arithmetic; half diagonals by GeodSolve of GeographicLib. */
#include "sci-generalise.h"

#include "check.h"
#include "sci-geodesy.h"

typedef SciPlace (*Generaliser) (SciPlace place, int decimals);

/* Whole numbers of cells; divided here, they must be met to the last bit. */
typedef struct {
  SciPlace place;
  int cells[4][2];
} Case;

static void
check_cases (const char *what, Generaliser generalise, const Case *cases, gsize n, double part)
{
  static const double scales[] = { 1, 10, 100, 1000 };

  for (gsize i = 0; i < n; i++)
    for (int decimals = 0; decimals < 4; decimals++)
      {
        SciPlace got = generalise (cases[i].place, decimals);

        check_abs (what, got.latitude, cases[i].cells[decimals][0] / (scales[decimals] * part), 0);
        check_abs (what, got.longitude, cases[i].cells[decimals][1] / (scales[decimals] * part), 0);
      }
}

static void
test_corner (void)
{
  static const Case cases[] = {
    { { 2.51234, 113.04567 }, { { 2, 113 }, { 25, 1130 }, { 251, 11304 }, { 2512, 113045 } } },
    { { 46.54999, 25.35001 }, { { 46, 25 }, { 465, 253 }, { 4654, 2535 }, { 46549, 25350 } } },
    { { -12.805, -69.295 }, { { -13, -70 }, { -129, -693 }, { -1281, -6930 }, { -12805, -69295 } } },
    { { -16.85, 179.9996 }, { { -17, 179 }, { -169, 1799 }, { -1685, 17999 }, { -16850, 179999 } } },
    { { 68.00049, 15.99951 }, { { 68, 15 }, { 680, 159 }, { 6800, 1599 }, { 68000, 15999 } } },
    { { -43.25, 170.75 }, { { -44, 170 }, { -433, 1707 }, { -4325, 17075 }, { -43250, 170750 } } },
    /* already on the grid, though 2.512 / 0.001 is 2511.9999999999995 */
    { { 2.512, 0.003 }, { { 2, 0 }, { 25, 0 }, { 251, 0 }, { 2512, 3 } } },
    /* 180 belongs to the cell that begins at -180 */
    { { 0, 180 }, { { 0, -180 }, { 0, -1800 }, { 0, -18000 }, { 0, -180000 } } },
    { { 0, -180 }, { { 0, -180 }, { 0, -1800 }, { 0, -18000 }, { 0, -180000 } } },
    /* the pole belongs to the last row */
    { { 90, 10 }, { { 89, 10 }, { 899, 100 }, { 8999, 1000 }, { 89999, 10000 } } },
    { { -90, 10 }, { { -90, 10 }, { -900, 100 }, { -9000, 1000 }, { -90000, 10000 } } },
  };

  check_cases ("corner", sci_generalise_corner, cases, G_N_ELEMENTS (cases), 1);
}

/* In tenths of a cell. */
static void
test_centre (void)
{
  static const Case cases[] = {
    { { 2.51234, 113.04567 }, { { 25, 1135 }, { 255, 11305 }, { 2515, 113045 }, { 25125, 1130455 } } },
    { { -12.805, -69.295 }, { { -125, -695 }, { -1285, -6925 }, { -12805, -69295 }, { -128045, -692945 } } },
    { { 90, 180 }, { { 895, -1795 }, { 8995, -17995 }, { 89995, -179995 }, { 899995, -1799995 } } },
  };

  check_cases ("centre", sci_generalise_centre, cases, G_N_ELEMENTS (cases), 10);
}

static void
test_round (void)
{
  static const Case cases[] = {
    { { 2.51234, 113.04567 }, { { 3, 113 }, { 25, 1130 }, { 251, 11305 }, { 2512, 113046 } } },
    { { 46.54999, 25.35001 }, { { 47, 25 }, { 465, 254 }, { 4655, 2535 }, { 46550, 25350 } } },
    { { -12.805, -69.295 }, { { -13, -69 }, { -128, -693 }, { -1281, -6930 }, { -12805, -69295 } } }, /* ties away from zero */
    { { -16.85, 179.9996 }, { { -17, 180 }, { -169, 1800 }, { -1685, 18000 }, { -16850, 180000 } } },
    { { 68.00049, 15.99951 }, { { 68, 16 }, { 680, 160 }, { 6800, 1600 }, { 68000, 16000 } } },
    { { -43.25, 170.75 }, { { -43, 171 }, { -433, 1708 }, { -4325, 17075 }, { -43250, 170750 } } },
    { { 0.5, -0.5 }, { { 1, -1 }, { 5, -5 }, { 50, -50 }, { 500, -500 } } },
  };

  check_cases ("round", sci_generalise_round, cases, G_N_ELEMENTS (cases), 1);
}

static void
test_refused (void)
{
  static const struct {
    SciPlace place;
    int decimals;
  } cases[] = {
    { { 91, 0 }, 1 }, { { 0, 181 }, 1 }, { { NAN, 0 }, 1 }, { { 0, NAN }, 1 }, { { 0, 0 }, 4 }, { { 0, 0 }, -1 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_assert_true (isnan (sci_generalise_corner (cases[i].place, cases[i].decimals).latitude));
      g_assert_true (isnan (sci_generalise_centre (cases[i].place, cases[i].decimals).longitude));
      g_assert_true (isnan (sci_generalise_round (cases[i].place, cases[i].decimals).latitude));
    }
  g_assert_true (isnan (sci_generalise_half_diagonal (0, 7)));
}

static void
test_half_diagonal (void)
{
  static const struct {
    double latitude;
    int decimals;
    double metres;
  } cases[] = {
    { 0, 0, 78451.248 }, { 0, 1, 7845.173 }, { 0, 2, 784.517 }, { 0, 3, 78.452 },
    { 45, 1, 6814.028 }, { 46.5, 2, 675.459 }, { 60, 1, 6231.16 }, { 68, 3, 59.559 },
    { -43.25, 2, 688.081 }, { -12.8, 1, 7750.590 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    check_abs ("half diagonal", sci_generalise_half_diagonal (cases[i].latitude, cases[i].decimals), cases[i].metres, 0.001);
}

/* Property: no place is farther from its centre than the half diagonal, and
 * corner, centre and place share one cell. */
static void
test_anywhere (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);

  for (int i = 0; i < 4000; i++)
    {
      SciPlace place = { g_rand_double_range (rand, -90, 90), g_rand_double_range (rand, -180, 180) };
      int decimals = i % 4;
      SciPlace centre = sci_generalise_centre (place, decimals);
      SciPlace again = sci_generalise_centre (centre, decimals);
      double moved = sci_distance (place.latitude, place.longitude, centre.latitude, centre.longitude);

      g_assert_cmpfloat (moved, <=, sci_generalise_half_diagonal (centre.latitude, decimals) + 0.001);
      g_assert_cmpfloat (again.latitude, ==, centre.latitude);
      g_assert_cmpfloat (again.longitude, ==, centre.longitude);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/generalise/corner", test_corner);
  g_test_add_func ("/science/generalise/centre", test_centre);
  g_test_add_func ("/science/generalise/round", test_round);
  g_test_add_func ("/science/generalise/refused", test_refused);
  g_test_add_func ("/science/generalise/half-diagonal", test_half_diagonal);
  g_test_add_func ("/science/generalise/anywhere", test_anywhere);
  return g_test_run ();
}
