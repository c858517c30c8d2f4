/* Changes from the naming view that are no decisions: which word counts, marks,
 * the limits of triggers, one of several names taken back. */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-job-edit.h"
#include "tpt-job-lookup.h"
#include "tpt-naming-private.h"

static void
change (TptNamingView *self, gpointer job)
{
  tpt_decider_run (self->decider, TPT_JOB (job));
  tpt_trigger_reader_renew (self->reader, self->ref);
}

void
tpt_naming_settle (TptNamingView *self, int opinion)
{
  g_autoptr (TptJobSettle) job = NULL;

  if (!tpt_naming_is_editable (self))
    return;
  job = tpt_job_settle_new (&self->ref.trigger_id, 1, opinion);
  change (self, job);
}

void
tpt_naming_settle_other (TptNamingView *self)
{
  const TptFrameRow *row = tpt_naming_get_row (self);
  int other = row != NULL ? tpt_said_list_find_other (row) : 0;

  if (other > 0)
    tpt_naming_settle (self, other);
}

void
tpt_naming_mark (TptNamingView *self)
{
  const TptFrameRow *row = tpt_naming_get_row (self);
  g_autoptr (TptJobMark) job = NULL;

  if (row == NULL || !tpt_naming_is_editable (self))
    return;
  job = tpt_job_mark_new (&row->ref.frame_id, 1, "guests", !row->marked, self->person);
  change (self, job);
}

void
tpt_naming_split (TptNamingView *self)
{
  g_autoptr (TptJobRegroup) job = NULL;

  if (!tpt_naming_is_editable (self) || self->chosen == 0)
    return;
  job = tpt_job_regroup_new_split (tpt_naming_get_row (self)->ref.frame_id);
  change (self, job);
}

void
tpt_naming_join (TptNamingView *self)
{
  g_autoptr (TptJobRegroup) job = NULL;

  if (!tpt_naming_is_editable (self))
    return;
  job = tpt_job_regroup_new_join (self->ref.trigger_id);
  change (self, job);
}

/* --- one of several names ------------------------------------------------------- */

static void
found_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptNamingView) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (TptRecord) record = NULL;
  g_autoptr (TptJobEdit) job = NULL;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, &error))
    {
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        gtk_widget_activate_action (GTK_WIDGET (self), "win.complain", "s", error->message);
      return;
    }
  record = g_list_model_get_item (tpt_job_lookup_get_records (TPT_JOB_LOOKUP (tpt_project_get_job (result))), 0);
  if (record == NULL || self->project != TPT_PROJECT (source))
    return;
  job = tpt_job_edit_new (_("Take back a name"));
  tpt_job_edit_remove (job, record);
  change (self, job);
}

void
tpt_naming_take_back (TptNamingView *self, const char *observation)
{
  g_autoptr (TptJobLookup) job = NULL;
  guint n;

  tpt_naming_find_mine (self, &n);
  if (n <= 1)
    {
      tpt_naming_take_back_all (self);
      return;
    }
  job = tpt_job_lookup_new (TPT_TABLE_OBSERVATIONS, "observation", observation);
  tpt_project_run_async (self->project, TPT_JOB (job), self->cancellable, found_cb, g_object_ref (self));
}
