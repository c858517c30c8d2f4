#include "config.h"

#include "tpt-sheet-dialog.h"

#include <glib/gi18n-lib.h>

#include "tpt-job-sheet.h"
#include "tpt-save-chooser.h"

struct _TptSheetDialog {
  AdwWindow parent_instance;

  GtkProgressBar *progress;
  GtkDropDown *stations; /* all that are due, or the chosen one */
  GtkDropDown *paper;    /* in the order of TptPaper */
  GtkSwitch *exact;
  GtkWidget *discreet_note;
  GtkWidget *exact_note;
  GtkLabel *fault;

  TptProject *project;           /* (owned) (nullable) */
  char *station;                 /* (owned) (nullable) */
  GCancellable *run;             /* (owned) (nullable) */
  GtkFileChooserNative *chooser; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptSheetDialog, tpt_sheet_dialog, ADW_TYPE_WINDOW)

static void
show_fault (TptSheetDialog *self, const char *fault)
{
  gtk_label_set_label (self->fault, fault != NULL ? fault : "");
  gtk_widget_set_visible (GTK_WIDGET (self->fault), fault != NULL);
}

static void
set_running (TptSheetDialog *self, gboolean running)
{
  g_clear_object (&self->run);
  if (running)
    self->run = g_cancellable_new ();
  gtk_progress_bar_set_fraction (self->progress, 0);
  gtk_widget_set_visible (GTK_WIDGET (self->progress), running);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "sheet.save", !running);
}

static void
exact_changed_cb (TptSheetDialog *self)
{
  gboolean exact = gtk_switch_get_active (self->exact);

  gtk_widget_set_visible (self->exact_note, exact);
  gtk_widget_set_visible (self->discreet_note, !exact);
}

static gboolean
wants_one (TptSheetDialog *self)
{
  return self->station != NULL && gtk_drop_down_get_selected (self->stations) == 1;
}

static void
say_written (TptSheetDialog *self, TptJobSheet *job)
{
  GtkWindow *parent = gtk_window_get_transient_for (GTK_WINDOW (self));
  g_autofree char *sheet = g_path_get_basename (g_object_get_data (G_OBJECT (job), "path"));
  g_autofree char *csv = g_path_get_basename (tpt_job_sheet_get_csv_path (job));
  /* Translators: the names of two files. */
  g_autofree char *words = g_strdup_printf (_("Written: %s and %s"), sheet, csv);
  guint unknown = tpt_job_sheet_get_n_unknown (job);
  g_autofree char *all = NULL;

  if (unknown > 0)
    all = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%1$s; %2$u station is left out: nobody can say whether it is due",
                                        "%1$s; %2$u stations are left out: nobody can say whether they are due", unknown), words, unknown);
  if (parent != NULL)
    gtk_widget_activate_action (GTK_WIDGET (parent), "win.say", "s", all != NULL ? all : words);
}

static void
written_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptSheetDialog) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  if (g_task_get_cancellable (G_TASK (result)) != self->run)
    return;
  set_running (self, FALSE);
  if (!good)
    {
      show_fault (self, g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) ? NULL : error->message);
      return;
    }
  say_written (self, TPT_JOB_SHEET (tpt_project_get_job (result)));
  gtk_window_close (GTK_WINDOW (self));
}

void
tpt_sheet_dialog_write_to (TptSheetDialog *self, const char *path)
{
  const char *const one[] = { self->station, NULL };
  g_autoptr (TptJobSheet) job = NULL;

  if (self->run != NULL)
    return;
  show_fault (self, NULL);
  set_running (self, TRUE);
  job = tpt_job_sheet_new ("visit", wants_one (self) ? one : NULL, TPT_NO_INSTANT, TPT_NO_INSTANT, gtk_switch_get_active (self->exact));
  tpt_job_sheet_write_to (job, path, gtk_drop_down_get_selected (self->paper) == 1 ? TPT_PAPER_LETTER : TPT_PAPER_A4);
  g_object_set_data_full (G_OBJECT (job), "path", g_strdup (path), g_free);
  g_object_bind_property (job, "progress", self->progress, "fraction", G_BINDING_SYNC_CREATE);
  tpt_project_run_async (self->project, TPT_JOB (job), self->run, written_cb, g_object_ref (self));
}

static void
file_chosen_cb (TptSheetDialog *self, int response)
{
  g_autoptr (GFile) file = NULL;
  g_autofree char *path = NULL;

  if (response == GTK_RESPONSE_ACCEPT)
    file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (self->chooser));
  g_clear_object (&self->chooser);
  if (file == NULL)
    return;
  path = g_file_get_path (file);
  if (path != NULL)
    tpt_sheet_dialog_write_to (self, path);
  else
    show_fault (self, _("Choose a folder of this computer"));
}

static char *
suggest_name (TptSheetDialog *self)
{
  g_autofree char *code = wants_one (self) ? g_utf8_strdown (self->station, -1) : NULL;

  if (code == NULL)
    return g_strdup (_("visit-sheets.pdf"));
  g_strdelimit (code, " /\\:", '-');
  /* Translators: the code of a station. */
  return g_strdup_printf (_("visit-sheet-%s.pdf"), code);
}

static void
save_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  static const char *const patterns[] = { "*.pdf", NULL };
  TptSheetDialog *self = TPT_SHEET_DIALOG (widget);
  g_autofree char *name = suggest_name (self);

  g_clear_object (&self->chooser);
  self->chooser = tpt_save_chooser_new (GTK_WINDOW (self), _("Save the visit sheet"), tpt_project_get_path (self->project), name,
                                        _("Sheets (.pdf)"), patterns);
  g_signal_connect_object (self->chooser, "response", G_CALLBACK (file_chosen_cb), self, G_CONNECT_SWAPPED);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

/* The first press stops what is being written, the next one leaves. */
static void
cancel_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  TptSheetDialog *self = TPT_SHEET_DIALOG (widget);

  if (self->run != NULL)
    g_cancellable_cancel (self->run);
  else
    gtk_window_close (GTK_WINDOW (self));
}

/* The run holds the dialog until it has answered, so it ends here. */
static void
tpt_sheet_dialog_unrealize (GtkWidget *widget)
{
  TptSheetDialog *self = TPT_SHEET_DIALOG (widget);

  if (self->run != NULL)
    g_cancellable_cancel (self->run);
  g_clear_object (&self->run);

  GTK_WIDGET_CLASS (tpt_sheet_dialog_parent_class)->unrealize (widget);
}

static void
tpt_sheet_dialog_dispose (GObject *object)
{
  TptSheetDialog *self = TPT_SHEET_DIALOG (object);

  g_clear_object (&self->run);
  g_clear_object (&self->chooser);
  g_clear_object (&self->project);
  g_clear_pointer (&self->station, g_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_SHEET_DIALOG);

  G_OBJECT_CLASS (tpt_sheet_dialog_parent_class)->dispose (object);
}

static void
tpt_sheet_dialog_class_init (TptSheetDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_sheet_dialog_dispose;
  widget_class->unrealize = tpt_sheet_dialog_unrealize;
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/field/tpt-sheet-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, TptSheetDialog, progress);
  gtk_widget_class_bind_template_child (widget_class, TptSheetDialog, stations);
  gtk_widget_class_bind_template_child (widget_class, TptSheetDialog, paper);
  gtk_widget_class_bind_template_child (widget_class, TptSheetDialog, exact);
  gtk_widget_class_bind_template_child (widget_class, TptSheetDialog, discreet_note);
  gtk_widget_class_bind_template_child (widget_class, TptSheetDialog, exact_note);
  gtk_widget_class_bind_template_child (widget_class, TptSheetDialog, fault);
  gtk_widget_class_bind_template_callback (widget_class, exact_changed_cb);
  gtk_widget_class_install_action (widget_class, "sheet.save", NULL, save_cb);
  gtk_widget_class_install_action (widget_class, "sheet.cancel", NULL, cancel_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "sheet.cancel", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Return, GDK_CONTROL_MASK, "sheet.save", NULL);
}

static void
tpt_sheet_dialog_init (TptSheetDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static void
offer_station (TptSheetDialog *self)
{
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  g_autofree char *one = self->station != NULL ? g_strdup_printf (_("Only %s, the station that is chosen"), self->station) : NULL;

  gtk_string_list_append (list, _("All that are due before the next round"));
  if (one != NULL)
    gtk_string_list_append (list, one);
  gtk_drop_down_set_model (self->stations, G_LIST_MODEL (list));
}

TptSheetDialog *
tpt_sheet_dialog_present (GtkWindow *parent, TptProject *project, const char *station)
{
  TptSheetDialog *self = g_object_new (TPT_TYPE_SHEET_DIALOG, "transient-for", parent, NULL);

  self->project = g_object_ref (project);
  self->station = g_strdup (station);
  offer_station (self);
  gtk_window_present (GTK_WINDOW (self));
  return self;
}

const char *
tpt_sheet_dialog_get_fault (TptSheetDialog *self)
{
  return gtk_label_get_label (self->fault);
}
