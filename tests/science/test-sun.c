#include "sci-sun.h"

#include "check.h"
#include "rows.h"

/* Meeus 1998, Astronomical Algorithms, 2nd ed., example 25.a (from memory,
 * checked against another program): the short formulas. */
static void
test_worked_example (void)
{
  SciSun sun = sci_sun_position (sci_julian_day (1992, 10, 13));

  check_abs ("mean longitude", sun.mean_longitude, 201.80720, 2e-5);
  check_abs ("mean anomaly", sun.mean_anomaly, 278.99397, 2e-5);
  check_abs ("centre", sun.centre, -1.89732, 2e-5);
  check_abs ("true longitude", sun.true_longitude, 199.90988, 2e-5);
  check_abs ("distance", sun.distance_au, 0.99766, 2e-5);
  check_abs ("apparent longitude", sun.longitude, 199.90895, 2e-5);
  check_abs ("obliquity", sun.obliquity, 23.43999, 2e-5);
  check_abs ("right ascension", sun.right_ascension, 198.38083, 2e-5);
  check_abs ("declination", sun.declination, -7.78507, 2e-5);
}

/* Meeus 1998, examples 25.b (values by astropy 5.2.1), 27.a and 28.a (from
 * memory, checked against another program). */
static void
test_fine (void)
{
  SciSun sun = sci_sun_position_fine (sci_julian_day (1992, 10, 13));
  double solstice = sci_julian_day (1962, 6, 21 + (21 * 3600 + 24 * 60 + 42) / 86400.0);
  double per_second = 360 / (365.2422 * 86400);

  check_abs ("25.b longitude", sun.longitude, 199.9060, 2e-4);
  check_abs ("25.b right ascension", sun.right_ascension, 198.37813, 2e-4);
  check_abs ("25.b declination", sun.declination, -7.78381, 2e-4);
  check_abs ("27.a June solstice", sci_sun_position_fine (solstice).longitude, 90, 30 * per_second);
  check_abs ("28.a equation of time", 60 * sci_equation_of_time (sci_julian_day (1992, 10, 13)), 13 * 60 + 42.6, 0.5);
}

/* The short formulas say they hold to 0.01 degrees. */
static void
test_short_against_fine (void)
{
  for (int year = 1900; year <= 2100; year++)
    for (int month = 1; month <= 12; month++)
      {
        double day = sci_julian_day (year, month, year % 28 + 1);

        check_abs ("longitude", remainder (sci_sun_position (day).longitude - sci_sun_position_fine (day).longitude, 360), 0, 0.01);
      }
}

/* lat, lon, utc, altitude, azimuth, apparent solar time, two differences. */
static void
check_position (char **cells)
{
  double latitude = row_real (cells[0]), longitude = row_real (cells[1]);
  gint64 instant = row_instant (cells[2]);
  double altitude = row_real (cells[3]);
  SciHorizontal seen = sci_sun_horizontal (instant, latitude, longitude);

  g_test_message ("%s", cells[2]);
  check_abs ("altitude", sci_sun_altitude (instant, latitude, longitude), altitude, 0.02);
  check_abs ("with azimuth", seen.altitude, sci_sun_altitude (instant, latitude, longitude), 0);
  if (altitude <= 85)
    check_abs ("azimuth", remainder (seen.azimuth - row_real (cells[4]), 360), 0, 0.05);
  check_abs ("solar time", remainder (sci_sun_time (instant, longitude) - row_real (cells[5]), 24), 0, 0.005);
  check_abs ("hour angle", remainder (180 + sci_sun_hour_angle (instant, longitude) - 15 * row_real (cells[5]), 360), 0, 0.075);
}

/* Sixty instants from 2008 to 2027 by astropy 5.2.1; ephem 4.1.4 within 0.002 degrees. */
static void
test_positions (void)
{
  each_row ("sun_altitude.csv", 8, 60, check_position);
}

/* The header's promises on accuracy hold for the same instants. */
static void
check_promise (char **cells)
{
  check_abs ("altitude", sci_sun_altitude (row_instant (cells[2]), row_real (cells[0]), row_real (cells[1])),
             row_real (cells[3]), 0.011);
}

static void
test_promise (void)
{
  each_row ("sun_altitude.csv", 8, 60, check_promise);
}

static double
count_dark_minutes (gint64 from, double latitude, double longitude, double level)
{
  int n = 0;

  for (int i = 0; i < 1440; i++)
    n += sci_sun_altitude (from + i * 60000 + 30000, latitude, longitude) < level;
  return n / 1440.0;
}

/* Against the altitude, which is checked above, minute by minute; errors as the
 * header gives them, and a minute and a half for the counting. */
static void
test_dark_share (void)
{
  static const struct {
    double latitude, error;
  } cases[] = {
    { 0, 0.001 }, { 2.5, 0.001 }, { -12.8, 0.001 }, { 27.55, 0.001 }, { -43.5, 0.001 }, { 46.5, 0.001 }, { 50, 0.001 },
    { 59, 0.02 }, { 68, 0.02 }, { -70, 0.02 }, { 80, 0.035 },
  };
  static const double levels[] = { SCI_SUNRISE_ALTITUDE, SCI_CIVIL_ALTITUDE, SCI_NAUTICAL_ALTITUDE };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    for (gsize j = 0; j < G_N_ELEMENTS (levels); j++)
      for (int day = 0; day < 366; day += 6)
        {
          /* 7.5 degrees east: mean solar midnight half an hour before that of Greenwich */
          gint64 from = row_instant ("2024-01-01T23:30:00Z") + day * SCI_DAY_MS;
          double share = sci_sun_dark_share (from + 5000000, cases[i].latitude, 7.5, levels[j]);

          check_abs ("share", share, count_dark_minutes (from, cases[i].latitude, 7.5, levels[j]),
                     cases[i].error + 1.5 / 1440);
        }
}

/* By hand. */
static void
test_dark_share_ends (void)
{
  gint64 june = row_instant ("2024-06-21T00:00:00Z"), december = row_instant ("2024-12-21T00:00:00Z");

  check_abs ("polar day", sci_sun_dark_share (june, 71, 0, SCI_SUNRISE_ALTITUDE), 0, 0);
  check_abs ("polar night", sci_sun_dark_share (december, 71, 0, SCI_SUNRISE_ALTITUDE), 1, 0);
  check_abs ("never below the ground", sci_sun_dark_share (june, 10, 0, -90), 0, 0);
  check_abs ("never overhead", sci_sun_dark_share (june, 10, 0, 90), 1, 0);
  /* at the equator the sun's path is halved by the horizon, whatever the season */
  check_abs ("equator", sci_sun_dark_share (december, 0, 100, 0), 0.5, 1e-12);
  check_abs ("unknown place", sci_sun_dark_share (june, NAN, 10, 0), NAN, 0);
  check_abs ("unknown place", sci_sun_dark_share (june, 10, NAN, 0), NAN, 0);
  check_abs ("same day", sci_sun_dark_share (june, 50, 0, 0), sci_sun_dark_share (june + SCI_DAY_MS - 1, 50, 0, 0), 0);
  check_abs ("before 1970", sci_sun_dark_share (row_instant ("1969-06-21T12:00:00Z"), 50, 0, 0),
             sci_sun_dark_share (row_instant ("1973-06-21T12:00:00Z"), 50, 0, 0), 1e-4);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/sun/worked-example", test_worked_example);
  g_test_add_func ("/science/sun/fine", test_fine);
  g_test_add_func ("/science/sun/short-against-fine", test_short_against_fine);
  g_test_add_func ("/science/sun/positions", test_positions);
  g_test_add_func ("/science/sun/promise", test_promise);
  g_test_add_func ("/science/sun/dark-share", test_dark_share);
  g_test_add_func ("/science/sun/dark-share-ends", test_dark_share_ends);
  return g_test_run ();
}
