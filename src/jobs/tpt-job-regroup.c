#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-job-decide.h"
#include "tpt-opinions.h"

struct _TptJobRegroup {
  TptJob parent_instance;

  /* Input arguments */
  gint64 frame_id;   /* to split before, or 0 */
  gint64 trigger_id; /* to join to the one before it, or 0 */

  /* Results */
  gint64 left;
};

G_DEFINE_FINAL_TYPE (TptJobRegroup, tpt_job_regroup, TPT_TYPE_JOB)

static gboolean
regroup (TptJobRegroup *self, TptStore *store, gint64 *trigger_id, GError **error)
{
  *trigger_id = self->trigger_id;
  return self->frame_id != 0 ? tpt_store_split_trigger (store, self->frame_id, trigger_id, error)
                             : tpt_store_join_trigger (store, trigger_id, error);
}

static gboolean
tpt_job_regroup_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobRegroup *self = TPT_JOB_REGROUP (job);
  const char *what = self->frame_id != 0 ? _("Split a trigger") : _("Join two triggers");
  g_autoptr (TptAction) action = tpt_action_begin (store, what, error);
  gint64 trigger_id;

  if (action == NULL || !regroup (self, store, &trigger_id, error) || !tpt_action_commit (action, error))
    return FALSE;
  self->left = trigger_id;
  return TRUE;
}

static void
tpt_job_regroup_class_init (TptJobRegroupClass *klass)
{
  TPT_JOB_CLASS (klass)->run = tpt_job_regroup_run;
  TPT_JOB_CLASS (klass)->writes = TRUE;
}

static void
tpt_job_regroup_init (TptJobRegroup *self)
{
}

TptJobRegroup *
tpt_job_regroup_new_split (gint64 frame_id)
{
  TptJobRegroup *self = g_object_new (TPT_TYPE_JOB_REGROUP, NULL);

  self->frame_id = frame_id;
  return self;
}

TptJobRegroup *
tpt_job_regroup_new_join (gint64 trigger_id)
{
  TptJobRegroup *self = g_object_new (TPT_TYPE_JOB_REGROUP, NULL);

  self->trigger_id = trigger_id;
  return self;
}

gint64
tpt_job_regroup_get_trigger (TptJobRegroup *self)
{
  return self->left;
}
