#include "tpt-shelf.h"

#include "tpt-job-lookup.h"

typedef struct {
  TptProject *project;       /* (owned) */
  GCancellable *cancellable; /* (owned) (nullable) */
  GListModel *units;         /* (owned) (nullable) */
  TptShelfFunc func;
  gpointer data;
} Reading;

static void
finish (Reading *reading, GListModel *shelf, const GError *error)
{
  reading->func (shelf, g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) ? NULL : error, reading->data);
  g_object_unref (reading->project);
  g_clear_object (&reading->cancellable);
  g_clear_object (&reading->units);
  g_free (reading);
}

/* Codes of units in a fitting that has not ended. */
static GHashTable *
collect_fitted (GListModel *fittings)
{
  GHashTable *fitted = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint i = 0; i < g_list_model_get_n_items (fittings); i++)
    {
      g_autoptr (TptRecord) fitting = g_list_model_get_item (fittings, i);

      if (!tpt_record_is_set (fitting, "to"))
        g_hash_table_add (fitted, g_strdup (tpt_record_get_text (fitting, "unit")));
    }
  return fitted;
}

static void
fittings_done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Reading *reading = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GListStore) shelf = g_list_store_new (TPT_TYPE_RECORD);
  g_autoptr (GHashTable) fitted = NULL;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, &error))
    {
      finish (reading, NULL, error);
      return;
    }
  fitted = collect_fitted (tpt_job_lookup_get_records (TPT_JOB_LOOKUP (tpt_project_get_job (result))));
  for (guint i = 0; i < g_list_model_get_n_items (reading->units); i++)
    {
      g_autoptr (TptRecord) unit = g_list_model_get_item (reading->units, i);

      if (!tpt_record_is_set (unit, "retired") && !g_hash_table_contains (fitted, tpt_record_get_code (unit)))
        g_list_store_append (shelf, unit);
    }
  finish (reading, G_LIST_MODEL (shelf), NULL);
}

static void
units_done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Reading *reading = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (TptJobLookup) job = NULL;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, &error))
    {
      finish (reading, NULL, error);
      return;
    }
  reading->units = g_object_ref (tpt_job_lookup_get_records (TPT_JOB_LOOKUP (tpt_project_get_job (result))));
  job = tpt_job_lookup_new (TPT_TABLE_FITTINGS, NULL, NULL);
  tpt_project_run_async (reading->project, TPT_JOB (job), reading->cancellable, fittings_done_cb, reading);
}

void
tpt_shelf_read (TptProject *project, GCancellable *cancellable, TptShelfFunc func, gpointer data)
{
  g_autoptr (TptJobLookup) job = tpt_job_lookup_new (TPT_TABLE_UNITS, NULL, NULL);
  Reading *reading = g_new0 (Reading, 1);

  reading->project = g_object_ref (project);
  g_set_object (&reading->cancellable, cancellable);
  reading->func = func;
  reading->data = data;
  tpt_project_run_async (project, TPT_JOB (job), cancellable, units_done_cb, reading);
}

GListModel *
tpt_shelf_filter (GListModel *shelf, const char *kind)
{
  GListStore *own = g_list_store_new (TPT_TYPE_RECORD);

  for (guint i = 0; i < g_list_model_get_n_items (shelf); i++)
    {
      g_autoptr (TptRecord) unit = g_list_model_get_item (shelf, i);

      if (g_strcmp0 (tpt_record_get_text (unit, "kind"), kind) == 0)
        g_list_store_append (own, unit);
    }
  return G_LIST_MODEL (own);
}
