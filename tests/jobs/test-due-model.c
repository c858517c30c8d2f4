/* What the forecast makes of what is on record, and of what is not. */
#include "config.h"

#include "jobs-fixture.h"
#include "tpt-due-fan.h"
#include "tpt-job-due.h"
#include "tpt-store.h"

#define START "2026-01-01T00:00:00Z"
#define SEEN "2026-01-31T00:00:00Z"
#define ON "2026-02-01T00:00:00Z"

static void
put_station (JobsFixture *f, const char *code, const char *more)
{
  g_autofree char *deployment = g_strdup_printf ("D-%s", code);
  g_autofree char *text =
    g_strdup_printf ("deployment,station,start,frames_per_trigger,frame_mb,temperature_c\n%s,%s,%s,3,%s\n", deployment, code, START, more);

  PUT (TPT_TABLE_STATIONS, "station", code, "latitude", "1.5", "longitude", "110.4");
  jobs_import (f, text);
}

/* @cells: the columns after unit and kind. */
static void
put_unit (JobsFixture *f, const char *station, const char *code, const char *kind, const char *columns, const char *cells)
{
  g_autofree char *units = g_strdup_printf ("unit,kind%s%s\n%s,%s%s%s\n", *columns ? "," : "", columns, code, kind, *columns ? "," : "", cells);
  g_autofree char *fitting = g_strdup_printf ("deployment,unit,from\nD-%s,%s,%s\n", station, code, START);

  jobs_import (f, units);
  jobs_import (f, fitting);
}

static TptJobDue *
ask (JobsFixture *f, const char *on)
{
  TptJobDue *job = tpt_job_due_new (at (on), TPT_NO_INSTANT);

  jobs_run (f, job);
  return job;
}

static const TptForecast *
find_forecast (TptJobDue *job, const char *station)
{
  GListModel *stations = tpt_job_due_get_stations (job);

  for (guint i = 0; i < g_list_model_get_n_items (stations); i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (stations, i);

      if (g_str_equal (tpt_station_item_get_code (item), station))
        return tpt_station_item_get_forecast (item);
    }
  g_assert_not_reached ();
}

static double
days_until (TptInstant instant)
{
  g_assert_cmpint (instant, !=, TPT_NO_INSTANT);
  return (double) (instant - at (START)) / TPT_DAY;
}

#define DRAIN "chemistry,cells_series,cells_parallel,cell_mah,sleep_ma"

/* An honest answer or the reason why there is none; never a confident number. */
static void
test_cannot_say (JobsFixture *unused, gconstpointer data)
{
  static const struct {
    const char *what;
    const char *columns, *cells; /* of a camera */
    const char *card;            /* its capacity; NULL: no card */
    const char *frame_mb;
    const char *frames, *volts, *percent; /* seen after thirty days; NULL: nobody came */
    const char *unit_why, *card_why, *station_why; /* a part of it; NULL: there is a number */
    double widest;               /* the unit's 90 % point over its 10 % point is at least this */
  } cases[] = {
    { "no reading ever", DRAIN, "alkaline,4,1,2400,1", "16", "4", NULL, NULL, NULL, NULL, NULL, NULL, 1.8 },
    { "charge unknown, usual for its cells", "chemistry,cell_size,sleep_ma", "alkaline,AA,1", "16", "4", NULL, NULL, NULL, NULL, NULL, NULL, 2.5 },
    { "charge unknown", "chemistry,sleep_ma", "lead-acid,1", "16", "4", NULL, NULL, NULL, "charge of its cells", NULL, NULL, 0 },
    { "charge unknown, but seen half used", "chemistry,sleep_ma", "lead-acid,1", "16", "4", "", "", "50", NULL, NULL, NULL, 1.5 },
    { "drain unknown", "chemistry,cell_mah", "nimh,2000", "16", "4", NULL, NULL, NULL, "what it draws", NULL, NULL, 0 },
    { "drain unknown, but seen half used", "chemistry,cell_mah", "nimh,2000", "16", "4", "", "", "50", NULL, NULL, NULL, 1.5 },
    { "drain unknown, seen unused", "chemistry,cell_mah", "nimh,2000", "16", "4", "", "", "", "what it draws", NULL, NULL, 0 },
    { "volts of a flat cell", DRAIN, "nimh,4,1,2000,1", "16", "4", "", "5.08", "", NULL, NULL, NULL, 1.8 },
    { "card of unknown size", DRAIN, "nimh,4,1,2000,1", "", "4", NULL, NULL, NULL, NULL, "size of the card", NULL, 0 },
    { "card larger than a card", DRAIN, "nimh,4,1,2000,1", "64000", "4", NULL, NULL, NULL, NULL, "no card holds", NULL, 0 },
    { "frames of unknown size", DRAIN, "nimh,4,1,2000,1", "16", "", NULL, NULL, NULL, NULL, "size of a frame", NULL, 0 },
    { "more frames than fit, and working", DRAIN, "nimh,4,1,2000,1", "16", "4", "9000", "", "", NULL, "more frames", NULL, 0 },
    { "nothing known at all", "chemistry,sleep_ma", "lead-acid,1", "", "4", NULL, NULL, NULL, "charge of its cells", "size of the card", "cannot say", 0 },
    { "no cells, no card", "label", "Box", NULL, "4", NULL, NULL, NULL, NULL, NULL, "no cells and no card", 0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      JobsFixture own, *f = &own;
      g_autoptr (TptJobDue) job = NULL;
      const TptForecast *forecast;
      g_autofree char *more = g_strdup_printf ("%s,", cases[i].frame_mb);

      jobs_set_up (f, "UTC");
      put_station (f, "S", more);
      put_unit (f, "S", "K", "camera", cases[i].columns, cases[i].cells);
      if (cases[i].card != NULL)
        put_unit (f, "S", "C", "card", "capacity_gb", cases[i].card);
      if (cases[i].frames != NULL)
        {
          PUT (TPT_TABLE_VISITS, "visit", "V", "station", "S", "at", SEEN, "found", "working", "frames_on_card", cases[i].frames);
          PUT (TPT_TABLE_READINGS, "visit", "V", "unit", "K", "volts", cases[i].volts, "percent", cases[i].percent, "action", "none");
        }
      job = ask (f, ON);
      forecast = find_forecast (job, "S");
      g_test_message ("%s: %s", cases[i].what, forecast->why != NULL ? forecast->why : "");
      if (forecast->units->len > 0)
        {
          const TptUnitForecast *unit = forecast->units->pdata[0];

          g_assert_cmpint (unit->why != NULL, ==, cases[i].unit_why != NULL);
          g_assert_cmpint (isnan (unit->p_out), ==, cases[i].unit_why != NULL);
          if (unit->why != NULL)
            g_assert_nonnull (strstr (unit->why, cases[i].unit_why));
          else if (cases[i].widest > 0)
            g_assert_cmpfloat (days_until (unit->interval.p90) / days_until (unit->interval.p10), >=, cases[i].widest);
        }
      else
        g_assert_null (cases[i].unit_why);
      g_assert_cmpint (forecast->card.why != NULL, ==, cases[i].card_why != NULL);
      if (cases[i].card_why != NULL)
        {
          g_assert_nonnull (strstr (forecast->card.why, cases[i].card_why));
          g_assert_true (isnan (forecast->card.p_full));
        }
      g_assert_cmpint (forecast->why != NULL, ==, cases[i].station_why != NULL);
      g_assert_cmpint (isnan (forecast->p_down), ==, cases[i].station_why != NULL);
      if (cases[i].station_why != NULL)
        {
          g_assert_nonnull (strstr (forecast->why, cases[i].station_why));
          g_assert_cmpint (forecast->state, ==, TPT_STATE_UNKNOWN);
        }
      jobs_tear_down (f, NULL);
    }
}

/* Sleep alone, so that the days can be worked out by hand: alkaline cells
 * without what they lose by lying, which is 2.5 % a year. */
static void
test_days (JobsFixture *unused, gconstpointer data)
{
  static const struct {
    const char *what;
    const char *kind, *columns, *cells, *temperature;
    const char *other_kind, *other_columns, *other_cells; /* NULL: only the one */
    double days;
  } cases[] = {
    { "one string", "camera", DRAIN, "alkaline,4,1,2400,1", "", NULL, NULL, NULL, 100 },
    /* Common practice, no source: twice the cells in parallel last twice as long, more in series do not. */
    { "two strings", "camera", DRAIN, "alkaline,4,2,2400,1", "", NULL, NULL, NULL, 200 },
    { "twice in series", "camera", DRAIN, "alkaline,8,1,2400,1", "", NULL, NULL, NULL, 100 },
    /* From memory, no source: a quarter of its charge at -20 C. */
    { "in the cold", "camera", DRAIN, "alkaline,4,1,2400,1", "-20", NULL, NULL, NULL, 25 },
    { "a pack that feeds a camera", "pack", "chemistry,cells_series,cells_parallel,cell_mah", "alkaline,4,1,2400", "", "camera", "sleep_ma", "2", 50 },
    { "a pack with a drain of its own", "pack", DRAIN, "alkaline,4,1,2400,1", "", "camera", "sleep_ma", "2", 100 },
    { "a camera with cells beside it", "pack", "chemistry,cells_series,cells_parallel,cell_mah,sleep_ma", "alkaline,4,1,2400,0.5", "",
      "camera", DRAIN, "alkaline,4,1,2400,1", 200 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      JobsFixture own, *f = &own;
      g_autoptr (TptJobDue) job = NULL;
      g_autofree char *more = g_strdup_printf ("4,%s", cases[i].temperature);

      jobs_set_up (f, "UTC");
      put_station (f, "S", more);
      put_unit (f, "S", "A", cases[i].kind, cases[i].columns, cases[i].cells);
      if (cases[i].other_kind != NULL)
        put_unit (f, "S", "B", cases[i].other_kind, cases[i].other_columns, cases[i].other_cells);
      job = ask (f, START);
      {
        const TptUnitForecast *unit = find_forecast (job, "S")->units->pdata[0];
        double lost = 0.025 / 365.25 * (*cases[i].temperature != '\0' ? 1.0 / 16 : 1);

        g_assert_cmpstr (unit->unit, ==, "A");
        g_test_message ("%s: %g", cases[i].what, days_until (unit->interval.p50));
        /* To the grid of factors: a hundredth. */
        g_assert_cmpfloat_with_epsilon (days_until (unit->interval.p50) / (1 / (1 / cases[i].days + lost)), 1, 0.01);
      }
      jobs_tear_down (f, NULL);
    }
}

/* A reading on the shelf, before the unit was fitted, says nothing of it now. */
static void
test_before_fitting (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobDue) first = NULL, second = NULL;
  TptInstant before;

  put_station (f, "S", "4,");
  put_unit (f, "S", "K", "camera", DRAIN, "alkaline,4,1,2400,1");
  first = ask (f, ON);
  before = find_forecast (first, "S")->interval.p50;
  PUT (TPT_TABLE_VISITS, "visit", "V", "station", "S", "at", "2025-12-31T00:00:00Z", "found", "working");
  PUT (TPT_TABLE_READINGS, "visit", "V", "unit", "K", "percent", "5", "action", "none");
  second = ask (f, ON);
  g_assert_cmpint (find_forecast (second, "S")->interval.p50, ==, before);
}

/* Counts on cards are enough to learn from; false triggers fill a card as well
 * as true ones, and nobody asks which they were. */
static void
test_counts (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobDue) job = NULL;
  const TptForecast *forecast;

  put_station (f, "S", "4,");
  put_unit (f, "S", "C", "card", "capacity_gb", "32");
  PUT (TPT_TABLE_VISITS, "visit", "V1", "station", "S", "at", "2026-01-21T00:00:00Z", "found", "working", "frames_on_card", "600");
  PUT (TPT_TABLE_VISITS, "visit", "V2", "station", "S", "at", "2026-02-10T00:00:00Z", "found", "working", "frames_on_card", "1200");
  PUT (TPT_TABLE_READINGS, "visit", "V2", "unit", "C", "action", "swapped");
  PUT (TPT_TABLE_VISITS, "visit", "V3", "station", "S", "at", "2026-03-02T00:00:00Z", "found", "working", "frames_on_card", "600");
  job = ask (f, "2026-03-02T00:00:00Z");
  forecast = find_forecast (job, "S");
  g_assert_cmpfloat_with_epsilon (forecast->triggers_per_day, 10, 1); /* 30 frames a day, three a trigger; the prior draws a little */
  g_assert_cmpfloat (forecast->card.frames_left, ==, 8000 - 600);
  g_assert_cmpfloat (days_until (forecast->card.interval.p10), <, 60 + 7400 / 30.0);
  g_assert_cmpfloat (days_until (forecast->card.interval.p90), >, 60 + 7400 / 30.0);
}

/* Five cameras of a model that draws twice what its sheet says; what comes of
 * it for a sixth that nobody has looked at yet. */
static void
test_model (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobDue) before = NULL, after = NULL;
  double sheet, learned;

  for (guint i = 0; i < 6; i++)
    {
      g_autofree char *station = g_strdup_printf ("S%u", i), *unit = g_strdup_printf ("K%u", i);

      put_station (f, station, "4,");
      put_unit (f, station, unit, "camera", "model," DRAIN, "Thirsty,alkaline,4,1,2400,1");
    }
  before = ask (f, START);
  sheet = days_until (find_forecast (before, "S5")->interval.p50);
  for (guint i = 0; i < 5; i++)
    for (guint visit = 0; visit < 3; visit++)
      {
        g_autofree char *station = g_strdup_printf ("S%u", i), *unit = g_strdup_printf ("K%u", i), *code = g_strdup_printf ("V%u-%u", i, visit);
        g_autofree char *when = tpt_instant_format (at (START) + (visit + 1) * 30 * TPT_DAY, NULL);

        PUT (TPT_TABLE_VISITS, "visit", code, "station", station, "at", when, "found", "working");
        PUT (TPT_TABLE_READINGS, "visit", code, "unit", unit, "percent", "40", "action", "swapped");
      }
  after = ask (f, "2026-04-05T00:00:00Z");
  learned = days_until (find_forecast (after, "S5")->interval.p50);
  g_test_message ("%g days by the sheet, %g as its like do", sheet, learned);
  g_assert_cmpfloat (learned, <, 0.65 * sheet);
  g_assert_cmpfloat (learned, >, 0.45 * sheet);
}

/* The fan falls, its lines never cross, and it ends where the forecast says. */
static void
test_fan (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptStore) store = NULL;
  g_autoptr (TptJobDue) job = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) fan = NULL, none = NULL;
  g_autofree char *why = NULL, *why_none = NULL;
  const TptUnitForecast *unit;

  put_station (f, "S", "4,");
  put_unit (f, "S", "K", "camera", DRAIN ",awake_ma,awake_s", "alkaline,4,1,2400,1,200,5");
  put_unit (f, "S", "H", "housing", "", "");
  PUT (TPT_TABLE_VISITS, "visit", "V", "station", "S", "at", SEEN, "found", "working");
  PUT (TPT_TABLE_READINGS, "visit", "V", "unit", "K", "percent", "60", "action", "none");
  job = ask (f, ON);
  unit = find_forecast (job, "S")->units->pdata[0];
  store = tpt_store_open (f->path, TRUE, &error);
  g_assert_no_error (error);
  g_assert_true (tpt_due_unit_fan (store, "K", at (ON), unit->interval.p90, &fan, &why, &error));
  g_assert_null (why);
  g_assert_cmpuint (fan->len, >, 30);
  for (guint i = 0; i < fan->len; i++)
    {
      TptFanPoint *point = &g_array_index (fan, TptFanPoint, i), *last = point - 1;

      g_assert_cmpfloat (point->low, <=, point->mid + 1e-9);
      g_assert_cmpfloat (point->mid, <=, point->high + 1e-9);
      if (i > 0)
        {
          g_assert_cmpint (point->at, >, last->at);
          g_assert_cmpfloat (point->mid, <=, last->mid + 1e-3);
        }
      /* Run out in the middle exactly from the median on. */
      g_assert_cmpint (point->mid <= 0.001, ==, point->at >= unit->interval.p50);
    }
  g_assert_true (tpt_due_unit_fan (store, "H", at (ON), at (ON) + TPT_DAY, &none, &why_none, &error));
  g_assert_nonnull (strstr (why_none, "no cells"));
  g_assert_cmpuint (none->len, ==, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  ADD ("/due-model/cannot-say", test_cannot_say);
  ADD ("/due-model/days", test_days);
  ADD ("/due-model/before-fitting", test_before_fitting);
  ADD ("/due-model/counts", test_counts);
  ADD ("/due-model/model", test_model);
  ADD ("/due-model/fan", test_fan);
  return g_test_run ();
}
