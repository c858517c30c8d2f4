#include "config.h"

#include "tpt-blank-line.h"

#include <glib/gi18n-lib.h>

#include "tpt-job-false-triggers.h"

struct _TptBlankLine {
  GtkWidget parent_instance;

  TptProject *project;      /* (owned) (nullable) */
  char *station;            /* (owned) (nullable) */
  GCancellable *run;        /* (owned) (nullable): the run whose result is wanted */
  TptJobFalseTriggers *job; /* (owned) (nullable): the last result */

  GtkWidget *box;
  GtkLabel *share;
  GtkWidget *hint;
};

G_DEFINE_FINAL_TYPE (TptBlankLine, tpt_blank_line, GTK_TYPE_WIDGET)

static void
show_share (TptBlankLine *self)
{
  const TptBlankShare *share = self->job != NULL ? tpt_job_false_triggers_find_station (self->job, self->station) : NULL;
  g_autofree char *words = share != NULL ? tpt_blank_share_describe (share) : NULL;

  gtk_widget_set_visible (GTK_WIDGET (self), share != NULL);
  gtk_label_set_label (self->share, words != NULL ? words : "");
  gtk_widget_set_visible (self->hint,
                          share != NULL && tpt_blank_share_is_high (share, tpt_job_false_triggers_get_all (self->job)));
}

static void
drop_run (TptBlankLine *self)
{
  if (self->run != NULL)
    g_cancellable_cancel (self->run);
  g_clear_object (&self->run);
}

static void
ran_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptBlankLine) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  if (g_task_get_cancellable (G_TASK (result)) != self->run || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  g_clear_object (&self->run);
  if (good)
    g_set_object (&self->job, TPT_JOB_FALSE_TRIGGERS (tpt_project_get_job (result)));
  else
    gtk_widget_activate_action (GTK_WIDGET (self), "win.complain", "s", error->message);
  show_share (self);
}

static void
changed_cb (TptBlankLine *self)
{
  g_autoptr (TptFilter) all = tpt_filter_new ();
  g_autoptr (TptJobFalseTriggers) job = tpt_job_false_triggers_new (all);

  drop_run (self);
  self->run = g_cancellable_new ();
  tpt_project_run_async (self->project, TPT_JOB (job), self->run, ran_cb, g_object_ref (self));
}

static void
forget (TptBlankLine *self)
{
  drop_run (self);
  g_clear_object (&self->job);
  if (self->project != NULL)
    g_signal_handlers_disconnect_by_func (self->project, changed_cb, self);
  g_clear_object (&self->project);
}

static void
tpt_blank_line_dispose (GObject *object)
{
  TptBlankLine *self = TPT_BLANK_LINE (object);

  forget (self);
  g_clear_pointer (&self->station, g_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_BLANK_LINE);

  G_OBJECT_CLASS (tpt_blank_line_parent_class)->dispose (object);
}

static void
tpt_blank_line_class_init (TptBlankLineClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_blank_line_dispose;

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/field/tpt-blank-line.ui");
  gtk_widget_class_bind_template_child (widget_class, TptBlankLine, box);
  gtk_widget_class_bind_template_child (widget_class, TptBlankLine, share);
  gtk_widget_class_bind_template_child (widget_class, TptBlankLine, hint);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
tpt_blank_line_init (TptBlankLine *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
tpt_blank_line_set_project (TptBlankLine *self, TptProject *project)
{
  if (self->project == project)
    return;
  forget (self);
  show_share (self);
  if (project == NULL)
    return;
  self->project = g_object_ref (project);
  g_signal_connect_object (project, "changed", G_CALLBACK (changed_cb), self, G_CONNECT_SWAPPED);
  changed_cb (self);
}

void
tpt_blank_line_set_station (TptBlankLine *self, const char *station)
{
  if (g_strcmp0 (self->station, station) == 0)
    return;
  g_free (self->station);
  self->station = g_strdup (station);
  show_share (self);
}

const char *
tpt_blank_line_get_text (TptBlankLine *self)
{
  return gtk_label_get_label (self->share);
}
