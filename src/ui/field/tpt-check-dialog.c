#include "config.h"

#include "tpt-check-dialog.h"

#include <glib/gi18n-lib.h>

#include "tpt-job-check.h"

struct _TptCheckDialog {
  AdwWindow parent_instance;

  TptProject *project;       /* (owned) */
  GCancellable *cancellable; /* (owned) (nullable): of the run under way */

  GtkStack *stack;
  GtkCheckButton *pictures;
  GtkProgressBar *bar;
  AdwStatusPage *verdict;
  GtkWidget *problems_frame;
  GtkListBox *problems;
};

G_DEFINE_FINAL_TYPE (TptCheckDialog, tpt_check_dialog, ADW_TYPE_WINDOW)

static void
progress_cb (TptCheckDialog *self, GParamSpec *pspec, TptJob *job)
{
  g_autofree char *text = tpt_job_get_progress_text (job);

  gtk_progress_bar_set_fraction (self->bar, tpt_job_get_progress (job));
  gtk_progress_bar_set_text (self->bar, text);
}

static void
add_problem (TptCheckDialog *self, const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_selectable (GTK_LABEL (label), TRUE);
  gtk_widget_set_margin_top (label, 8);
  gtk_widget_set_margin_bottom (label, 8);
  gtk_widget_set_margin_start (label, 12);
  gtk_widget_set_margin_end (label, 12);
  gtk_list_box_append (self->problems, label);
}

static void
show_problems (TptCheckDialog *self, GPtrArray *problems)
{
  g_autofree char *title = NULL;

  for (guint i = 0; i < problems->len; i++)
    add_problem (self, problems->pdata[i]);
  if (problems->len == 0)
    title = g_strdup (_("Nothing is wrong"));
  else
    title = g_strdup_printf (ngettext ("%u problem", "%u problems", problems->len), problems->len);
  adw_status_page_set_title (self->verdict, title);
  adw_status_page_set_description (self->verdict, problems->len == 0 ? _("The file, its references and its history are sound.")
                                                                     : _("Nothing was changed."));
  adw_status_page_set_icon_name (self->verdict, problems->len == 0 ? "object-select-symbolic" : "dialog-warning-symbolic");
  gtk_widget_set_visible (self->problems_frame, problems->len > 0);
}

static void
ran_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptCheckDialog) self = data;
  TptJob *job = tpt_project_get_job (result);
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  g_signal_handlers_disconnect_by_data (job, self);
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  if (good)
    show_problems (self, tpt_job_check_get_problems (TPT_JOB_CHECK (job)));
  else
    {
      adw_status_page_set_title (self->verdict, _("The check could not be finished"));
      adw_status_page_set_description (self->verdict, error->message);
      adw_status_page_set_icon_name (self->verdict, "dialog-warning-symbolic");
      gtk_widget_set_visible (self->problems_frame, FALSE);
    }
  gtk_stack_set_visible_child_name (self->stack, "verdict");
}

static void
check_cb (TptCheckDialog *self)
{
  g_autoptr (TptJobCheck) job = tpt_job_check_new (gtk_check_button_get_active (self->pictures));

  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  g_signal_connect_object (job, "notify::progress", G_CALLBACK (progress_cb), self, G_CONNECT_SWAPPED);
  gtk_stack_set_visible_child_name (self->stack, "running");
  tpt_project_run_async (self->project, TPT_JOB (job), self->cancellable, ran_cb, g_object_ref (self));
}

static void
cancel_cb (TptCheckDialog *self)
{
  g_cancellable_cancel (self->cancellable);
  gtk_stack_set_visible_child_name (self->stack, "ask");
}

static void
tpt_check_dialog_dispose (GObject *object)
{
  TptCheckDialog *self = TPT_CHECK_DIALOG (object);

  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->project);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_CHECK_DIALOG);

  G_OBJECT_CLASS (tpt_check_dialog_parent_class)->dispose (object);
}

static gboolean
tpt_check_dialog_close_request (GtkWindow *window)
{
  TptCheckDialog *self = TPT_CHECK_DIALOG (window);

  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  return GTK_WINDOW_CLASS (tpt_check_dialog_parent_class)->close_request (window);
}

static void
tpt_check_dialog_class_init (TptCheckDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_check_dialog_dispose;
  GTK_WINDOW_CLASS (klass)->close_request = tpt_check_dialog_close_request;

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/field/tpt-check-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, TptCheckDialog, stack);
  gtk_widget_class_bind_template_child (widget_class, TptCheckDialog, pictures);
  gtk_widget_class_bind_template_child (widget_class, TptCheckDialog, bar);
  gtk_widget_class_bind_template_child (widget_class, TptCheckDialog, verdict);
  gtk_widget_class_bind_template_child (widget_class, TptCheckDialog, problems_frame);
  gtk_widget_class_bind_template_child (widget_class, TptCheckDialog, problems);
  gtk_widget_class_bind_template_callback (widget_class, check_cb);
  gtk_widget_class_bind_template_callback (widget_class, cancel_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
tpt_check_dialog_init (TptCheckDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
tpt_check_dialog_present (GtkWindow *parent, TptProject *project)
{
  TptCheckDialog *self = g_object_new (TPT_TYPE_CHECK_DIALOG, "transient-for", parent, NULL);

  self->project = g_object_ref (project);
  gtk_window_present (GTK_WINDOW (self));
}
