#include "sci-sky.h"

#include "check.h"
#include "rows.h"

/* Meeus 1998, Astronomical Algorithms, 2nd ed., examples 7.a and 7.b and the
 * list on p. 62 (from memory; the examples checked against another program). */
static void
test_julian_day (void)
{
  static const struct {
    int year, month;
    double day, julian;
  } cases[] = {
    { 1957, 10, 4.81, 2436116.31 }, /* 7.a */
    { 333, 1, 27.5, 1842713.0 },    /* 7.b, Julian calendar */
    { 2000, 1, 1.5, 2451545.0 },
    { 1987, 1, 27, 2446822.5 },
    { 1988, 6, 19.5, 2447332.0 },
    { 1900, 1, 1, 2415020.5 },
    { 1600, 12, 31, 2305812.5 },
    { 837, 4, 10.3, 2026871.8 },
    { -1000, 7, 12.5, 1356001.0 },
    { -4712, 1, 1.5, 0 },
    { 1582, 10, 4, 2299159.5 }, /* the day before the Gregorian calendar */
    { 1582, 10, 15, 2299160.5 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    check_abs ("Julian day", sci_julian_day (cases[i].year, cases[i].month, cases[i].day), cases[i].julian, 1e-6);
}

static void
test_instants (void)
{
  gint64 instant = row_instant ("1987-04-10T19:21:00Z");

  check_abs ("to days", sci_julian_from_instant (instant), sci_julian_day (1987, 4, 10 + 19.35 / 24), 1e-9);
  g_assert_cmpint (sci_instant_from_julian (sci_julian_from_instant (instant)), ==, instant);
  check_abs ("there and back", (double) sci_instant_from_ephemeris (sci_ephemeris_day (instant)), (double) instant, 1);
  check_abs ("dynamical time", (sci_ephemeris_day (instant) - sci_julian_from_instant (instant)) * 86400,
             sci_delta_t (sci_julian_from_instant (instant)), 1e-4);
}

/* Meeus 1998, table 10.A, s (from memory), and the value the Earth rotation
 * services gave for 2017 (from memory): 1 s is what the header promises. */
static void
test_delta_t (void)
{
  static const struct {
    int year;
    double seconds;
  } cases[] = {
    { 1956, 31.35 }, { 1962, 34.0 }, { 1977, 47.5 }, { 1988, 55.8 }, { 1998, 63.0 }, { 2017, 68.6 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    check_abs ("delta T", sci_delta_t (sci_julian_day (cases[i].year, 1, 1)), cases[i].seconds, 1);
  check_abs ("before", sci_delta_t (sci_julian_day (1800, 1, 1)), sci_delta_t (sci_julian_day (1950, 1, 1)), 0.01);
  check_abs ("after", sci_delta_t (sci_julian_day (2200, 1, 1)), sci_delta_t (sci_julian_day (2025, 1, 1)), 0.01);
}

static double
seconds (double degrees)
{
  return degrees * 240;
}

/* Meeus 1998, examples 12.a and 12.b (from memory, checked against another program). */
static void
test_sidereal (void)
{
  double midnight = sci_julian_day (1987, 4, 10);

  check_abs ("12.a mean", seconds (sci_sidereal_mean (midnight)), 13 * 3600 + 10 * 60 + 46.3668, 0.01);
  check_abs ("12.a apparent", seconds (sci_sidereal_apparent (midnight)), 13 * 3600 + 10 * 60 + 46.1351, 0.01);
  check_abs ("12.b mean", seconds (sci_sidereal_mean (midnight + 19.35 / 24)), 8 * 3600 + 34 * 60 + 57.0896, 0.01);
}

/* Meeus 1998, example 22.a (from memory, checked against another program). */
static void
test_nutation (void)
{
  double day = sci_julian_day (1987, 4, 10), longitude, obliquity;

  sci_nutation (day, &longitude, &obliquity);
  check_abs ("longitude", longitude * 3600, -3.788, 0.05);
  check_abs ("obliquity", obliquity * 3600, 9.443, 0.05);
  check_abs ("mean obliquity", sci_obliquity (day), 23 + 26 / 60.0 + 27.407 / 3600, 1e-6);
}

/* Meeus 1998, example 13.b (from memory, checked against another program):
 * azimuth there counts from the south. */
static void
test_horizontal (void)
{
  double sidereal = (8 * 3600 + 34 * 60 + 56.853) / 240, right_ascension = (23 * 3600 + 9 * 60 + 16.641) / 240;
  double declination = -(6 + 43 / 60.0 + 11.61 / 3600), longitude = -(77 + 3 / 60.0 + 56.0 / 3600);
  SciHorizontal seen = sci_horizontal (sidereal + longitude - right_ascension, declination, 38 + 55 / 60.0 + 17.0 / 3600);

  check_abs ("altitude", seen.altitude, 15.1249, 0.0005);
  check_abs ("azimuth", seen.azimuth, 68.0337 + 180, 0.0005);
}

/* By hand. */
static void
test_corners (void)
{
  check_abs ("zenith", sci_horizontal (0, 12, 12).altitude, 90, 1e-6);
  check_abs ("south", sci_horizontal (0, 0, 40).azimuth, 180, 1e-12);
  check_abs ("north", sci_horizontal (0, 0, -40).azimuth, 0, 1e-12);
  check_abs ("west", sci_horizontal (90, 0, 40).azimuth, 270, 1e-12);
  check_abs ("pole", sci_horizontal (77, 21, 90).altitude, 21, 1e-12);
  check_abs ("equinox", sci_equatorial (180, 0, 23.4).declination, 0, 1e-12);
  check_abs ("solstice", sci_equatorial (90, 0, 23.4).declination, 23.4, 1e-12);
  check_abs ("solstice", sci_equatorial (270, 0, 23.4).right_ascension, 270, 1e-12);
  check_abs ("pole of the ecliptic", sci_equatorial (123, 90, 23.4).declination, 90 - 23.4, 1e-12);
  check_abs ("turn", sci_degrees (-1), 359, 0);
  check_abs ("turns", sci_degrees (725), 5, 0);
  check_abs ("a hair below", sci_degrees (-1e-17), 0, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/sky/julian-day", test_julian_day);
  g_test_add_func ("/science/sky/instants", test_instants);
  g_test_add_func ("/science/sky/delta-t", test_delta_t);
  g_test_add_func ("/science/sky/sidereal", test_sidereal);
  g_test_add_func ("/science/sky/nutation", test_nutation);
  g_test_add_func ("/science/sky/horizontal", test_horizontal);
  g_test_add_func ("/science/sky/corners", test_corners);
  return g_test_run ();
}
