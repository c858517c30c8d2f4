#include "config.h"

#include "tpt-unit-log-dialog.h"

#include <glib/gi18n-lib.h>

#include "tpt-dated-row.h"
#include "tpt-field-words.h"
#include "tpt-job-station.h"
#include "tpt-job-unit.h"
#include "tpt-record-dialog.h"

struct _TptUnitLogDialog {
  AdwWindow parent_instance;

  TptProject *project;       /* (owned) */
  char *unit;                /* (owned): code */
  TptRecord *record;         /* (owned) (nullable) */
  GCancellable *cancellable; /* (owned): of the run under way */

  GtkWidget *edit;
  GtkLabel *title;
  GtkLabel *facts;
  GtkStack *stack;
  GtkListBox *log;
  GtkLabel *fault;
};

G_DEFINE_FINAL_TYPE (TptUnitLogDialog, tpt_unit_log_dialog, ADW_TYPE_WINDOW)

static void
add_fact (GString *facts, const char *text)
{
  if (text == NULL)
    return;
  if (facts->len > 0)
    g_string_append (facts, " · ");
  g_string_append (facts, text);
}

static void
show_facts (TptUnitLogDialog *self)
{
  g_autoptr (GString) facts = g_string_new (NULL);
  const char *acquired = tpt_record_get_text (self->record, "acquired");
  const char *retired = tpt_record_get_text (self->record, "retired");
  g_autofree char *since = acquired != NULL ? g_strdup_printf (_("acquired %s"), acquired) : NULL;
  g_autofree char *until = retired != NULL ? g_strdup_printf (_("retired %s"), retired) : NULL;

  add_fact (facts, tpt_choice_label (tpt_record_get_text (self->record, "kind")));
  add_fact (facts, tpt_record_get_code (self->record));
  add_fact (facts, tpt_record_get_text (self->record, "make"));
  add_fact (facts, tpt_record_get_text (self->record, "model"));
  add_fact (facts, since);
  add_fact (facts, until);
  gtk_label_set_label (self->title, tpt_field_words_unit (self->record));
  gtk_label_set_label (self->facts, facts->str);
}

static void
show_log (TptUnitLogDialog *self, GListModel *log)
{
  TptInstant now = tpt_project_get_now (self->project, NULL);
  GtkWidget *row;

  while ((row = gtk_widget_get_first_child (GTK_WIDGET (self->log))) != NULL)
    gtk_list_box_remove (self->log, row);
  for (guint i = 0; i < g_list_model_get_n_items (log); i++)
    {
      g_autoptr (TptLogItem) item = g_list_model_get_item (log, i);

      row = tpt_dated_row_new (tpt_log_item_get_at (item), tpt_project_get_zone (self->project), now,
                               tpt_log_item_get_text (item));
      gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
      gtk_list_box_append (self->log, row);
    }
  gtk_stack_set_visible_child_name (self->stack, g_list_model_get_n_items (log) > 0 ? "log" : "empty");
}

static void
ran_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptUnitLogDialog) self = data;
  TptJobUnit *job = TPT_JOB_UNIT (tpt_project_get_job (result));
  g_autoptr (GError) error = NULL;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, &error))
    {
      if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        return;
      gtk_label_set_label (self->fault, error->message);
      gtk_stack_set_visible_child_name (self->stack, "fault");
      return;
    }
  g_set_object (&self->record, tpt_unit_item_get_record (tpt_job_unit_get_item (job)));
  gtk_widget_set_sensitive (self->edit, !tpt_project_get_read_only (self->project));
  show_facts (self);
  show_log (self, tpt_job_unit_get_log (job));
}

static void
run (TptUnitLogDialog *self)
{
  g_autoptr (TptJobUnit) job = tpt_job_unit_new (self->unit, TPT_NO_INSTANT);

  g_cancellable_cancel (self->cancellable);
  g_object_unref (self->cancellable);
  self->cancellable = g_cancellable_new ();
  tpt_project_run_async (self->project, TPT_JOB (job), self->cancellable, ran_cb, g_object_ref (self));
}

static void
edit_cb (TptUnitLogDialog *self)
{
  tpt_record_dialog_present (GTK_WINDOW (self), self->project, TPT_TABLE_UNITS, self->record, NULL);
}

/* Dialogs above this one hand their message on to the window below. */
static void
toast_cb (GtkWidget *widget, const char *action, GVariant *message)
{
  GtkWindow *parent = gtk_window_get_transient_for (GTK_WINDOW (widget));

  if (parent != NULL)
    gtk_widget_activate_action_variant (GTK_WIDGET (parent), action, message);
}

static void
tpt_unit_log_dialog_dispose (GObject *object)
{
  TptUnitLogDialog *self = TPT_UNIT_LOG_DIALOG (object);

  g_cancellable_cancel (self->cancellable);
  if (self->project != NULL)
    g_signal_handlers_disconnect_by_data (self->project, self);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_UNIT_LOG_DIALOG);
  g_clear_object (&self->project);
  g_clear_object (&self->record);

  G_OBJECT_CLASS (tpt_unit_log_dialog_parent_class)->dispose (object);
}

static void
tpt_unit_log_dialog_finalize (GObject *object)
{
  TptUnitLogDialog *self = TPT_UNIT_LOG_DIALOG (object);

  g_clear_object (&self->cancellable);
  g_free (self->unit);

  G_OBJECT_CLASS (tpt_unit_log_dialog_parent_class)->finalize (object);
}

static void
tpt_unit_log_dialog_class_init (TptUnitLogDialogClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = tpt_unit_log_dialog_dispose;
  object_class->finalize = tpt_unit_log_dialog_finalize;

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/field/tpt-unit-log-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, TptUnitLogDialog, edit);
  gtk_widget_class_bind_template_child (widget_class, TptUnitLogDialog, title);
  gtk_widget_class_bind_template_child (widget_class, TptUnitLogDialog, facts);
  gtk_widget_class_bind_template_child (widget_class, TptUnitLogDialog, stack);
  gtk_widget_class_bind_template_child (widget_class, TptUnitLogDialog, log);
  gtk_widget_class_bind_template_child (widget_class, TptUnitLogDialog, fault);
  gtk_widget_class_bind_template_callback (widget_class, edit_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
  gtk_widget_class_install_action (widget_class, "win.toast", "s", toast_cb);
}

static void
tpt_unit_log_dialog_init (TptUnitLogDialog *self)
{
  self->cancellable = g_cancellable_new ();
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
tpt_unit_log_dialog_present (GtkWindow *parent, TptProject *project, const char *unit)
{
  TptUnitLogDialog *self = g_object_new (TPT_TYPE_UNIT_LOG_DIALOG, "transient-for", parent, NULL);

  self->project = g_object_ref (project);
  self->unit = g_strdup (unit);
  g_signal_connect_object (project, "changed", G_CALLBACK (run), self, G_CONNECT_SWAPPED);
  run (self);
  gtk_window_present (GTK_WINDOW (self));
}
