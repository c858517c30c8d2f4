#include "config.h"

#include "tpt-form-dialog.h"

#include <glib/gi18n-lib.h>

typedef struct {
  GtkButton *cancel;
  GtkButton *save;
  GtkSpinner *spinner;
  GtkBox *content;
  GtkLabel *note;
  GtkLabel *message;

  TptProject *project;       /* (owned) (nullable) */
  GCancellable *cancellable; /* (owned): of everything the dialog started */
  char *toast;               /* (owned) (nullable): said when the job is done */
  gboolean valid, busy;
} TptFormDialogPrivate;

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (TptFormDialog, tpt_form_dialog, GTK_TYPE_WINDOW)

static void
update_save (TptFormDialog *self)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (self);

  gtk_widget_set_sensitive (GTK_WIDGET (priv->save), priv->valid && !priv->busy);
  gtk_spinner_set_spinning (priv->spinner, priv->busy);
}

static void
save_cb (TptFormDialog *self)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (self);

  if (priv->valid && !priv->busy)
    TPT_FORM_DIALOG_GET_CLASS (self)->save (self);
}

static gboolean
save_shortcut_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  save_cb (TPT_FORM_DIALOG (widget));
  return TRUE;
}

static void
show_refusal (TptFormDialog *self, TptJobEdit *job, const char *reason)
{
  tpt_form_dialog_set_message (self, reason);
}

/* Closing ends here. It cannot wait for dispose: what is under way holds the
 * dialog until it has answered. */
static void
tpt_form_dialog_unrealize (GtkWidget *widget)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (TPT_FORM_DIALOG (widget));

  g_cancellable_cancel (priv->cancellable);
  g_clear_object (&priv->project);

  GTK_WIDGET_CLASS (tpt_form_dialog_parent_class)->unrealize (widget);
}

/* No gtk_widget_dispose_template() here: GTK 4.8 looks for the template of the
 * instance's own class, and those derived from this one have none. The window
 * lets go of its children by itself. */
static void
tpt_form_dialog_dispose (GObject *object)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (TPT_FORM_DIALOG (object));

  g_cancellable_cancel (priv->cancellable);
  g_clear_object (&priv->project);

  G_OBJECT_CLASS (tpt_form_dialog_parent_class)->dispose (object);
}

static void
tpt_form_dialog_finalize (GObject *object)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (TPT_FORM_DIALOG (object));

  g_clear_object (&priv->cancellable);
  g_free (priv->toast);

  G_OBJECT_CLASS (tpt_form_dialog_parent_class)->finalize (object);
}

static void
tpt_form_dialog_class_init (TptFormDialogClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = tpt_form_dialog_dispose;
  object_class->finalize = tpt_form_dialog_finalize;
  widget_class->unrealize = tpt_form_dialog_unrealize;
  klass->refused = show_refusal;

  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_DIALOG);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Return, GDK_CONTROL_MASK, save_shortcut_cb, NULL);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/units/tpt-form-dialog.ui");
  gtk_widget_class_bind_template_child_private (widget_class, TptFormDialog, cancel);
  gtk_widget_class_bind_template_child_private (widget_class, TptFormDialog, save);
  gtk_widget_class_bind_template_child_private (widget_class, TptFormDialog, spinner);
  gtk_widget_class_bind_template_child_private (widget_class, TptFormDialog, content);
  gtk_widget_class_bind_template_child_private (widget_class, TptFormDialog, message);
  gtk_widget_class_bind_template_child_private (widget_class, TptFormDialog, note);
  gtk_widget_class_bind_template_callback (widget_class, save_cb);
}

static void
tpt_form_dialog_init (TptFormDialog *self)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (self);

  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_window_set_default_widget (GTK_WINDOW (self), GTK_WIDGET (priv->save));
  priv->cancellable = g_cancellable_new ();
}

void
tpt_form_dialog_set_up (TptFormDialog *self, GtkWindow *parent, TptProject *project, const char *title, const char *action)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (self);

  g_set_object (&priv->project, project);
  gtk_window_set_title (GTK_WINDOW (self), title);
  gtk_window_set_transient_for (GTK_WINDOW (self), parent);
  gtk_button_set_label (priv->save, action);
  update_save (self);
}

TptProject *
tpt_form_dialog_get_project (TptFormDialog *self)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (self);

  return priv->project;
}

GCancellable *
tpt_form_dialog_get_cancellable (TptFormDialog *self)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (self);

  return priv->cancellable;
}

static void
add_heading (TptFormDialog *self, const char *heading)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (self);
  GtkWidget *label = gtk_label_new (heading);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "heading");
  gtk_widget_set_margin_top (label, 6);
  gtk_box_append (priv->content, label);
}

void
tpt_form_dialog_add (TptFormDialog *self, const char *heading, GtkWidget *widget)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (self);

  if (heading != NULL)
    add_heading (self, heading);
  gtk_box_append (priv->content, widget);
}

GtkWidget *
tpt_form_dialog_add_grid (TptFormDialog *self, const char *heading)
{
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_column_spacing (GTK_GRID (grid), 18);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 12);
  gtk_grid_set_column_homogeneous (GTK_GRID (grid), TRUE);
  tpt_form_dialog_add (self, heading, grid);
  return grid;
}

/* The place after the last one taken, kept with the grid itself. */
void
tpt_form_dialog_put (GtkWidget *grid, GtkWidget *widget, gboolean wide)
{
  int place = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (grid), "next-place"));

  if (wide)
    place += place % 2;
  gtk_grid_attach (GTK_GRID (grid), widget, place % 2, place / 2, wide ? 2 : 1, 1);
  gtk_widget_set_valign (widget, GTK_ALIGN_START);
  g_object_set_data (G_OBJECT (grid), "next-place", GINT_TO_POINTER (place + (wide ? 2 : 1)));
}

void
tpt_form_dialog_add_caution (TptFormDialog *self, const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "caution");
  tpt_form_dialog_add (self, NULL, label);
}

void
tpt_form_dialog_set_valid (TptFormDialog *self, gboolean valid)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (self);

  priv->valid = valid;
  update_save (self);
}

void
tpt_form_dialog_set_done (TptFormDialog *self, gboolean done)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (self);

  gtk_button_set_label (priv->cancel, done ? _("_Close") : _("_Cancel"));
}

void
tpt_form_dialog_set_busy (TptFormDialog *self, gboolean busy)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (self);

  priv->busy = busy;
  update_save (self);
}

void
tpt_form_dialog_set_message (TptFormDialog *self, const char *message)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (self);

  gtk_label_set_text (priv->message, message != NULL ? message : "");
  gtk_widget_set_visible (GTK_WIDGET (priv->message), message != NULL);
}

void
tpt_form_dialog_set_note (TptFormDialog *self, const char *note)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (self);

  gtk_label_set_text (priv->note, note != NULL ? note : "");
  gtk_widget_set_visible (GTK_WIDGET (priv->note), note != NULL);
}

static void
run_done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptFormDialog) self = data;
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (self);
  g_autoptr (GError) error = NULL;
  GtkWindow *parent;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, &error))
    {
      if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        return;
      tpt_form_dialog_set_busy (self, FALSE);
      TPT_FORM_DIALOG_GET_CLASS (self)->refused (self, TPT_JOB_EDIT (tpt_project_get_job (result)), error->message);
      return;
    }
  parent = gtk_window_get_transient_for (GTK_WINDOW (self));
  if (parent != NULL && priv->toast != NULL)
    gtk_widget_activate_action (GTK_WIDGET (parent), "win.toast", "s", priv->toast);
  if (parent != NULL && TPT_FORM_DIALOG_GET_CLASS (self)->saved != NULL)
    TPT_FORM_DIALOG_GET_CLASS (self)->saved (self, parent);
  gtk_window_destroy (GTK_WINDOW (self));
}

void
tpt_form_dialog_run (TptFormDialog *self, TptJobEdit *job, const char *toast)
{
  TptFormDialogPrivate *priv = tpt_form_dialog_get_instance_private (self);
  g_autoptr (TptJobEdit) owned = job;

  g_free (priv->toast);
  priv->toast = g_strdup (toast);
  tpt_form_dialog_set_message (self, NULL);
  tpt_form_dialog_set_busy (self, TRUE);
  tpt_project_run_async (priv->project, TPT_JOB (owned), priv->cancellable, run_done_cb, g_object_ref (self));
}
