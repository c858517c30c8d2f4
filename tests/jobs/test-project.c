#include "config.h"

#include "jobs-fixture.h"
#include "tpt-store.h"

/* How long something may take to arrive before the test gives up. */
#define PATIENCE_US (20 * G_USEC_PER_SEC)

static gboolean
wait_until (gboolean (*done) (gpointer), gpointer data)
{
  gint64 deadline = g_get_monotonic_time () + PATIENCE_US;

  while (!done (data) && g_get_monotonic_time () < deadline)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (2000);
  return done (data);
}

typedef struct {
  GString *order; /* (owned): codes of the jobs as their answers came */
  guint expected;
  guint cancelled;
  guint refused;
} Answers;

static void
answered_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Answers *answers = data;
  g_autoptr (GError) error = NULL;
  TptJob *job = tpt_project_get_job (result);
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  g_assert_cmpint (good, ==, error == NULL);
  answers->cancelled += g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  answers->refused += g_error_matches (error, TPT_ERROR, TPT_ERROR_DATA);
  g_string_append (answers->order, g_object_get_data (G_OBJECT (job), "code"));
}

static gboolean
has_all (gpointer data)
{
  Answers *answers = data;

  return answers->order->len >= answers->expected;
}

static TptJob *
make_job (JobsFixture *f, const char *code)
{
  TptJobEdit *job = tpt_job_edit_new (code);
  g_autoptr (TptRecord) record = ROW (TPT_TABLE_STATIONS, "station", code);

  tpt_job_edit_save (job, record);
  g_object_set_data_full (G_OBJECT (job), "code", g_strdup (code), g_free);
  return TPT_JOB (job);
}

/* In the order given, and one that fails does not stop the next. */
static void
test_order (JobsFixture *f, gconstpointer data)
{
  Answers answers = { g_string_new (NULL), 8 };
  static const char *const codes[] = { "A", "B", "C", "A", "D", "E", "F", "G" };

  for (gsize i = 0; i < G_N_ELEMENTS (codes); i++)
    {
      g_autoptr (TptJob) job = make_job (f, codes[i]);

      tpt_project_run_async (f->project, job, NULL, answered_cb, &answers);
    }
  g_assert_true (wait_until (has_all, &answers));
  g_assert_cmpstr (answers.order->str, ==, "ABCADEFG");
  g_assert_cmpuint (answers.refused, ==, 1); /* the second A */
  g_assert_cmpuint (jobs_count (f, TPT_TABLE_STATIONS), ==, 7);
  g_string_free (answers.order, TRUE);
}

/* A job cancelled before its turn writes nothing; those around it do. */
static void
test_cancel (JobsFixture *f, gconstpointer data)
{
  Answers answers = { g_string_new (NULL), 3 };
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  static const char *const codes[] = { "A", "B", "C" };

  g_cancellable_cancel (cancellable);
  for (gsize i = 0; i < G_N_ELEMENTS (codes); i++)
    {
      g_autoptr (TptJob) job = make_job (f, codes[i]);

      tpt_project_run_async (f->project, job, i == 1 ? cancellable : NULL, answered_cb, &answers);
    }
  g_assert_true (wait_until (has_all, &answers));
  g_assert_cmpstr (answers.order->str, ==, "ABC");
  g_assert_cmpuint (answers.cancelled, ==, 1);
  g_assert_cmpuint (jobs_count (f, TPT_TABLE_STATIONS), ==, 2);
  g_string_free (answers.order, TRUE);
}

static void
cancel_cb (TptJob *job, double progress, const char *text, gpointer cancellable)
{
  g_cancellable_cancel (cancellable);
}

/* A lengthy job cancelled on its way leaves the project as it was. */
static void
test_cancel_import (JobsFixture *f, gconstpointer data)
{
  g_autoptr (GString) table = g_string_new ("station\n");
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (TptJobImport) job = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;
  const char *paths[2] = { NULL, NULL };

  for (guint i = 0; i < 500; i++)
    g_string_append_printf (table, "T%u\n", i);
  paths[0] = path = jobs_write (f, "many.csv", table->str);
  job = tpt_job_import_new (paths, FALSE, FALSE);
  tpt_job_set_progress_func (TPT_JOB (job), cancel_cb, cancellable);
  g_assert_false (tpt_project_run (f->project, TPT_JOB (job), cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpuint (jobs_count (f, TPT_TABLE_STATIONS), ==, 0);
  jobs_assert_sound (f, TRUE);
}

static void
count_cb (TptProject *project, gpointer data)
{
  guint *changes = data;

  (*changes)++;
}

static gboolean
has_changed (gpointer data)
{
  guint *changes = data;

  return *changes > 0;
}

/* Another program's change is told within two seconds; looking changes nothing. */
static void
test_changed (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptProject) other = NULL;
  g_autoptr (GError) error = NULL;
  JobsFixture theirs = *f;
  guint changes = 0;
  gint64 asked;

  other = tpt_project_open (f->path, &error);
  g_assert_no_error (error);
  theirs.project = other;
  g_signal_connect (f->project, "changed", G_CALLBACK (count_cb), &changes);
  tpt_project_watch (f->project);

  jobs_put (&theirs, jobs_make (f, TPT_TABLE_STATIONS, (const char *const[]){ "station", "OAK", NULL }));
  asked = g_get_monotonic_time ();
  g_assert_true (wait_until (has_changed, &changes));
  g_assert_cmpint (g_get_monotonic_time () - asked, <, 2 * G_USEC_PER_SEC);
  g_assert_cmpstr (tpt_project_get_undo_label (f->project), ==, "put");
  g_assert_cmpuint (jobs_count (f, TPT_TABLE_STATIONS), ==, 1);

  changes = 0;
  asked = g_get_monotonic_time ();
  while (g_get_monotonic_time () - asked < 1300 * 1000) /* past the next look */
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (5000);
  g_assert_cmpuint (changes, ==, 0);
}

typedef struct {
  TptProject *project;
  const char *undo, *redo; /* (nullable) */
} Labels;

static gboolean
has_labels (gpointer data)
{
  Labels *labels = data;

  return g_strcmp0 (tpt_project_get_undo_label (labels->project), labels->undo) == 0 &&
         g_strcmp0 (tpt_project_get_redo_label (labels->project), labels->redo) == 0;
}

/* A, B: add stations; u, r: undo, redo. What can be taken back is named. */
static void
test_labels (JobsFixture *f, gconstpointer data)
{
  static const struct {
    char step;
    const char *undo, *redo;
  } steps[] = {
    { 'A', "A", NULL }, { 'B', "B", NULL }, { 'u', "A", "B" }, { 'u', NULL, "A" },
    { 'r', "A", "B" },  { 'C', "C", NULL }, { 'u', "A", "C" }, { 'r', "C", NULL },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      Labels labels = { f->project, steps[i].undo, steps[i].redo };
      g_autofree char *undo = NULL, *redo = NULL;

      g_test_message ("step %u", (guint) i);
      if (steps[i].step == 'u' || steps[i].step == 'r')
        jobs_undo (f, steps[i].step == 'r');
      else
        {
          char code[] = { steps[i].step, '\0' };
          g_autoptr (TptJob) job = make_job (f, code);

          jobs_run (f, job);
        }
      g_assert_true (wait_until (has_labels, &labels));
      g_object_get (f->project, "undo-label", &undo, "redo-label", &redo, NULL);
      g_assert_cmpstr (undo, ==, steps[i].undo);
      g_assert_cmpstr (redo, ==, steps[i].redo);
    }
}

/* Nothing to undo, and undoing what somebody else changed since. */
static void
test_undo_refused (JobsFixture *f, gconstpointer data)
{
  static const int codes[] = { TPT_ERROR_USAGE, TPT_ERROR_CONFLICT };

  for (gsize i = 0; i < G_N_ELEMENTS (codes); i++)
    {
      g_autoptr (TptJobUndo) job = tpt_job_undo_new (FALSE);
      g_autoptr (GError) error = NULL;

      if (i == 1)
        {
          g_autoptr (TptStore) store = NULL;

          PUT (TPT_TABLE_STATIONS, "station", "OAK");
          store = tpt_store_open (f->path, FALSE, NULL);
          g_assert_true (tpt_db_exec (tpt_store_get_db (store), "UPDATE stations SET name = 'by hand'", NULL));
        }
      g_assert_false (tpt_project_run (f->project, TPT_JOB (job), NULL, &error));
      g_assert_error (error, TPT_ERROR, codes[i]);
      g_assert_true (*error->message != '\0');
    }
}

static void
opened_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  GAsyncResult **kept = data;

  *kept = g_object_ref (result);
}

static gboolean
has_result (gpointer data)
{
  return *(GAsyncResult **) data != NULL;
}

static void
test_open (JobsFixture *f, gconstpointer data)
{
  g_autofree char *stranger = jobs_write (f, "notes.txt", "not a project\n"), *missing = jobs_path (f, "nowhere.gpkg");
  struct {
    const char *path;
    gboolean good;
  } cases[] = { { f->path, TRUE }, { stranger, FALSE }, { missing, FALSE }, { f->folder, FALSE } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GAsyncResult) result = NULL;
      g_autoptr (TptProject) project = NULL;
      g_autoptr (GError) error = NULL;

      tpt_project_open_async (cases[i].path, NULL, opened_cb, &result);
      g_assert_true (wait_until (has_result, &result));
      project = tpt_project_open_finish (result, &error);
      g_assert_cmpint (project != NULL, ==, cases[i].good);
      if (!cases[i].good)
        g_assert_error (error, TPT_ERROR, TPT_ERROR_PROJECT);
      else
        g_assert_cmpstr (tpt_project_get_name (project), ==, "Valley");
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  ADD ("/project/order", test_order);
  ADD ("/project/cancel", test_cancel);
  ADD ("/project/cancel-import", test_cancel_import);
  ADD ("/project/changed", test_changed);
  ADD ("/project/labels", test_labels);
  ADD ("/project/undo-refused", test_undo_refused);
  ADD ("/project/open", test_open);
  return g_test_run ();
}
