#include "config.h"

#include "tpt-species-dialog.h"

#include <glib/gi18n-lib.h>

#include "tpt-import-dialog.h"
#include "tpt-job-edit.h"
#include "tpt-job-species.h"
#include "tpt-list-focus.h"
#include "tpt-record-dialog.h"
#include "tpt-species-line.h"

struct _TptSpeciesDialog {
  AdwWindow parent_instance;

  TptProject *project;       /* (owned) (nullable) */
  GCancellable *cancellable; /* (owned) */

  AdwToastOverlay *toasts;
  GtkWidget *add, *take, *starter, *start;
  GtkLabel *starter_text, *nothing;
  GtkSearchEntry *search;
  GtkListBox *list;
};

G_DEFINE_FINAL_TYPE (TptSpeciesDialog, tpt_species_dialog, ADW_TYPE_WINDOW)

static void
say (TptSpeciesDialog *self, const char *text, gboolean undo)
{
  g_autofree char *escaped = g_markup_escape_text (text, -1);
  AdwToast *toast = adw_toast_new (escaped);

  if (undo)
    {
      adw_toast_set_button_label (toast, _("Undo"));
      adw_toast_set_action_name (toast, "win.undo");
    }
  adw_toast_overlay_add_toast (self->toasts, toast);
}

static gboolean
is_writable (TptSpeciesDialog *self)
{
  return self->project != NULL && !tpt_project_get_read_only (self->project);
}

static void
edit_cb (TptSpeciesDialog *self, TptSpeciesLine *line)
{
  if (is_writable (self))
    tpt_record_dialog_present (GTK_WINDOW (self), self->project, TPT_TABLE_SPECIES, tpt_species_line_get_record (line), NULL);
}

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, TptSpeciesDialog *self)
{
  edit_cb (self, TPT_SPECIES_LINE (row));
}

static void
add_cb (TptSpeciesDialog *self)
{
  tpt_record_dialog_present (GTK_WINDOW (self), self->project, TPT_TABLE_SPECIES, NULL, NULL);
}

static void
import_cb (TptSpeciesDialog *self)
{
  tpt_import_dialog_present (GTK_WINDOW (self), self->project);
}

/* %FALSE when it failed, which is told, or the dialog is closed. */
static gboolean
take_result (TptSpeciesDialog *self, GObject *source, GAsyncResult *result)
{
  g_autoptr (GError) error = NULL;

  if (tpt_project_run_finish (TPT_PROJECT (source), result, &error))
    return self->project != NULL;
  if (self->project != NULL && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    say (self, error->message, FALSE);
  return FALSE;
}

static void
removed_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptSpeciesDialog) self = data;

  if (take_result (self, source, result))
    say (self, _("Taken off the list"), TRUE);
}

static void
remove_cb (TptSpeciesDialog *self, TptSpeciesLine *line)
{
  TptRecord *record = tpt_species_line_get_record (line);
  g_autofree char *what = g_strdup_printf (_("Remove species %s"), tpt_record_get_code (record));
  g_autoptr (TptJobEdit) job = tpt_job_edit_new (what);

  tpt_job_edit_remove (job, record);
  tpt_project_run_async (self->project, TPT_JOB (job), NULL, removed_cb, g_object_ref (self));
}

static void
started_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptSpeciesDialog) self = data;
  g_autofree char *text = NULL;
  guint added;

  if (!take_result (self, source, result))
    return;
  added = tpt_job_starter_get_added (TPT_JOB_STARTER (tpt_project_get_job (result)));
  text = g_strdup_printf (ngettext ("%u species added", "%u species added", added), added);
  say (self, text, TRUE);
}

static void
start_cb (TptSpeciesDialog *self)
{
  g_autoptr (TptJobStarter) job = tpt_job_starter_new ();

  tpt_project_run_async (self->project, TPT_JOB (job), self->cancellable, started_cb, g_object_ref (self));
}

static gboolean
filter_cb (GtkListBoxRow *row, gpointer data)
{
  TptSpeciesDialog *self = data;

  return tpt_species_line_fits (TPT_SPECIES_LINE (row), gtk_editable_get_text (GTK_EDITABLE (self->search)));
}

static void
search_cb (TptSpeciesDialog *self)
{
  gtk_list_box_invalidate_filter (self->list);
}

static void
stop_search_cb (TptSpeciesDialog *self)
{
  if (*gtk_editable_get_text (GTK_EDITABLE (self->search)) == '\0')
    gtk_window_close (GTK_WINDOW (self));
  else
    gtk_editable_set_text (GTK_EDITABLE (self->search), "");
}

static void
append_line (TptSpeciesDialog *self, const TptSpeciesEntry *entry)
{
  GtkWidget *line = tpt_species_line_new (entry, is_writable (self));

  g_signal_connect_object (line, "edit-asked", G_CALLBACK (edit_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (line, "remove-asked", G_CALLBACK (remove_cb), self, G_CONNECT_SWAPPED);
  gtk_list_box_append (self->list, line);
}

static void
show_starter (TptSpeciesDialog *self, guint n)
{
  g_autofree char *text =
    g_strdup_printf (ngettext ("%u species of lowland Borneo that cameras on trails see is not on the list.",
                               "%u species of lowland Borneo that cameras on trails see are not on the list.", n), n);

  gtk_label_set_label (self->starter_text, text);
  gtk_widget_set_visible (self->starter, n > 0 && is_writable (self));
}

static int
find_focused (TptSpeciesDialog *self)
{
  GtkWidget *row = gtk_widget_get_focus_child (GTK_WIDGET (self->list));

  return row != NULL ? gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (row)) : -1;
}

static void
show_entries (TptSpeciesDialog *self, GPtrArray *entries)
{
  int focused = find_focused (self);
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (self->list, 0)) != NULL)
    gtk_list_box_remove (self->list, GTK_WIDGET (row));
  for (guint i = 0; i < entries->len; i++)
    append_line (self, entries->pdata[i]);
  gtk_label_set_label (self->nothing, entries->len > 0 ? _("No species is called like that.") : _("No species is on the list yet."));
  row = focused >= 0 ? gtk_list_box_get_row_at_index (self->list, MIN (focused, (int) entries->len - 1)) : NULL;
  if (row != NULL)
    gtk_widget_grab_focus (GTK_WIDGET (row));
}

static void
read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptSpeciesDialog) self = data;
  TptJobSpecies *job = TPT_JOB_SPECIES (tpt_project_get_job (result));

  if (!take_result (self, source, result))
    return;
  show_entries (self, tpt_job_species_get_entries (job));
  show_starter (self, tpt_job_species_get_starters (job));
}

static void
reload (TptSpeciesDialog *self)
{
  g_autoptr (TptJobSpecies) job = tpt_job_species_new ();

  tpt_project_run_async (self->project, TPT_JOB (job), self->cancellable, read_cb, g_object_ref (self));
}

/* The forms opened from here speak to a window; this one answers for it. */
static void
toast_cb (GSimpleAction *action, GVariant *message, gpointer data)
{
  say (data, g_variant_get_string (message, NULL), TRUE);
}

static void
complain_cb (GSimpleAction *action, GVariant *message, gpointer data)
{
  say (data, g_variant_get_string (message, NULL), FALSE);
}

static void
undo_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  GtkWindow *parent = gtk_window_get_transient_for (data);

  if (parent != NULL)
    gtk_widget_activate_action (GTK_WIDGET (parent), "win.undo", NULL);
}

static const GActionEntry entries[] = {
  { "toast", toast_cb, "s" },
  { "say", complain_cb, "s" },
  { "complain", complain_cb, "s" },
  { "undo", undo_cb },
};

static void
tpt_species_dialog_dispose (GObject *object)
{
  TptSpeciesDialog *self = TPT_SPECIES_DIALOG (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->project);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_SPECIES_DIALOG);

  G_OBJECT_CLASS (tpt_species_dialog_parent_class)->dispose (object);
}

static void
tpt_species_dialog_finalize (GObject *object)
{
  g_object_unref (TPT_SPECIES_DIALOG (object)->cancellable);

  G_OBJECT_CLASS (tpt_species_dialog_parent_class)->finalize (object);
}

static void
tpt_species_dialog_class_init (TptSpeciesDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_species_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_species_dialog_finalize;

  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_DIALOG);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_w, GDK_CONTROL_MASK, "window.close", NULL);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/species/tpt-species-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesDialog, toasts);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesDialog, add);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesDialog, take);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesDialog, starter);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesDialog, start);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesDialog, starter_text);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesDialog, nothing);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesDialog, search);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesDialog, list);
  gtk_widget_class_bind_template_callback (widget_class, add_cb);
  gtk_widget_class_bind_template_callback (widget_class, import_cb);
  gtk_widget_class_bind_template_callback (widget_class, start_cb);
  gtk_widget_class_bind_template_callback (widget_class, search_cb);
  gtk_widget_class_bind_template_callback (widget_class, stop_search_cb);
}

static void
tpt_species_dialog_init (TptSpeciesDialog *self)
{
  g_autoptr (GSimpleActionGroup) actions = g_simple_action_group_new ();

  gtk_widget_init_template (GTK_WIDGET (self));
  self->cancellable = g_cancellable_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (actions), entries, G_N_ELEMENTS (entries), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "win", G_ACTION_GROUP (actions));
  gtk_list_box_set_filter_func (self->list, filter_cb, self, NULL);
  g_signal_connect (self->list, "row-activated", G_CALLBACK (row_activated_cb), self);
  tpt_list_focus_install (GTK_WIDGET (self->list));
  gtk_window_set_focus (GTK_WINDOW (self), GTK_WIDGET (self->search)); /* typing searches at once */
}

TptSpeciesDialog *
tpt_species_dialog_new (GtkWindow *parent, TptProject *project)
{
  TptSpeciesDialog *self = g_object_new (TPT_TYPE_SPECIES_DIALOG, NULL);

  gtk_window_set_transient_for (GTK_WINDOW (self), parent);
  self->project = g_object_ref (project);
  gtk_widget_set_sensitive (self->add, is_writable (self));
  gtk_widget_set_sensitive (self->take, is_writable (self));
  g_signal_connect_object (project, "changed", G_CALLBACK (reload), self, G_CONNECT_SWAPPED);
  reload (self);
  return self;
}

void
tpt_species_dialog_present (GtkWindow *parent, TptProject *project)
{
  gtk_window_present (GTK_WINDOW (tpt_species_dialog_new (parent, project)));
}
