#include "config.h"

#include "jobs-fixture.h"
#include "tpt-effort-private.h"
#include "tpt-pass-private.h"
#include "tpt-store.h"

/* Two stations, three deployments, one found dead; the store is a second look at the file. */
static TptStore *
open_valley (JobsFixture *f)
{
  g_autoptr (GError) error = NULL;
  TptStore *store;

  jobs_set (f, "clock_at", "2024-06-01T00:00:00.000Z");
  PUT (TPT_TABLE_STATIONS, "station", "S1", "latitude", "2.5", "longitude", "113.0", "name", "Salt lick");
  PUT (TPT_TABLE_STATIONS, "station", "S2");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "S1", "start", "2024-03-01T00:00:00Z", "end", "2024-04-01T00:00:00Z");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D2", "station", "S1", "start", "2024-04-01T00:00:00Z");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D3", "station", "S2", "start", "2024-03-10T12:00:00Z", "end", "2024-07-01T00:00:00Z");
  jobs_import (f, "visit,station,at,found\nV1,S1,2024-03-05T00:00:00Z,working\nV2,S1,2024-03-15T00:00:00Z,dead\n");
  jobs_import (f, "scientific_name,common_en,common_es\nRusa unicolor,Sambar,Sambar\nHelarctos malayanus,Sun bear,Oso malayo\n");
  jobs_import (f, "observation,deployment,start,end,type,scientific_name,count\n"
                  "O1,D1,2024-03-02T06:00:00+08:00,2024-03-02T06:10:00+08:00,animal,Rusa unicolor,1\n"
                  "O2,D1,2024-03-02T06:30:00+08:00,,animal,Rusa unicolor,3\n"
                  "O3,D1,2024-03-02T18:30:00+08:00,,animal,Helarctos malayanus,1\n"
                  "O4,D3,2024-03-20T12:00:00+08:00,,animal,Helarctos malayanus,2\n"
                  "O5,D3,2024-03-20T06:15:00+08:00,,animal,Rusa unicolor,1\n"
                  "O6,D1,2024-03-03T06:00:00+08:00,,blank,,\n");
  store = tpt_store_open (f->path, FALSE, &error);
  g_assert_no_error (error);
  return store;
}

static TptPass *
get (TptStore *store, const TptFilter *filter)
{
  g_autoptr (GError) error = NULL;
  TptPass *pass = tpt_pass_get (store, filter, NULL, &error);

  g_assert_no_error (error);
  return pass;
}

static void
check_ranges (GArray *got, GArray *want)
{
  g_assert_cmpuint (got->len, ==, want->len);
  for (guint i = 0; i < got->len; i++)
    {
      g_assert_cmpint (g_array_index (got, TptRange, i).from, ==, g_array_index (want, TptRange, i).from);
      g_assert_cmpint (g_array_index (got, TptRange, i).to, ==, g_array_index (want, TptRange, i).to);
    }
}

/* Effort cut out of what is kept is the effort that is read for the period. */
static void
test_effort (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *station; /* NULL: all */
    const char *from, *to;
  } cases[] = {
    { NULL, NULL, NULL },
    { "S1", NULL, NULL },
    { "S2", NULL, NULL },
    { NULL, "2024-03-10T06:00:00Z", "2024-03-12T18:00:00Z" }, /* in the gap */
    { NULL, "2024-03-04T00:00:00Z", NULL },
    { NULL, NULL, "2024-03-31T23:00:00Z" },
    { NULL, "2024-05-31T00:00:00Z", "2024-12-31T00:00:00Z" }, /* beyond now */
    { NULL, "2024-08-01T00:00:00Z", "2024-09-01T00:00:00Z" },
    { "S1", "2024-03-20T00:00:00Z", "2024-04-02T12:00:00Z" }, /* over the change of deployments */
  };
  g_autoptr (TptStore) store = open_valley (f);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFilter) filter = tpt_filter_new ();
      g_autoptr (TptPass) pass = NULL;
      g_autoptr (GPtrArray) want = NULL;
      double nights = 0;

      if (cases[i].station != NULL)
        filter->stations = g_strsplit (cases[i].station, ",", -1);
      filter->range = (TptRange){ maybe_at (cases[i].from), maybe_at (cases[i].to) };
      pass = get (store, filter);
      want = tpt_effort_read (store, filter, tpt_store_get_now (store), NULL);
      g_assert_cmpuint (pass->efforts->len, ==, want->len);
      for (guint k = 0; k < want->len; k++)
        {
          const TptEffort *one = pass->efforts->pdata[k], *other = want->pdata[k];

          g_assert_cmpstr (one->deployment, ==, other->deployment);
          g_assert_cmpfloat (one->nights, ==, other->nights); /* sums of the same milliseconds */
          check_ranges (one->worked, other->worked);
          g_assert_cmpuint (one->gaps->len, ==, other->gaps->len);
          nights += other->nights;
        }
      g_assert_cmpfloat_with_epsilon (pass->all_nights, nights, 1e-9);
    }
}

/* By the hand of a clock and of the sun: on 2 March 2024 the sun rises there at about 06:36
 * and sets at about 18:42 of +08:00 (by the times of sunrise in the almanac of the program). */
static void
test_hours (JobsFixture *f, gconstpointer data)
{
  static const struct {
    int from, to; /* minutes */
    gboolean by_sun;
    guint detections;
  } cases[] = {
    { -1, -1, FALSE, 4 },
    { 6 * 60, 7 * 60, FALSE, 2 },       /* the two records of one detection, and O5 */
    { 18 * 60, 6 * 60, FALSE, 1 },      /* over midnight */
    { 5 * 60, 6 * 60, TRUE, 1 },        /* O1 is before sunrise; S2 has no position */
    { 6 * 60, 7 * 60, TRUE, 0 },
    { 17 * 60, 18 * 60, TRUE, 1 },      /* O3 is before sunset */
    { 18 * 60, 5 * 60, TRUE, 0 },
  };
  g_autoptr (TptStore) store = open_valley (f);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFilter) filter = tpt_filter_new ();
      g_autoptr (TptPass) pass = NULL;

      filter->hour_from = cases[i].from;
      filter->hour_to = cases[i].to;
      filter->hours_by_sun = cases[i].by_sun;
      pass = get (store, filter);
      g_test_message ("%d", (int) i);
      g_assert_cmpuint (pass->detections->len, ==, cases[i].detections);
    }
}

static void
test_pick (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *species; /* NULL: all */
    const char *times;   /* day of March and hour, UTC */
    const char *name;
  } cases[] = {
    { NULL, "1T22 2T10 19T22 20T04", "All species" },
    { "Sun bear", "2T10 20T04", "Sun bear" },
    { "oso malayo", "2T10 20T04", "Sun bear" },
    { "Rusa unicolor", "1T22 19T22", "Sambar" },
    { "Sambar,Sun bear,Sambar", "1T22 2T10 19T22 20T04", "Sambar, Sun bear" },
  };
  static const struct {
    const char *name;
    gboolean offered; /* what may have been meant */
  } refused[] = { { "Unicorn", FALSE }, { "bear", TRUE }, { "helarctos", TRUE }, { "oso", TRUE }, { "ear", FALSE }, { "", FALSE } };
  g_autoptr (TptStore) store = open_valley (f);
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  g_autoptr (TptPass) pass = get (store, filter);
  g_autoptr (GError) error = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (GStrv) species = cases[i].species != NULL ? g_strsplit (cases[i].species, ",", -1) : NULL;
      g_autofree gboolean *chosen = tpt_pass_choose (pass, (const char *const *) species, &error);
      g_autoptr (GArray) picked = tpt_pass_pick (pass, chosen);
      g_autofree char *name = tpt_pass_name_species (pass, (const char *const *) species);
      g_autoptr (GString) times = g_string_new (NULL);

      g_assert_no_error (error);
      for (guint k = 0; k < picked->len; k++)
        {
          g_autofree char *text = tpt_instant_format (g_array_index (picked, TptDetection, k).at, NULL);
          g_string_append_printf (times, "%s%d%.3s", k > 0 ? " " : "", atoi (text + 8), text + 10);
        }
      g_assert_cmpstr (times->str, ==, cases[i].times);
      g_assert_cmpstr (name, ==, cases[i].name);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      g_assert_null (tpt_pass_choose (pass, (const char *const[]){ refused[i].name, NULL }, &error));
      g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
      g_assert_cmpint (strstr (error->message, "Sun bear") != NULL, ==, refused[i].offered);
      g_clear_error (&error);
    }
}

/* The largest number at once, from the first record to the last frame. */
static void
test_detection (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptStore) store = open_valley (f);
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  g_autoptr (TptPass) pass = NULL;
  const TptDetection *sambar;

  filter->stations = g_strsplit ("S1", ",", -1);
  pass = get (store, filter);
  sambar = &g_array_index (pass->detections, TptDetection, 1); /* after Helarctos */
  g_assert_cmpint (sambar->animals, ==, 3);
  g_assert_cmpint (sambar->at, ==, at ("2024-03-02T06:00:00+08:00"));
  g_assert_cmpint (sambar->until, ==, at ("2024-03-02T06:30:00+08:00"));
  g_assert_cmpfloat_with_epsilon (tpt_pass_get_hour (pass, sambar, FALSE), 6, 1e-12);
  g_assert_cmpfloat (tpt_pass_get_hour (pass, sambar, TRUE), <, 6);
  g_assert_cmpfloat (tpt_pass_get_altitude (pass, sambar), <, 0);
}

/* Kept while nothing changes, whoever changes it. */
static void
test_kept (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptStore) store = open_valley (f);
  g_autoptr (TptFilter) filter = tpt_filter_new (), other = tpt_filter_new ();
  g_autoptr (TptPass) first = get (store, filter), same = get (store, filter), another = NULL, theirs = NULL, ours = NULL;
  g_autoptr (TptAction) action = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_true (first == same);
  other->independence_min = 0;
  another = get (store, other);
  g_assert_cmpuint (another->detections->len, ==, 5);

  /* Another program writes. */
  jobs_import (f, "observation,deployment,start,type,scientific_name\nO7,D3,2024-03-25T12:00:00Z,animal,Rusa unicolor\n");
  theirs = get (store, filter);
  g_assert_cmpuint (theirs->detections->len, ==, first->detections->len + 1);

  /* This one does. */
  action = tpt_action_begin (store, "setting", &error);
  g_assert_no_error (error);
  g_assert_true (tpt_store_set_setting (store, "independence_min", "0", &error));
  g_assert_true (tpt_action_commit (action, &error));
  ours = get (store, filter);
  g_assert_cmpuint (ours->detections->len, ==, theirs->detections->len + 1);
  g_assert_cmpuint (first->detections->len, ==, 4); /* what somebody holds stays as it was */
}

/* What is no number of minutes in the file is not the project's choice. */
static void
test_settings (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *setting;
    double minutes;
  } cases[] = {
    { "0", 0 },     { "45.5", 45.5 }, { "1000000", 1e6 }, { "1000001", 30 }, { "1e300", 30 },
    { "-5", 30 },   { "", 30 },       { "nan", 30 },      { "inf", 30 },     { "half an hour", 30 },
  };
  g_autoptr (TptStore) store = open_valley (f);
  g_autoptr (TptFilter) filter = tpt_filter_new ();

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptPass) pass = NULL;

      jobs_set (f, "independence_min", cases[i].setting);
      pass = get (store, filter);
      g_assert_cmpfloat (pass->independence_min, ==, cases[i].minutes);
    }
}

static void
test_difference (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptStore) store = open_valley (f);
  g_autoptr (TptFilter) one = tpt_filter_new (), other = tpt_filter_new ();
  g_autoptr (TptPass) pass = NULL;
  g_autofree char *hours = NULL, *stations = NULL, *period = NULL, *species = NULL;

  one->hour_from = 17 * 60;
  one->hour_to = 20 * 60;
  pass = get (store, one);
  hours = tpt_pass_name_difference (pass, one, other);
  g_assert_cmpstr (hours, ==, "17:00 to 20:00");
  one->stations = g_strsplit ("S1", ",", -1);
  g_clear_pointer (&pass, tpt_pass_unref);
  pass = get (store, one);
  stations = tpt_pass_name_difference (pass, one, other);
  g_assert_cmpstr (stations, ==, "Salt lick");
  one->range.from = at ("2024-03-01T00:00:00+08:00");
  one->range.to = at ("2024-04-01T00:00:00+08:00");
  g_clear_pointer (&pass, tpt_pass_unref);
  pass = get (store, one);
  period = tpt_pass_name_difference (pass, one, other);
  g_assert_nonnull (strstr (period, "March 2024"));
  one->species = g_strsplit ("Rusa unicolor", ",", -1);
  species = tpt_pass_name_difference (pass, one, other);
  g_assert_cmpstr (species, ==, "Sambar");
}

static void
test_refused (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptStore) store = open_valley (f);
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) unknown = NULL, cancelled = NULL;

  g_cancellable_cancel (cancellable);
  g_assert_null (tpt_pass_get (store, filter, cancellable, &cancelled));
  g_assert_error (cancelled, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  filter->stations = g_strsplit ("S9", ",", -1);
  g_assert_null (tpt_pass_get (store, filter, NULL, &unknown));
  g_assert_error (unknown, TPT_ERROR, TPT_ERROR_DATA);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  ADD ("/pass/effort", test_effort);
  ADD ("/pass/hours", test_hours);
  ADD ("/pass/pick", test_pick);
  ADD ("/pass/detection", test_detection);
  ADD ("/pass/kept", test_kept);
  ADD ("/pass/settings", test_settings);
  ADD ("/pass/difference", test_difference);
  ADD ("/pass/refused", test_refused);
  return g_test_run ();
}
