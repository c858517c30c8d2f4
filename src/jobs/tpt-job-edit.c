#include "config.h"

#include "tpt-job-edit.h"

#include <glib/gi18n-lib.h>

#include "tpt-codes-private.h"
#include "tpt-error.h"
#include "tpt-job-edit-private.h"
#include "tpt-records.h"

struct _TptJobEdit {
  TptJob parent_instance;

  /* Input arguments */
  char *what;           /* (owned) */
  GPtrArray *saved;     /* (owned) (element-type TptRecord) */
  GPtrArray *removed;   /* (owned) (element-type TptRecord) */
  GPtrArray *settings;  /* (owned) (element-type utf8): key, value, key, value */
  TptJobEditPrepare prepare;
  gpointer prepare_data; /* (owned) */
  GDestroyNotify prepare_destroy;

  /* In-progress data */
  const char *visit;      /* (unowned): code of the visit saved last */
  const char *deployment; /* (unowned) */

  /* Results */
  TptRecord *fault;         /* (unowned) (nullable) */
  const char *fault_column; /* (unowned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptJobEdit, tpt_job_edit, TPT_TYPE_JOB)

static gboolean
complete (TptJobEdit *self, TptStore *store, TptRecord *record, GError **error)
{
  switch (tpt_record_get_table (record)->id)
    {
    case TPT_TABLE_VISITS:
      if (!tpt_codes_give (store, record, error))
        return FALSE;
      self->visit = tpt_record_get_code (record);
      return TRUE;
    case TPT_TABLE_DEPLOYMENTS:
      if (!tpt_codes_give (store, record, error))
        return FALSE;
      self->deployment = tpt_record_get_code (record);
      return TRUE;
    case TPT_TABLE_READINGS:
      if (!tpt_record_is_set (record, "visit"))
        tpt_record_set_text (record, "visit", self->visit);
      return TRUE;
    case TPT_TABLE_FITTINGS:
      if (!tpt_record_is_set (record, "deployment"))
        tpt_record_set_text (record, "deployment", self->deployment);
      return TRUE;
    case TPT_TABLE_UNIT_LOG:
    case TPT_TABLE_STOCK:
      return tpt_codes_give (store, record, error);
    case TPT_TABLE_STATIONS:
    case TPT_TABLE_UNITS:
    case TPT_TABLE_SPECIES:
    case TPT_TABLE_FRAMES:
    case TPT_TABLE_OBSERVATIONS:
    case TPT_N_TABLES:
    default:
      return TRUE;
    }
}

/* A new row never takes the place of one with the same code. Rows without a
 * code of their own (readings, fittings) are known by what they belong to, and
 * saying them again is an edit. */
static gboolean
keep_apart (TptJobEdit *self, TptStore *store, TptRecord *record, GError **error)
{
  const TptTable *table = tpt_record_get_table (record);
  g_autoptr (TptRecord) other = NULL;
  GError *failure = NULL;

  if (tpt_record_get_id (record) != 0 || table->n_key != 1)
    return TRUE;
  other = tpt_store_find_like (store, record, &failure);
  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  if (other == NULL)
    return TRUE;
  self->fault_column = table->columns[0].name;
  g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("there is a %s “%s” in this project already"), _(table->singular),
               tpt_record_get_code (record));
  return FALSE;
}

static gboolean
save_all (TptJobEdit *self, TptStore *store, GError **error)
{
  for (guint i = 0; i < self->saved->len; i++)
    {
      TptRecord *record = self->saved->pdata[i];

      if (!complete (self, store, record, error) || !keep_apart (self, store, record, error) ||
          !tpt_store_save (store, record, NULL, &self->fault_column, error))
        {
          self->fault = record;
          return FALSE;
        }
    }
  for (guint i = 0; i < self->removed->len; i++)
    if (!tpt_store_remove (store, self->removed->pdata[i], error))
      {
        self->fault = self->removed->pdata[i];
        return FALSE;
      }
  for (guint i = 0; i + 1 < self->settings->len; i += 2)
    if (!tpt_store_set_setting (store, self->settings->pdata[i], self->settings->pdata[i + 1], error))
      return FALSE;
  return TRUE;
}

static gboolean
tpt_job_edit_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobEdit *self = TPT_JOB_EDIT (job);
  g_autoptr (TptAction) action = tpt_action_begin (store, self->what, error);
  gboolean good = action != NULL && (self->prepare == NULL || self->prepare (self, store, self->prepare_data, error)) &&
                  save_all (self, store, error) && tpt_action_commit (action, error);

  self->visit = NULL;
  self->deployment = NULL;
  return good;
}

static void
tpt_job_edit_dispose (GObject *object)
{
  TptJobEdit *self = TPT_JOB_EDIT (object);

  g_assert (self->visit == NULL && self->deployment == NULL);
  g_clear_pointer (&self->what, g_free);
  if (self->prepare_destroy != NULL)
    self->prepare_destroy (g_steal_pointer (&self->prepare_data));
  self->prepare_destroy = NULL;
  g_clear_pointer (&self->saved, g_ptr_array_unref);
  g_clear_pointer (&self->removed, g_ptr_array_unref);
  g_clear_pointer (&self->settings, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_job_edit_parent_class)->dispose (object);
}

static void
tpt_job_edit_class_init (TptJobEditClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_edit_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_edit_run;
  TPT_JOB_CLASS (klass)->writes = TRUE;
}

static void
tpt_job_edit_init (TptJobEdit *self)
{
  self->saved = g_ptr_array_new_with_free_func (g_object_unref);
  self->removed = g_ptr_array_new_with_free_func (g_object_unref);
  self->settings = g_ptr_array_new_with_free_func (g_free);
}

TptJobEdit *
tpt_job_edit_new (const char *what)
{
  TptJobEdit *self = g_object_new (TPT_TYPE_JOB_EDIT, NULL);

  self->what = g_strdup (what);
  return self;
}

void
tpt_job_edit_save (TptJobEdit *self, TptRecord *record)
{
  g_ptr_array_add (self->saved, g_object_ref (record));
}

void
tpt_job_edit_remove (TptJobEdit *self, TptRecord *record)
{
  g_ptr_array_add (self->removed, g_object_ref (record));
}

void
tpt_job_edit_set_setting (TptJobEdit *self, const char *key, const char *value)
{
  g_ptr_array_add (self->settings, g_strdup (key));
  g_ptr_array_add (self->settings, g_strdup (value));
}

void
tpt_job_edit_set_prepare (TptJobEdit *self, TptJobEditPrepare prepare, gpointer data, GDestroyNotify destroy)
{
  self->prepare = prepare;
  self->prepare_data = data;
  self->prepare_destroy = destroy;
}

gboolean
tpt_job_edit_blame (TptJobEdit *self, TptRecord *fault, const char *column)
{
  self->fault = fault;
  self->fault_column = column;
  return FALSE;
}

TptRecord *
tpt_job_edit_get_fault (TptJobEdit *self, const char **column)
{
  if (column != NULL)
    *column = self->fault_column;
  return self->fault;
}
