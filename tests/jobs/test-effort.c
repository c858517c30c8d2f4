#include "config.h"

#include "jobs-fixture.h"
#include "tpt-job-effort.h"

static TptJobEffort *
ask (JobsFixture *f, const char *from, const char *to, const char *now)
{
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  TptJobEffort *job;

  filter->range = (TptRange){ maybe_at (from), maybe_at (to) };
  job = tpt_job_effort_new (filter, at (now));
  jobs_run (f, job);
  return job;
}

/* "dead 2024-03-05T10:00:00Z/2024-03-15T10:00:00Z" for every gap. */
static char *
tell_gaps (TptJobEffort *job)
{
  GPtrArray *deployments = tpt_job_effort_get_deployments (job);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < deployments->len; i++)
    {
      const TptEffort *effort = deployments->pdata[i];

      for (guint g = 0; g < effort->gaps->len; g++)
        {
          const TptGap *gap = &g_array_index (effort->gaps, TptGap, g);
          g_autofree char *from = tpt_instant_format (gap->range.from, NULL), *to = tpt_instant_format (gap->range.to, NULL);

          g_string_append_printf (text, "%s%s %.13s/%.13s", text->len > 0 ? ", " : "", tpt_gap_why_to_string (gap->why), from, to);
        }
    }
  return g_string_free (text, FALSE);
}

/* One deployment of 30 nights (CHECKS C1, first row); what was found on visits
 * as code, day of March at 10:00Z and finding; a day alone is a blank frame. */
static const struct {
  const char *events;
  const char *from, *to; /* NULL: all of it */
  double nights;         /* by hand */
  const char *gaps;
} cases[] = {
  { "", NULL, NULL, 30, "" },
  { "5 working", NULL, NULL, 30, "" },
  { "15 disturbed", NULL, NULL, 30, "" },
  { "15 dead", NULL, NULL, 16, "dead 2024-03-01T10/2024-03-15T10" }, /* nothing shows that it ever worked */
  { "5 working,15 dead", NULL, NULL, 20, "dead 2024-03-05T10/2024-03-15T10" },
  { "5 working,11,15 dead", NULL, NULL, 26, "dead 2024-03-11T10/2024-03-15T10" },
  { "11,15 card-full", NULL, NULL, 26, "card-full 2024-03-11T10/2024-03-15T10" },
  { "20,31 gone", NULL, NULL, 19, "gone 2024-03-20T10/2024-03-31T10" },
  { "10 dead,20 dead", NULL, NULL, 11, "dead 2024-03-01T10/2024-03-10T10, dead 2024-03-10T10/2024-03-20T10" },
  { "10 dead,12,20 dead", NULL, NULL, 13, "dead 2024-03-01T10/2024-03-10T10, dead 2024-03-12T10/2024-03-20T10" },
  { "15,15 dead", NULL, NULL, 30, "" }, /* a frame of that very moment */
  { "1 dead", NULL, NULL, 30, "" },     /* as it was set out */
  { "15 dead,16,17", NULL, NULL, 16, "dead 2024-03-01T10/2024-03-15T10" }, /* what comes later proves nothing */
  { "", "2024-03-10T10:00:00Z", "2024-03-12T22:00:00Z", 2.5, "" },
  { "", "2024-04-10T10:00:00Z", NULL, 0, "" },
  { "5 working,15 dead", "2024-03-10T10:00:00Z", "2024-03-12T22:00:00Z", 0, "dead 2024-03-10T10/2024-03-12T22" },
  { "5 working,15 dead", "2024-03-14T10:00:00Z", NULL, 16, "dead 2024-03-14T10/2024-03-15T10" },
  { "5 working,15 dead", NULL, "2024-03-06T10:00:00Z", 4, "dead 2024-03-05T10/2024-03-06T10" },
};

static void
put_event (JobsFixture *f, const char *event, guint number, const char *deployment)
{
  g_auto (GStrv) parts = g_strsplit (event, " ", 2);
  g_autofree char *when = g_strdup_printf ("2024-03-%02dT10:00:00Z", atoi (parts[0]));
  g_autofree char *code = g_strdup_printf ("E%u", number);

  if (parts[1] != NULL)
    PUT (TPT_TABLE_VISITS, "visit", code, "station", "S1", "at", when, "found", parts[1]);
  else
    PUT (TPT_TABLE_OBSERVATIONS, "observation", code, "deployment", deployment, "start", when, "type", "blank");
}

static void
put_events (JobsFixture *f, const char *events, const char *deployment)
{
  g_auto (GStrv) parts = g_strsplit (events, ",", -1);

  for (guint i = 0; parts[i] != NULL; i++)
    put_event (f, parts[i], i, deployment);
}

static void
test_cases (JobsFixture *unused, gconstpointer data)
{
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      JobsFixture own, *f = &own;
      g_autoptr (TptJobEffort) job = NULL;
      g_autofree char *gaps = NULL;

      jobs_set_up (f, NULL);
      PUT (TPT_TABLE_STATIONS, "station", "S1");
      PUT (TPT_TABLE_STATIONS, "station", "S2");
      PUT (TPT_TABLE_VISITS, "visit", "V2", "station", "S2", "at", "2024-03-20T10:00:00Z", "found", "dead"); /* elsewhere */
      PUT (TPT_TABLE_VISITS, "visit", "V1", "station", "S1", "at", "2024-04-20T10:00:00Z", "found", "dead"); /* long after */
      PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "S1", "start", "2024-03-01T10:00:00Z", "end", "2024-03-31T10:00:00Z");
      put_events (f, cases[i].events, "D1");
      job = ask (f, cases[i].from, cases[i].to, "2024-06-01T00:00:00Z");
      gaps = tell_gaps (job);
      g_test_message ("%s", cases[i].events);
      g_assert_cmpfloat_with_epsilon (tpt_job_effort_get_nights (job), cases[i].nights, 1e-9);
      g_assert_cmpstr (gaps, ==, cases[i].gaps);
      jobs_tear_down (f, NULL);
    }
}

/* A deployment ended and begun anew on a visit works as long as the one. */
static void
test_split (JobsFixture *unused, gconstpointer data)
{
  static const struct {
    const char *before, *after; /* events of each half */
  } halves[] = {
    { "5 working,8,15 working", "18,25 dead" },
    { "5,15 dead", "25 working" },
    { "15 card-full", "30 gone" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (halves); i++)
    {
      double nights[2];

      for (guint split = 0; split < 2; split++)
        {
          JobsFixture own, *f = &own;
          g_autoptr (TptJobEffort) job = NULL;
          g_autofree char *after = g_strdup (halves[i].after);
          g_auto (GStrv) parts = g_strsplit (after, ",", -1);

          jobs_set_up (f, NULL);
          PUT (TPT_TABLE_STATIONS, "station", "S1");
          PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "S1", "start", "2024-03-01T10:00:00Z", "end",
               split ? "2024-03-15T10:00:00Z" : "2024-03-31T10:00:00Z");
          if (split)
            PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D2", "station", "S1", "start", "2024-03-15T10:00:00Z", "end", "2024-03-31T10:00:00Z");
          put_events (f, halves[i].before, "D1");
          for (guint e = 0; parts[e] != NULL; e++)
            put_event (f, parts[e], 100 + e, split ? "D2" : "D1");
          job = ask (f, NULL, NULL, "2024-06-01T00:00:00Z");
          nights[split] = tpt_job_effort_get_nights (job);
          jobs_tear_down (f, NULL);
        }
      g_test_message ("%s | %s", halves[i].before, halves[i].after);
      g_assert_cmpfloat_with_epsilon (nights[0], nights[1], 1e-9);
      g_assert_cmpfloat (nights[0], >, 0);
    }
}

/* What still runs counts until the moment of asking; one not begun, nothing. */
static void
test_running (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *now;
    double nights;
  } moments[] = {
    { "2024-02-01T00:00:00Z", 0 },
    { "2024-03-01T10:00:00Z", 0 },
    { "2024-03-11T22:00:00Z", 10.5 },
    { "2024-03-20T10:00:00Z", 0 },   /* found dead that day: nothing shows that it worked */
    { "2024-03-25T10:00:00Z", 5 },
  };

  PUT (TPT_TABLE_STATIONS, "station", "S1");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "S1", "start", "2024-03-01T10:00:00Z");
  PUT (TPT_TABLE_VISITS, "visit", "V1", "station", "S1", "at", "2024-03-20T10:00:00Z", "found", "dead");
  for (gsize i = 0; i < G_N_ELEMENTS (moments); i++)
    {
      g_autoptr (TptJobEffort) job = ask (f, NULL, NULL, moments[i].now);

      g_test_message ("%s", moments[i].now);
      g_assert_cmpfloat_with_epsilon (tpt_job_effort_get_nights (job), moments[i].nights, 1e-9);
    }
}

/* An end that is planned has not been reached: nothing ahead has been worked. */
static void
test_end_ahead (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *now;
    double nights;
    guint stretches;
  } moments[] = {
    { "2024-02-01T00:00:00Z", 0, 0 }, { "2024-03-11T22:00:00Z", 10.5, 1 }, { "2024-03-31T10:00:00Z", 30, 1 }, { "2024-06-01T00:00:00Z", 30, 1 },
  };

  PUT (TPT_TABLE_STATIONS, "station", "S1");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "S1", "start", "2024-03-01T10:00:00Z", "end", "2024-03-31T10:00:00Z");
  for (gsize i = 0; i < G_N_ELEMENTS (moments); i++)
    {
      g_autoptr (TptJobEffort) job = ask (f, NULL, NULL, moments[i].now);
      const TptEffort *effort = tpt_job_effort_get_deployments (job)->pdata[0];

      g_test_message ("%s", moments[i].now);
      g_assert_cmpfloat_with_epsilon (tpt_job_effort_get_nights (job), moments[i].nights, 1e-9);
      g_assert_cmpuint (effort->worked->len, ==, moments[i].stretches);
      if (effort->worked->len > 0)
        g_assert_cmpint (g_array_index (effort->worked, TptRange, 0).to, <=, at (moments[i].now));
    }
}

/* Frames of a card are proof too, as long as their batch counts. */
static void
test_frames (JobsFixture *f, gconstpointer data)
{
  static const double nights[] = { 26, 16, 26 }; /* taken in, withdrawn, back again */

  PUT (TPT_TABLE_STATIONS, "station", "S1");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "S1", "start", "2024-03-01T10:00:00Z", "end", "2024-03-31T10:00:00Z");
  PUT (TPT_TABLE_VISITS, "visit", "V1", "station", "S1", "at", "2024-03-15T10:00:00Z", "found", "dead");
  jobs_import (f, "frame,deployment,file,camera_time\nF1,D1,a.jpg,2024-03-11T18:00:00\nF2,D1,b.jpg,2024-03-02T18:00:00\n");
  for (gsize i = 0; i < G_N_ELEMENTS (nights); i++)
    {
      g_autoptr (TptJobEffort) job = NULL;

      if (i > 0)
        jobs_undo (f, i == 2);
      job = ask (f, NULL, NULL, "2024-06-01T00:00:00Z");
      g_assert_cmpfloat_with_epsilon (tpt_job_effort_get_nights (job), nights[i], 1e-9);
    }
}

static void
test_stations (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *stations;
    double nights; /* negative: refused */
  } filters[] = {
    { "S1", 10 }, { "S2", 5 }, { "S1,S2", 15 }, { "S2,S2", 5 }, { "S3", -1 }, { "S1,s2", -1 },
  };

  PUT (TPT_TABLE_STATIONS, "station", "S1");
  PUT (TPT_TABLE_STATIONS, "station", "S2");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "S1", "start", "2024-03-01T10:00:00Z", "end", "2024-03-11T10:00:00Z");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D2", "station", "S2", "start", "2024-03-01T10:00:00Z", "end", "2024-03-06T10:00:00Z");
  for (gsize i = 0; i < G_N_ELEMENTS (filters); i++)
    {
      g_autoptr (TptFilter) filter = tpt_filter_new ();
      g_autoptr (TptJobEffort) job = NULL;
      g_autoptr (GError) error = NULL;

      filter->stations = g_strsplit (filters[i].stations, ",", -1);
      job = tpt_job_effort_new (filter, at ("2024-06-01T00:00:00Z"));
      g_test_message ("%s", filters[i].stations);
      g_assert_cmpint (tpt_project_run (f->project, TPT_JOB (job), NULL, &error), ==, filters[i].nights >= 0);
      if (filters[i].nights < 0)
        g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
      else
        g_assert_cmpfloat_with_epsilon (tpt_job_effort_get_nights (job), filters[i].nights, 1e-9);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  ADD ("/effort/cases", test_cases);
  ADD ("/effort/split", test_split);
  ADD ("/effort/running", test_running);
  ADD ("/effort/end-ahead", test_end_ahead);
  ADD ("/effort/frames", test_frames);
  ADD ("/effort/stations", test_stations);
  return g_test_run ();
}
