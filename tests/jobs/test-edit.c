#include "config.h"

#include "jobs-fixture.h"

static void
set_up (JobsFixture *f, gconstpointer data)
{
  jobs_set_up (f, "Asia/Kuching");
  PUT (TPT_TABLE_STATIONS, "station", "OAK");
  PUT (TPT_TABLE_UNITS, "unit", "K1", "kind", "camera");
  PUT (TPT_TABLE_UNITS, "unit", "P1", "kind", "pack");
}

static guint
count_all (JobsFixture *f)
{
  static const TptTableId ids[] = { TPT_TABLE_DEPLOYMENTS, TPT_TABLE_FITTINGS, TPT_TABLE_VISITS, TPT_TABLE_READINGS };
  guint n = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (ids); i++)
    n += jobs_count (f, ids[i]);
  return n;
}

static void
save (TptJobEdit *job, TptRecord *record)
{
  g_autoptr (TptRecord) owned = record;

  tpt_job_edit_save (job, owned);
}

/* A rig set out on a visit, with what belongs to each: one action. */
static TptJobEdit *
set_out (JobsFixture *f)
{
  TptJobEdit *job = tpt_job_edit_new ("Set out at OAK");

  save (job, ROW (TPT_TABLE_DEPLOYMENTS, "station", "OAK", "start", "2026-05-14T07:30"));
  save (job, ROW (TPT_TABLE_FITTINGS, "unit", "K1", "from", "2026-05-14T07:30"));
  save (job, ROW (TPT_TABLE_FITTINGS, "unit", "P1", "from", "2026-05-14T07:30"));
  save (job, ROW (TPT_TABLE_VISITS, "station", "OAK", "at", "2026-05-14T07:30", "found", "working"));
  save (job, ROW (TPT_TABLE_READINGS, "unit", "K1", "percent", "90"));
  save (job, ROW (TPT_TABLE_READINGS, "unit", "P1", "percent", "80"));
  tpt_job_edit_set_setting (job, "round_at", "2026-06-14");
  return job;
}

static void
test_together (JobsFixture *f, gconstpointer data)
{
  static const guint counts[] = { 6, 0, 6, 0 }; /* done, undone, redone, undone */
  g_autoptr (TptJobEdit) job = set_out (f);
  g_autoptr (GPtrArray) readings = NULL, fittings = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (counts); i++)
    {
      if (i == 0)
        jobs_run (f, job);
      else
        jobs_undo (f, i == 2);
      g_assert_cmpuint (count_all (f), ==, counts[i]);
      jobs_assert_sound (f, TRUE);
      if (i != 0)
        continue;
      readings = jobs_list (f, TPT_TABLE_READINGS, "visit", "OAK-2026-05-14-01");
      fittings = jobs_list (f, TPT_TABLE_FITTINGS, "deployment", "OAK-2026-05-14-01");
      g_assert_cmpuint (readings->len, ==, 2);
      g_assert_cmpuint (fittings->len, ==, 2);
    }
}

/* Codes are made of the station and the local day, and never given twice. */
static void
test_codes (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *at;
    const char *code;
  } cases[] = {
    { "2026-05-14T07:30", "OAK-2026-05-14-01" },
    { "2026-05-14T18:00", "OAK-2026-05-14-02" },
    { "2026-05-14T23:30:00Z", "OAK-2026-05-15-01" }, /* the 15th at +08:00 */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobEdit) job = tpt_job_edit_new ("Visit");
      g_autoptr (TptRecord) visit = ROW (TPT_TABLE_VISITS, "station", "OAK", "at", cases[i].at);

      tpt_job_edit_save (job, visit);
      jobs_run (f, job);
      g_assert_cmpstr (tpt_record_get_code (visit), ==, cases[i].code);
    }
}

/* One fault among many rows: it is named, and nothing is kept. */
static void
test_fault (JobsFixture *f, gconstpointer data)
{
  struct {
    TptRecord *bad;
    const char *column;
  } cases[] = {
    { ROW (TPT_TABLE_READINGS, "visit", "nowhere", "unit", "K1"), "visit" },
    { ROW (TPT_TABLE_READINGS, "unit", "K9"), "unit" },
    { ROW (TPT_TABLE_FITTINGS, "unit", "K1", "from", "2026-05-20"), "unit" }, /* there already */
    { ROW (TPT_TABLE_FITTINGS, "unit", "K1", "from", "2026-05-10", "to", "2026-05-01"), "to" },
    { ROW (TPT_TABLE_VISITS, "at", "2026-05-20"), "station" },
    { ROW (TPT_TABLE_VISITS, "station", "OAK"), "at" },
    { ROW (TPT_TABLE_VISITS, "station", "OAK", "at", "2026-05-20", "camera_clock", "2026-05-20T10:00"), "true_clock" },
    { ROW (TPT_TABLE_DEPLOYMENTS, "station", "OAK", "start", "2026-05-20", "end", "2026-05-19"), "end" },
    { ROW (TPT_TABLE_STATIONS, "station", "OAK"), "station" }, /* a new one of that code */
    { ROW (TPT_TABLE_STATIONS, "station", "ELM", "latitude", "1"), "longitude" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobEdit) job = set_out (f);
      g_autoptr (TptRecord) bad = cases[i].bad;
      g_autoptr (GError) error = NULL;
      const char *column = NULL;

      tpt_job_edit_save (job, bad);
      g_test_message ("row %u", (guint) i);
      g_assert_false (tpt_project_run (f->project, TPT_JOB (job), NULL, &error));
      g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
      g_assert_true (tpt_job_edit_get_fault (job, &column) == bad);
      g_assert_cmpstr (column, ==, cases[i].column);
      g_assert_cmpuint (count_all (f), ==, 0);
    }
}

/* Removing: what has a history stays, and the record is named. */
static void
test_remove (JobsFixture *f, gconstpointer data)
{
  static const struct {
    TptTableId table;
    const char *column, *value;
    gboolean good;
  } cases[] = {
    { TPT_TABLE_STATIONS, "station", "OAK", FALSE },
    { TPT_TABLE_UNITS, "unit", "K1", FALSE },
    { TPT_TABLE_VISITS, "visit", "OAK-2026-05-14-01", FALSE },
    { TPT_TABLE_DEPLOYMENTS, "deployment", "OAK-2026-05-14-01", FALSE },
    { TPT_TABLE_READINGS, "unit", "K1", TRUE },
    { TPT_TABLE_FITTINGS, "unit", "K1", TRUE },
    { TPT_TABLE_UNITS, "unit", "K1", TRUE }, /* nothing speaks of it any more */
  };
  g_autoptr (TptJobEdit) first = set_out (f);

  jobs_run (f, first);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobEdit) job = tpt_job_edit_new ("Remove");
      g_autoptr (GPtrArray) rows = jobs_list (f, cases[i].table, cases[i].column, cases[i].value);
      g_autoptr (GPtrArray) left = NULL;
      g_autoptr (GError) error = NULL;

      g_test_message ("%s", cases[i].value);
      g_assert_cmpuint (rows->len, ==, 1);
      tpt_job_edit_remove (job, rows->pdata[0]);
      g_assert_cmpint (tpt_project_run (f->project, TPT_JOB (job), NULL, &error), ==, cases[i].good);
      g_assert_true (tpt_job_edit_get_fault (job, NULL) == (cases[i].good ? NULL : rows->pdata[0]));
      left = jobs_list (f, cases[i].table, cases[i].column, cases[i].value);
      g_assert_cmpuint (left->len, ==, cases[i].good ? 0 : 1);
    }
  jobs_assert_sound (f, TRUE);
}

/* Each step fails once: all of it is there afterwards, or none. */
static void
test_faults (JobsFixture *f, gconstpointer data)
{
  int n;

  for (n = 1; n < 200; n++)
    {
      g_autoptr (TptJobEdit) job = set_out (f);
      g_autoptr (GError) error = NULL;
      gboolean done;

      tpt_fault_arm (n);
      done = tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
      tpt_fault_arm (0);
      if (done)
        break;
      g_assert_error (error, TPT_ERROR, TPT_ERROR_FAULT);
      g_assert_cmpuint (count_all (f), ==, 0);
    }
  g_assert_cmpint (n, >, 8);
  g_assert_cmpint (n, <, 200);
  g_assert_cmpuint (count_all (f), ==, 6);
  jobs_assert_sound (f, TRUE);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD_FILLED(name, function) g_test_add (name, JobsFixture, NULL, set_up, function, jobs_tear_down)
  ADD_FILLED ("/edit/together", test_together);
  ADD_FILLED ("/edit/codes", test_codes);
  ADD_FILLED ("/edit/fault", test_fault);
  ADD_FILLED ("/edit/remove", test_remove);
  ADD_FILLED ("/edit/faults", test_faults);
  return g_test_run ();
}
