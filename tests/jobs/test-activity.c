#include "config.h"

#include "jobs-fixture.h"
#include "sci-overlap.h"
#include "sci-sun.h"
#include "tpt-activity-private.h"
#include "tpt-job-activity.h"
#include "tpt-job-import.h"

/* Two stations through a year and a day, in a zone with summer time. */
static void
set_up_ground (JobsFixture *f)
{
  jobs_set (f, "clock_at", "2025-06-01T00:00:00.000Z");
  jobs_set (f, "independence_min", "1");
  PUT (TPT_TABLE_STATIONS, "station", "S1", "latitude", "46.5512", "longitude", "25.4137");
  PUT (TPT_TABLE_STATIONS, "station", "S2");
  jobs_import (f, "deployment,station,start,end\n"
                  "D1,S1,2024-01-01T00:00:00Z,2025-01-01T00:00:00Z\n"
                  "D2,S2,2024-01-01T00:00:00Z,2025-01-01T00:00:00Z\n");
  jobs_import (f, "scientific_name,common_en\nUrsus arctos,Brown bear\nLynx lynx,Lynx\nCanis lupus,Wolf\n");
}

/* One record a day at this minute of the day in UTC, moved on by some minutes each. */
static void
add_days (JobsFixture *f, const char *deployment, const char *species, guint n, guint minute, guint step)
{
  static guint number;
  g_autoptr (GString) text = g_string_new ("observation,deployment,start,type,scientific_name\n");

  for (guint i = 0; i < n; i++)
    {
      TptInstant when = at ("2024-01-02T00:00:00Z") + i % 300 * TPT_DAY + (minute + i * step) % 1440 * TPT_MINUTE;
      g_autofree char *start = tpt_instant_format (when, NULL);

      g_string_append_printf (text, "O%u,%s,%s,animal,%s\n", ++number, deployment, start, species);
    }
  jobs_import (f, text->str);
}

static TptFilter *
choose (const char *species)
{
  TptFilter *filter = tpt_filter_new ();

  filter->species = g_strsplit (species, ",", -1);
  return filter;
}

static TptJobActivity *
run_activity (JobsFixture *f, const char *species, gboolean by_sun, guint boot)
{
  g_autoptr (TptFilter) filter = choose (species);
  TptJobActivity *job = tpt_job_activity_new (filter, by_sun);

  tpt_job_activity_set_detail (job, 48, boot);
  jobs_run (f, job);
  return job;
}

/* The curve is that of the science for the same hours; its parts hang together. */
static void
test_curve (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobActivity) job = NULL, again = NULL, other = NULL;
  const TptActivity *found;
  SciActivity *activity;
  double hours[40], curve[48];
  guint n = 0;

  set_up_ground (f);
  add_days (f, "D1", "Ursus arctos", 40, 600, 7);
  job = run_activity (f, "Brown bear", FALSE, 100);
  found = tpt_job_activity_get (job, 0);
  for (guint i = 0; i < 40; i++)
    hours[i] = (double) (600 + 7 * i) / 60 + 2; /* UTC+2; by 10 February no summer time yet */
  activity = sci_activity_new (hours, 40, NAN);
  sci_activity_curve (activity, 48, curve);
  g_assert_cmpuint (found->n, ==, 40);
  g_assert_cmpuint (found->n_points, ==, 48);
  g_assert_cmpfloat_with_epsilon (found->kappa, sci_activity_get_bandwidth (activity), 1e-9);
  for (guint i = 0; i < 48; i++)
    {
      g_assert_cmpfloat_with_epsilon (found->density[i], curve[i], 1e-9);
      g_assert_cmpfloat (found->low[i], <=, found->high[i]);
    }
  for (guint i = 0; i < 24; i++)
    n += found->by_hour[i];
  g_assert_cmpuint (n, ==, 40);
  g_assert_cmpuint (found->boot, ==, 100);
  g_assert_cmpint (found->day.n + found->twilight.n + found->night.n, ==, found->n_light);
  g_assert_cmpuint (found->n_light, ==, 40);
  g_assert_null (found->why_not);
  g_assert_null (tpt_job_activity_get (job, 1));
  g_assert_null (tpt_job_activity_get_overlap (job));
  sci_activity_free (activity);

  again = run_activity (f, "Brown bear", FALSE, 100);
  other = run_activity (f, "Brown bear", FALSE, 0);
  g_assert_cmpmem (found->low, 48 * sizeof (double), tpt_job_activity_get (again, 0)->low, 48 * sizeof (double));
  g_assert_cmpuint (tpt_job_activity_get (other, 0)->boot, ==, 0);
  g_assert_nonnull (strstr (tpt_job_activity_get_method (other), "by the standard error"));
  g_assert_nonnull (strstr (tpt_job_activity_get_method (job), "100 resamples"));
}

/* What cannot be drawn, and what would be needed. */
static void
test_refused (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *species;
    gboolean by_sun;
    const char *why_not;
  } cases[] = {
    { "Wolf", FALSE, "A curve of the day takes at least 15 detections; there are 0." },
    { "Lynx", FALSE, "A curve of the day takes at least 15 detections; there are 14." },
    { "Brown bear", FALSE,
      "All 20 detections fall between 12:00 and 12:38; a curve of the day takes detections that are more than an hour apart." },
    { "Brown bear", TRUE,
      "A curve of the day takes at least 15 detections with an hour by the sun; there are 0 detections with one, and 20 "
      "detections without, at stations whose position is not known or where the sun did not rise and set." },
  };

  set_up_ground (f);
  add_days (f, "D1", "Lynx lynx", 14, 0, 97);
  add_days (f, "D2", "Ursus arctos", 20, 600, 2);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobActivity) job = run_activity (f, cases[i].species, cases[i].by_sun, 50);
      const TptActivity *found = tpt_job_activity_get (job, 0);

      g_assert_cmpstr (found->why_not, ==, cases[i].why_not);
      g_assert_null (found->density);
      g_assert_null (found->low);
      g_assert_true (isnan (found->kappa) && isnan (found->level) && isnan (found->peak_hour));
      g_assert_cmpuint (found->n_points, ==, 0);
      g_assert_nonnull (strstr (tpt_job_activity_get_sentence (job), cases[i].why_not));
    }
}

static void
test_overlap (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *a, *b;
    const char *estimator;
    gboolean has_value, has_interval, has_test;
    const char *why_not;
  } cases[] = {
    { "Brown bear", "Lynx", "d1", TRUE, TRUE, TRUE, NULL },
    { "Lynx", "Brown bear", "d1", TRUE, TRUE, TRUE, NULL },
    { "Brown bear", "Brown bear,Lynx", "d4", TRUE, FALSE, FALSE,
      "60 detections are in both, so the two cannot be tested against each other; choose them so that none is." },
    { "Brown bear", "Wolf", "d1", FALSE, FALSE, TRUE,
      "An overlap takes two curves. Wolf: A curve of the day takes at least 15 detections; there are 12." },
  };

  set_up_ground (f);
  add_days (f, "D1", "Ursus arctos", 60, 300, 11);
  add_days (f, "D1", "Lynx lynx", 40, 900, 17);
  add_days (f, "D1", "Canis lupus", 12, 900, 17);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFilter) a = choose (cases[i].a), b = choose (cases[i].b);
      g_autoptr (TptJobActivity) job = tpt_job_activity_new (a, FALSE);
      const TptOverlap *overlap;

      tpt_job_activity_compare (job, b);
      tpt_job_activity_set_detail (job, 48, 60);
      jobs_run (f, job);
      overlap = tpt_job_activity_get_overlap (job);
      g_assert_cmpstr (overlap->estimator, ==, cases[i].estimator);
      g_assert_cmpint (!isnan (overlap->value), ==, cases[i].has_value);
      g_assert_cmpint (!isnan (overlap->low), ==, cases[i].has_interval);
      g_assert_cmpint (!isnan (overlap->watson_p), ==, cases[i].has_test);
      g_assert_cmpstr (overlap->why_not, ==, cases[i].why_not);
      if (cases[i].has_interval)
        {
          g_assert_cmpfloat (overlap->low, <, overlap->value);
          g_assert_cmpfloat (overlap->high, >, overlap->value);
          g_assert_cmpuint (overlap->boot, ==, 60);
        }
      g_assert_cmpuint (tpt_job_activity_get (job, 0)->n, ==, i == 1 ? 40 : 60);
    }
}

/* Two periods of one species are told apart by their dates. */
static void
test_periods (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptFilter) spring = choose ("Lynx"), autumn = choose ("Lynx");
  g_autoptr (TptJobActivity) job = NULL;

  set_up_ground (f);
  add_days (f, "D1", "Lynx lynx", 200, 0, 37);
  spring->range = (TptRange){ at ("2024-01-01T00:00:00Z"), at ("2024-04-01T00:00:00Z") };
  autumn->range = (TptRange){ at ("2024-04-01T00:00:00Z"), at ("2024-10-01T00:00:00Z") };
  job = tpt_job_activity_new (spring, TRUE);
  tpt_job_activity_compare (job, autumn);
  jobs_run (f, job);
  g_assert_cmpuint (tpt_job_activity_get (job, 0)->n + tpt_job_activity_get (job, 1)->n, ==, 200);
  g_assert_cmpstr (tpt_job_activity_get (job, 0)->label, !=, tpt_job_activity_get (job, 1)->label);
  g_assert_nonnull (strstr (tpt_job_activity_get (job, 1)->label, "2024"));
  g_assert_true (g_str_has_prefix (tpt_job_activity_get_sentence (job), "Lynx, "));
  g_assert_nonnull (strstr (tpt_job_activity_get_method (job), "sunrise 6, sunset 18"));
}

/* Of more records than are resampled, the band and the interval are by the standard error. */
static void
test_many (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptFilter) a = choose ("Brown bear"), b = choose ("Lynx");
  g_autoptr (TptJobActivity) job = tpt_job_activity_new (a, FALSE);
  const TptActivity *found;

  set_up_ground (f);
  add_days (f, "D1", "Ursus arctos", SCI_ACTIVITY_RESAMPLED_MOST + 200, 0, 13);
  add_days (f, "D1", "Lynx lynx", 300, 0, 19);
  tpt_job_activity_compare (job, b);
  jobs_run (f, job);
  found = tpt_job_activity_get (job, 0);
  g_assert_cmpuint (found->n, >, SCI_ACTIVITY_RESAMPLED_MOST);
  g_assert_cmpuint (found->boot, ==, 0);
  g_assert_cmpfloat (found->low[10], <, found->density[10]);
  g_assert_cmpuint (tpt_job_activity_get (job, 1)->boot, ==, TPT_ACTIVITY_BOOT);
  g_assert_cmpuint (tpt_job_activity_get_overlap (job)->boot, ==, 0);
  g_assert_cmpfloat (tpt_job_activity_get_overlap (job)->low, >, 0);
  g_assert_nonnull (strstr (tpt_job_activity_get_method (job), "that of Lynx by 1,000 resamples drawn from the curve, "
                                                               "that of Brown bear by the standard error."));
}

static TptPass *
get_pass (TptStore *store, const char *station)
{
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  g_autoptr (GError) error = NULL;
  TptPass *pass;

  filter->stations = g_strsplit (station, ",", -1);
  pass = tpt_pass_get (store, filter, NULL, &error);
  g_assert_no_error (error);
  return pass;
}

/* Through a year at 46.5 north sunrise is earliest in June (summer time) and latest in January, and
 * sunset so too: about 05:25 and 08:00, 16:33 and 21:15 of a clock on UTC+2 with summer time, by the sun
 * looked for in the sky (sci_sun_day()) at the solstices. */
static void
test_light (JobsFixture *f, gconstpointer data)
{
  TptActivityOrder order = { FALSE, 48, 0, 1, -1 };
  g_autoptr (TptStore) store = NULL;
  g_autoptr (TptPass) placed = NULL, lost = NULL;
  SciSunDay june = sci_sun_day (at ("2024-06-20T21:00:00Z"), at ("2024-06-21T21:00:00Z"), 46.5512, 25.4137);
  SciSunDay january = sci_sun_day (at ("2024-01-02T22:00:00Z"), at ("2024-01-03T22:00:00Z"), 46.5512, 25.4137);
  TptHoursSun sun;

  set_up_ground (f);
  store = tpt_store_open (f->path, FALSE, NULL);
  placed = get_pass (store, "S1,S2");
  lost = get_pass (store, "S2");
  sun = tpt_activity_light (placed, NULL, &order);
  g_assert_cmpfloat_with_epsilon (sun.rise_first, (double) (june.rise.up - at ("2024-06-20T21:00:00Z")) / TPT_HOUR, 0.1);
  g_assert_cmpfloat_with_epsilon (sun.set_last, (double) (june.rise.down - at ("2024-06-20T21:00:00Z")) / TPT_HOUR, 0.1);
  g_assert_cmpfloat_with_epsilon (sun.rise_last, (double) (january.rise.up - at ("2024-01-02T22:00:00Z")) / TPT_HOUR, 0.1);
  g_assert_cmpfloat_with_epsilon (sun.set_first, 16.55, 0.1); /* in December */
  g_assert_cmpfloat (sun.twilight, >, 0.45);
  g_assert_cmpfloat (sun.twilight, <, 0.75);

  order.by_sun = TRUE;
  sun = tpt_activity_light (placed, lost, &order);
  g_assert_true (sun.rise_first == 6 && sun.rise_last == 6 && sun.set_first == 18 && sun.set_last == 18);
  g_assert_true (isnan (tpt_activity_light (lost, NULL, &order).rise_first));
}

/* Made for others, nothing is finer than the cell: two projects whose stations differ only within it
 * give the same figure. */
static void
test_discreet (JobsFixture *f, gconstpointer data)
{
  static const char *const places[][2] = { { "46.5512", "25.4137" }, { "46.5999", "25.3501" }, { "46.7", "25.4137" } };
  g_autoptr (GPtrArray) shown = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) exact = g_ptr_array_new_with_free_func (g_free);

  set_up_ground (f);
  add_days (f, "D1", "Lynx lynx", 60, 0, 37);
  for (gsize i = 0; i < G_N_ELEMENTS (places); i++)
    {
      g_autofree char *row = g_strdup_printf ("station,latitude,longitude\nS1,%s,%s\n", places[i][0], places[i][1]);

      jobs_import (f, row);
      for (int discreet = 0; discreet < 2; discreet++)
        {
          g_autoptr (TptFilter) filter = choose ("Lynx");
          g_autoptr (TptJobActivity) job = tpt_job_activity_new (filter, TRUE);

          tpt_job_activity_set_discreet (job, discreet);
          tpt_job_activity_set_detail (job, 48, 0);
          jobs_run (f, job);
          g_ptr_array_add (discreet ? shown : exact, g_strdup_printf ("%.15g %.15g", tpt_job_activity_get (job, 0)->mean_hour,
                                                                      tpt_job_activity_get (job, 0)->density[7]));
        }
    }
  g_assert_cmpstr (shown->pdata[0], ==, shown->pdata[1]);
  g_assert_cmpstr (exact->pdata[0], !=, exact->pdata[1]);
  g_assert_cmpstr (shown->pdata[0], !=, shown->pdata[2]);
}

static void
test_cancelled (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptFilter) filter = choose ("Lynx");
  g_autoptr (TptJobActivity) job = tpt_job_activity_new (filter, FALSE);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  set_up_ground (f);
  add_days (f, "D1", "Lynx lynx", 60, 0, 37);
  g_cancellable_cancel (cancellable);
  g_assert_false (tpt_project_run (f->project, TPT_JOB (job), cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define CASE(name, function) \
  g_test_add ("/activity/" name, JobsFixture, "Europe/Bucharest", jobs_set_up, function, jobs_tear_down)
  CASE ("curve", test_curve);
  CASE ("refused", test_refused);
  CASE ("overlap", test_overlap);
  CASE ("periods", test_periods);
  CASE ("many", test_many);
  CASE ("light", test_light);
  CASE ("discreet", test_discreet);
  CASE ("cancelled", test_cancelled);
  return g_test_run ();
}
