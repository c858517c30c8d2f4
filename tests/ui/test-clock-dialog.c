/* The clock of a batch that is on record, put another way in the window. */
#include "config.h"

#include <adwaita.h>

#include "tpt-clock-dialog.h"
#include "tpt-demo.h"
#include "tpt-job-clock.h"
#include "tpt-job-intake.h"
#include "tpt-job-survey.h"
#include "tpt-job-undo.h"
#include "form-helpers.h"

/* The demo, with the card of a camera whose clock fell back to 2020 taken in
 * and nothing done to its clock. Each test leaves it so. */
static struct {
  char *folder;
  TptProject *project;
  char *batch;
  GtkWindow *parent;
  char *said; /* (owned) (nullable): the last toast */
} at;

static void
run_job (gpointer job)
{
  GError *error = NULL;

  tpt_project_run (at.project, job, NULL, &error);
  g_assert_no_error (error);
}

static void
take_in (void)
{
  const char *none[] = { NULL };
  g_autofree char *card = g_build_filename (at.folder, "cards", "card-moss", NULL);
  g_autoptr (TptJobIntake) job = tpt_job_intake_new ("MOSS-1", card);

  tpt_job_intake_set_steps (job, none);
  run_job (job);
  at.batch = g_strdup (tpt_job_intake_get_batch (job));
  g_assert_nonnull (at.batch);
}

static void
toast_cb (GSimpleAction *action, GVariant *text, gpointer data)
{
  g_free (at.said);
  at.said = g_variant_dup_string (text, NULL);
}

static void
undo (void)
{
  g_autoptr (TptJobUndo) job = tpt_job_undo_new (FALSE);

  run_job (job);
}

static TptJobClock *
look (void)
{
  TptJobClock *job = tpt_job_clock_new_look (at.batch);

  run_job (job);
  return job;
}

/* 2021-01-01T00:00Z */
static gboolean
is_bare (void)
{
  g_autoptr (TptJobClock) job = look ();

  return tpt_job_clock_get_last (job) < 1609459200 * TPT_SECOND;
}

static TptClockDialog *
open_dialog (const char *text)
{
  TptClockDialog *dialog = tpt_clock_dialog_new (at.parent, at.project, at.batch);
  Saying saying = { GTK_WIDGET (dialog), text };

  gtk_window_present (GTK_WINDOW (dialog));
  ui_wait (is_said, &saying);
  return dialog;
}

static GtkCheckButton *
find_step (TptClockDialog *dialog)
{
  GtkWidget *check = ui_find (GTK_WIDGET (dialog), GTK_TYPE_CHECK_BUTTON);

  g_assert_nonnull (check);
  return GTK_CHECK_BUTTON (check);
}

/* Nothing was done: that is said, nothing is ticked, and every step is told
 * with a frame before and after it. */
static void
test_shown (void)
{
  TptClockDialog *dialog = open_dialog ("Nothing was done to the clock");
  g_autoptr (TptJobClock) job = look ();
  const TptClockStep *step = tpt_job_clock_get_steps (job)->pdata[0];

  g_assert_true (is_said_below (GTK_WIDGET (dialog), "24 frames are on record."));
  g_assert_true (is_said_below (GTK_WIDGET (dialog), step->says));
  g_assert_true (is_said_below (GTK_WIDGET (dialog), " → "));
  g_assert_false (gtk_check_button_get_active (find_step (dialog)));
  gtk_test_accessible_assert_property (find_step (dialog), GTK_ACCESSIBLE_PROPERTY_LABEL, step->says);
  gtk_window_destroy (GTK_WINDOW (dialog));
  g_assert_true (is_bare ());
}

/* What is ticked is done, is ticked the next time, and is taken back by undo. */
static void
test_put_right (void)
{
  TptClockDialog *dialog = open_dialog ("Nothing was done to the clock");

  gtk_check_button_set_active (find_step (dialog), TRUE);
  g_assert_true (is_said_below (GTK_WIDGET (dialog), "What is ticked is done"));
  press_and_wait (dialog);
  g_assert_false (is_bare ());
  g_assert_nonnull (strstr (at.said, "24 frames of"));
  dialog = open_dialog ("1 step was done to the clock");
  g_assert_true (gtk_check_button_get_active (find_step (dialog)));
  g_assert_true (is_said_below (GTK_WIDGET (dialog), "This is what is on record."));
  gtk_window_destroy (GTK_WINDOW (dialog));
  undo ();
  g_assert_true (is_bare ());
}

/* With nothing ticked everything goes back to what the camera showed. */
static void
test_bare (void)
{
  g_autoptr (TptJobClock) repair = tpt_job_clock_new_repair (at.batch);
  TptClockDialog *dialog;
  GtkWidget *check;

  run_job (repair);
  g_assert_false (is_bare ());
  dialog = open_dialog ("done to the clock");
  for (check = GTK_WIDGET (find_step (dialog)); check != NULL; check = gtk_widget_get_next_sibling (check))
    gtk_check_button_set_active (GTK_CHECK_BUTTON (check), FALSE);
  g_assert_true (is_said_below (GTK_WIDGET (dialog), "Every frame goes back to what the camera showed."));
  press_and_wait (dialog);
  g_assert_true (is_bare ());
  undo ();
  g_assert_false (is_bare ());
  undo ();
  g_assert_true (is_bare ());
}

/* A batch that is not there is said in words, and closing in the middle of a
 * look harms nothing. */
static void
test_refused (void)
{
  TptClockDialog *dialog = tpt_clock_dialog_new (at.parent, at.project, "NO-SUCH-BATCH");
  Saying saying = { GTK_WIDGET (dialog), "NO-SUCH-BATCH" };

  gtk_window_present (GTK_WINDOW (dialog));
  ui_wait (is_said, &saying);
  g_assert_false (gtk_widget_get_sensitive (find_save (dialog)));
  gtk_window_destroy (GTK_WINDOW (dialog));
  dialog = tpt_clock_dialog_new (at.parent, at.project, at.batch);
  gtk_window_present (GTK_WINDOW (dialog));
  gtk_window_destroy (GTK_WINDOW (dialog));
  ui_settle ();
}

static void
set_up (void)
{
  g_autoptr (GSimpleActionGroup) actions = g_simple_action_group_new ();
  g_autoptr (GSimpleAction) toast = g_simple_action_new ("toast", G_VARIANT_TYPE_STRING);
  g_autofree char *path = NULL;
  GError *error = NULL;

  at.folder = g_dir_make_tmp ("clock-dialog-XXXXXX", NULL);
  g_rmdir (at.folder);
  tpt_demo_write (at.folder, NULL, &error);
  g_assert_no_error (error);
  path = g_build_filename (at.folder, TPT_DEMO_FILE, NULL);
  at.project = tpt_project_open (path, &error);
  g_assert_no_error (error);
  at.parent = g_object_new (GTK_TYPE_WINDOW, NULL);
  g_signal_connect (toast, "activate", G_CALLBACK (toast_cb), NULL);
  g_action_map_add_action (G_ACTION_MAP (actions), G_ACTION (toast));
  gtk_widget_insert_action_group (GTK_WIDGET (at.parent), "win", G_ACTION_GROUP (actions));
  gtk_window_present (at.parent);
  take_in ();
}

static void
tear_down (void)
{
  gtk_window_destroy (at.parent);
  ui_settle ();
  g_clear_object (&at.project);
  ui_remove_tree (at.folder);
  g_free (at.folder);
  g_free (at.batch);
  g_free (at.said);
}

int
main (int argc, char *argv[])
{
  int failed;

  g_test_init (&argc, &argv, NULL);
  adw_init ();
  set_up ();
  g_test_add_func ("/clock-dialog/shown", test_shown);
  g_test_add_func ("/clock-dialog/put-right", test_put_right);
  g_test_add_func ("/clock-dialog/bare", test_bare);
  g_test_add_func ("/clock-dialog/refused", test_refused);
  failed = g_test_run ();
  tear_down ();
  return failed;
}
