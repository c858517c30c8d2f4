#include "config.h"

#include <locale.h>
#include <time.h>

#include "jobs-fixture.h"
#include "tpt-job-findings.h"

static TptJobFindings *
ask (JobsFixture *f, const TptFilter *filter)
{
  TptJobFindings *job = tpt_job_findings_new (filter);

  jobs_run (f, job);
  return job;
}

static void
put_stations_from (JobsFixture *f, const char *start, const char *end)
{
  PUT (TPT_TABLE_STATIONS, "station", "S1", "latitude", "2.41", "longitude", "113.02");
  PUT (TPT_TABLE_STATIONS, "station", "S2");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "S1", "start", start, "end", end);
  jobs_import (f, "scientific_name,common_en,common_es\nRusa unicolor,Sambar,Sambar\nHelarctos malayanus,Sun bear,Oso malayo\n");
}

static void
put_stations (JobsFixture *f, const char *end)
{
  put_stations_from (f, "2024-03-01T00:00:00Z", end);
}

static void
put_sightings (JobsFixture *f, const char *species, const char *const *starts, guint n, guint first)
{
  g_autoptr (GString) table = g_string_new ("observation,deployment,start,type,scientific_name,count\n");

  for (guint i = 0; i < n; i++)
    g_string_append_printf (table, "O%u,D1,%s,animal,%s,2\n", first + i, starts[i], species);
  jobs_import (f, table->str);
}

/* CHECKS C3, the hand example: 3 by the last frame, 4 by the first. */
static const char *const example[] = {
  "2024-03-02T06:00:00Z", "2024-03-02T06:20:00Z", "2024-03-02T06:40:00Z", "2024-03-02T07:00:00Z",
  "2024-03-02T07:30:00Z", "2024-03-02T07:59:59Z", "2024-03-02T08:29:59Z",
};

static void
test_detections (JobsFixture *f, gconstpointer data)
{
  static const struct {
    int from_first;
    double minutes;
    gint64 detections;
    gint64 animals;
  } cases[] = {
    { 0, 30, 3, 6 },
    { 1, 30, 4, 8 },
    { 0, 0, 7, 14 },        /* every observation counts */
    { 0, 24 * 60, 1, 2 },
    { -1, NAN, 3, 6 },      /* the project's own: 30 minutes from the last frame */
    { 1, NAN, 4, 8 },
  };

  put_stations (f, "2024-03-31T00:00:00Z");
  put_sightings (f, "Rusa unicolor", example, G_N_ELEMENTS (example), 0);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFilter) filter = tpt_filter_new ();
      g_autoptr (TptJobFindings) job = NULL;
      const TptRate *rate;

      filter->independence_min = cases[i].minutes;
      filter->gap_from_first = cases[i].from_first;
      job = ask (f, filter);
      rate = tpt_job_findings_get_rate (job);
      g_assert_cmpint (rate->detections, ==, cases[i].detections);
      g_assert_cmpint (rate->individuals, ==, cases[i].animals);
      g_assert_cmpint (rate->stations, ==, 1);
      g_assert_cmpfloat_with_epsilon (rate->nights, 30, 1e-9);
      g_assert_cmpfloat_with_epsilon (rate->per_100, 100.0 * (double) cases[i].detections / 30, 1e-9);
    }
  jobs_set (f, "independence_from", "first");
  {
    g_autoptr (TptFilter) filter = tpt_filter_new ();
    g_autoptr (TptJobFindings) job = ask (f, filter);

    g_assert_cmpint (tpt_job_findings_get_rate (job)->detections, ==, 4);
  }
}

/* CHECKS C2: Garwood 1936, Biometrika 28:437-442; computed there by R
 * poisson.test and scipy. Tolerance 1e-6 relative, as there: the table is
 * printed to eight digits. */
static void
test_interval (JobsFixture *unused, gconstpointer data)
{
  static const struct {
    guint n;
    const char *start, *end; /* of a deployment */
    double per_100, low, high;
  } cases[] = {
    { 0, "2024-03-01T00:00:00Z", "2024-06-09T00:00:00Z", 0, 0, 3.6888795 },                    /* 100 nights */
    { 1, "2024-03-01T00:00:00Z", "2024-06-09T00:00:00Z", 1, 0.025317808, 5.5716434 },
    { 2, "2024-03-01T00:00:00Z", "2025-02-14T00:00:00Z", 0.57142857, 0.069202651, 2.0641965 }, /* 350 */
    { 5, "2021-03-01T00:00:00Z", "2024-07-23T00:00:00Z", 0.40322581, 0.13092632, 0.94099452 }, /* 1240 */
    { 10, "2024-03-01T00:00:00Z", "2025-11-03T12:00:00Z", 1.6326531, 0.7829206, 3.0025071 },   /* 612.5 */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      JobsFixture own, *f = &own;
      g_autoptr (TptFilter) filter = tpt_filter_new ();
      g_autoptr (TptJobFindings) job = NULL;
      g_autoptr (GPtrArray) starts = g_ptr_array_new_with_free_func (g_free);
      const TptRate *rate;

      jobs_set_up (f, NULL);
      put_stations_from (f, cases[i].start, cases[i].end);
      for (guint n = 0; n < cases[i].n; n++)
        g_ptr_array_add (starts, g_strdup_printf ("2024-04-%02uT06:00:00Z", n + 1));
      put_sightings (f, "Rusa unicolor", (const char *const *) starts->pdata, starts->len, 0);
      job = ask (f, filter);
      rate = tpt_job_findings_get_rate (job);
      g_test_message ("%u: %.17g %.17g %.17g", cases[i].n, rate->per_100, rate->low, rate->high);
      g_assert_cmpfloat_with_epsilon (rate->per_100, cases[i].per_100, 1e-6 * cases[i].per_100 + 1e-15);
      g_assert_cmpfloat_with_epsilon (rate->low, cases[i].low, 1e-6 * cases[i].low + 1e-15);
      g_assert_cmpfloat_with_epsilon (rate->high, cases[i].high, 1e-6 * cases[i].high);
      jobs_tear_down (f, NULL);
    }
}

/* Local hours at +08:00; from itself, to not itself; over midnight. */
static void
test_hours (JobsFixture *f, gconstpointer data)
{
  static const char *const starts[] = {
    "2024-03-02T00:30:00+08:00", "2024-03-03T12:00:00+08:00", "2024-03-04T22:00:00+08:00", "2024-03-05T23:59:59+08:00",
  };
  static const struct {
    int from, to; /* minutes */
    gint64 detections;
  } cases[] = {
    { -1, -1, 4 },
    { 0, 24 * 60, 4 },
    { 22 * 60, 60, 3 },
    { 22 * 60 + 1, 60, 2 },
    { 22 * 60, 30, 2 },
    { 12 * 60, 22 * 60, 1 },
    { 23 * 60, 24 * 60, 1 },
    { 13 * 60, 14 * 60, 0 },
  };

  put_stations (f, "2024-03-31T00:00:00Z");
  put_sightings (f, "Rusa unicolor", starts, G_N_ELEMENTS (starts), 0);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFilter) filter = tpt_filter_new ();
      g_autoptr (TptJobFindings) job = NULL;

      filter->hour_from = cases[i].from;
      filter->hour_to = cases[i].to;
      job = ask (f, filter);
      g_test_message ("%d to %d", cases[i].from, cases[i].to);
      g_assert_cmpint (tpt_job_findings_get_rate (job)->detections, ==, cases[i].detections);
      g_assert_cmpfloat_with_epsilon (tpt_job_findings_get_rate (job)->nights, 30, 1e-9);
    }
}

/* Species by any of their names; the list shows all whatever is chosen. */
static void
test_names (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *species; /* NULL: all */
    int detections;      /* -1: refused */
  } cases[] = {
    { NULL, 4 },
    { "Rusa unicolor", 3 },
    { "rusa unicolor", 3 },
    { "Sun bear", 1 },
    { "OSO MALAYO", 1 },
    { "Sambar,Sun bear", 4 },
    { "Sambar,Rusa unicolor", 3 },
    { "Rusa", -1 },
    { "Sambar,Yeti", -1 },
    { "", -1 },
  };

  put_stations (f, "2024-03-31T00:00:00Z");
  put_sightings (f, "Rusa unicolor", example, G_N_ELEMENTS (example), 0);
  put_sightings (f, "Helarctos malayanus", example, 1, 100);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFilter) filter = tpt_filter_new ();
      g_autoptr (TptJobFindings) job = NULL;
      g_autoptr (TptSpeciesItem) most = NULL;
      g_autoptr (GError) error = NULL;

      g_test_message ("%s", cases[i].species);
      if (cases[i].species != NULL)
        filter->species = *cases[i].species != '\0' ? g_strsplit (cases[i].species, ",", -1) : g_strdupv ((char *[]){ "", NULL });
      job = tpt_job_findings_new (filter);
      tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
      if (cases[i].detections < 0)
        {
          g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
          continue;
        }
      g_assert_no_error (error);
      g_assert_cmpint (tpt_job_findings_get_rate (job)->detections, ==, cases[i].detections);
      g_assert_cmpuint (g_list_model_get_n_items (tpt_job_findings_get_species (job)), ==, 2);
      most = g_list_model_get_item (tpt_job_findings_get_species (job), 0);
      g_assert_cmpstr (tpt_species_item_get_title (most), ==, "Sambar");
      g_assert_cmpint (tpt_species_item_get_rate (most)->detections, ==, 3);
    }
}

/* Effort and observations are cut alike. */
static void
test_period (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *from, *to;
    gint64 detections;
    double nights;
  } cases[] = {
    { NULL, NULL, 3, 30 },
    { "2024-03-02T07:30:00Z", NULL, 2, 28.6875 },
    { NULL, "2024-03-02T07:30:00Z", 1, 1.3125 },
    { "2024-03-10T00:00:00Z", "2024-03-11T00:00:00Z", 0, 1 },
    { "2025-01-01T00:00:00Z", NULL, 0, 0 },
  };

  put_stations (f, "2024-03-31T00:00:00Z");
  put_sightings (f, "Rusa unicolor", example, G_N_ELEMENTS (example), 0);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFilter) filter = tpt_filter_new ();
      g_autoptr (TptJobFindings) job = NULL;
      const TptRate *rate;

      filter->range = (TptRange){ maybe_at (cases[i].from), maybe_at (cases[i].to) };
      job = ask (f, filter);
      rate = tpt_job_findings_get_rate (job);
      g_test_message ("%s to %s: %s", cases[i].from, cases[i].to, tpt_job_findings_get_sentence (job));
      g_assert_cmpint (rate->detections, ==, cases[i].detections);
      g_assert_cmpfloat_with_epsilon (rate->nights, cases[i].nights, 1e-9);
      g_assert_cmpint (isnan (rate->per_100), ==, cases[i].nights == 0);
    }
}

/* Everything that is told, in one text. */
static char *
tell (JobsFixture *f)
{
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  g_autoptr (TptJobFindings) job = ask (f, filter);
  g_autofree char *table = tpt_figure_csv (tpt_job_findings_get_strip (job));
  const TptRate *rate = tpt_job_findings_get_rate (job);

  return g_strdup_printf ("%s|%d|%d|%.6f|%.6f|%s", tpt_job_findings_get_sentence (job), (int) rate->detections, (int) rate->individuals,
                          rate->per_100 * 1000, rate->high * 1000, table);
}

/* The same findings in any order of the rows, in any zone of the machine, in
 * any of its locales; blanks change nothing either. */
static void
test_same (JobsFixture *unused, gconstpointer data)
{
  static const char *const zones[] = { "UTC", "America/New_York", "Pacific/Kiritimati" };
  static const char *const locales[] = { "C.UTF-8", "de_DE.UTF-8", "ro_RO.UTF-8", "C.UTF-8" };
  g_autofree char *first = NULL;

  for (guint order = 0; order < 3; order++)
    {
      JobsFixture own, *f = &own;
      const char *starts[G_N_ELEMENTS (example)];

      g_setenv ("TZ", zones[order], TRUE);
      tzset ();
      for (guint i = 0; i < G_N_ELEMENTS (example); i++)
        starts[i] = example[(i * 3 + order) % G_N_ELEMENTS (example)];
      jobs_set_up (f, NULL);
      put_stations (f, "2024-03-31T00:00:00Z");
      put_sightings (f, "Rusa unicolor", starts, G_N_ELEMENTS (example), order * 50);
      if (order == 2)
        jobs_import (f, "observation,deployment,start,type\nB1,D1,2024-03-02T06:10:00Z,blank\nB2,D1,2024-03-20T06:10:00Z,human\n");
      for (gsize l = 0; l < G_N_ELEMENTS (locales); l++)
        {
          g_autofree char *told = NULL;

          if (setlocale (LC_ALL, locales[l]) == NULL)
            continue; /* not on this machine */
          told = tell (f);
          setlocale (LC_ALL, "C.UTF-8");
          if (first == NULL)
            first = g_strdup (told);
          g_assert_cmpstr (told, ==, first);
        }
      jobs_tear_down (f, NULL);
    }
  g_setenv ("TZ", "UTC", TRUE);
  tzset ();
}

/* The strip sets another species, or another period moved to the same beginning, beside the first. */
static void
test_beside (JobsFixture *f, gconstpointer data)
{
  static const char *const bears[] = { "2024-03-05T06:00:00Z", "2024-05-05T06:00:00Z", "2024-05-06T06:00:00Z" };
  static const struct {
    const char *species, *other;
    const char *from, *to, *other_from, *other_to; /* NULL: open */
    guint first, second;                           /* rows of the table that are detections of each */
    const char *title;
  } cases[] = {
    { "Rusa unicolor", "Helarctos malayanus", NULL, NULL, NULL, NULL, 3, 3, "Sambar and Sun bear: stations through time" },
    { "Helarctos malayanus", "Helarctos malayanus", "2024-03-01T00:00:00Z", "2024-04-01T00:00:00Z", "2024-05-01T00:00:00Z",
      "2024-06-01T00:00:00Z", 1, 2, "Sun bear: stations through time" },
    { "Helarctos malayanus", "Helarctos malayanus", "2024-05-01T00:00:00Z", "2024-06-01T00:00:00Z", "2024-07-01T00:00:00Z",
      "2024-07-02T00:00:00Z", 2, 0, "Sun bear: stations through time" }, /* no effort then */
  };

  put_stations (f, "2024-06-30T00:00:00Z");
  put_sightings (f, "Rusa unicolor", example, G_N_ELEMENTS (example), 0);
  put_sightings (f, "Helarctos malayanus", bears, G_N_ELEMENTS (bears), 20);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFilter) filter = tpt_filter_new (), other = tpt_filter_new ();
      g_autoptr (TptJobFindings) job = NULL;
      g_autofree char *words = NULL, *csv = NULL;
      guint detections = 0;

      filter->species = g_strsplit (cases[i].species, ",", -1);
      other->species = g_strsplit (cases[i].other, ",", -1);
      filter->range = (TptRange){ maybe_at (cases[i].from), maybe_at (cases[i].to) };
      other->range = (TptRange){ maybe_at (cases[i].other_from), maybe_at (cases[i].other_to) };
      job = tpt_job_findings_new (filter);
      tpt_job_findings_compare (job, other);
      jobs_run (f, job);
      g_assert_cmpint (tpt_job_findings_get_rate (job)->detections, ==, cases[i].first);
      words = tpt_figure_describe (tpt_job_findings_get_strip (job));
      g_assert_true (g_str_has_prefix (words, cases[i].title));
      csv = tpt_figure_csv (tpt_job_findings_get_strip (job));
      for (const char *c = csv; (c = strstr (c, ",detection,")) != NULL; c++)
        detections++;
      g_assert_cmpuint (detections, ==, cases[i].first + cases[i].second);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  ADD ("/findings/detections", test_detections);
  ADD ("/findings/interval", test_interval);
  ADD ("/findings/hours", test_hours);
  ADD ("/findings/names", test_names);
  ADD ("/findings/period", test_period);
  ADD ("/findings/same", test_same);
  ADD ("/findings/beside", test_beside);
  return g_test_run ();
}
