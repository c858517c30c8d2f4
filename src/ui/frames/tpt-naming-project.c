/* What the naming view has to do with the project: who reads, who writes, and what
 * they tell. */
#include "config.h"

#include "tpt-naming-private.h"

static void
complained_cb (TptNamingView *self, const char *message)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.complain", "s", message);
}

/* Somebody who was already further on sees the trigger that is not written. */
static void
failed_cb (TptNamingView *self, gint64 trigger_id)
{
  tpt_naming_return_to (self, trigger_id);
  tpt_naming_show_trouble (self);
}

static void
settled_cb (TptNamingView *self)
{
  tpt_naming_show_trouble (self);
  if (tpt_decider_get_failed (self->decider, NULL) > 0)
    tpt_trigger_reader_renew (self->reader, self->ref);
}

/* A trigger whose limits moved may have another number, which the list learns
 * only now or soon. */
static void
finished_cb (TptNamingView *self, TptJob *job)
{
  gint64 trigger_id;

  if (!TPT_IS_JOB_REGROUP (job) || self->list == NULL)
    return;
  trigger_id = tpt_job_regroup_get_trigger (TPT_JOB_REGROUP (job));
  tpt_trigger_reader_renew_all (self->reader);
  self->to_show = tpt_naming_return_to (self, trigger_id) ? 0 : trigger_id;
}

/* One's own decisions change nothing that is on screen by now. */
static void
changed_cb (TptNamingView *self)
{
  if (tpt_decider_expects_change (self->decider))
    return;
  tpt_name_ranks_renew (self->ranks);
  tpt_trigger_reader_renew_all (self->reader);
  tpt_naming_changed_outside (self);
}

void
tpt_naming_let_go_of_list (TptNamingView *self)
{
  if (self->list != NULL)
    g_signal_handlers_disconnect_by_func (self->list, tpt_naming_list_changed, self);
  g_clear_object (&self->list);
  g_array_set_size (self->starts, 0);
  g_array_set_size (self->history, 0);
  self->ref = (TptFrameRef){ 0, 0 };
  self->to_show = 0;
}

void
tpt_naming_let_go_of_project (TptNamingView *self)
{
  if (self->project == NULL)
    return;
  tpt_naming_flush_details (self);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_signal_handlers_disconnect_by_data (self->project, self);
  g_signal_handlers_disconnect_by_data (self->reader, self);
  g_signal_handlers_disconnect_by_data (self->ranks, self);
  g_signal_handlers_disconnect_by_data (self->decider, self);
  tpt_trigger_reader_stop (self->reader);
  tpt_name_ranks_stop (self->ranks);
  g_clear_object (&self->reader);
  g_clear_object (&self->ranks);
  g_clear_object (&self->decider);
  g_clear_object (&self->project);
}

void
tpt_naming_take_project (TptNamingView *self, TptProject *project)
{
  self->project = g_object_ref (project);
  self->cancellable = g_cancellable_new ();
  self->reader = tpt_trigger_reader_new (project);
  self->ranks = tpt_name_ranks_new (project);
  self->decider = tpt_decider_new (project);
  g_signal_connect_swapped (project, "changed", G_CALLBACK (changed_cb), self);
  g_signal_connect_swapped (self->reader, "read", G_CALLBACK (tpt_naming_show_rows), self);
  g_signal_connect_swapped (self->reader, "failed", G_CALLBACK (complained_cb), self);
  g_signal_connect_swapped (self->ranks, "read", G_CALLBACK (tpt_naming_show_names), self);
  g_signal_connect_swapped (self->decider, "failed", G_CALLBACK (failed_cb), self);
  g_signal_connect_swapped (self->decider, "complained", G_CALLBACK (complained_cb), self);
  g_signal_connect_swapped (self->decider, "settled", G_CALLBACK (settled_cb), self);
  g_signal_connect_swapped (self->decider, "finished", G_CALLBACK (finished_cb), self);
}
