/* The answers of the jobs: effort, detections, what is due. */
#include "config.h"

#include <glib/gstdio.h>
#include <math.h>

#include "tpt-error.h"
#include "tpt-job-due.h"
#include "tpt-job-edit.h"
#include "tpt-job-effort.h"
#include "tpt-job-findings.h"
#include "tpt-project.h"

typedef struct {
  char *folder; /* (owned) */
  char *path;   /* (owned) */
  TptProject *project;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  f->folder = g_dir_make_tmp ("answers-XXXXXX", NULL);
  f->path = g_build_filename (f->folder, "p.gpkg", NULL);
  f->project = tpt_project_create (f->path, "P", "Asia/Kuching", &error);
  g_assert_no_error (error);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  g_clear_object (&f->project);
  g_remove (f->path);
  g_rmdir (f->folder);
  g_free (f->path);
  g_free (f->folder);
}

static void
put (Fixture *f, TptTableId table, const char *const *cells)
{
  g_autoptr (TptJobEdit) job = tpt_job_edit_new ("put");
  g_autoptr (TptRecord) record = tpt_record_new (table);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; cells[i] != NULL; i += 2)
    {
      tpt_record_set_from_string (record, cells[i], cells[i + 1], tpt_project_get_zone (f->project), &error);
      g_assert_no_error (error);
    }
  tpt_job_edit_save (job, record);
  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
}

#define PUT(table, ...) put (f, table, (const char *const[]){ __VA_ARGS__, NULL })

static TptInstant
at (const char *text)
{
  TptInstant instant = tpt_instant_parse (text, NULL, NULL);

  g_assert_cmpint (instant, !=, TPT_NO_INSTANT);
  return instant;
}

static void
put_station (Fixture *f)
{
  PUT (TPT_TABLE_STATIONS, "station", "S1", "latitude", "2.41", "longitude", "113.02");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "S1", "start", "2024-03-01T10:00:00Z", "end", "2024-03-31T10:00:00Z",
       "frames_per_trigger", "3", "frame_mb", "10");
}

static double
nights_of (Fixture *f, const char *from, const char *to)
{
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  g_autoptr (TptJobEffort) job = NULL;
  g_autoptr (GError) error = NULL;

  filter->range.from = from != NULL ? at (from) : TPT_NO_INSTANT;
  filter->range.to = to != NULL ? at (to) : TPT_NO_INSTANT;
  job = tpt_job_effort_new (filter, at ("2024-06-01T00:00:00Z"));
  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  return tpt_job_effort_get_nights (job);
}

/* CHECKS C1, first row: 30 nights; then what visits take away. */
static void
test_effort (Fixture *f, gconstpointer data)
{
  put_station (f);
  g_assert_cmpfloat_with_epsilon (nights_of (f, NULL, NULL), 30, 1e-9);
  g_assert_cmpfloat_with_epsilon (nights_of (f, "2024-03-10T10:00:00Z", "2024-03-12T22:00:00Z"), 2.5, 1e-9);

  /* A visit that found it working changes nothing. */
  PUT (TPT_TABLE_VISITS, "visit", "V1", "station", "S1", "at", "2024-03-05T10:00:00Z", "found", "working");
  g_assert_cmpfloat_with_epsilon (nights_of (f, NULL, NULL), 30, 1e-9);

  /* Found dead: back to the visit before, its last proof of life. */
  PUT (TPT_TABLE_VISITS, "visit", "V2", "station", "S1", "at", "2024-03-15T10:00:00Z", "found", "dead");
  g_assert_cmpfloat_with_epsilon (nights_of (f, NULL, NULL), 20, 1e-9);

  /* An observation in between is a later proof. */
  PUT (TPT_TABLE_OBSERVATIONS, "observation", "O1", "deployment", "D1", "start", "2024-03-11T10:00:00Z", "type", "blank");
  g_assert_cmpfloat_with_epsilon (nights_of (f, NULL, NULL), 26, 1e-9);

  /* Two deployments that meet work as long as the one they were. */
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D2", "station", "S1", "start", "2024-04-01T00:00:00Z", "end", "2024-04-08T12:00:00Z");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D3", "station", "S1", "start", "2024-04-08T12:00:00Z", "end", "2024-04-11T00:00:00Z");
  g_assert_cmpfloat_with_epsilon (nights_of (f, "2024-04-01T00:00:00Z", NULL), 10, 1e-9);
}

static void
put_records (Fixture *f)
{
  static const char *const times[] = { "06:00:00", "06:20:00", "06:40:00", "07:00:00", "07:30:00", "07:59:59", "08:29:59" };

  put_station (f);
  PUT (TPT_TABLE_SPECIES, "scientific_name", "Rusa unicolor");
  for (gsize i = 0; i < G_N_ELEMENTS (times); i++)
    {
      g_autofree char *code = g_strdup_printf ("O%u", (guint) i), *start = g_strdup_printf ("2024-03-02T%sZ", times[i]);

      PUT (TPT_TABLE_OBSERVATIONS, "observation", code, "deployment", "D1", "start", start, "type", "animal", "scientific_name",
           "Rusa unicolor", "count", "2");
    }
}

/* CHECKS C3, the hand example: 3 by the last frame, 4 by the first; Garwood
 * limits of CHECKS C2 are tested in tests/science, here that they arrive. */
static void
test_detections (Fixture *f, gconstpointer data)
{
  static const struct {
    int from_first;
    double minutes;
    gint64 detections;
    gint64 animals;
  } cases[] = {
    { 0, 30, 3, 6 },
    { 1, 30, 4, 8 },
    { 0, 0, 7, 14 },
    { 0, 24 * 60, 1, 2 },
    { -1, NAN, 3, 6 }, /* the project's own: 30 minutes from the last frame */
  };

  put_records (f);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFilter) filter = tpt_filter_new ();
      g_autoptr (TptJobFindings) job = NULL;
      g_autoptr (GError) error = NULL;
      const TptRate *rate;

      filter->independence_min = cases[i].minutes;
      filter->gap_from_first = cases[i].from_first;
      job = tpt_job_findings_new (filter);
      tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
      g_assert_no_error (error);
      rate = tpt_job_findings_get_rate (job);
      g_assert_cmpint (rate->detections, ==, cases[i].detections);
      g_assert_cmpint (rate->individuals, ==, cases[i].animals);
      g_assert_cmpfloat_with_epsilon (rate->per_100, 100.0 * (double) cases[i].detections / 30, 1e-9);
      g_assert_true (rate->low < rate->per_100 && rate->high > rate->per_100);
    }
}

static double
ask_rate (Fixture *f)
{
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  g_autoptr (TptJobFindings) job = tpt_job_findings_new (filter);
  g_autoptr (GError) error = NULL;

  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  return tpt_job_findings_get_rate (job)->per_100;
}

/* Blanks change no rate. */
static void
test_blanks (Fixture *f, gconstpointer data)
{
  double before;

  put_records (f);
  before = ask_rate (f);
  PUT (TPT_TABLE_OBSERVATIONS, "observation", "B1", "deployment", "D1", "start", "2024-03-12T06:00:00Z", "type", "blank");
  g_assert_cmpfloat (ask_rate (f), ==, before);
}

static void
put_rig (Fixture *f)
{
  PUT (TPT_TABLE_STATIONS, "station", "S1", "name", "Otter bank");
  PUT (TPT_TABLE_STATIONS, "station", "S2");
  PUT (TPT_TABLE_UNITS, "unit", "K1", "kind", "camera", "chemistry", "nimh", "cells_series", "4", "cells_parallel", "1", "cell_mah", "2000",
       "sleep_ma", "2");
  PUT (TPT_TABLE_UNITS, "unit", "C1", "kind", "card", "capacity_gb", "16");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "S1", "start", "2026-01-01T00:00:00Z", "frames_per_trigger", "1", "frame_mb", "5");
  PUT (TPT_TABLE_FITTINGS, "deployment", "D1", "unit", "K1", "from", "2026-01-01T00:00:00Z");
  PUT (TPT_TABLE_FITTINGS, "deployment", "D1", "unit", "C1", "from", "2026-01-01T00:00:00Z");
}

/* (transfer full): the first station of the due list. */
static TptStationItem *
ask_due (Fixture *f, const char *on, const char *until)
{
  g_autoptr (TptJobDue) job = tpt_job_due_new (at (on), until != NULL ? at (until) : TPT_NO_INSTANT);
  g_autoptr (GError) error = NULL;

  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (g_list_model_get_n_items (tpt_job_due_get_stations (job)), ==, 2);
  if (until == NULL)
    g_assert_cmpint (tpt_job_due_get_until (job), ==, at (on) + 28 * TPT_DAY);
  return g_list_model_get_item (tpt_job_due_get_stations (job), 0);
}

/* 2000 mAh at 2 mA asleep and no charge per trigger: 41.7 days, by hand. */
static void
test_due (Fixture *f, gconstpointer data)
{
  g_autoptr (TptStationItem) item = NULL;
  g_autoptr (TptStationItem) later = NULL;
  const TptForecast *forecast;
  double days;

  put_rig (f);
  item = ask_due (f, "2026-01-10T00:00:00Z", NULL);
  forecast = tpt_station_item_get_forecast (item);
  g_assert_cmpstr (tpt_station_item_get_code (item), ==, "S1"); /* the one without a rig is last */
  g_assert_cmpstr (forecast->limiting, ==, "K1");
  days = (double) (forecast->interval.p50 - at ("2026-01-01T00:00:00Z")) / TPT_DAY;
  g_assert_cmpfloat_with_epsilon (days, 2000.0 / 2 / 24, 0.01);
  g_assert_true (forecast->interval.p10 < forecast->interval.p50 && forecast->interval.p50 < forecast->interval.p90);
  g_assert_cmpfloat (forecast->p_down, >=, 0);
  g_assert_cmpfloat (forecast->p_down, <=, 1);

  /* What comes later is not known before. */
  PUT (TPT_TABLE_VISITS, "visit", "V1", "station", "S1", "at", "2026-02-01T00:00:00Z", "found", "working");
  PUT (TPT_TABLE_READINGS, "visit", "V1", "unit", "K1", "percent", "30", "action", "swapped");
  later = ask_due (f, "2026-01-10T00:00:00Z", NULL);
  g_assert_cmpint (tpt_station_item_get_forecast (later)->interval.p50, ==, forecast->interval.p50);
}

/* Swapped cells last from then; found dead and left so is known to be down. */
static void
test_due_visits (Fixture *f, gconstpointer data)
{
  g_autoptr (TptStationItem) swapped = NULL;
  g_autoptr (TptStationItem) dead = NULL;
  double days;

  put_rig (f);
  PUT (TPT_TABLE_VISITS, "visit", "V1", "station", "S1", "at", "2026-02-01T00:00:00Z", "found", "working");
  PUT (TPT_TABLE_READINGS, "visit", "V1", "unit", "K1", "percent", "30", "action", "swapped");
  swapped = ask_due (f, "2026-02-02T00:00:00Z", "2026-02-20T00:00:00Z");
  days = (double) (tpt_station_item_get_forecast (swapped)->interval.p50 - at ("2026-02-01T00:00:00Z")) / TPT_DAY;
  g_assert_cmpfloat_with_epsilon (days, 2000.0 / 2 / 24, 0.01);
  g_assert_cmpint (tpt_station_item_get_forecast (swapped)->state, ==, TPT_STATE_FINE);

  PUT (TPT_TABLE_VISITS, "visit", "V2", "station", "S1", "at", "2026-02-10T00:00:00Z", "found", "dead");
  dead = ask_due (f, "2026-02-12T00:00:00Z", "2026-02-20T00:00:00Z");
  g_assert_cmpint (tpt_station_item_get_forecast (dead)->state, ==, TPT_STATE_DOWN);
  g_assert_cmpfloat (tpt_station_item_get_forecast (dead)->p_down, ==, 1);
  g_assert_cmpfloat_with_epsilon (tpt_station_item_get_forecast (dead)->lost_nights, 8, 1e-9);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD(name, function) g_test_add ("/answers/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("effort", test_effort);
  ADD ("detections", test_detections);
  ADD ("blanks", test_blanks);
  ADD ("due", test_due);
  ADD ("due-visits", test_due_visits);
  return g_test_run ();
}
