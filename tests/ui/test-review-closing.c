/* A dialog closed while its answer is on the way: the answer comes to nothing.
 * Common practice, no source; what matters is that nothing is touched that is
 * gone, which the address sanitizer and fatal criticals see. */
#include <adwaita.h>

#include "tpt-job-edit.h"
#include "tpt-record-dialog.h"
#include "tpt-import-dialog.h"
#include "tpt-cards-dialog.h"
#include "tpt-new-project-dialog.h"
#include "tpt-set-out-dialog.h"
#include "tpt-visit-dialog.h"
#include "ui-helpers.h"

/* Long enough for the worker to be done while the main loop rests. */
#define WORKER_US (400 * 1000)

typedef struct {
  char *folder; /* (owned) */
  char *path;   /* (owned) */
  TptProject *project;
  GtkWindow *parent;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  f->folder = g_dir_make_tmp ("closing-XXXXXX", NULL);
  f->path = g_build_filename (f->folder, "valley.gpkg", NULL);
  f->project = ui_make_project (f->path);
  f->parent = GTK_WINDOW (gtk_window_new ());
  gtk_window_present (f->parent);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  gtk_window_destroy (f->parent);
  ui_settle ();
  g_clear_object (&f->project);
  g_remove (f->path);
  g_rmdir (f->folder);
  g_free (f->path);
  g_free (f->folder);
}

static void
close_before_answer (GtkWindow *dialog)
{
  gpointer watched = dialog;

  g_object_add_weak_pointer (G_OBJECT (dialog), &watched);
  gtk_window_present (dialog);
  g_usleep (WORKER_US);
  gtk_window_destroy (dialog);
  ui_settle ();
  g_assert_null (watched);
}

static void
test_reading (Fixture *f, gconstpointer data)
{
  close_before_answer (GTK_WINDOW (tpt_cards_dialog_new (f->parent, f->project, "ALDER")));
  close_before_answer (GTK_WINDOW (tpt_visit_dialog_new (f->parent, f->project, "ALDER", FALSE)));
  close_before_answer (GTK_WINDOW (tpt_visit_dialog_new (f->parent, f->project, "ALDER", TRUE)));
  close_before_answer (GTK_WINDOW (tpt_set_out_dialog_new (f->parent, f->project, "ALDER")));
}

/* The second answer, that of the station, is the one on its way. */
static void
test_visit_station (Fixture *f, gconstpointer data)
{
  TptVisitDialog *dialog = tpt_visit_dialog_new (f->parent, f->project, "ALDER", FALSE);

  for (int turn = 0; turn < 4; turn++)
    {
      g_usleep (WORKER_US / 4);
      g_main_context_iteration (NULL, FALSE);
    }
  close_before_answer (GTK_WINDOW (dialog));
}

/* Closing is how an import is called off. */
static void
test_import (Fixture *f, gconstpointer data)
{
  g_autofree char *table = g_build_filename (f->folder, "stations.csv", NULL);
  const char *paths[] = { table, NULL };
  TptImportDialog *dialog = tpt_import_dialog_new (f->parent, f->project);
  GCancellable *cancellable = g_object_ref (tpt_form_dialog_get_cancellable (TPT_FORM_DIALOG (dialog)));

  g_file_set_contents (table, "station,name\nELM,Elm\n", -1, NULL);
  tpt_import_dialog_set_files (dialog, paths);
  gtk_window_present (GTK_WINDOW (dialog));
  gtk_window_close (GTK_WINDOW (dialog));
  while (!g_cancellable_is_cancelled (cancellable) && g_main_context_iteration (NULL, FALSE))
    ;
  g_assert_true (g_cancellable_is_cancelled (cancellable));
  ui_settle ();
  g_object_unref (cancellable);
  g_remove (table);
}

static void
never_cb (TptProject *project, gpointer data)
{
  g_assert_not_reached ();
}

/* Nobody waits for the project any more: it is made, but not opened. */
static void
test_new_project (Fixture *f, gconstpointer data)
{
  static const char *const files[] = { "made.gpkg", "nowhere/made.gpkg" };

  for (gsize i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autofree char *path = g_build_filename (f->folder, files[i], NULL);
      TptNewProjectDialog *dialog = tpt_new_project_dialog_new (f->parent, never_cb, NULL);

      tpt_new_project_dialog_set_file (dialog, path);
      TPT_FORM_DIALOG_GET_CLASS (dialog)->save (TPT_FORM_DIALOG (dialog));
      close_before_answer (GTK_WINDOW (dialog));
      g_remove (path);
    }
}

/* Refused or done, the answer to a save finds nobody. */
static void
test_save (Fixture *f, gconstpointer data)
{
  static const char *const codes[] = { "ALDER", "ELM" };

  for (gsize i = 0; i < G_N_ELEMENTS (codes); i++)
    {
      GtkWidget *dialog = GTK_WIDGET (tpt_record_dialog_new (f->parent, f->project, TPT_TABLE_STATIONS, NULL));
      g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_STATIONS);
      TptJobEdit *job = tpt_job_edit_new ("New station");

      tpt_record_set_text (record, "station", codes[i]);
      tpt_job_edit_save (job, record);
      tpt_form_dialog_run (TPT_FORM_DIALOG (dialog), job, "Station saved");
      close_before_answer (GTK_WINDOW (dialog));
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  adw_init ();

  g_test_add ("/closing/reading", Fixture, NULL, set_up, test_reading, tear_down);
  g_test_add ("/closing/visit-station", Fixture, NULL, set_up, test_visit_station, tear_down);
  g_test_add ("/closing/import", Fixture, NULL, set_up, test_import, tear_down);
  g_test_add ("/closing/new-project", Fixture, NULL, set_up, test_new_project, tear_down);
  g_test_add ("/closing/save", Fixture, NULL, set_up, test_save, tear_down);
  return g_test_run ();
}
