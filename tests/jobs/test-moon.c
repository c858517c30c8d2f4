#include "config.h"

#include "jobs-fixture.h"
#include "sci-moon.h"
#include "sci-night.h"
#include "sci-sun.h"
#include "tpt-job-moon.h"
#include "tpt-moon-nights-private.h"
#include "tpt-store.h"

/* Worked time in pieces, two stations far apart, one without a position. */
static const struct {
  double latitude, longitude; /* NAN: none */
  const char *from, *to;
} stays[] = {
  { 2.5, 113.0, "2024-01-03T07:00:00Z", "2024-02-20T15:30:00Z" },
  { 2.5, 113.0, "2024-02-20T15:30:00Z", "2024-03-01T00:00:00Z" },
  { 48.0, -120.5, "2024-06-01T00:00:00Z", "2024-07-20T18:00:00Z" },
  { NAN, NAN, "2024-06-01T00:00:00Z", "2024-06-11T00:00:00Z" },
};

static void
set_up_stations (JobsFixture *f)
{
  g_autoptr (GString) deployments = g_string_new ("deployment,station,start,end\n");

  jobs_import (f, "station,latitude,longitude\nA,2.5,113.0\nB,48.0,-120.5\nC,,\n");
  jobs_import (f, "scientific_name\nSus scrofa\nLynx lynx\n");
  for (guint i = 0; i < G_N_ELEMENTS (stays); i++)
    g_string_append_printf (deployments, "D%u,%c,%s,%s\n", i, isnan (stays[i].latitude) ? 'C' : stays[i].latitude > 40 ? 'B' : 'A',
                            stays[i].from, stays[i].to);
  jobs_import (f, deployments->str);
}

/* Every ten minutes of work by the height of the sun and the moon at that moment, without the short cuts. */
static void
sum_slowly (TptMoonNights *want)
{
  const gint64 step = 10 * TPT_MINUTE;

  *want = (TptMoonNights){ .lit = 0 };
  for (guint i = 0; i < G_N_ELEMENTS (stays); i++)
    for (TptInstant t = at (stays[i].from); !isnan (stays[i].latitude) && t < at (stays[i].to); t += step)
      {
        SciMoonLight light;

        want->nights += (double) step / TPT_DAY;
        if (sci_sun_altitude (t + step / 2, stays[i].latitude, stays[i].longitude) >= -6)
          continue;
        light = sci_moon_light (sci_ephemeris_day (t + step / 2));
        want->dark_ms[sci_moon_eighth (light.elongation)] += (double) step;
        want->all_ms += (double) step;
        want->lit += light.lit * (double) step;
      }
  want->lit /= want->all_ms;
}

static void
test_nights (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  g_autoptr (TptStore) store = NULL;
  g_autoptr (TptPass) pass = NULL;
  g_autoptr (GError) error = NULL;
  TptMoonNights got, want;

  set_up_stations (f);
  store = tpt_store_open (f->path, FALSE, &error);
  g_assert_no_error (error);
  pass = tpt_pass_get (store, filter, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (tpt_moon_nights_sum (pass, &got, NULL, &error));
  sum_slowly (&want);
  g_assert_cmpfloat_with_epsilon (got.nights, want.nights, 0.01);
  g_assert_cmpfloat_with_epsilon (got.lit, want.lit, 0.002);
  /* the steps are of ten minutes: some five on both ends of some 110 nights, in either direction */
  g_assert_cmpfloat_with_epsilon (got.all_ms / TPT_HOUR, want.all_ms / TPT_HOUR, 3);
  for (guint i = 0; i < TPT_MOON_PARTS; i++)
    g_assert_cmpfloat_with_epsilon (got.dark_ms[i] / TPT_HOUR, want.dark_ms[i] / TPT_HOUR, 2);
  g_assert_cmpuint (got.without_place, ==, 1);
}

static TptJobMoon *
run_moon (JobsFixture *f, const char *species, const char *station)
{
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  TptJobMoon *job;

  filter->species = g_strsplit (species, ",", -1);
  filter->stations = station != NULL ? g_strsplit (station, ",", -1) : NULL;
  job = tpt_job_moon_new (filter);
  jobs_run (f, job);
  return job;
}

/* Records at a local hour of station A on each of @n nights. */
static void
add_nights (JobsFixture *f, const char *species, const char *first, guint n, gint64 every)
{
  static guint number;
  g_autoptr (GString) text = g_string_new ("observation,deployment,start,type,scientific_name\n");

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *when = tpt_instant_format (at (first) + i * every, NULL);

      g_string_append_printf (text, "O%u,%s,%s,animal,%s\n", ++number, at (when) < at (stays[0].to) ? "D0" : "D1", when, species);
    }
  jobs_import (f, text->str);
}

/* Full moon on 2024-01-25 and 2024-02-24, new moon on 2024-01-11 and 2024-02-09: almanac facts, from memory. */
static void
test_detections (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobMoon) even = NULL, moonlit = NULL, lynx = NULL;
  const TptMoonlight *light;
  double nights = 0;

  set_up_stations (f);
  /* every night at 23:00 of the clock, and at noon, which is not dark */
  add_nights (f, "Sus scrofa", "2024-01-03T15:00:00Z", 58, TPT_DAY);
  add_nights (f, "Sus scrofa", "2024-01-04T04:00:00Z", 57, TPT_DAY);
  /* eight times within three hours of three full moon nights */
  for (guint i = 0; i < 3; i++)
    {
      g_autofree char *first = tpt_instant_format (at ("2024-01-24T12:30:00Z") + i * TPT_DAY, NULL);

      add_nights (f, "Lynx lynx", first, 14, 40 * TPT_MINUTE);
    }

  even = run_moon (f, "Sus scrofa", "A");
  light = tpt_job_moon_get (even);
  g_assert_cmpint (light->dark, ==, 58);
  for (guint i = 0; i < TPT_MOON_PARTS; i++)
    nights += light->parts[i].nights;
  g_assert_cmpfloat_with_epsilon (nights, 57.708333, 1e-5);
  g_assert_null (light->why_not);
  g_assert_cmpfloat (light->p, >, 0.9);
  g_assert_cmpfloat_with_epsilon (light->mean_lit, light->expected_lit, 0.02);

  moonlit = run_moon (f, "Lynx lynx", "A");
  light = tpt_job_moon_get (moonlit);
  g_assert_cmpint (light->parts[4].detections, ==, light->dark);
  g_assert_cmpint (light->dark, ==, 42);
  g_assert_cmpfloat (light->mean_lit, >, 0.97);
  g_assert_cmpfloat (light->p, <, 1e-6);
  g_assert_nonnull (strstr (tpt_job_moon_get_sentence (moonlit), "differ (p < 0.001)"));

  /* the station without a position adds nothing, and the figure says so */
  lynx = run_moon (f, "Lynx lynx", NULL);
  g_assert_cmpint (tpt_job_moon_get (lynx)->dark, ==, 42);
}

/* What cannot be said. */
static void
test_refused (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *species, *station, *why_not;
  } cases[] = {
    { "Lynx lynx", "C", "No station that worked has a position, so night cannot be told from day." },
    { "Lynx lynx", "A", "To tell the parts of the moon’s round apart, 40 detections in the dark are needed; there are 3." },
    { "Sus scrofa", "A", "To tell the parts of the moon’s round apart, 40 detections in the dark are needed; there are 0." },
    { "Lynx lynx", "D", "No station worked in this period, so nothing can be said." },
    { "Lynx lynx", "E", "The sun never went 6° below the horizon while a camera worked." },
    { "Lynx lynx", "F", "The cameras worked in one part of the moon’s round only; a month of nights is needed." },
  };

  set_up_stations (f);
  jobs_import (f, "station,latitude,longitude\nD,0,0\nE,75,20\nF,0,0\n");
  jobs_import (f, "deployment,station,start,end\nE1,E,2024-06-01T00:00:00Z,2024-07-20T00:00:00Z\n"
                  "F1,F,2024-01-24T12:00:00Z,2024-01-26T12:00:00Z\n");
  add_nights (f, "Lynx lynx", "2024-01-06T15:00:00Z", 3, 9 * TPT_DAY);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobMoon) job = run_moon (f, cases[i].species, cases[i].station);

      g_assert_cmpstr (tpt_job_moon_get (job)->why_not, ==, cases[i].why_not);
      g_assert_true (isnan (tpt_job_moon_get (job)->p));
      g_assert_nonnull (strstr (tpt_job_moon_get_sentence (job), cases[i].why_not));
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  ADD ("/jobs/moon/nights", test_nights);
  ADD ("/jobs/moon/detections", test_detections);
  ADD ("/jobs/moon/refused", test_refused);
  return g_test_run ();
}
