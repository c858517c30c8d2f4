#include "config.h"

#include "visit-fixture.h"

#define HEADER \
  "station,at,people,found,camera_clock,true_clock,frames_on_card,left,visit_notes,unit,label,kind,state,volts,percent,action," \
  "replacement,cause,notes\n"

/* A sheet as it comes back: two stations, visit cells on the first row only. */
#define FILLED \
  HEADER "OAK,2026-06-01T09:00,Ada,disturbed,2026-06-01T08:56:48,2026-06-01T09:00,411,working,moved by a pig,K1,Camera,camera," \
         "working,,40,swapped,,animal,strap torn\n" \
         "OAK,2026-06-01T09:00,,,,,,,,P1,,pack,,5.8,,,,,\n" \
         "OAK,2026-06-01T09:00,,,,,,,,F1,,flash,,,,,,,\n" \
         "OAK,2026-06-01T09:00,,,,,,,,C1,,card,,,,swapped,C2,,\n" \
         "ELM,2026-06-01 11:30,Ada,working,,,12,working,,C3,,card,,,,none,,,\n"

static TptJobImport *
import (JobsFixture *f, const char *text, gboolean lenient)
{
  g_autofree char *path = jobs_write (f, "sheet.csv", text);
  const char *paths[] = { path, NULL };
  TptJobImport *job = tpt_job_import_new (paths, FALSE, lenient);

  jobs_run (f, job);
  return job;
}

static void
assert_counts (TptJobImport *job, gint64 added, gint64 updated, gint64 unchanged)
{
  for (guint i = 0; i < tpt_job_import_get_n_refused (job); i++)
    {
      g_autofree char *line = tpt_job_import_describe_refused (job, i);
      g_test_message ("%s", line);
    }
  g_assert_cmpuint (tpt_job_import_get_n_refused (job), ==, 0);
  g_assert_cmpint (tpt_job_import_get_added (job), ==, added);
  g_assert_cmpint (tpt_job_import_get_updated (job), ==, updated);
  g_assert_cmpint (tpt_job_import_get_unchanged (job), ==, unchanged);
}

static char *
get_cell (JobsFixture *f, TptTableId table, const char *key, const char *value, const char *column)
{
  g_autoptr (GPtrArray) rows = jobs_list (f, table, key, value);

  g_assert_cmpuint (rows->len, ==, 1);
  return tpt_record_to_string (rows->pdata[0], column, tpt_project_get_zone (f->project));
}

/* What is in the file is on record, what it means too; again, nothing changes. */
static void
test_filled (JobsFixture *f, gconstpointer data)
{
  static const struct {
    TptTableId table;
    const char *key, *value, *column, *wanted;
  } cases[] = {
    { TPT_TABLE_VISITS, "station", "OAK", "visit", "OAK-2026-06-01-01" },
    { TPT_TABLE_VISITS, "station", "OAK", "at", "2026-06-01T09:00:00+08:00" },
    { TPT_TABLE_VISITS, "station", "OAK", "people", "Ada" },
    { TPT_TABLE_VISITS, "station", "OAK", "found", "disturbed" },
    { TPT_TABLE_VISITS, "station", "OAK", "camera_clock", "2026-06-01T08:56:48" },
    { TPT_TABLE_VISITS, "station", "OAK", "true_clock", "2026-06-01T09:00:00+08:00" },
    { TPT_TABLE_VISITS, "station", "OAK", "frames_on_card", "411" },
    { TPT_TABLE_VISITS, "station", "OAK", "left", "working" },
    { TPT_TABLE_VISITS, "station", "OAK", "notes", "moved by a pig" },
    { TPT_TABLE_VISITS, "station", "ELM", "at", "2026-06-01T11:30:00+08:00" },
    { TPT_TABLE_READINGS, "unit", "K1", "percent", "40" },
    { TPT_TABLE_READINGS, "unit", "K1", "notes", "strap torn" },
    { TPT_TABLE_READINGS, "unit", "P1", "volts", "5.8" },
    { TPT_TABLE_READINGS, "unit", "P1", "action", NULL },
    { TPT_TABLE_READINGS, "unit", "C1", "replacement", "C2" },
    { TPT_TABLE_READINGS, "unit", "C3", "action", "none" },
    { TPT_TABLE_FITTINGS, "unit", "C1", "to", "2026-06-01T09:00:00+08:00" },
    { TPT_TABLE_UNIT_LOG, "unit", "K1", "what", "damage" },
    { TPT_TABLE_UNIT_LOG, "unit", "K1", "cause", "animal" },
    { TPT_TABLE_UNIT_LOG, "unit", "K1", "by", "Ada" },
    { TPT_TABLE_STOCK, "item", "S1", "pieces", "2" },
  };
  g_autoptr (TptJobImport) first = import (f, FILLED, FALSE), again = NULL;
  g_autoptr (GPtrArray) unread = NULL;

  assert_counts (first, 2 + 4 + 1 + 1, 1 + 1, 0); /* visits, readings, a fitting, an entry; a fitting ended, a count */
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *got = get_cell (f, cases[i].table, cases[i].key, cases[i].value, cases[i].column);

      g_test_message ("%s of %s", cases[i].column, cases[i].value);
      g_assert_cmpstr (got, ==, cases[i].wanted);
    }
  unread = jobs_list (f, TPT_TABLE_READINGS, "unit", "F1");
  g_assert_cmpuint (unread->len, ==, 0); /* nothing was said about it */
  again = import (f, FILLED, FALSE);
  assert_counts (again, 0, 0, 2 + 4);
  jobs_assert_sound (f, TRUE);
  jobs_undo (f, FALSE);
  g_assert_cmpuint (jobs_count (f, TPT_TABLE_VISITS), ==, 0);
  g_assert_cmpuint (jobs_count (f, TPT_TABLE_UNIT_LOG), ==, 0);
}

/* Visits of one file in any order: what one moved the next one finds moved. */
static void
test_order (JobsFixture *f, gconstpointer data)
{
  static const char text[] = "station,at,unit,action,replacement\nOAK,2026-06-05T09:00,C2,swapped,C5\n"
                             "OAK,2026-06-01T09:00,C1,swapped,C2\n";
  g_autoptr (TptJobImport) job = import (f, text, FALSE), again = NULL;
  g_autofree char *in = NULL;

  assert_counts (job, 2 + 2 + 2, 2, 0);
  in = get_cell (f, TPT_TABLE_FITTINGS, "unit", "C5", "from");
  g_assert_cmpstr (in, ==, "2026-06-05T09:00:00+08:00");
  again = import (f, text, FALSE);
  assert_counts (again, 0, 0, 4);
}

/* The same card back in, and a loss: taken twice they change nothing either. */
static void
test_twice (JobsFixture *f, gconstpointer data)
{
  static const char *const texts[] = {
    "station,at,unit,action,replacement\nOAK,2026-06-01T09:00,C1,swapped,C1\n",
    "station,at,found,unit,action,cause\nOAK,2026-06-02T09:00,gone,K1,removed,theft\nOAK,2026-06-02T09:00,,H1,,theft\n",
    "unit,station,at\n,OAK,2026-06-03T09:00\n",
    "unit,station,at,visit_notes\n,OAK,2026-06-04T09:00,nobody there\n",
  };

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (TptJobImport) first = import (f, texts[i], FALSE), again = import (f, texts[i], FALSE);

      g_test_message ("%s", texts[i]);
      g_assert_cmpuint (tpt_job_import_get_n_refused (first), ==, 0);
      g_assert_cmpint (tpt_job_import_get_added (first), >, 0);
      g_assert_cmpuint (tpt_job_import_get_n_refused (again), ==, 0);
      g_assert_cmpint (tpt_job_import_get_added (again) + tpt_job_import_get_updated (again), ==, 0);
      g_assert_cmpint (tpt_job_import_get_unchanged (again), >, 0);
    }
}

/* Sheets not filled in yet, in part or at all: said, and no error. */
static void
test_blank (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *rows;
    gint64 added;
    gint64 line; /* of the word about it */
  } cases[] = {
    { "OAK,,,,,,,,,K1,Camera,camera,,,,,,,\nOAK,,,,,,,,,C1,,card,,,,,,,\n", 0, 2 },
    { "ELM,2026-06-01T09:00,,working,,,,,,C3,,card,,,,,,,\nOAK,,,,,,,,,K1,Camera,camera,,,,,,,\n", 1, 3 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = g_strconcat (HEADER, cases[i].rows, NULL);
      g_autoptr (TptJobImport) job = import (f, text, FALSE);
      const char *file, *column, *reason;
      gint64 line;

      g_assert_cmpint (tpt_job_import_get_added (job), ==, cases[i].added);
      g_assert_cmpuint (tpt_job_import_get_n_refused (job), ==, 1);
      g_assert_false (tpt_job_import_get_refused (job, 0, &file, &line, &column, &reason)); /* nothing was lost */
      g_assert_cmpint (line, ==, cases[i].line);
    }
}

/* One bad row and the file is left: which line, which column, and why. */
static void
test_refused (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *text;
    gint64 line;
    const char *column;
    const char *reason;
  } cases[] = {
    { "station,at,unit,percent\nOAK,2026-06-01T09:00,K1,40\nOAK,2026-06-01T09:00,P1,140\n", 3, "percent", "100" },
    { "station,at,unit,percent\nOAK,2026-06-01T09:00,K1,40\nOAK,,P1,14\n", 3, "at", "needed" },
    { "station,at,unit,percent\nOAK,2026-06-01T09:00,K1,40\nOAK,1.6.2026,P1,14\n", 3, "at", "1.6.2026" },
    { "station,at,unit,percent\n,2026-06-01T09:00,K1,40\n", 2, "station", "needed" },
    { "station,at,unit,percent\nASH,2026-06-01T09:00,K1,40\n", 2, "station", "ASH" },
    { "station,at,unit,percent\nOAK,2026-06-01T09:00,,40\n", 2, "unit", "needed" },
    { "station,at,unit,percent\nOAK,2026-06-01T09:00,K1,40\nOAK,2026-06-01T09:00,K9,40\n", 3, "unit", "K9" },
    { "station,at,unit,percent\nOAK,2026-06-01T09:00,C3,40\n", 2, "unit", "ELM" },
    { "station,at,unit,percent\nOAK,2026-06-01T09:00,K1,40\nOAK,2026-06-01T09:00,K1,41\n", 3, "unit", "twice" },
    { "station,at,unit,percent\nOAK,2026-06-13T09:00,K1,40\n", 2, "at", "future" },
    { "station,at,unit,percent\nOAK,2026-04-13T09:00,K1,40\n", 2, "at", "set out on 1 May" },
    { "station,at,unit,action,replacement\nOAK,2026-06-01T09:00,C1,swapped,P2\n", 2, "replacement", "another kind" },
    { "station,at,unit,action,replacement\nOAK,2026-06-01T09:00,C1,swapped,C3\n", 2, "replacement", "ELM" },
    { "station,at,unit,cause\nOAK,2026-06-01T09:00,K1,rain\n", 2, "cause", "rain" },
    { "station,at,unit,found\nOAK,2026-06-01T09:00,K1,fine\n", 2, "found", "fine" },
    { "station,at,unit,people\nOAK,2026-06-01T09:00,K1,Ada\nOAK,2026-06-01T09:00,P1,Nils\n", 3, "people", "something else" },
    { "station,at,unit,camera_clock\nOAK,2026-06-01T09:00,K1,2026-06-01T09:00\n", 2, "true_clock", "both" },
    { "station,at,unit,mood\nOAK,2026-06-01T09:00,K1,calm\n", 1, "mood", "no column" },
    /* on record already, and otherwise */
    { "station,at,unit,percent\nOAK,2026-05-20T09:00,K1,41\n", 2, "percent", "something else" },
    { "station,at,unit,percent\nOAK,2026-05-20T09:00,P1,41\n", 2, "unit", "without a word" },
    { "station,at,unit,found\nOAK,2026-05-20T09:00,K1,dead\n", 2, "found", "something else" },
    { "station,at,unit,cause\nOAK,2026-05-20T09:00,K1,insects\n", 2, "cause", "without this cause" },
  };
  guint visits, readings, fittings;

  jobs_import (f, "station,at,unit,found,percent\nOAK,2026-05-20T09:00,K1,working,40\n");
  visits = jobs_count (f, TPT_TABLE_VISITS);
  readings = jobs_count (f, TPT_TABLE_READINGS);
  fittings = jobs_count (f, TPT_TABLE_FITTINGS);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobImport) job = import (f, cases[i].text, FALSE);
      const char *file, *column, *reason;
      gint64 line;

      g_test_message ("%s", cases[i].text);
      g_assert_cmpuint (tpt_job_import_get_n_refused (job), ==, 1);
      g_assert_true (tpt_job_import_get_refused (job, 0, &file, &line, &column, &reason));
      g_test_message ("%s", reason);
      g_assert_cmpstr (file, ==, "sheet.csv");
      g_assert_cmpint (line, ==, cases[i].line);
      g_assert_cmpstr (column, ==, cases[i].column);
      g_assert_nonnull (strstr (reason, cases[i].reason));
      g_assert_cmpuint (jobs_count (f, TPT_TABLE_VISITS), ==, visits);
      g_assert_cmpuint (jobs_count (f, TPT_TABLE_READINGS), ==, readings);
      g_assert_cmpuint (jobs_count (f, TPT_TABLE_FITTINGS), ==, fittings);
    }
}

/* Columns a sheet does not have are passed over when that is asked for, and a
 * table of the log, which has unit and at as well, stays one. */
static void
test_recognised (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobImport) lenient = import (f, "station,at,unit,mood,percent\nOAK,2026-06-01T09:00,K1,calm,40\n", TRUE);
  g_autoptr (TptJobImport) log = import (f, "entry,unit,at,what\nE1,K1,2026-06-01T09:00,check\n", FALSE);
  g_autoptr (TptJobImport) visits = import (f, "visit,station,at\nV9,OAK,2026-06-02T09:00\n", FALSE);

  assert_counts (lenient, 2, 0, 0);
  assert_counts (log, 1, 0, 0);
  assert_counts (visits, 1, 0, 0);
  g_assert_cmpuint (jobs_count (f, TPT_TABLE_UNIT_LOG), ==, 1);
}

/* A count that falls short is told without keeping the visit out. */
static void
test_warning (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobImport) job = import (f, "station,at,unit,action\nOAK,2026-06-01T09:00,P1,swapped\n", FALSE);
  const char *file, *column, *reason;
  gint64 line;

  g_assert_cmpint (tpt_job_import_get_added (job), ==, 2);
  g_assert_cmpuint (tpt_job_import_get_n_refused (job), ==, 1);
  g_assert_false (tpt_job_import_get_refused (job, 0, &file, &line, &column, &reason));
  g_assert_nonnull (strstr (reason, "only 3 of the 4"));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD_RIG(name, function) g_test_add (name, JobsFixture, NULL, visit_set_up, function, jobs_tear_down)
  ADD_RIG ("/import-sheet/filled", test_filled);
  ADD_RIG ("/import-sheet/order", test_order);
  ADD_RIG ("/import-sheet/twice", test_twice);
  ADD_RIG ("/import-sheet/blank", test_blank);
  ADD_RIG ("/import-sheet/refused", test_refused);
  ADD_RIG ("/import-sheet/recognised", test_recognised);
  ADD_RIG ("/import-sheet/warning", test_warning);
  return g_test_run ();
}
