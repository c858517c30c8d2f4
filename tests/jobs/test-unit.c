#include "config.h"

#include "jobs-fixture.h"
#include "tpt-job-count.h"
#include "tpt-job-shelf.h"
#include "tpt-job-station.h"
#include "tpt-job-unit.h"

/* One camera's life at two stations, a pack read by volts, a card, a spare. */
static void
set_up (JobsFixture *f, gconstpointer data)
{
  jobs_set_up (f, "Asia/Kuching");
  PUT (TPT_TABLE_STATIONS, "station", "OAK", "name", "Old oak");
  PUT (TPT_TABLE_STATIONS, "station", "ELM");
  PUT (TPT_TABLE_UNITS, "unit", "K1", "kind", "camera", "label", "Grey box", "acquired", "2025-02-01", "chemistry", "nimh",
       "cells_series", "4", "cell_mah", "2000");
  PUT (TPT_TABLE_UNITS, "unit", "K2", "kind", "camera", "label", "Green box");
  PUT (TPT_TABLE_UNITS, "unit", "K3", "kind", "camera", "retired", "2026-01-10", "retire_cause", "moisture");
  PUT (TPT_TABLE_UNITS, "unit", "P1", "kind", "pack", "chemistry", "lead-acid", "cells_series", "6", "cell_mah", "7000");
  PUT (TPT_TABLE_UNITS, "unit", "P2", "kind", "pack");
  PUT (TPT_TABLE_UNITS, "unit", "P3", "kind", "pack");
  PUT (TPT_TABLE_UNITS, "unit", "K4", "kind", "camera", "chemistry", "nimh", "cells_series", "4", "cell_mah", "2000", "sleep_ma",
       "0.5", "awake_ma", "120", "awake_s", "5", "frame_mas", "300");
  PUT (TPT_TABLE_UNITS, "unit", "C1", "kind", "card", "capacity_gb", "32");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "OAK", "start", "2026-02-01T10:00");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D2", "station", "ELM", "start", "2026-05-01T10:00");
  PUT (TPT_TABLE_FITTINGS, "deployment", "D1", "unit", "K1", "from", "2026-02-01T10:00", "to", "2026-04-01T09:00");
  PUT (TPT_TABLE_FITTINGS, "deployment", "D1", "unit", "K2", "from", "2026-04-01T09:00");
  PUT (TPT_TABLE_FITTINGS, "deployment", "D2", "unit", "P1", "from", "2026-05-01T10:00");
  PUT (TPT_TABLE_FITTINGS, "deployment", "D2", "unit", "P2", "from", "2026-05-01T10:00");
  PUT (TPT_TABLE_FITTINGS, "deployment", "D2", "unit", "P3", "from", "2026-05-01T10:00");
  PUT (TPT_TABLE_FITTINGS, "deployment", "D2", "unit", "K4", "from", "2026-05-01T10:00");
  PUT (TPT_TABLE_VISITS, "visit", "V1", "station", "OAK", "at", "2026-03-01T09:00", "found", "working");
  PUT (TPT_TABLE_VISITS, "visit", "V2", "station", "OAK", "at", "2026-04-01T09:00", "found", "working");
  PUT (TPT_TABLE_VISITS, "visit", "V3", "station", "ELM", "at", "2026-06-01T09:00", "found", "working");
  PUT (TPT_TABLE_READINGS, "visit", "V1", "unit", "K1", "state", "working", "percent", "40", "action", "swapped");
  PUT (TPT_TABLE_READINGS, "visit", "V2", "unit", "K1", "state", "dead", "action", "swapped", "replacement", "K2");
  PUT (TPT_TABLE_READINGS, "visit", "V3", "unit", "P3", "state", "working", "action", "charged");
  PUT (TPT_TABLE_READINGS, "visit", "V3", "unit", "K4", "state", "working", "percent", "80", "action", "none");
  PUT (TPT_TABLE_READINGS, "visit", "V3", "unit", "P1", "state", "working", "volts", "12.2", "action", "none");
  PUT (TPT_TABLE_READINGS, "visit", "V3", "unit", "P2", "state", "working", "volts", "12.2", "action", "none");
  PUT (TPT_TABLE_UNIT_LOG, "unit", "K1", "at", "2026-04-20T08:00", "what", "damage", "cause", "moisture", "by", "Mira",
       "notes", "water in the lens");
  PUT (TPT_TABLE_UNIT_LOG, "unit", "K2", "at", "2026-05-20T08:00", "what", "cleaning");
}

#define NOW "2026-06-12T09:00:00Z"

#define ADD_OWN(name, function) g_test_add (name, JobsFixture, NULL, set_up, function, jobs_tear_down)

static TptJobUnit *
ask (JobsFixture *f, const char *unit)
{
  TptJobUnit *job = tpt_job_unit_new (unit, at (NOW));

  jobs_run (f, job);
  return job;
}

/* (transfer full): the lines of the log, a line break after each. */
static char *
join_log (GListModel *log)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < g_list_model_get_n_items (log); i++)
    {
      g_autoptr (TptLogItem) item = g_list_model_get_item (log, i);

      g_string_append_printf (text, "%s\n", tpt_log_item_get_text (item));
    }
  return g_string_free (text, FALSE);
}

/* Places by their names, newest first, with what replaced what. */
static void
test_log (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *unit;
    const char *log;
  } cases[] = {
    { "K1", "Damage: moisture, water in the lens (Mira)\n"
            "Taken from Old oak\n"
            "At Old oak: dead, swapped for Green box (K2)\n"
            "At Old oak: 40 % left, swapped\n"
            "Fitted at Old oak\n"
            "Acquired\n" },
    { "K2", "Cleaning\nFitted at Old oak in place of Grey box (K1)\n" },
    { "K3", "Retired: moisture\n" },
    { "P1", "At ELM: 12.20 V\nFitted at ELM\n" },
    { "C1", "" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobUnit) job = ask (f, cases[i].unit);
      g_autofree char *log = join_log (tpt_job_unit_get_log (job));

      g_assert_cmpstr (log, ==, cases[i].log);
    }
}

/* Only what somebody wrote by hand can be edited. */
static void
test_entries (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobUnit) job = ask (f, "K1");
  GListModel *log = tpt_job_unit_get_log (job);

  for (guint i = 0; i < g_list_model_get_n_items (log); i++)
    {
      g_autoptr (TptLogItem) item = g_list_model_get_item (log, i);

      g_assert_true ((tpt_log_item_get_entry (item) != NULL) == (i == 0));
    }
}

/* What is later than the moment of asking is not told, nor counted. */
static void
test_moment (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *on;
    guint lines;
    const char *place;
  } cases[] = {
    { "2026-01-15T00:00:00Z", 1, "On the shelf, never set out" },
    { "2026-02-15T00:00:00Z", 2, "At Old oak since 1 February" },
    { "2026-03-15T00:00:00Z", 3, "At Old oak since 1 February" },
    { "2026-04-15T00:00:00Z", 5, "On the shelf since 1 April" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobUnit) job = tpt_job_unit_new ("K1", at (cases[i].on));
      g_autofree char *place = NULL;

      jobs_run (f, job);
      place = tpt_unit_item_word_place (tpt_job_unit_get_item (job), tpt_project_get_zone (f->project), at (cases[i].on));
      g_assert_cmpuint (g_list_model_get_n_items (tpt_job_unit_get_log (job)), ==, cases[i].lines);
      g_assert_cmpstr (place, ==, cases[i].place);
    }
}

static void
test_nobody (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobUnit) job = tpt_job_unit_new ("K9", TPT_NO_INSTANT);
  g_autoptr (GError) error = NULL;

  g_assert_false (tpt_project_run (f->project, TPT_JOB (job), NULL, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
  g_assert_nonnull (strstr (error->message, "K9"));
}

/* (transfer full): the rows of the chart that do not belong to a forecast. */
static char *
join_points (TptFigure *battery)
{
  g_autoptr (TptFigureTable) table = tpt_figure_table (battery);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < tpt_figure_table_get_n_rows (table); i++)
    if (!g_str_equal (tpt_figure_table_get_cell (table, i, 0), "forecast"))
      g_string_append_printf (text, "%s %.10s %s;", tpt_figure_table_get_cell (table, i, 0),
                              tpt_figure_table_get_cell (table, i, 1), tpt_figure_table_get_cell (table, i, 2));
  return g_string_free (text, FALSE);
}

/* A unit whose cells were swapped is full again; one that another unit came in
 * place of is not. */
static void
test_battery (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *unit;
    const char *points;  /* NULL: none are drawn */
    const char *why_not; /* a piece of it */
  } cases[] = {
    { "K1", "taken-as-full 2026-02-01 100;read-percent 2026-03-01 40;renewed 2026-03-01 100;found-dead 2026-04-01 0;",
      "No forecast: cannot say because it stands in no rig." },
    { "K4", "taken-as-full 2026-05-01 100;read-percent 2026-06-01 80;", NULL },
    { "K2", NULL, "no reading is on record, nor what cells it has" },
    { "P2", NULL, "only volts were read" },
    { "C1", NULL, "has no cells" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobUnit) job = ask (f, cases[i].unit);
      TptFigure *battery = tpt_job_unit_get_battery (job);
      g_autofree char *points = battery != NULL ? join_points (battery) : NULL;

      g_test_message ("%s", cases[i].unit);
      g_assert_cmpstr (points, ==, cases[i].points);
      if (cases[i].why_not == NULL)
        g_assert_null (tpt_job_unit_get_why_not (job));
      else
        g_assert_nonnull (strstr (tpt_job_unit_get_why_not (job), cases[i].why_not));
    }
}

/* Volts come with a range, and the range holds what they are taken for. */
static void
test_volts (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobUnit) job = ask (f, "P1");
  g_autoptr (TptFigureTable) table = tpt_figure_table (tpt_job_unit_get_battery (job));
  double share, low, high;

  g_assert_cmpstr (tpt_figure_table_get_cell (table, 1, 0), ==, "read-volts");
  share = g_ascii_strtod (tpt_figure_table_get_cell (table, 1, 2), NULL);
  low = g_ascii_strtod (tpt_figure_table_get_cell (table, 1, 3), NULL);
  high = g_ascii_strtod (tpt_figure_table_get_cell (table, 1, 4), NULL);
  g_assert_cmpfloat (low, >=, 0);
  g_assert_cmpfloat (low, <, share);
  g_assert_cmpfloat (share, <, high);
  g_assert_cmpfloat (high, <=, 100);
}

static double
read_cell (const TptFigureTable *table, guint row, guint column)
{
  return g_ascii_strtod (tpt_figure_table_get_cell (table, row, column), NULL);
}

/* From the last reading on the middle only falls, with the ends on its sides,
 * until the unit is out with a chance of 90 %. */
static void
test_fan (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobUnit) job = ask (f, "K4");
  g_autoptr (TptFigureTable) table = tpt_figure_table (tpt_job_unit_get_battery (job));
  guint n = tpt_figure_table_get_n_rows (table), first = 2;
  double last = 100;

  g_assert_cmpstr (tpt_figure_table_get_cell (table, 1, 0), ==, "read-percent");
  g_assert_cmpuint (n, >, 30);
  g_assert_cmpstr (tpt_figure_table_get_cell (table, first, 1), ==, "2026-06-01T09:01:00+08:00");
  for (guint i = first; i < n; i++)
    {
      g_assert_cmpstr (tpt_figure_table_get_cell (table, i, 0), ==, "forecast");
      g_assert_cmpfloat (read_cell (table, i, 2), <=, last + 0.1);
      g_assert_cmpfloat (read_cell (table, i, 3), <=, read_cell (table, i, 2));
      g_assert_cmpfloat (read_cell (table, i, 2), <=, read_cell (table, i, 4));
      last = read_cell (table, i, 2);
    }
  g_assert_cmpfloat (read_cell (table, first, 3), <, read_cell (table, first, 4));
  g_assert_cmpfloat (read_cell (table, n - 1, 4), ==, 0);
}

/* Where there is no honest number, the reason stands in its place. */
static void
test_no_fan (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *unit, *why;
  } cases[] = {
    { "K1", "No forecast: cannot say because it stands in no rig" },
    { "P3", "No forecast: cannot say because" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobUnit) job = ask (f, cases[i].unit);
      g_autofree char *words = tpt_figure_describe (tpt_job_unit_get_battery (job));

      g_test_message ("%s", words);
      g_assert_nonnull (strstr (words, cases[i].why));
    }
}

/* --- the shelf ---------------------------------------------------------- */

static TptUnitItem *
find_unit (TptJobShelf *job, const char *code)
{
  GListModel *units = tpt_job_shelf_get_units (job);

  for (guint i = 0; i < g_list_model_get_n_items (units); i++)
    {
      g_autoptr (TptUnitItem) item = g_list_model_get_item (units, i);

      if (g_str_equal (tpt_unit_item_get_code (item), code))
        return item; /* the job keeps it */
    }
  g_assert_not_reached ();
}

static void
test_shelf (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *unit;
    TptUnitPlace place;
    const char *where, *state;
  } cases[] = {
    { "K1", TPT_UNIT_ON_SHELF, "On the shelf since 1 April", "damage on 20 April: moisture" },
    { "K2", TPT_UNIT_IN_RIG, "At Old oak since 1 April", NULL },
    { "K3", TPT_UNIT_RETIRED, "Retired 10 January: moisture", NULL },
    { "P1", TPT_UNIT_IN_RIG, "At ELM since 1 May", "12.20 V on 1 June" },
    { "C1", TPT_UNIT_ON_SHELF, "On the shelf, never set out", NULL },
  };
  g_autoptr (TptJobShelf) job = tpt_job_shelf_new (at (NOW));
  TptZone *zone = tpt_project_get_zone (f->project);
  TptInstant now = at (NOW);

  jobs_run (f, job);
  g_assert_cmpuint (g_list_model_get_n_items (tpt_job_shelf_get_units (job)), ==, 8);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptUnitItem *item = find_unit (job, cases[i].unit);
      g_autoptr (TptJobUnit) alone = ask (f, cases[i].unit);
      g_autofree char *where = tpt_unit_item_word_place (item, zone, now);
      g_autofree char *state = tpt_unit_item_word_state (item, zone, now);
      g_autofree char *again = tpt_unit_item_word_state (tpt_job_unit_get_item (alone), zone, now);

      g_assert_cmpint (tpt_unit_item_get_place (item), ==, cases[i].place);
      g_assert_cmpstr (where, ==, cases[i].where);
      g_assert_cmpstr (state, ==, cases[i].state);
      g_assert_cmpstr (again, ==, cases[i].state);
    }
}

/* Harm stands until it is repaired, at home or on a visit. */
static void
test_harm (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobUnit) before = ask (f, "K1");
  g_autoptr (TptJobUnit) after = NULL;

  g_assert_true (tpt_unit_item_is_harmed (tpt_job_unit_get_item (before)));
  PUT (TPT_TABLE_UNIT_LOG, "unit", "K1", "at", "2026-04-22", "what", "repair");
  after = ask (f, "K1");
  g_assert_false (tpt_unit_item_is_harmed (tpt_job_unit_get_item (after)));
}

/* A station's log tells of its units' entries while they stood there. */
static void
test_station_log (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobStation) job = tpt_job_station_new ("OAK", TPT_NO_INSTANT);
  g_autofree char *log = NULL;

  jobs_run (f, job);
  log = join_log (tpt_job_station_get_log (job));
  g_assert_nonnull (strstr (log, "Green box (K2): Cleaning\n"));
  g_assert_null (strstr (log, "Damage"));
}

/* --- counting ------------------------------------------------------------ */

static gint64
count (JobsFixture *f, gint64 change, GError **error)
{
  g_autoptr (TptJobCount) job = tpt_job_count_new ("count", "S1", change);

  return tpt_project_run (f->project, TPT_JOB (job), NULL, error) ? tpt_job_count_get_pieces (job) : -1;
}

static gint64
read_pieces (JobsFixture *f)
{
  g_autoptr (GPtrArray) stock = jobs_list (f, TPT_TABLE_STOCK, "item", "S1");

  g_assert_cmpuint (stock->len, ==, 1);
  return tpt_record_get_integer (stock->pdata[0], "pieces", -1);
}

static void
test_count (JobsFixture *f, gconstpointer data)
{
  static const struct {
    gint64 change, pieces; /* -1: refused */
  } cases[] = {
    { 4, 6 }, { -1, 5 }, { -5, 0 }, { -1, -1 }, { 1, 1 },
  };

  PUT (TPT_TABLE_STOCK, "item", "S1", "what", "cells", "cell_size", "AA", "pieces", "2");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      gint64 before = read_pieces (f);

      g_assert_cmpint (count (f, cases[i].change, &error), ==, cases[i].pieces);
      g_assert_true ((error != NULL) == (cases[i].pieces < 0));
      g_assert_cmpint (read_pieces (f), ==, error == NULL ? cases[i].pieces : before);
    }
  jobs_undo (f, FALSE);
  g_assert_cmpint (read_pieces (f), ==, 0);
  jobs_undo (f, FALSE);
  g_assert_cmpint (read_pieces (f), ==, 5);
}

static void
test_count_gone (JobsFixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (count (f, 1, &error), ==, -1);
  g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
  g_assert_nonnull (strstr (error->message, "S1"));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  ADD_OWN ("/jobs/unit/log", test_log);
  ADD_OWN ("/jobs/unit/entries", test_entries);
  ADD_OWN ("/jobs/unit/moment", test_moment);
  ADD_OWN ("/jobs/unit/nobody", test_nobody);
  ADD_OWN ("/jobs/unit/battery", test_battery);
  ADD_OWN ("/jobs/unit/volts", test_volts);
  ADD_OWN ("/jobs/unit/fan", test_fan);
  ADD_OWN ("/jobs/unit/no-fan", test_no_fan);
  ADD_OWN ("/jobs/unit/shelf", test_shelf);
  ADD_OWN ("/jobs/unit/harm", test_harm);
  ADD_OWN ("/jobs/unit/station-log", test_station_log);
  ADD_OWN ("/jobs/unit/count", test_count);
  ADD_OWN ("/jobs/unit/count-gone", test_count_gone);
  return g_test_run ();
}
