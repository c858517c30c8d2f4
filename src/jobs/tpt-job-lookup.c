#include "tpt-job-lookup.h"

#include "tpt-records.h"

struct _TptJobLookup {
  TptJob parent_instance;

  /* Input arguments */
  TptTableId table;
  char *column; /* (owned) (nullable) */
  char *value;  /* (owned) (nullable) */

  /* Results */
  GListStore *records; /* (owned) */
};

G_DEFINE_FINAL_TYPE (TptJobLookup, tpt_job_lookup, TPT_TYPE_JOB)

static gboolean
tpt_job_lookup_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobLookup *self = TPT_JOB_LOOKUP (job);
  g_autoptr (GPtrArray) rows = tpt_store_list (store, self->table, self->column, self->value, error);

  if (rows == NULL)
    return FALSE;
  g_list_store_splice (self->records, 0, 0, rows->pdata, rows->len);
  return TRUE;
}

static void
tpt_job_lookup_dispose (GObject *object)
{
  TptJobLookup *self = TPT_JOB_LOOKUP (object);

  g_clear_pointer (&self->column, g_free);
  g_clear_pointer (&self->value, g_free);
  g_clear_object (&self->records);

  G_OBJECT_CLASS (tpt_job_lookup_parent_class)->dispose (object);
}

static void
tpt_job_lookup_class_init (TptJobLookupClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_lookup_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_lookup_run;
}

static void
tpt_job_lookup_init (TptJobLookup *self)
{
  self->records = g_list_store_new (TPT_TYPE_RECORD);
}

TptJobLookup *
tpt_job_lookup_new (TptTableId table, const char *column, const char *value)
{
  TptJobLookup *self = g_object_new (TPT_TYPE_JOB_LOOKUP, NULL);

  self->table = table;
  self->column = g_strdup (column);
  self->value = g_strdup (value);
  return self;
}

GListModel *
tpt_job_lookup_get_records (TptJobLookup *self)
{
  return G_LIST_MODEL (self->records);
}
