#include "config.h"

#include "tpt-record-dialog.h"

#include <glib/gi18n-lib.h>

#include "tpt-names-editor.h"
#include "tpt-record-form.h"
#include "tpt-stock-words.h"

struct _TptRecordDialog {
  TptFormDialog parent_instance;

  TptTableId table;
  TptRecord *record; /* (owned) (nullable): the row edited, or what a new one begins with */
  char *code;        /* (owned) (nullable): of the row last saved */
  TptRecordForm *form;
  TptNamesEditor *names; /* (nullable): of a species */
};

G_DEFINE_FINAL_TYPE (TptRecordDialog, tpt_record_dialog, TPT_TYPE_FORM_DIALOG)

static void
changed_cb (TptRecordDialog *self)
{
  g_autofree char *reason = NULL;
  gboolean good = tpt_record_form_check (self->form, &reason);

  if (good && self->names != NULL)
    good = tpt_names_editor_check (self->names, &reason);
  tpt_form_dialog_set_valid (TPT_FORM_DIALOG (self), good);
  tpt_form_dialog_set_message (TPT_FORM_DIALOG (self), reason);
}

/* What is said about a record of each table that has a form. */
typedef struct {
  TptTableId table;
  const char *add, *edit;     /* titles; no @add where new ones have a dialog of their own */
  const char *added, *edited; /* in the history, with the code */
  const char *saved;
} Words;

static const Words words[] = {
  { TPT_TABLE_STATIONS, N_("New station"), N_("Edit station"), N_("New station %s"), N_("Edit station %s"), N_("Station saved") },
  { TPT_TABLE_UNITS, N_("New unit"), N_("Edit unit"), N_("New unit %s"), N_("Edit unit %s"), N_("Unit saved") },
  { TPT_TABLE_VISITS, NULL, N_("Edit visit"), NULL, N_("Edit visit %s"), N_("Visit saved") },
  { TPT_TABLE_UNIT_LOG, N_("New log entry"), N_("Edit log entry"), N_("New entry in the log of %s"),
    N_("Edit an entry in the log of %s"), N_("Log entry saved") },
  { TPT_TABLE_STOCK, N_("New in stock"), N_("Edit stock"), N_("New in stock: %s"), N_("Edit stock: %s"), N_("Stock saved") },
  { TPT_TABLE_SPECIES, N_("New species"), N_("Edit species"), N_("New species %s"), N_("Edit species %s"), N_("Species saved") },
};

static gboolean
is_new (TptRecordDialog *self)
{
  return self->record == NULL || tpt_record_get_id (self->record) == 0;
}

static const Words *
find_words (TptTableId table)
{
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (words[i].table == table)
      return &words[i];
  g_return_val_if_reached (&words[0]);
}

/* (transfer full): what people know a row by. */
static char *
name_record (TptRecord *record)
{
  switch (tpt_record_get_table (record)->id)
    {
    case TPT_TABLE_UNIT_LOG:
      return g_strdup (tpt_record_get_text (record, "unit"));
    case TPT_TABLE_STOCK:
      return tpt_stock_words (record);
    default:
      return g_strdup (tpt_record_get_code (record));
    }
}

/* A format of the table above with the record's name in its place. */
static char *
say_what (TptRecordDialog *self, TptRecord *record)
{
  const Words *said = find_words (self->table);
  g_auto (GStrv) parts = g_strsplit (is_new (self) ? _(said->added) : _(said->edited), "%s", 2);
  g_autofree char *name = name_record (record);

  return g_strjoinv (name, parts);
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
  if (self->names != NULL)
    tpt_names_editor_apply (self->names, record);
  g_free (self->code);
  self->code = g_strdup (tpt_record_get_code (record));
  what = say_what (self, record);
  job = tpt_job_edit_new (what);
  tpt_job_edit_save (job, record);
  tpt_form_dialog_run (dialog, job, _(find_words (self->table)->saved));
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

/* Whoever adds a station goes on with it. */
static void
tpt_record_dialog_saved (TptFormDialog *dialog, GtkWindow *parent)
{
  TptRecordDialog *self = TPT_RECORD_DIALOG (dialog);

  /* A dialog closed meanwhile has let go of it. */
  if (is_new (self) && self->table == TPT_TABLE_STATIONS && self->code != NULL)
    gtk_widget_activate_action (GTK_WIDGET (parent), "win.show-station", "s", self->code);
}

static void
tpt_record_dialog_dispose (GObject *object)
{
  TptRecordDialog *self = TPT_RECORD_DIALOG (object);

  g_clear_object (&self->record);
  g_clear_pointer (&self->code, g_free);

  G_OBJECT_CLASS (tpt_record_dialog_parent_class)->dispose (object);
}

static void
tpt_record_dialog_class_init (TptRecordDialogClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_record_dialog_dispose;
  TPT_FORM_DIALOG_CLASS (klass)->save = tpt_record_dialog_save;
  TPT_FORM_DIALOG_CLASS (klass)->saved = tpt_record_dialog_saved;
  TPT_FORM_DIALOG_CLASS (klass)->refused = tpt_record_dialog_refused;
}

static void
tpt_record_dialog_init (TptRecordDialog *self)
{
}

/* The code names the row wherever it is referred to, so it stays. */
static void
load (TptRecordDialog *self)
{
  TptField *code = tpt_record_form_get_field (self->form, tpt_table_get (self->table)->columns[0].name);

  tpt_record_form_load (self->form, self->record);
  if (code != NULL && !is_new (self))
    gtk_widget_set_sensitive (GTK_WIDGET (code), FALSE);
}

static char *
make_title (TptRecordDialog *self)
{
  const Words *said = find_words (self->table);

  g_autofree char *name = self->record != NULL ? name_record (self->record) : NULL;

  if (name == NULL)
    return g_strdup (_(said->add));
  return g_strdup_printf ("%s: %s", is_new (self) ? _(said->add) : _(said->edit), name);
}

static void
add_names (TptRecordDialog *self)
{
  self->names = TPT_NAMES_EDITOR (tpt_names_editor_new ());
  tpt_names_editor_load (self->names, self->record);
  g_signal_connect_swapped (self->names, "changed", G_CALLBACK (changed_cb), self);
  tpt_form_dialog_add (TPT_FORM_DIALOG (self), _("Common names"), GTK_WIDGET (self->names));
}

TptRecordDialog *
tpt_record_dialog_new (GtkWindow *parent, TptProject *project, TptTableId table, TptRecord *record)
{
  TptRecordDialog *self;
  g_autofree char *title = NULL;

  g_return_val_if_fail (record != NULL || find_words (table)->add != NULL, NULL);

  self = g_object_new (TPT_TYPE_RECORD_DIALOG, NULL);
  self->table = table;
  g_set_object (&self->record, record);
  title = make_title (self);
  tpt_form_dialog_set_up (TPT_FORM_DIALOG (self), parent, project, title, _("_Save"));
  self->form = tpt_record_form_new (table, project != NULL ? tpt_project_get_zone (project) : NULL);
  tpt_form_dialog_add (TPT_FORM_DIALOG (self), NULL, GTK_WIDGET (self->form));
  g_signal_connect_swapped (self->form, "changed", G_CALLBACK (changed_cb), self);
  if (record != NULL)
    load (self);
  if (table == TPT_TABLE_SPECIES)
    add_names (self);
  changed_cb (self);
  return self;
}

void
tpt_record_dialog_present (GtkWindow *parent, TptProject *project, TptTableId table, TptRecord *record, gpointer unused)
{
  gtk_window_present (GTK_WINDOW (tpt_record_dialog_new (parent, project, table, record)));
}
