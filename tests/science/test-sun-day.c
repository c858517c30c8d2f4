#include "sci-sun.h"

#include <string.h>

#include "check.h"
#include "rows.h"

/* The 24 hours of a local date at a fixed offset. */
static SciSunDay
day_of_row (char **cells)
{
  g_autofree char *midnight = g_strconcat (cells[4], "T00:00:00Z", NULL);
  gint64 from = row_instant (midnight) - (gint64) row_real (cells[3]) * 60000;

  return sci_sun_day (from, from + SCI_DAY_MS, row_real (cells[1]), row_real (cells[2]));
}

static const SciPassage *
pick_passage (const SciSunDay *day, const char *event, gboolean *up)
{
  *up = g_str_equal (event, "sunrise") || g_str_has_suffix (event, "dawn");
  if (g_str_has_prefix (event, "sun"))
    return &day->rise;
  return g_str_has_prefix (event, "civil") ? &day->civil : &day->nautical;
}

static void
check_passage (const SciPassage *passage, gboolean up, const char *expected, double tolerance_s)
{
  if (g_str_equal (expected, "ALWAYS_ABOVE"))
    g_assert_cmpint (passage->kind, ==, SCI_PASSAGE_ABOVE);
  else if (g_str_equal (expected, "ALWAYS_BELOW"))
    g_assert_cmpint (passage->kind, ==, SCI_PASSAGE_BELOW);
  else
    {
      gint64 got = up ? passage->up : passage->down;

      g_assert_cmpint (passage->kind, ==, SCI_PASSAGE_CROSSES);
      g_assert_cmpint (got, !=, SCI_NO_INSTANT);
      check_abs ("seconds", (double) (got - row_instant (expected)) / 1000, 0, tolerance_s);
    }
}

/* place, lat, lon, offset in minutes, local date, event, when, difference, altitude at transit. */
static void
check_row (char **cells)
{
  SciSunDay day = day_of_row (cells);
  double tolerance_s = fabs (row_real (cells[1])) < 60 ? 60 : 180;
  gboolean up;

  g_test_message ("%s, %s, %s", cells[0], cells[4], cells[5]);
  if (g_str_equal (cells[5], "transit"))
    {
      check_abs ("transit", (double) (day.transit - row_instant (cells[6])) / 1000, 0, tolerance_s);
      check_abs ("altitude", day.transit_altitude, row_real (cells[8]), 0.02);
    }
  else
    {
      const SciPassage *passage = pick_passage (&day, cells[5], &up);
      check_passage (passage, up, cells[6], tolerance_s);
    }
}

/* 26 days at eleven places by astropy 5.2.1; ephem 4.1.4 agrees within 0.4 s. */
static void
test_days (void)
{
  each_row ("sun_events.csv", 9, 182, check_row);
}

/* What the header says of accuracy, on the same days. */
static void
check_promise (char **cells)
{
  SciSunDay day = day_of_row (cells);
  gboolean up;

  if (!g_str_equal (cells[5], "transit"))
    {
      const SciPassage *passage = pick_passage (&day, cells[5], &up);
      check_passage (passage, up, cells[6], fabs (row_real (cells[1])) <= 50 ? 10 : 60);
    }
}

static void
test_promise (void)
{
  each_row ("sun_events.csv", 9, 182, check_promise);
}

/* By hand: on the morning side of the world, a span that ends before noon has
 * no transit; one that runs over two noons has the first. */
static void
test_transit_in_span (void)
{
  gint64 midnight = row_instant ("2024-04-15T00:00:00Z"); /* equation of time near 0 */
  SciSunDay day = sci_sun_day (midnight, midnight + SCI_DAY_MS / 2 - 60000 * 5, 50, 0);

  g_assert_cmpint (day.transit, ==, SCI_NO_INSTANT);
  check_abs ("no altitude", day.transit_altitude, NAN, 0);
  g_assert_cmpint (day.rise.up, !=, SCI_NO_INSTANT);
  g_assert_cmpint (day.rise.down, ==, SCI_NO_INSTANT);
  day = sci_sun_day (midnight, midnight + 2 * SCI_DAY_MS, 50, 0);
  check_abs ("noon", (double) (day.transit - midnight) / 3600000, 12, 0.02);
}

/* Near the ends of a polar day a date can hold two of a kind. By hand: west of
 * the zone's middle the nights lie after midnight; as they grow, the first
 * that begins before it makes a second sunset that date, and the one told is
 * that of the evening. East of it, as nights shrink, there is a second
 * sunrise, and the one told is that of the morning. */
static void
test_two_of_a_kind (void)
{
  static const struct {
    double longitude;
    guint sets, rises;
  } cases[] = { { -10, 1, 0 }, { 10, 0, 1 } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      gint64 from = row_instant ("2022-05-10T00:00:00Z");
      guint sets = 0, rises = 0;

      for (int j = 0; j < 100; j++, from += SCI_DAY_MS)
        {
          SciSunDay day = sci_sun_day (from, from + SCI_DAY_MS, 69.6, cases[i].longitude);
          gboolean first = sci_sun_altitude (from, 69.6, cases[i].longitude) > SCI_SUNRISE_ALTITUDE;
          gboolean last = sci_sun_altitude (from + SCI_DAY_MS, 69.6, cases[i].longitude) > SCI_SUNRISE_ALTITUDE;

          /* up, down, up, down; and down, up, down, up */
          if (first == last || day.rise.up == SCI_NO_INSTANT || day.rise.down == SCI_NO_INSTANT)
            continue;
          sets += first;
          rises += last;
          g_assert_cmpint (day.rise.up, <, day.transit);
          g_assert_cmpint (day.rise.down, >, day.transit);
        }
      g_assert_cmpuint (sets, ==, cases[i].sets);
      g_assert_cmpuint (rises, ==, cases[i].rises);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/sun-day/days", test_days);
  g_test_add_func ("/science/sun-day/promise", test_promise);
  g_test_add_func ("/science/sun-day/transit-in-span", test_transit_in_span);
  g_test_add_func ("/science/sun-day/two-of-a-kind", test_two_of_a_kind);
  return g_test_run ();
}
