#include "config.h"

#include "tpt-record-dialog.h"

#include <glib/gi18n-lib.h>

#include "tpt-record-form.h"

struct _TptRecordDialog {
  TptFormDialog parent_instance;

  TptTableId table;
  TptRecord *record; /* (owned) (nullable): the row edited */
  TptRecordForm *form;
};

G_DEFINE_FINAL_TYPE (TptRecordDialog, tpt_record_dialog, TPT_TYPE_FORM_DIALOG)

static void
changed_cb (TptRecordDialog *self)
{
  tpt_form_dialog_set_valid (TPT_FORM_DIALOG (self), tpt_record_form_is_valid (self->form));
}

static char *
say_what (TptRecordDialog *self, TptRecord *record)
{
  const char *code = tpt_record_get_code (record);

  if (self->table == TPT_TABLE_STATIONS)
    return g_strdup_printf (self->record != NULL ? _("Edit station %s") : _("New station %s"), code);
  return g_strdup_printf (self->record != NULL ? _("Edit unit %s") : _("New unit %s"), code);
}

static void
tpt_record_dialog_save (TptFormDialog *dialog)
{
  TptRecordDialog *self = TPT_RECORD_DIALOG (dialog);
  g_autoptr (TptRecord) record = self->record != NULL ? tpt_record_copy (self->record) : tpt_record_new (self->table);
  g_autofree char *what = NULL;
  TptJobEdit *job;

  if (!tpt_record_form_apply (self->form, record))
    return;
  what = say_what (self, record);
  job = tpt_job_edit_new (what);
  tpt_job_edit_save (job, record);
  tpt_form_dialog_run (dialog, job, self->table == TPT_TABLE_STATIONS ? _("Station saved") : _("Unit saved"));
}

static void
tpt_record_dialog_refused (TptFormDialog *dialog, TptJobEdit *job, const char *reason)
{
  TptRecordDialog *self = TPT_RECORD_DIALOG (dialog);
  const char *column = NULL;
  TptField *field = NULL;

  tpt_job_edit_get_fault (job, &column);
  if (column != NULL)
    field = tpt_record_form_get_field (self->form, column);
  if (field != NULL)
    {
      tpt_field_set_error (field, reason);
      gtk_widget_grab_focus (GTK_WIDGET (field));
    }
  else
    tpt_form_dialog_set_message (dialog, reason);
}

static void
tpt_record_dialog_dispose (GObject *object)
{
  g_clear_object (&TPT_RECORD_DIALOG (object)->record);

  G_OBJECT_CLASS (tpt_record_dialog_parent_class)->dispose (object);
}

static void
tpt_record_dialog_class_init (TptRecordDialogClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_record_dialog_dispose;
  TPT_FORM_DIALOG_CLASS (klass)->save = tpt_record_dialog_save;
  TPT_FORM_DIALOG_CLASS (klass)->refused = tpt_record_dialog_refused;
}

static void
tpt_record_dialog_init (TptRecordDialog *self)
{
}

static const char *
choose_title (TptTableId table, gboolean editing)
{
  if (table == TPT_TABLE_STATIONS)
    return editing ? _("Edit station") : _("New station");
  return editing ? _("Edit unit") : _("New unit");
}

TptRecordDialog *
tpt_record_dialog_new (GtkWindow *parent, TptProject *project, TptTableId table, TptRecord *record)
{
  TptRecordDialog *self = g_object_new (TPT_TYPE_RECORD_DIALOG, NULL);

  self->table = table;
  g_set_object (&self->record, record);
  tpt_form_dialog_set_up (TPT_FORM_DIALOG (self), parent, project, choose_title (table, record != NULL), _("_Save"));
  self->form = tpt_record_form_new (table, project != NULL ? tpt_project_get_zone (project) : NULL);
  tpt_form_dialog_add (TPT_FORM_DIALOG (self), NULL, GTK_WIDGET (self->form));
  g_signal_connect_swapped (self->form, "changed", G_CALLBACK (changed_cb), self);
  if (record != NULL)
    {
      tpt_record_form_load (self->form, record);
      gtk_widget_set_sensitive (GTK_WIDGET (tpt_record_form_get_field (self->form, tpt_table_get (table)->columns[0].name)), FALSE);
    }
  changed_cb (self);
  return self;
}

void
tpt_record_dialog_present (GtkWindow *parent, TptProject *project, TptTableId table, TptRecord *record, gpointer unused)
{
  gtk_window_present (GTK_WINDOW (tpt_record_dialog_new (parent, project, table, record)));
}
