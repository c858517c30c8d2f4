#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-error.h"
#include "tpt-job-species.h"
#include "tpt-records.h"
#include "tpt-starter-list-private.h"

struct _TptJobStarter {
  TptJob parent_instance;

  /* Results */
  guint added;
};

G_DEFINE_FINAL_TYPE (TptJobStarter, tpt_job_starter, TPT_TYPE_JOB)

static gboolean
add_missing (TptJobStarter *self, TptStore *store, const TptStarterSpecies *species, GError **error)
{
  GError *failure = NULL;
  g_autoptr (TptRecord) there = tpt_store_find (store, TPT_TABLE_SPECIES, species->scientific, &failure);
  g_autoptr (TptRecord) record = NULL;

  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  if (there != NULL)
    return TRUE;
  record = tpt_starter_list_make_record (species);
  self->added++;
  return tpt_store_save (store, record, NULL, NULL, error);
}

static gboolean
add_all (TptJobStarter *self, TptStore *store, GError **error)
{
  guint n;
  const TptStarterSpecies *list = tpt_starter_list_get (&n);

  for (guint i = 0; i < n; i++)
    if (!add_missing (self, store, &list[i], error))
      return FALSE;
  return TRUE;
}

static gboolean
tpt_job_starter_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobStarter *self = TPT_JOB_STARTER (job);
  g_autoptr (TptAction) action = NULL;
  gboolean fits;

  if (!tpt_starter_list_fits (store, &fits, error))
    return FALSE;
  if (!fits)
    {
      g_set_error_literal (error, TPT_ERROR, TPT_ERROR_USAGE, _("The starter list is for lowland Borneo, and this project’s stations stand elsewhere."));
      return FALSE;
    }
  action = tpt_action_begin (store, _("Add the starter list for lowland Borneo"), error);
  return action != NULL && add_all (self, store, error) && tpt_action_commit (action, error);
}

static void
tpt_job_starter_class_init (TptJobStarterClass *klass)
{
  TPT_JOB_CLASS (klass)->run = tpt_job_starter_run;
  TPT_JOB_CLASS (klass)->writes = TRUE;
}

static void
tpt_job_starter_init (TptJobStarter *self)
{
}

TptJobStarter *
tpt_job_starter_new (void)
{
  return g_object_new (TPT_TYPE_JOB_STARTER, NULL);
}

guint
tpt_job_starter_get_added (TptJobStarter *self)
{
  return self->added;
}
