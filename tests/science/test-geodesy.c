#include "sci-geodesy.h"

#include "check.h"

/* GeodSolve of GeographicLib; PROJ geod agrees to the last digit, and the
 * nearly antipodal lines were also found by integrating the geodesic equations. */
static void
test_distance (void)
{
  static const struct {
    double from[2], to[2], metres;
  } cases[] = {
    { { 46.5, 25.4 }, { 46.5003, 25.4004 }, 45.3311 },
    { { 46.5, 25.4 }, { 46.5, 25.41 }, 767.6259 },
    { { 2.5, 113 }, { 2.47, 113.02 }, 3993.9923 },
    { { -16.8, 179.99 }, { -16.8, -179.99 }, 2131.9626 },   /* across 180 */
    { { 71, 179.5 }, { 71.2, -179.5 }, 42496.3524 },
    { { 0, 0 }, { 0, 1 }, 111319.4908 },
    { { 0, 0 }, { 1, 0 }, 110574.3886 },
    { { 89.9, 0 }, { 89.9, 180 }, 22338.7957 },             /* over the pole */
    { { 40.64111, -73.77889 }, { 1.35944, 103.98944 }, 15347443.5970 },
    { { -43.5, 170.5 }, { 46.5, 25.4 }, 17270575.1467 },
    { { 0, 0 }, { 0.5, 179.5 }, 19936288.5790 },            /* Vincenty alone does not converge */
    { { 12, 34 }, { 12, 34 }, 0 },
    { { -12.8, -69.3 }, { -12.8, -69.30001 }, 1.0857 },
    /* nearly antipodal, by geod of PROJ */
    { { 0, 0 }, { 0.3, 179.6 }, 19961041.795117 },
    { { 0, 0 }, { 0, 179.5 }, 19980861.908891 },
    { { 10, 0 }, { -10.2, 179.8 }, 19979065.559365 },
    { { -30, 20 }, { 29.9, -160.2 }, 19989832.827610 },
    { { 52, 13 }, { -52.1, -167.05 }, 19992644.091139 },
    { { 5, -100 }, { -4.6, 79.7 }, 19954750.258399 },
    /* Karney 2010, Test set for geodesics, first line (from memory) */
    { { 36.530042355041, 0 }, { -48.164270779097769, 5.762344694676510 }, 9398502.0434687 },
    /* half a meridian, pi b (1 + n^2/4 + ...): twice the quarter 10001965.7293 m, Snyder 1987 eq. 3-21 */
    { { 0, 0 }, { 0, 180 }, 20003931.4586 },
    { { 90, 0 }, { -90, 77 }, 20003931.4586 },
    { { 30, 10 }, { -30, -170 }, 20003931.4586 },
    { { 91, 0 }, { 0, 0 }, NAN },
    { { 0, NAN }, { 0, 0 }, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const double *a = cases[i].from, *b = cases[i].to;

      check_abs ("distance", sci_distance (a[0], a[1], b[0], b[1]), cases[i].metres, 0.001);
      check_abs ("back", sci_distance (b[0], b[1], a[0], a[1]), cases[i].metres, 0.001);
      check_abs ("round once", sci_distance (a[0], a[1] + 360, b[0], b[1] - 720), cases[i].metres, 0.001);
    }
}

/* Whether or not Vincenty converges, the distance to a point on its way to
 * the antipode must grow steadily and by no more than the step: the fallback
 * joins without a seam. */
static void
test_seam (void)
{
  double before = sci_distance (10, 0, -10.2, 178);

  for (int i = 1; i <= 100; i++)
    {
      double now = sci_distance (10, 0, -10.2, 178 + 0.02 * i);
      double step = sci_distance (-10.2, 178 + 0.02 * (i - 1), -10.2, 178 + 0.02 * i);

      g_assert_cmpfloat (fabs (now - before), <=, step + 0.002);
      before = now;
    }
}

/* Chord of a tenth of a second of arc either side, against the ellipsoid. */
static void
test_metres_per_degree (void)
{
  static const double latitudes[] = { -80, -45, 0, 2.5, 46.5, 71 };

  for (gsize i = 0; i < G_N_ELEMENTS (latitudes); i++)
    {
      double at = latitudes[i], north, east;

      sci_metres_per_degree (at, &north, &east);
      check_rel ("north", north, sci_distance (at - 0.005, 0, at + 0.005, 0) * 100, 1e-6);
      check_rel ("east", east, sci_distance (at, -0.005, at, 0.005) * 100, 1e-6);
    }
}

static void
test_mercator (void)
{
  static const struct {
    double latitude, longitude, x, y;
  } cases[] = {
    { 0, 0, 0.5, 0.5 },
    { SCI_MERCATOR_LATITUDE, -180, 0, 0 },
    { -SCI_MERCATOR_LATITUDE, 180, 1, 1 },
    { 90, 190, 190.0 / 360 + 0.5, 0 },
    /* Snyder 1987, p. 266 (from memory), sphere of radius 1, latitude 35: y = 0.6528366 */
    { 35, -75, 0.5 - 75.0 / 360, 0.5 - 0.6528366 / (2 * G_PI) },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double x, y, latitude, longitude;

      sci_mercator_forward (cases[i].latitude, cases[i].longitude, &x, &y);
      check_abs ("x", x, cases[i].x, 1e-15);
      /* Snyder prints seven decimals. */
      check_abs ("y", y, cases[i].y, 1e-8);
      sci_mercator_inverse (x, y, &latitude, &longitude);
      check_abs ("longitude", longitude, cases[i].longitude, 1e-12);
      check_abs ("latitude", latitude, fmin (cases[i].latitude, SCI_MERCATOR_LATITUDE), 1e-12);
    }
  /* The equator is 2 pi a long. */
  check_rel ("ground", sci_mercator_metres (0), 2 * G_PI * SCI_WGS84_A, 1e-14);
}

static void
test_scale_bar (void)
{
  static const struct {
    double longest, bar;
  } cases[] = {
    { 1, 1 }, { 1.99, 1 }, { 2, 2 }, { 4.9, 2 }, { 5, 5 }, { 9.99, 5 }, { 10, 10 },
    { 1234, 1000 }, { 0.0031, 0.002 }, { 0.001, 0.001 }, { 7e6, 5e6 },
    { 0, NAN }, { -3, NAN }, { INFINITY, NAN }, { NAN, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    check_rel ("bar", sci_scale_bar (cases[i].longest), cases[i].bar, 1e-15);
}

static void
test_local (void)
{
  static const double origins[][2] = { { 2.5, 113 }, { 45, 25.4 }, { -43.5, 179.95 }, { 0, -180 } };

  for (gsize i = 0; i < G_N_ELEMENTS (origins); i++)
    {
      SciLocal local = sci_local_new (origins[i][0], origins[i][1]);

      for (int j = 0; j < 8; j++)
        {
          double x = 10000 * cos (j * G_PI / 4), y = 10000 * sin (j * G_PI / 4);
          double latitude, longitude, back_x, back_y;

          sci_local_inverse (&local, x, y, &latitude, &longitude);
          g_assert_cmpfloat (fabs (longitude), <=, 180);
          check_rel ("length", sci_distance (origins[i][0], origins[i][1], latitude, longitude), 10000, 0.002);
          sci_local_forward (&local, latitude, longitude, &back_x, &back_y);
          check_abs ("x", back_x, x, 1e-6);
          check_abs ("y", back_y, y, 1e-6);
        }
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/geodesy/distance", test_distance);
  g_test_add_func ("/science/geodesy/seam", test_seam);
  g_test_add_func ("/science/geodesy/metres-per-degree", test_metres_per_degree);
  g_test_add_func ("/science/geodesy/mercator", test_mercator);
  g_test_add_func ("/science/geodesy/scale-bar", test_scale_bar);
  g_test_add_func ("/science/geodesy/local", test_local);
  return g_test_run ();
}
