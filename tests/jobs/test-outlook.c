#include "config.h"

#include "jobs-fixture.h"
#include "tpt-job-outlook.h"

/* As sure of a station as the list tells apart, and of a chance as somebody
 * reads off a bar. */
#define NIGHTS 0.05
#define CHANCE 0.02

/* Rigs of all sorts: emptying slowly and fast, a card that fills, one found
 * dead, one of which nothing can be told, and a place without a rig. */
static void
set_up (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *found, *percent, *frames, *sleep_ma, *frame_mb, *mah;
  } rigs[] = {
    { "working", "60", "", "2", "", "2000" },   { "working", "10", "", "2", "", "2000" },
    { "working", "95", "", "0.5", "", "2000" }, { "working", "50", "2600", "0.3", "5", "2000" },
    { "working", "50", "3190", "0.3", "5", "2000" }, { "dead", "0", "", "2", "", "2000" },
    { "working", "", "", "", "", "" },
  };

  jobs_set_up (f, "Asia/Kuching");
  PUT (TPT_TABLE_STATIONS, "station", "EMPTY");
  for (guint i = 0; i < G_N_ELEMENTS (rigs); i++)
    {
      g_autofree char *station = g_strdup_printf ("T%u", i), *unit = g_strdup_printf ("U%u", i), *card = g_strdup_printf ("C%u", i);

      PUT (TPT_TABLE_STATIONS, "station", station);
      PUT (TPT_TABLE_UNITS, "unit", unit, "kind", "camera", "cell_mah", rigs[i].mah, "sleep_ma", rigs[i].sleep_ma, "cells_series", "4",
           "chemistry", *rigs[i].mah != '\0' ? "alkaline" : "", "cell_size", *rigs[i].mah != '\0' ? "AA" : "");
      PUT (TPT_TABLE_UNITS, "unit", card, "kind", "card", "capacity_gb", *rigs[i].frame_mb != '\0' ? "16" : "");
      PUT (TPT_TABLE_DEPLOYMENTS, "deployment", station, "station", station, "start", "2026-01-01T00:00:00Z", "frames_per_trigger", "3",
           "frame_mb", rigs[i].frame_mb);
      PUT (TPT_TABLE_FITTINGS, "deployment", station, "unit", unit, "from", "2026-01-01T00:00:00Z");
      PUT (TPT_TABLE_FITTINGS, "deployment", station, "unit", card, "from", "2026-01-01T00:00:00Z");
      PUT (TPT_TABLE_VISITS, "visit", station, "station", station, "at", "2026-01-15T00:00:00Z", "found", rigs[i].found, "frames_on_card",
           rigs[i].frames);
      if (*rigs[i].percent != '\0')
        PUT (TPT_TABLE_READINGS, "visit", station, "unit", unit, "percent", rigs[i].percent, "action", "none");
    }
  PUT (TPT_TABLE_STOCK, "item", "I1", "what", "cells", "cell_size", "AA", "chemistry", "alkaline", "pieces", "5");
}

static TptJobDue *
ask (JobsFixture *f, TptInstant until)
{
  TptJobDue *job = tpt_job_due_new (at ("2026-01-20T00:00:00Z"), until);

  jobs_run (f, job);
  return job;
}

/* (transfer none): the list keeps it. */
static TptStationItem *
find (TptJobDue *job, const char *code)
{
  for (guint i = 0; i < g_list_model_get_n_items (tpt_job_due_get_stations (job)); i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (tpt_job_due_get_stations (job), i);

      if (g_strcmp0 (tpt_station_item_get_code (item), code) == 0)
        return item;
    }
  return NULL;
}

static void
assert_near (double a, double b, double within)
{
  g_assert_cmpint (isnan (a), ==, isnan (b));
  if (!isnan (a) && fabs (a - b) > within)
    g_error ("%.17g, not %.17g", a, b);
}

/* Near a threshold two answers may fall on either side of it. */
static gboolean
is_clear (double chance)
{
  return isnan (chance) || (fabs (chance - 0.1) > CHANCE && fabs (chance - 0.5) > CHANCE);
}

static void
compare_forecasts (const TptForecast *moved, const TptForecast *asked)
{
  assert_near (moved->lost_nights, asked->lost_nights, NIGHTS);
  assert_near (moved->p_down, asked->p_down, CHANCE);
  assert_near (moved->card.p_full, asked->card.p_full, CHANCE);
  g_assert_cmpuint (moved->units->len, ==, asked->units->len);
  for (guint u = 0; u < asked->units->len; u++)
    {
      const TptUnitForecast *x = moved->units->pdata[u], *y = asked->units->pdata[u];

      assert_near (x->p_out, y->p_out, CHANCE);
      g_assert_cmpstr (x->unit, ==, y->unit);
      if (is_clear (y->p_out))
        g_assert_cmpint (x->interval.state, ==, y->interval.state);
    }
  /* the interval itself does not hang on the round */
  g_assert_cmpint (moved->interval.p10, ==, asked->interval.p10);
  g_assert_cmpint (moved->interval.p50, ==, asked->interval.p50);
  g_assert_cmpstr (moved->limiting, ==, asked->limiting);
  if (is_clear (asked->p_down))
    g_assert_cmpint (moved->state, ==, asked->state);
}

/* Every day of the axis, read off, against the same asked for. */
static void
test_every_day (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobDue) base = ask (f, at ("2026-02-03T00:00:00Z"));
  g_autoptr (TptJobOutlook) outlook = tpt_job_outlook_new (base);
  TptRange axis = tpt_job_due_get_axis (base);
  guint days = 0;

  jobs_run (f, outlook);
  for (TptInstant until = tpt_job_due_get_on (base) + TPT_DAY; until <= axis.to; until += TPT_DAY)
    {
      g_autoptr (TptJobDue) asked = ask (f, until);
      g_autoptr (TptJobDue) moved = tpt_job_outlook_ask (outlook, until);
      GListModel *stations = tpt_job_due_get_stations (asked);

      days++;
      g_assert_nonnull (moved);
      g_assert_cmpint (tpt_job_due_get_until (moved), ==, until);
      g_assert_cmpuint (g_list_model_get_n_items (tpt_job_due_get_stations (moved)), ==, g_list_model_get_n_items (stations));
      for (guint i = 0; i < g_list_model_get_n_items (stations); i++)
        {
          g_autoptr (TptStationItem) item = g_list_model_get_item (stations, i);
          TptStationItem *other = find (moved, tpt_station_item_get_code (item));

          compare_forecasts (tpt_station_item_get_forecast (other), tpt_station_item_get_forecast (item));
        }
      assert_near (tpt_job_due_get_lost_nights (moved), tpt_job_due_get_lost_nights (asked), NIGHTS * 7);
      assert_near (tpt_job_outlook_get_lost_nights (outlook, until), tpt_job_due_get_lost_nights (moved), 1e-9);
    }
  g_assert_cmpuint (days, ==, 28); /* two weeks ahead, so four on the axis */
}

/* On the day it was made from, the words are the same, the shelf among them. */
static void
test_words (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobDue) base = ask (f, at ("2026-02-03T00:00:00Z"));
  g_autoptr (TptJobOutlook) outlook = tpt_job_outlook_new (base);
  g_autoptr (TptJobDue) moved = NULL;

  jobs_run (f, outlook);
  moved = tpt_job_outlook_ask (outlook, tpt_job_due_get_until (base));
  g_assert_cmpstr (tpt_job_due_get_summary (moved), ==, tpt_job_due_get_summary (base));
  g_assert_cmpstr (tpt_job_due_get_bring (moved), ==, tpt_job_due_get_bring (base));
  g_assert_nonnull (strstr (tpt_job_due_get_bring (base), "(5 AA on the shelf)"));
}

static void
test_covers (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *until;
    gboolean covers;
  } cases[] = {
    { "2026-01-19T00:00:00Z", FALSE }, /* gone by */
    { "2026-01-20T00:00:00Z", FALSE }, /* the moment of asking itself */
    { "2026-01-20T01:00:00Z", TRUE },  { "2026-02-17T00:00:00Z", TRUE },
    { "2026-02-18T00:00:00Z", FALSE }, /* past the axis */
  };
  g_autoptr (TptJobDue) base = ask (f, at ("2026-02-03T00:00:00Z"));
  g_autoptr (TptJobOutlook) outlook = tpt_job_outlook_new (base);

  jobs_run (f, outlook);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobDue) moved = tpt_job_outlook_ask (outlook, at (cases[i].until));

      g_assert_cmpint (tpt_job_outlook_covers (outlook, at (cases[i].until)), ==, cases[i].covers);
      g_assert_cmpint (moved != NULL, ==, cases[i].covers);
      g_assert_cmpint (!isnan (tpt_job_outlook_get_lost_nights (outlook, at (cases[i].until))), ==, cases[i].covers);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD_RIGS(name, function) g_test_add (name, JobsFixture, NULL, set_up, function, jobs_tear_down)
  ADD_RIGS ("/outlook/every-day", test_every_day);
  ADD_RIGS ("/outlook/words", test_words);
  ADD_RIGS ("/outlook/covers", test_covers);
  return g_test_run ();
}
