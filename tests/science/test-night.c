#include "sci-night.h"

#include "check.h"
#include "sci-moon.h"
#include "sci-sun.h"

#define DAY SCI_DAY_MS
#define START (INT64_C (19723) * SCI_DAY_MS) /* 2024-01-01 */
#define MINUTE 60000

static const struct {
  double latitude, longitude;
} places[] = { { 2.5, 113.0 }, { 47.2, 24.9 }, { -33.9, 151.2 }, { 50, -120 }, { 0, 179.9 }, { 0, -179.9 } };

/* The ends against sci_sun_altitude(), which is checked against a full ephemeris. */
static void
test_ends (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (places); i++)
    for (int day = 0; day < 366; day += 11)
      {
        SciNightSky sky = sci_night_sky (START + day * DAY);
        SciSpan dark = sci_night_dark (&sky, places[i].latitude, places[i].longitude, -6);
        gint64 middle = dark.from + (dark.to - dark.from) / 2;

        g_assert_cmpint (ABS (middle - sky.at), <=, DAY / 2 + MINUTE);
        for (int end = 0; end < 2; end++)
          {
            gint64 at = end == 0 ? dark.from : dark.to, outward = end == 0 ? -3 * MINUTE : 3 * MINUTE;

            g_assert_cmpfloat (sci_sun_altitude (at + outward, places[i].latitude, places[i].longitude), >, -6);
            g_assert_cmpfloat (sci_sun_altitude (at - outward, places[i].latitude, places[i].longitude), <, -6);
          }
        check_abs ("midnight", remainder (sci_sun_time (middle, places[i].longitude), 24), 0, 0.02); /* 30 s a day, from up to half a day off */
      }
}

/* A year of nights against the share of each day, summed. */
static void
test_year (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (places); i++)
    {
      double dark = 0, want = 0;

      for (int day = 0; day < 365; day++)
        {
          SciNightSky sky = sci_night_sky (START + day * DAY);
          SciSpan span = sci_night_dark (&sky, places[i].latitude, places[i].longitude, -6);

          dark += (double) (span.to - span.from) / (double) DAY;
          want += sci_sun_dark_share (START + day * DAY, places[i].latitude, places[i].longitude, -6);
        }
      check_rel ("dark of a year", dark, want, 1e-3);
    }
}

static void
test_polar (void)
{
  SciNightSky june = sci_night_sky (START + 172 * DAY), december = sci_night_sky (START + 355 * DAY);
  SciSpan bright = sci_night_dark (&june, 70, 20, -6), dark = sci_night_dark (&december, 85, 20, -6);

  g_assert_cmpint (bright.from, ==, bright.to);
  g_assert_cmpint (dark.to - dark.from, ==, DAY);
}

static void
test_moon (void)
{
  for (int day = 0; day < 60; day++)
    {
      SciNightSky before = sci_night_sky (START + day * DAY), after = sci_night_sky (START + (day + 1) * DAY);

      for (int hour = 0; hour < 24; hour += 5)
        {
          gint64 at = before.at + hour * (DAY / 24);
          SciMoonLight want = sci_moon_light (sci_ephemeris_day (at));
          double elongation, lit;

          sci_night_moon (&before, &after, at, &elongation, &lit);
          check_abs ("elongation", remainder (elongation - want.elongation, 360), 0, 0.1);
          check_abs ("lit", lit, want.lit, 0.004);
        }
    }
}

/* By hand. */
static void
test_eighth (void)
{
  static const struct {
    double elongation;
    int eighth;
  } cases[] = { { 0, 0 }, { 22.4, 0 }, { 22.6, 1 }, { 90, 2 }, { 180, 4 }, { 202.6, 5 }, { 270, 6 }, { 337.4, 7 }, { 337.6, 0 }, { 359.9, 0 }, { 360, 0 } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpint (sci_moon_eighth (cases[i].elongation), ==, cases[i].eighth);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/night/ends", test_ends);
  g_test_add_func ("/science/night/year", test_year);
  g_test_add_func ("/science/night/polar", test_polar);
  g_test_add_func ("/science/night/moon", test_moon);
  g_test_add_func ("/science/night/eighth", test_eighth);
  return g_test_run ();
}
