#include "config.h"

#include "tpt-demo-dialog.h"

#include <glib/gi18n-lib.h>

#include "tpt-demo.h"

#define PULSE_MS 120

struct _TptDemoDialog {
  AdwWindow parent_instance;

  GCancellable *cancellable;     /* (owned) */
  GtkFileChooserNative *chooser; /* (owned) (nullable) */
  guint pulse_source;

  GtkStack *stack;
  GtkProgressBar *bar;
  GtkLabel *fault;
};

G_DEFINE_FINAL_TYPE (TptDemoDialog, tpt_demo_dialog, ADW_TYPE_WINDOW)

enum {
  SIGNAL_WRITTEN,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static gboolean
pulse_cb (gpointer data)
{
  gtk_progress_bar_pulse (TPT_DEMO_DIALOG (data)->bar);
  return G_SOURCE_CONTINUE;
}

/* (transfer full): @folder, or a new one inside it when it is not empty. */
static char *
choose_folder (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  char *free_name;

  if (dir == NULL || g_dir_read_name (dir) == NULL)
    return g_strdup (folder);
  free_name = g_build_filename (folder, "tapetum-demo", NULL);
  for (int i = 2; g_file_test (free_name, G_FILE_TEST_EXISTS); i++)
    {
      g_free (free_name);
      free_name = g_strdup_printf ("%s/tapetum-demo-%d", folder, i);
    }
  return free_name;
}

static void
write_in_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  g_autofree char *folder = choose_folder (task_data);
  GError *error = NULL;

  if (tpt_demo_write (folder, cancellable, &error))
    g_task_return_pointer (task, g_build_filename (folder, TPT_DEMO_FILE, NULL), g_free);
  else
    g_task_return_error (task, error);
}

static void
written_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  TptDemoDialog *self = TPT_DEMO_DIALOG (source);
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_task_propagate_pointer (G_TASK (result), &error);

  g_clear_handle_id (&self->pulse_source, g_source_remove);
  if (path != NULL)
    {
      g_signal_emit (self, signals[SIGNAL_WRITTEN], 0, path);
      gtk_window_destroy (GTK_WINDOW (self));
      return;
    }
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  gtk_label_set_label (self->fault, error->message);
  gtk_widget_set_visible (GTK_WIDGET (self->fault), TRUE);
  gtk_stack_set_visible_child_name (self->stack, "ask");
}

static void
chosen_cb (TptDemoDialog *self, int response)
{
  g_autoptr (GFile) file = NULL;

  if (response != GTK_RESPONSE_ACCEPT)
    return;
  file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (self->chooser));
  if (file != NULL && g_file_peek_path (file) != NULL)
    tpt_demo_dialog_write (self, g_file_peek_path (file));
}

static void
choose_cb (TptDemoDialog *self)
{
  g_clear_object (&self->chooser);
  self->chooser = gtk_file_chooser_native_new (_("Folder for the demo project"), GTK_WINDOW (self),
                                               GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER, _("_Choose"), NULL);
  g_signal_connect_object (self->chooser, "response", G_CALLBACK (chosen_cb), self, G_CONNECT_SWAPPED);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

static void
cancel_cb (TptDemoDialog *self)
{
  gtk_window_close (GTK_WINDOW (self));
}

static void
tpt_demo_dialog_dispose (GObject *object)
{
  TptDemoDialog *self = TPT_DEMO_DIALOG (object);

  g_clear_handle_id (&self->pulse_source, g_source_remove);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->chooser);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_DEMO_DIALOG);

  G_OBJECT_CLASS (tpt_demo_dialog_parent_class)->dispose (object);
}

static void
tpt_demo_dialog_finalize (GObject *object)
{
  g_clear_object (&TPT_DEMO_DIALOG (object)->cancellable);

  G_OBJECT_CLASS (tpt_demo_dialog_parent_class)->finalize (object);
}

/* The thread holds the dialog; closing it stops the writing, which cleans up
 * behind itself. */
static gboolean
tpt_demo_dialog_close_request (GtkWindow *window)
{
  TptDemoDialog *self = TPT_DEMO_DIALOG (window);

  g_cancellable_cancel (self->cancellable);
  g_clear_handle_id (&self->pulse_source, g_source_remove);
  return GTK_WINDOW_CLASS (tpt_demo_dialog_parent_class)->close_request (window);
}

static void
tpt_demo_dialog_class_init (TptDemoDialogClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = tpt_demo_dialog_dispose;
  object_class->finalize = tpt_demo_dialog_finalize;
  GTK_WINDOW_CLASS (klass)->close_request = tpt_demo_dialog_close_request;

  signals[SIGNAL_WRITTEN] = g_signal_new ("written", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                          G_TYPE_NONE, 1, G_TYPE_STRING);

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/field/tpt-demo-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, TptDemoDialog, stack);
  gtk_widget_class_bind_template_child (widget_class, TptDemoDialog, bar);
  gtk_widget_class_bind_template_child (widget_class, TptDemoDialog, fault);
  gtk_widget_class_bind_template_callback (widget_class, choose_cb);
  gtk_widget_class_bind_template_callback (widget_class, cancel_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
tpt_demo_dialog_init (TptDemoDialog *self)
{
  self->cancellable = g_cancellable_new ();
  gtk_widget_init_template (GTK_WIDGET (self));
}

TptDemoDialog *
tpt_demo_dialog_new (GtkWindow *parent)
{
  return g_object_new (TPT_TYPE_DEMO_DIALOG, "transient-for", parent, NULL);
}

void
tpt_demo_dialog_write (TptDemoDialog *self, const char *folder)
{
  g_autoptr (GTask) task = NULL;

  gtk_stack_set_visible_child_name (self->stack, "writing");
  gtk_widget_set_visible (GTK_WIDGET (self->fault), FALSE);
  if (self->pulse_source == 0)
    self->pulse_source = g_timeout_add (PULSE_MS, pulse_cb, self);

  task = g_task_new (self, self->cancellable, written_cb, NULL);
  g_task_set_source_tag (task, tpt_demo_dialog_write);
  g_task_set_task_data (task, g_strdup (folder), g_free);
  g_task_run_in_thread (task, write_in_thread);
}
