#include "config.h"

#include "jobs-fixture.h"
#include "tpt-job-due.h"

/* S1 with a camera that only sleeps, 2000 mAh at 2 mA and what such cells lose
 * by themselves, 30 % a year: 40.29 days, by hand; its card of 16 GB holds 3200
 * frames. S2 and S3 stand empty. */
#define DAYS (2000.0 / (2 * 24 + 2000 * 0.3 / 365.25))

static void
set_up (JobsFixture *f, gconstpointer data)
{
  jobs_set_up (f, "Asia/Kuching");
  PUT (TPT_TABLE_STATIONS, "station", "S3");
  PUT (TPT_TABLE_STATIONS, "station", "S2");
  PUT (TPT_TABLE_STATIONS, "station", "S1", "name", "Otter bank");
  PUT (TPT_TABLE_UNITS, "unit", "K1", "kind", "camera", "label", "Grey box", "chemistry", "nimh", "cells_series", "4", "cells_parallel", "1",
       "cell_mah", "2000", "sleep_ma", "2");
  PUT (TPT_TABLE_UNITS, "unit", "C1", "kind", "card", "capacity_gb", "16");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "S1", "start", "2026-01-01T00:00:00Z", "frames_per_trigger", "1", "frame_mb", "5");
  PUT (TPT_TABLE_FITTINGS, "deployment", "D1", "unit", "K1", "from", "2026-01-01T00:00:00Z");
  PUT (TPT_TABLE_FITTINGS, "deployment", "D1", "unit", "C1", "from", "2026-01-01T00:00:00Z");
}

static TptJobDue *
ask (JobsFixture *f, const char *on, const char *until)
{
  TptJobDue *job = tpt_job_due_new (at (on), maybe_at (until));

  jobs_run (f, job);
  return job;
}

/* (transfer none): the list keeps it. */
static const TptForecast *
forecast_of (TptJobDue *job, guint position)
{
  g_autoptr (TptStationItem) item = g_list_model_get_item (tpt_job_due_get_stations (job), position);

  return tpt_station_item_get_forecast (item);
}

static char *
tell_interval (const TptInterval *interval)
{
  return g_strdup_printf ("%" G_GINT64_FORMAT " %" G_GINT64_FORMAT " %" G_GINT64_FORMAT " %d", interval->p10, interval->p50, interval->p90,
                          interval->state);
}

/* All that is said, in one text. */
static char *
tell (TptJobDue *job)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < g_list_model_get_n_items (tpt_job_due_get_stations (job)); i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (tpt_job_due_get_stations (job), i);
      const TptForecast *forecast = tpt_station_item_get_forecast (item);
      g_autofree char *interval = tell_interval (&forecast->interval), *card = tell_interval (&forecast->card.interval);

      g_string_append_printf (text, "%s %d %.17g %.17g %s %s %.17g %s %.17g\n", tpt_station_item_get_code (item), forecast->state,
                              forecast->p_down, forecast->lost_nights, interval, forecast->limiting, forecast->triggers_per_day, card,
                              forecast->card.frames_left);
      for (guint u = 0; u < forecast->units->len; u++)
        {
          const TptUnitForecast *unit = forecast->units->pdata[u];
          g_autofree char *when = tell_interval (&unit->interval);

          g_string_append_printf (text, "  %s %.17g %.17g %s\n", unit->unit, unit->p_out, unit->left, when);
        }
    }
  g_string_append_printf (text, "%s\n%s\n", tpt_job_due_get_summary (job), tpt_job_due_get_bring (job));
  return g_string_free (text, FALSE);
}

static void
test_run_out (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobDue) job = ask (f, "2026-01-10T00:00:00Z", NULL);
  const TptForecast *forecast = forecast_of (job, 0);
  const TptUnitForecast *unit = forecast->units->pdata[0];
  static const char *const order[] = { "S1", "S2", "S3" }; /* those without a rig last, by code */

  g_assert_cmpint (tpt_job_due_get_until (job), ==, at ("2026-02-07T00:00:00Z")); /* 28 days on */
  g_assert_cmpuint (g_list_model_get_n_items (tpt_job_due_get_stations (job)), ==, 3);
  for (guint i = 0; i < 3; i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (tpt_job_due_get_stations (job), i);

      g_assert_cmpstr (tpt_station_item_get_code (item), ==, order[i]);
      g_assert_cmpint (tpt_station_item_get_deployment (item) != NULL, ==, i == 0);
      g_assert_cmpint (tpt_station_item_get_forecast (item)->state == TPT_STATE_UNKNOWN, ==, i > 0);
    }
  g_assert_cmpfloat_with_epsilon ((double) (forecast->interval.p50 - at ("2026-01-01T00:00:00Z")) / TPT_DAY, DAYS, 0.05); /* the grid's step */
  g_assert_cmpint (forecast->interval.p10, <, forecast->interval.p50);
  g_assert_cmpint (forecast->interval.p50, <, forecast->interval.p90);
  g_assert_cmpstr (forecast->limiting, ==, "K1");
  g_assert_cmpstr (forecast->limiting_label, ==, "Grey box");
  g_assert_cmpuint (forecast->units->len, ==, 1); /* the card is none of these */
  g_assert_cmpstr (unit->kind, ==, "camera");
  g_assert_cmpfloat_with_epsilon (unit->left, 1 - 9 / DAYS, 1e-3);
  g_assert_cmpstr (forecast->card.unit, ==, "C1");
  g_assert_cmpfloat (forecast->card.frames_left, ==, 3200);
}

/* A visit with its reading, and what is said some days later. */
static void
test_visits (JobsFixture *unused, gconstpointer data)
{
  static const struct {
    const char *what;
    const char *found, *frames, *percent, *action;
    const char *on; /* asked at, until ten days later */
    TptSymbolState state;
    const char *limiting; /* NULL: not looked at */
    /* Days of January between which the median lies; NAN: not looked at. A
     * reading that shows more drawn than the sheet says is believed in part:
     * sooner than the sheet's drain from there on, later than at the pace seen
     * so far. */
    double no_sooner, no_later;
  } cases[] = {
    { "working, nothing done", "working", "", "", "", "2026-01-12T00:00:00Z", TPT_STATE_FINE, "K1", DAYS - 0.5, DAYS + 0.5 },
    { "swapped, three times as fast as the sheet", "working", "", "30", "swapped", "2026-01-12T00:00:00Z", TPT_STATE_FINE, NULL, 10 + 10 / 0.7, 10 + DAYS },
    { "charged", "dead", "", "0", "charged", "2026-01-12T00:00:00Z", TPT_STATE_SOON, NULL, 10 + 10, 10 + DAYS },
    { "half left", "working", "", "50", "none", "2026-01-12T00:00:00Z", TPT_STATE_SOON, "K1", 20, 10 + DAYS / 2 },
    { "a third left", "working", "", "35", "none", "2026-01-12T00:00:00Z", TPT_STATE_NOW, "K1", 10 / 0.65, 10 + DAYS * 0.35 },
    { "little left", "working", "", "20", "none", "2026-01-12T00:00:00Z", TPT_STATE_NOW, "K1", 10 / 0.8, 10 + DAYS / 5 },
    { "long ago", "working", "", "20", "none", "2026-02-12T00:00:00Z", TPT_STATE_DOWN, "K1", 10 / 0.8, 10 + DAYS / 5 },
    { "dead and left so", "dead", "", "", "", "2026-01-12T00:00:00Z", TPT_STATE_DOWN, NULL, 10, 10 },
    { "only cleaned", "dead", "", "0", "cleaned", "2026-01-12T00:00:00Z", TPT_STATE_DOWN, "K1", 10, 10 },
    { "gone", "gone", "", "", "", "2026-01-12T00:00:00Z", TPT_STATE_DOWN, NULL, 10, 10 },
    { "card nearly full", "working", "3190", "", "", "2026-01-12T00:00:00Z", TPT_STATE_DOWN, "card", NAN, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      JobsFixture own, *f = &own;
      g_autoptr (TptJobDue) job = NULL;
      const TptForecast *forecast;
      TptInstant on = at (cases[i].on);
      g_autofree char *until = tpt_instant_format (on + 10 * TPT_DAY, NULL);

      set_up (f, NULL);
      PUT (TPT_TABLE_VISITS, "visit", "V1", "station", "S1", "at", "2026-01-11T00:00:00Z", "found", cases[i].found, "frames_on_card", cases[i].frames);
      if (*cases[i].percent != '\0')
        PUT (TPT_TABLE_READINGS, "visit", "V1", "unit", "K1", "percent", cases[i].percent, "action", cases[i].action);
      job = ask (f, cases[i].on, until);
      forecast = forecast_of (job, 0);
      g_test_message ("%s: state %d, p_down %g, %s", cases[i].what, forecast->state, forecast->p_down, tpt_job_due_get_summary (job));
      g_assert_cmpint (forecast->state, ==, cases[i].state);
      if (cases[i].limiting != NULL)
        g_assert_cmpstr (forecast->limiting, ==, cases[i].limiting);
      if (!isnan (cases[i].no_sooner))
        {
          double median = (double) (forecast->interval.p50 - at ("2026-01-01T00:00:00Z")) / TPT_DAY;

          g_assert_cmpfloat (median, >=, cases[i].no_sooner);
          g_assert_cmpfloat (median, <=, cases[i].no_later);
        }
      g_assert_cmpfloat (forecast->p_down, >=, 0);
      g_assert_cmpfloat (forecast->p_down, <=, 1);
      g_assert_cmpfloat (forecast->lost_nights, >=, 0);
      g_assert_cmpfloat (forecast->lost_nights, <=, 10);
      /* What is to be brought is what limits, when no single part would say so;
       * nothing for a rig that is gone. */
      g_assert_cmpint (*tpt_job_due_get_bring (job) != '\0', ==, forecast->p_down >= 0.1 && !g_str_equal (cases[i].found, "gone"));
      jobs_tear_down (f, NULL);
    }
}

/* The state follows the chance of being down by the next round and the
 * project's threshold; nearer rounds are never more dangerous. */
static void
test_thresholds (JobsFixture *f, gconstpointer data)
{
  static const double thresholds[] = { 0.01, 0.1, 0.3 };
  double last = 1;

  for (int days = 45; days >= 5; days -= 5)
    {
      g_autofree char *until = tpt_instant_format (at ("2026-01-02T00:00:00Z") + days * TPT_DAY, NULL);

      for (gsize t = 0; t < G_N_ELEMENTS (thresholds); t++)
        {
          g_autofree char *text = g_strdup_printf ("%g", thresholds[t]);
          g_autoptr (TptJobDue) job = NULL;
          const TptForecast *forecast;

          jobs_set (f, "due_threshold", text);
          job = ask (f, "2026-01-02T00:00:00Z", until);
          forecast = forecast_of (job, 0);
          g_test_message ("%d days, threshold %g: %g", days, thresholds[t], forecast->p_down);
          g_assert_cmpfloat (forecast->p_down, <=, last + 1e-12);
          last = forecast->p_down;
          g_assert_cmpint (forecast->state, ==,
                           forecast->p_down >= 0.5               ? TPT_STATE_NOW
                           : forecast->p_down >= thresholds[t] ? TPT_STATE_SOON
                                                               : TPT_STATE_FINE);
        }
    }
  g_assert_cmpfloat (last, <, 0.01);
}

static void
test_round (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *round_at; /* a setting of the project */
    const char *until;    /* asked for */
    const char *comes_to;
  } cases[] = {
    { "2026-01-20T08:00:00", NULL, "2026-01-20T00:00:00Z" }, /* in the project's zone */
    { "2026-01-20T08:00:00", "2026-01-15T00:00:00Z", "2026-01-15T00:00:00Z" },
    { "2026-01-05", NULL, "2026-02-07T00:00:00Z" }, /* gone by: 28 days on */
    { "someday", NULL, "2026-02-07T00:00:00Z" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobDue) job = NULL;

      jobs_set (f, "round_at", cases[i].round_at);
      job = ask (f, "2026-01-10T00:00:00Z", cases[i].until);
      g_assert_cmpint (tpt_job_due_get_until (job), ==, at (cases[i].comes_to));
    }
}

/* What comes after the moment of asking is as if it were not on record. */
static void
test_later (JobsFixture *f, gconstpointer data)
{
  g_autofree char *before = NULL;
  g_autoptr (TptJobDue) first = NULL;

  PUT (TPT_TABLE_VISITS, "visit", "V0", "station", "S1", "at", "2026-01-09T00:00:00Z", "found", "working", "frames_on_card", "60");
  PUT (TPT_TABLE_READINGS, "visit", "V0", "unit", "K1", "percent", "80", "action", "none");
  jobs_import (f, "frame,deployment,file,camera_time\nF1,D1,1.jpg,2026-01-03T00:00:00\nF2,D1,2.jpg,2026-01-05T00:00:00\n");
  first = ask (f, "2026-01-10T00:00:00Z", NULL);
  before = tell (first);

  PUT (TPT_TABLE_VISITS, "visit", "V1", "station", "S1", "at", "2026-01-10T00:00:00.001Z", "found", "dead", "frames_on_card", "3000");
  PUT (TPT_TABLE_READINGS, "visit", "V1", "unit", "K1", "percent", "0", "action", "swapped");
  PUT (TPT_TABLE_OBSERVATIONS, "observation", "O1", "deployment", "D1", "start", "2026-01-12T00:00:00Z", "type", "blank");
  jobs_import (f, "frame,deployment,file,camera_time\nF3,D1,3.jpg,2026-01-20T00:00:00\nF4,D1,4.jpg,2026-01-21T00:00:00\n");
  PUT (TPT_TABLE_UNITS, "unit", "K2", "kind", "flash", "cell_mah", "1", "sleep_ma", "100");
  PUT (TPT_TABLE_FITTINGS, "deployment", "D1", "unit", "K2", "from", "2026-01-11T00:00:00Z");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D2", "station", "S2", "start", "2026-01-11T00:00:00Z");
  jobs_import (f, "deployment,unit,from,to\nD1,C1,2026-01-01T00:00:00Z,2026-01-30T00:00:00Z\n");
  jobs_import (f, "deployment,station,start,end\nD1,S1,2026-01-01T00:00:00Z,2026-02-01T00:00:00Z\n");
  {
    g_autoptr (TptJobDue) second = ask (f, "2026-01-10T00:00:00Z", NULL);
    g_autofree char *after = tell (second);

    g_assert_cmpstr (after, ==, before);
  }
}

/* Frames taken before the moment of asking, on cards that came home after it,
 * were not known either, nor what they say of the project's usual rate. */
static void
test_not_home (JobsFixture *f, gconstpointer data)
{
  g_autoptr (GString) frames = g_string_new ("frame,deployment,file,camera_time\n");
  g_autoptr (TptJobDue) first = NULL, second = NULL;
  g_autofree char *before = NULL, *after = NULL;

  for (guint i = 0; i < 5; i++)
    {
      g_autofree char *station = g_strdup_printf ("T%u", i), *code = g_strdup_printf ("X%u", i);

      PUT (TPT_TABLE_STATIONS, "station", station);
      PUT (TPT_TABLE_DEPLOYMENTS, "deployment", code, "station", station, "start", "2026-01-01T00:00:00Z");
      PUT (TPT_TABLE_VISITS, "visit", code, "station", station, "at", "2026-01-08T00:00:00Z", "found", "working");
      for (guint day = 1; day < 8; day++)
        g_string_append_printf (frames, "%s-%u,%s,%u.jpg,2026-01-%02uT12:00:00\n", code, day, code, day, day);
    }
  jobs_import (f, frames->str);
  first = ask (f, "2026-01-15T00:00:00Z", NULL);
  before = tell (first);
  g_string_assign (frames, "frame,deployment,file,camera_time\n");
  for (guint n = 0; n < 100; n++)
    g_string_append_printf (frames, "L-%u,X1,l%u.jpg,2026-01-%02uT%02u:00:00\n", n, n, 10 + n / 24, n % 24);
  jobs_import (f, frames->str);
  second = ask (f, "2026-01-15T00:00:00Z", NULL);
  after = tell (second);
  g_assert_cmpstr (after, ==, before);
}

/* Six rigs, some emptier than others: who loses most comes first. */
static void
test_sorted (JobsFixture *f, gconstpointer data)
{
  static const char *const percents[] = { "60", "10", "95", "30", "5", "40" };
  g_autoptr (TptJobDue) job = NULL;
  double last = G_MAXDOUBLE;

  for (guint i = 0; i < G_N_ELEMENTS (percents); i++)
    {
      g_autofree char *station = g_strdup_printf ("T%u", i), *unit = g_strdup_printf ("U%u", i), *code = g_strdup_printf ("X%u", i);

      PUT (TPT_TABLE_STATIONS, "station", station);
      PUT (TPT_TABLE_UNITS, "unit", unit, "kind", "camera", "cell_mah", "2000", "sleep_ma", "2", "cells_series", "4", "chemistry", "alkaline");
      PUT (TPT_TABLE_DEPLOYMENTS, "deployment", code, "station", station, "start", "2026-01-01T00:00:00Z");
      PUT (TPT_TABLE_FITTINGS, "deployment", code, "unit", unit, "from", "2026-01-01T00:00:00Z");
      PUT (TPT_TABLE_VISITS, "visit", code, "station", station, "at", "2026-01-05T00:00:00Z", "found", "working");
      PUT (TPT_TABLE_READINGS, "visit", code, "unit", unit, "percent", percents[i], "action", "none");
    }
  job = ask (f, "2026-01-06T00:00:00Z", NULL);
  g_assert_cmpuint (g_list_model_get_n_items (tpt_job_due_get_stations (job)), ==, 9);
  for (guint i = 0; i < 7; i++)
    {
      const TptForecast *forecast = forecast_of (job, i);

      g_assert_cmpfloat (round (forecast->lost_nights * 10), <=, round (last * 10)); /* by the tenths that are shown */
      last = forecast->lost_nights;
    }
  {
    g_autoptr (TptStationItem) worst = g_list_model_get_item (tpt_job_due_get_stations (job), 0);

    g_assert_cmpstr (tpt_station_item_get_code (worst), ==, "T4");
  }
  g_assert_nonnull (strstr (tpt_job_due_get_bring (job), "alkaline"));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD_RIG(name, function) g_test_add (name, JobsFixture, NULL, set_up, function, jobs_tear_down)
  ADD_RIG ("/due/run-out", test_run_out);
  ADD ("/due/visits", test_visits);
  ADD_RIG ("/due/thresholds", test_thresholds);
  ADD_RIG ("/due/round", test_round);
  ADD_RIG ("/due/later", test_later);
  ADD_RIG ("/due/not-home", test_not_home);
  ADD_RIG ("/due/sorted", test_sorted);
  return g_test_run ();
}
