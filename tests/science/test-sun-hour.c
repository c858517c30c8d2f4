#include "sci-sun-hour.h"

#include "check.h"
#include "rows.h"
#include "sci-sun.h"

/* CHECKS D6: double anchoring after Nouvellet et al. 2012 and Vazquez et al. 2019; single
 * computation there, easily redone by hand. Tolerance as there. */
static void
test_anchor (void)
{
  static const struct {
    double clock, rise, set, hour;
  } cases[] = {
    { 5.0, 6.2, 18.4, 4.779661017 },
    { 6.2, 6.2, 18.4, 6 },
    { 12.0, 6.2, 18.4, 11.704918033 },
    { 18.9, 6.2, 18.4, 18.508474576 },
    { 23.5, 5.1, 20.6, 22.094117647 },
    { 0.25, 5.1, 20.6, 23.152941176 },
    { 3.0, 5.1, 20.6, 3.035294118 },
    { 18.4, 6.2, 18.4, 18 },       /* sunset itself */
    { 5.0, NAN, 18.4, NAN },       /* no sunrise */
    { 5.0, 6.2, NAN, NAN },
    { 5.0, 18.4, 6.2, NAN },       /* out of order */
    { 24.0, 6.2, 18.4, NAN },      /* no hour of a day */
    { NAN, 6.2, 18.4, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    check_abs ("anchored", sci_anchor_hour (cases[i].clock, cases[i].rise, cases[i].set, 6, 18), cases[i].hour, 1e-9);
}

static const struct {
  const char *noon;
  double latitude, longitude;
  double tolerance_s;
} days[] = {
  { "2022-06-21T04:30:00Z", 2.5, 113.0, 20 },
  { "2021-03-20T04:30:00Z", 2.5, 113.0, 20 },
  { "2018-06-21T10:20:00Z", 46.5, 25.4, 20 },
  { "2021-12-21T10:20:00Z", 46.5, 25.4, 20 },
  { "2020-02-29T10:30:00Z", 46.5, 25.4, 60 },   /* the noon's declination at dawn */
  { "2022-12-21T16:35:00Z", -12.8, -69.3, 20 },
  { "2022-07-01T00:04:00Z", -16.85, 179.97, 20 },
  { "2022-03-01T00:10:00Z", 71.0, -179.5, 300 }, /* the sun skims the horizon */
};

/* Against the times looked for in the sky, minute by minute. */
static void
test_rise_set (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (days); i++)
    {
      int64_t noon = row_instant (days[i].noon), rise, set;
      SciSunDay day = sci_sun_day (noon - SCI_DAY_MS / 2, noon + SCI_DAY_MS / 2, days[i].latitude, days[i].longitude);
      double twilight;

      g_assert_true (sci_sun_rise_set (noon, days[i].latitude, days[i].longitude, &rise, &set, &twilight));
      check_abs ("rise", (double) (rise - day.rise.up) / 1e3, 0, days[i].tolerance_s);
      check_abs ("set", (double) (set - day.rise.down) / 1e3, 0, days[i].tolerance_s);
      check_abs ("twilight", twilight * 3600, (double) (day.rise.up - day.civil.up) / 1e3, days[i].tolerance_s);
    }
}

/* 6 at sunrise, 18 at sunset, 12 at noon, 0 half way through the night. */
static void
test_hour (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (days) - 1; i++)
    {
      int64_t noon = row_instant (days[i].noon);
      double latitude = days[i].latitude, longitude = days[i].longitude;
      SciSunDay day = sci_sun_day (noon - SCI_DAY_MS / 2, noon + SCI_DAY_MS / 2, latitude, longitude);

      check_abs ("rise", sci_sun_hour (day.rise.up, latitude, longitude), 6, 20.0 / 3600);
      check_abs ("set", sci_sun_hour (day.rise.down, latitude, longitude), 18, 20.0 / 3600);
      check_abs ("noon", sci_sun_hour (day.transit, latitude, longitude), 12, 20.0 / 3600);
    }
}

static void
test_no_hour (void)
{
  int64_t midsummer = row_instant ("2022-06-21T11:00:00Z"), rise, set;
  double twilight;

  check_abs ("polar day", sci_sun_hour (midsummer, 68, 15), NAN, 0);
  check_abs ("no place", sci_sun_hour (midsummer, NAN, 15), NAN, 0);
  g_assert_false (sci_sun_rise_set (midsummer, 68, 15, &rise, &set, &twilight));
  g_assert_cmpint (rise, ==, SCI_NO_INSTANT);
  /* A night without darkness has sunrise and sunset, and twilight all through. */
  g_assert_true (sci_sun_rise_set (midsummer, 62, 15, &rise, &set, &twilight));
  check_abs ("bright night", twilight, NAN, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/sun-hour/anchor", test_anchor);
  g_test_add_func ("/sun-hour/rise-set", test_rise_set);
  g_test_add_func ("/sun-hour/hour", test_hour);
  g_test_add_func ("/sun-hour/no-hour", test_no_hour);
  return g_test_run ();
}
