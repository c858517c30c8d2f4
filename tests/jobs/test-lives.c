#include "config.h"

#include "jobs-fixture.h"
#include "tpt-job-lives.h"

/* The moment of asking in every case. */
#define NOW "2026-03-01T00:00:00+08:00"

static TptJobLives *
ask (JobsFixture *f, TptLivesBy by)
{
  g_autoptr (GError) error = NULL;
  TptJobLives *job;

  jobs_set (f, "clock_at", NOW); /* is read when a project is opened */
  g_clear_object (&f->project);
  f->project = tpt_project_open (f->path, &error);
  g_assert_no_error (error);
  job = tpt_job_lives_new (by);
  jobs_run (f, job);
  return job;
}

/* "camera 3/1: 10 20! 30" for each group: units, failures, ages (! failed). */
static char *
tell (TptJobLives *job)
{
  GPtrArray *groups = tpt_job_lives_get_groups (job);
  GString *text = g_string_new (NULL);

  for (guint g = 0; g < groups->len; g++)
    {
      const TptLifeGroup *group = groups->pdata[g];

      g_string_append_printf (text, "%s%s %u/%u:", g > 0 ? "; " : "", group->group, group->n, group->failures);
      for (guint i = 0; i < group->ends->len; i++)
        {
          const TptLivesEnd *end = &g_array_index (group->ends, TptLivesEnd, i);

          g_string_append_printf (text, " %g%s", end->days, end->failed ? "!" : "");
        }
    }
  return g_string_free (text, FALSE);
}

static void
put_rig (JobsFixture *f, const char *unit, const char *from)
{
  g_autofree char *table = g_strdup_printf ("deployment,unit,from,to\nD1,%s,%s,\n", unit, from);

  if (jobs_count (f, TPT_TABLE_STATIONS) == 0)
    jobs_import (f, "station,name\nS1,One\n");
  jobs_import (f, "deployment,station,start\nD1,S1,2025-01-01T00:00\n");
  jobs_import (f, table);
}

/* One unit, U1, and what is on record of it; ages counted by hand in days of
 * 24 hours, +08:00 without daylight saving. 1 January 2026 to 1 March are 59. */
static void
test_one_life (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *what;
    const char *acquired, *retired, *cause, *fitted;
    const char *log;  /* rows of the log: at,what,cause */
    const char *tells; /* NULL: it is left out */
    const char *why;
  } cases[] = {
    { "at work", "2026-01-01", "", "", NULL, NULL, "59", "" },
    { "first fitted, when nobody knows when it was bought", "", "", "", "2026-01-01T12:00", NULL, "58.5", "" },
    { "bought counts, not the fitting", "2026-01-01", "", "", "2026-02-01T12:00", NULL, "59", "" },
    { "neither", "", "", "", NULL, NULL, NULL, "Left out: 1 was neither acquired on a known day nor ever fitted." },
    { "to be bought", "2026-04-01", "", "", NULL, NULL, NULL, "Left out: 1 is not in use yet." },
    { "retired without a cause: not a failure", "2026-01-01", "2026-01-11", "", NULL, NULL, "10", "" },
    { "retired for a cause", "2026-01-01", "2026-01-11", "moisture", NULL, NULL, "10!", "" },
    { "retired for a cause nobody knows", "2026-01-01", "2026-01-11", "unknown", NULL, NULL, "10!", "" },
    { "to be retired", "2026-01-01", "2026-03-02", "age", NULL, NULL, "59", "" },
    { "on the very day", "2026-01-01", "2026-01-01", "theft", NULL, NULL, "0!", "" },
    { "fitted at noon and retired that day", "", "2026-01-11", "fall", "2026-01-11T12:00", NULL, "0!", "" },
    { "retired before it was bought", "2026-01-01", "2025-12-31", "age", NULL, NULL, NULL,
      "Left out: 1 ended before it began, by its dates." },
    { "a failure", "2026-01-01", "", "", NULL, "2026-01-06T12:00,failure,insects", "5.5!", "" },
    { "a loss", "2026-01-01", "", "", NULL, "2026-01-06T12:00,loss,theft", "5.5!", "" },
    { "the first of two", "2026-01-01", "", "", NULL, "2026-02-06T12:00,failure,insects|2026-01-06T12:00,failure,moisture", "5.5!", "" },
    { "damage, repair, cleaning and a check are none", "2026-01-01", "", "", NULL,
      "2026-01-06T12:00,damage,animal|2026-01-07T12:00,repair,|2026-01-08T12:00,cleaning,|2026-01-09T12:00,check,", "59", "" },
    { "repaired since: the first failure all the same", "2026-01-01", "", "", NULL,
      "2026-01-06T12:00,failure,moisture|2026-01-07T12:00,repair,", "5.5!", "" },
    { "not yet known", "2026-01-01", "", "", NULL, "2026-03-01T00:01,failure,moisture", "59", "" },
    { "known just now", "2026-01-01", "", "", NULL, "2026-03-01T00:00,failure,moisture", "59!", "" },
    { "failed, then retired for it", "2026-01-01", "2026-01-20", "moisture", NULL, "2026-01-06T12:00,failure,moisture", "5.5!", "" },
    { "the log knows the hour of the last day", "2026-01-01", "2026-01-06", "moisture", NULL, "2026-01-06T12:00,failure,moisture", "5.5!", "" },
    { "broken on the shelf, after it was retired", "2026-01-01", "2026-01-06", "", NULL, "2026-02-06T12:00,failure,fall", "5", "" },
    { "failed before it was bought", "2026-01-01", "", "", NULL, "2025-12-06T12:00,failure,fall", NULL,
      "Left out: 1 ended before it began, by its dates." },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      JobsFixture own = { NULL, NULL, NULL };
      g_autofree char *unit = g_strdup_printf ("unit,kind,acquired,retired,retire_cause\nU1,camera,%s,%s,%s\n", cases[i].acquired,
                                               cases[i].retired, cases[i].cause);
      g_auto (GStrv) rows = g_strsplit (cases[i].log != NULL ? cases[i].log : "", "|", -1);
      g_autoptr (TptJobLives) job = NULL;
      g_autofree char *got = NULL, *want = NULL;

      jobs_set_up (&own, NULL);
      jobs_import (&own, unit);
      if (cases[i].fitted != NULL)
        put_rig (&own, "U1", cases[i].fitted);
      for (guint row = 0; rows[row] != NULL; row++)
        {
          g_autofree char *entry = g_strdup_printf ("entry,unit,at,what,cause\nE%u,U1,%s\n", row, rows[row]);
          jobs_import (&own, entry);
        }
      job = ask (&own, TPT_LIVES_BY_KIND);
      got = tell (job);
      want = cases[i].tells == NULL ? g_strdup ("")
                                    : g_strdup_printf ("camera 1/%d: %s", strchr (cases[i].tells, '!') != NULL, cases[i].tells);
      g_test_message ("%s", cases[i].what);
      g_assert_cmpstr (got, ==, want);
      g_assert_cmpstr (tpt_job_lives_get_left_out_words (job), ==, cases[i].why);
      g_assert_cmpuint (tpt_job_lives_get_left_out (job), ==, cases[i].tells == NULL);
      jobs_tear_down (&own, NULL);
    }
}

/* 1 April 2025 is 31 days after 1 March, but in Berlin an hour less. */
static void
test_daylight (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobLives) job = NULL;
  g_autofree char *got = NULL;

  jobs_import (f, "unit,kind,acquired,retired,retire_cause\nU1,flash,2025-03-01,2025-04-01,flood\n");
  job = ask (f, TPT_LIVES_BY_KIND);
  got = tell (job);
  g_assert_true (g_str_has_prefix (got, "flash 1/1: 30.958"));
}

static const char mixed[] =
  "unit,kind,make,model,housing,acquired,retired,retire_cause\n"
  "C1,camera,Fern,One,box,2026-01-01,2026-01-11,moisture\n"
  "C2,camera,Ford,One,box,2026-01-01,2026-01-21,animal\n"
  "C3,camera,Fern,Two,,2026-01-01,,\n"
  "M1,card,,,,2026-01-01,2026-01-31,age\n"
  "P1,pack,,Heavy,bag,2026-01-01,,\n";

static void
test_groups (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *word;
    const char *tells;
    const char *sentence;
    const char *left_out;
  } cases[] = {
    { "kind", "camera 3/2: 10! 20! 59; pack 1/0: 59; card 1/1: 30!", "3 of 5 units failed in 178 days at work.", "" },
    { "housing", "bag 1/0: 59; box 2/2: 10! 20!", "2 of 3 units failed in 89 days at work.", "Left out: 2 have no housing on record." },
    /* two makes have a One */
    { "model", "Fern One 1/1: 10!; Ford One 1/1: 20!; Heavy 1/0: 59; Two 1/0: 59", "2 of 4 units failed in 148 days at work.",
      "Left out: 1 has no model on record." },
    { "cause", "moisture 5/1: 10! 20 30 59 59; animal 5/1: 10 20! 30 59 59; age 5/1: 10 20 30! 59 59",
      "3 of 5 units failed in 178 days at work.", "" },
  };

  jobs_import (f, mixed);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobLives) job = NULL;
      g_autofree char *got = NULL;
      TptLivesBy by;

      g_assert_true (tpt_lives_by_parse (cases[i].word, &by));
      job = ask (f, by);
      got = tell (job);
      g_assert_cmpstr (got, ==, cases[i].tells);
      g_assert_cmpstr (tpt_job_lives_get_left_out_words (job), ==, cases[i].left_out);
      g_assert_cmpstr (tpt_job_lives_get_sentence (job), ==, cases[i].sentence);
    }
}

static void
test_words (JobsFixture *f, gconstpointer data)
{
  TptLivesBy by;

  g_assert_false (tpt_lives_by_parse ("colour", &by));
  g_assert_false (tpt_lives_by_parse ("", &by));
}

/* @n units of a kind, the first @failed of them failed at ages of 1, 2, 3 ... days. */
static void
put_units (JobsFixture *f, const char *kind, guint n, guint failed)
{
  g_autoptr (GString) table = g_string_new ("unit,kind,acquired,retired,retire_cause\n");

  for (guint i = 0; i < n; i++)
    if (i < failed)
      g_string_append_printf (table, "%s-%u,%s,2026-01-01,2026-01-%02u,age\n", kind, i, kind, i + 2);
    else
      g_string_append_printf (table, "%s-%u,%s,2026-01-01,,\n", kind, i, kind);
  jobs_import (f, table->str);
}

/* The rule for a curve: at least 5 units and 2 failures; for a test two groups
 * of 5 units with 5 failures. */
static void
test_too_few (JobsFixture *f, gconstpointer data)
{
  static const struct {
    guint cameras, camera_failures, packs, pack_failures;
    const char *reason; /* of the cameras; NULL: a curve */
    gboolean test;
  } cases[] = {
    { 4, 4, 9, 9, "too few for a curve, which takes 5 units", FALSE },
    { 5, 0, 9, 9, "no curve: none has failed so far", TRUE },
    { 5, 1, 9, 9, "no curve, which takes 2 failures", TRUE },
    { 5, 2, 9, 2, NULL, FALSE },
    { 5, 2, 9, 3, NULL, TRUE },
    { 5, 5, 4, 4, NULL, FALSE },
    { 9, 9, 0, 0, NULL, FALSE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      JobsFixture own = { NULL, NULL, NULL };
      g_autoptr (TptJobLives) job = NULL;
      const TptLifeGroup *cameras;
      const TptLifeTest *test;

      jobs_set_up (&own, NULL);
      put_units (&own, "camera", cases[i].cameras, cases[i].camera_failures);
      if (cases[i].packs > 0)
        put_units (&own, "pack", cases[i].packs, cases[i].pack_failures);
      job = ask (&own, TPT_LIVES_BY_KIND);
      cameras = tpt_job_lives_get_groups (job)->pdata[0];
      test = tpt_job_lives_get_test (job);
      g_test_message ("%u of %u: %s", cases[i].camera_failures, cases[i].cameras, test->words);
      g_assert_cmpstr (cameras->reason, ==, cases[i].reason);
      g_assert_cmpuint (cameras->steps->len, ==, cases[i].reason == NULL ? cases[i].camera_failures : 0);
      g_assert_true (cases[i].reason == NULL || isnan (cameras->median));
      g_assert_cmpint (isnan (test->p), ==, !cases[i].test);
      g_assert_true (g_str_has_prefix (test->words, "No test") == !cases[i].test);
      jobs_tear_down (&own, NULL);
    }
}

/* Without a failure there is a lower limit of the time between failures: 4
 * units for 59 days, 2 x 236 / chi-square (0.95; 2) = 236 / ln 20. */
static void
test_none_failed (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobLives) job = NULL;
  const TptLifeGroup *group;

  put_units (f, "camera", 4, 0);
  job = ask (f, TPT_LIVES_BY_KIND);
  group = tpt_job_lives_get_groups (job)->pdata[0];
  g_assert_true (isnan (group->mtbf) && isnan (group->mtbf_high));
  g_assert_cmpfloat_with_epsilon (group->mtbf_low, 236 / log (20), 1e-9);
}

/* An empty project says so, and draws it. */
static void
test_empty (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobLives) job = ask (f, TPT_LIVES_BY_CAUSE);

  g_assert_cmpuint (tpt_job_lives_get_groups (job)->len, ==, 0);
  g_assert_cmpstr (tpt_job_lives_get_sentence (job), ==, "No unit’s life is on record yet.");
  g_assert_nonnull (tpt_job_lives_get_figure (job));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  ADD ("/lives/one-life", test_one_life);
  g_test_add ("/lives/daylight", JobsFixture, "Europe/Berlin", jobs_set_up, test_daylight, jobs_tear_down);
  ADD ("/lives/groups", test_groups);
  ADD ("/lives/words", test_words);
  ADD ("/lives/too-few", test_too_few);
  ADD ("/lives/none-failed", test_none_failed);
  ADD ("/lives/empty", test_empty);
  return g_test_run ();
}
