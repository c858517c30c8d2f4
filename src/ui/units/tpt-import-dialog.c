#include "config.h"

#include "tpt-import-dialog.h"

#include <glib/gi18n-lib.h>

#include "tpt-job-import.h"

/* More refusals than this are counted, not listed. */
#define LISTED 200

struct _TptImportDialog {
  TptFormDialog parent_instance;

  GStrv paths; /* (owned) (nullable) */
  GtkButton *choose;
  GtkLabel *outcome;
  GtkLabel *refused;
};

G_DEFINE_FINAL_TYPE (TptImportDialog, tpt_import_dialog, TPT_TYPE_FORM_DIALOG)

static void
say_counts (TptImportDialog *self, TptJobImport *job, gboolean dry)
{
  g_autofree char *text = g_strdup_printf (dry ? _("Would add %d, update %d; %d are the same already; %u refused.")
                                               : _("Added %d, updated %d; %d were the same already; %u refused."),
                                           (int) tpt_job_import_get_added (job), (int) tpt_job_import_get_updated (job),
                                           (int) tpt_job_import_get_unchanged (job), tpt_job_import_get_n_lost (job));

  gtk_label_set_text (self->outcome, text);
}

/* Every refused row with its place, so that it can be mended in the file. */
static void
list_refused (TptImportDialog *self, TptJobImport *job)
{
  guint n = tpt_job_import_get_n_refused (job);
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < n && i < LISTED; i++)
    {
      g_autofree char *line = tpt_job_import_describe_refused (job, i);
      g_string_append_printf (text, "%s%s", i == 0 ? "" : "\n", line);
    }
  if (n > LISTED)
    g_string_append_printf (text, _("\n… and %u more"), n - LISTED);
  if (tpt_job_import_get_n_lost (job) > 0)
    g_string_append (text, _("\n\nA file with a refused row is left out as a whole; mend it and choose it again."));
  gtk_label_set_text (self->refused, text->str);
  gtk_widget_set_visible (GTK_WIDGET (self->refused), n > 0);
}

/* %FALSE when there is nothing more to do: failed, and told so, or cancelled. */
static gboolean
finish_run (TptImportDialog *self, TptProject *project, GAsyncResult *result)
{
  g_autoptr (GError) error = NULL;

  if (tpt_project_run_finish (project, result, &error))
    return TRUE;
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return FALSE;
  tpt_form_dialog_set_busy (TPT_FORM_DIALOG (self), FALSE);
  tpt_form_dialog_set_message (TPT_FORM_DIALOG (self), error->message);
  return FALSE;
}

static void
looked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptImportDialog) self = data;
  TptJobImport *job;

  if (!finish_run (self, TPT_PROJECT (source), result))
    return;
  job = TPT_JOB_IMPORT (tpt_project_get_job (result));
  tpt_form_dialog_set_busy (TPT_FORM_DIALOG (self), FALSE);
  say_counts (self, job, TRUE);
  list_refused (self, job);
  tpt_form_dialog_set_valid (TPT_FORM_DIALOG (self),
                             tpt_job_import_get_added (job) > 0 || tpt_job_import_get_updated (job) > 0);
}

static void
imported_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptImportDialog) self = data;
  GtkWindow *parent;

  if (!finish_run (self, TPT_PROJECT (source), result))
    return;
  say_counts (self, TPT_JOB_IMPORT (tpt_project_get_job (result)), FALSE);
  parent = gtk_window_get_transient_for (GTK_WINDOW (self));
  if (parent != NULL)
    gtk_widget_activate_action (GTK_WIDGET (parent), "win.toast", "s", gtk_label_get_text (self->outcome));
  gtk_window_destroy (GTK_WINDOW (self));
}

static void
run (TptImportDialog *self, gboolean dry, GAsyncReadyCallback callback)
{
  TptFormDialog *dialog = TPT_FORM_DIALOG (self);
  g_autoptr (TptJobImport) job = tpt_job_import_new ((const char *const *) self->paths, dry, FALSE);

  tpt_form_dialog_set_message (dialog, NULL);
  tpt_form_dialog_set_busy (dialog, TRUE);
  tpt_project_run_async (tpt_form_dialog_get_project (dialog), TPT_JOB (job), tpt_form_dialog_get_cancellable (dialog), callback,
                         g_object_ref (self));
}

static void
tpt_import_dialog_save (TptFormDialog *dialog)
{
  run (TPT_IMPORT_DIALOG (dialog), FALSE, imported_cb);
}

static void
show_files (TptImportDialog *self)
{
  g_autoptr (GString) names = g_string_new (NULL);

  for (guint i = 0; self->paths != NULL && self->paths[i] != NULL; i++)
    {
      g_autofree char *name = g_path_get_basename (self->paths[i]);
      g_autofree char *shown = g_filename_display_name (name);
      g_string_append_printf (names, "%s%s", i == 0 ? "" : ", ", shown);
    }
  gtk_button_set_label (self->choose, names->len > 0 ? names->str : _("Choose files…"));
}

void
tpt_import_dialog_set_files (TptImportDialog *self, const char *const *paths)
{
  g_strfreev (self->paths);
  self->paths = g_strdupv ((GStrv) paths);
  show_files (self);
  tpt_form_dialog_set_valid (TPT_FORM_DIALOG (self), FALSE);
  run (self, TRUE, looked_cb);
}

static void
chosen_cb (GtkNativeDialog *chooser, int response, TptImportDialog *self)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  g_autoptr (GListModel) files = NULL;
  g_auto (GStrv) paths = NULL;

  if (response == GTK_RESPONSE_ACCEPT)
    {
      files = gtk_file_chooser_get_files (GTK_FILE_CHOOSER (chooser));
      for (guint i = 0; i < g_list_model_get_n_items (files); i++)
        {
          g_autoptr (GFile) file = g_list_model_get_item (files, i);
          g_autofree char *path = g_file_get_path (file);
          g_strv_builder_add (builder, path);
        }
      paths = g_strv_builder_end (builder);
      tpt_import_dialog_set_files (self, (const char *const *) paths);
    }
  g_object_unref (chooser);
}

static void
choose_cb (TptImportDialog *self)
{
  GtkFileChooserNative *chooser = gtk_file_chooser_native_new (_("Tables, waypoints and tracks"), GTK_WINDOW (self),
                                                               GTK_FILE_CHOOSER_ACTION_OPEN, _("_Choose"), NULL);

  gtk_file_chooser_set_select_multiple (GTK_FILE_CHOOSER (chooser), TRUE);
  g_signal_connect_object (chooser, "response", G_CALLBACK (chosen_cb), self, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

static GtkLabel *
add_label (TptImportDialog *self, const char *text, gboolean selectable)
{
  GtkLabel *label = GTK_LABEL (gtk_label_new (text));

  gtk_label_set_wrap (label, TRUE);
  gtk_label_set_xalign (label, 0);
  gtk_label_set_selectable (label, selectable);
  tpt_form_dialog_add (TPT_FORM_DIALOG (self), NULL, GTK_WIDGET (label));
  return label;
}

static void
tpt_import_dialog_finalize (GObject *object)
{
  g_strfreev (TPT_IMPORT_DIALOG (object)->paths);

  G_OBJECT_CLASS (tpt_import_dialog_parent_class)->finalize (object);
}

static void
tpt_import_dialog_class_init (TptImportDialogClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_import_dialog_finalize;
  TPT_FORM_DIALOG_CLASS (klass)->save = tpt_import_dialog_save;
}

static void
tpt_import_dialog_init (TptImportDialog *self)
{
}

TptImportDialog *
tpt_import_dialog_new (GtkWindow *parent, TptProject *project)
{
  TptImportDialog *self = g_object_new (TPT_TYPE_IMPORT_DIALOG, NULL);

  tpt_form_dialog_set_up (TPT_FORM_DIALOG (self), parent, project, _("Import"), _("_Import"));
  add_label (self, _("CSV tables are known by their header; waypoints of GPX and GeoJSON files become stations, tracks and routes "
                     "become tracks. What would change is shown before anything is taken."), FALSE);
  self->choose = GTK_BUTTON (gtk_button_new ());
  g_signal_connect_swapped (self->choose, "clicked", G_CALLBACK (choose_cb), self);
  tpt_form_dialog_add (TPT_FORM_DIALOG (self), _("Files"), GTK_WIDGET (self->choose));
  self->outcome = add_label (self, NULL, FALSE);
  self->refused = add_label (self, NULL, TRUE);
  gtk_widget_set_visible (GTK_WIDGET (self->refused), FALSE);
  show_files (self);
  return self;
}

void
tpt_import_dialog_present (GtkWindow *parent, TptProject *project)
{
  gtk_window_present (GTK_WINDOW (tpt_import_dialog_new (parent, project)));
}
