#include "config.h"

#include "tpt-job-count.h"

#include <glib/gi18n-lib.h>

#include "tpt-error.h"
#include "tpt-records.h"

struct _TptJobCount {
  TptJob parent_instance;

  /* Input arguments */
  char *what; /* (owned) */
  char *item; /* (owned) */
  gint64 change;

  /* Results */
  gint64 pieces;
};

G_DEFINE_FINAL_TYPE (TptJobCount, tpt_job_count, TPT_TYPE_JOB)

static gboolean
count (TptJobCount *self, TptStore *store, TptRecord *record, GError **error)
{
  self->pieces = tpt_record_get_integer (record, "pieces", 0) + self->change;
  if (self->pieces < 0)
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("there are not so many pieces on the shelf"));
      return FALSE;
    }
  tpt_record_set_integer (record, "pieces", self->pieces);
  return tpt_store_save (store, record, NULL, NULL, error);
}

static gboolean
tpt_job_count_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobCount *self = TPT_JOB_COUNT (job);
  g_autoptr (TptAction) action = tpt_action_begin (store, self->what, error);
  g_autoptr (TptRecord) record = NULL;
  GError *failure = NULL;

  if (action == NULL)
    return FALSE;
  record = tpt_store_find (store, TPT_TABLE_STOCK, self->item, &failure);
  if (record == NULL && failure == NULL)
    g_set_error (&failure, TPT_ERROR, TPT_ERROR_DATA, _("“%s” is no longer on the shelf"), self->item);
  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  return count (self, store, record, error) && tpt_action_commit (action, error);
}

static void
tpt_job_count_dispose (GObject *object)
{
  g_clear_pointer (&TPT_JOB_COUNT (object)->what, g_free);
  g_clear_pointer (&TPT_JOB_COUNT (object)->item, g_free);

  G_OBJECT_CLASS (tpt_job_count_parent_class)->dispose (object);
}

static void
tpt_job_count_class_init (TptJobCountClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_count_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_count_run;
  TPT_JOB_CLASS (klass)->writes = TRUE;
}

static void
tpt_job_count_init (TptJobCount *self)
{
}

TptJobCount *
tpt_job_count_new (const char *what, const char *item, gint64 change)
{
  TptJobCount *self = g_object_new (TPT_TYPE_JOB_COUNT, NULL);

  self->what = g_strdup (what);
  self->item = g_strdup (item);
  self->change = change;
  return self;
}

gint64
tpt_job_count_get_pieces (TptJobCount *self)
{
  return self->pieces;
}
