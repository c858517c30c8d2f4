#include "config.h"

#include "tpt-job-shelf.h"

#include "tpt-query.h"
#include "tpt-records.h"
#include "tpt-unit-item-private.h"

struct _TptJobShelf {
  TptJob parent_instance;

  /* Input arguments */
  TptInstant on;

  /* In-progress data */
  GHashTable *by_code;  /* (owned) (element-type utf8 TptUnitItem): codes are the items' */
  GHashTable *by_id;    /* (owned) (element-type gint64 TptUnitItem): the same items */
  GHashTable *stations; /* (owned) (element-type utf8 TptRecord): by deployment */

  /* Results */
  GListStore *units; /* (owned) */
  GListStore *stock; /* (owned) */
};

G_DEFINE_FINAL_TYPE (TptJobShelf, tpt_job_shelf, TPT_TYPE_JOB)

static int
compare_units_cb (gconstpointer a, gconstpointer b, gpointer data)
{
  return tpt_unit_item_compare ((gpointer) a, (gpointer) b);
}

static gboolean
read_units (TptJobShelf *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) rows = tpt_store_list (store, TPT_TABLE_UNITS, NULL, NULL, error);
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_object_unref);

  if (rows == NULL)
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    {
      TptUnitItem *item = tpt_unit_item_new (rows->pdata[i]);
      gint64 id = tpt_record_get_id (rows->pdata[i]);

      g_ptr_array_add (items, item);
      g_hash_table_insert (self->by_code, (gpointer) tpt_unit_item_get_code (item), item);
      g_hash_table_insert (self->by_id, g_memdup2 (&id, sizeof id), item);
    }
  g_list_store_splice (self->units, 0, 0, items->pdata, items->len);
  g_list_store_sort (self->units, compare_units_cb, NULL);
  return TRUE;
}

static gboolean
read_stations (TptJobShelf *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) deployments = tpt_store_list (store, TPT_TABLE_DEPLOYMENTS, NULL, NULL, error);
  g_autoptr (GPtrArray) stations = NULL;
  g_autoptr (GHashTable) by_code = g_hash_table_new (g_str_hash, g_str_equal);

  if (deployments == NULL)
    return FALSE;
  stations = tpt_store_list (store, TPT_TABLE_STATIONS, NULL, NULL, error);
  if (stations == NULL)
    return FALSE;
  for (guint i = 0; i < stations->len; i++)
    g_hash_table_insert (by_code, (gpointer) tpt_record_get_code (stations->pdata[i]), stations->pdata[i]);
  for (guint i = 0; i < deployments->len; i++)
    {
      TptRecord *station = g_hash_table_lookup (by_code, tpt_record_get_text (deployments->pdata[i], "station"));

      if (station != NULL)
        g_hash_table_insert (self->stations, g_strdup (tpt_record_get_code (deployments->pdata[i])), g_object_ref (station));
    }
  return TRUE;
}

static gboolean
read_fittings (TptJobShelf *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) rows = tpt_store_list (store, TPT_TABLE_FITTINGS, NULL, NULL, error);

  if (rows == NULL)
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    {
      TptUnitItem *item = g_hash_table_lookup (self->by_code, tpt_record_get_text (rows->pdata[i], "unit"));
      TptRecord *station = g_hash_table_lookup (self->stations, tpt_record_get_text (rows->pdata[i], "deployment"));

      if (item != NULL && station != NULL)
        tpt_unit_item_take_fitting (item, rows->pdata[i], station, self->on);
    }
  return TRUE;
}

static gboolean
read_readings (TptJobShelf *self, TptStore *store, GError **error)
{
  g_autoptr (GArray) rows = tpt_store_read_last_readings (store, self->on, error);

  if (rows == NULL)
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    {
      const TptLastReading *reading = &g_array_index (rows, TptLastReading, i);
      TptUnitItem *item = g_hash_table_lookup (self->by_id, &reading->unit_id);

      if (item != NULL)
        tpt_unit_item_take_reading (item, reading);
    }
  return TRUE;
}

static gboolean
read_entries (TptJobShelf *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) rows = tpt_store_list (store, TPT_TABLE_UNIT_LOG, NULL, NULL, error);

  if (rows == NULL)
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    {
      TptUnitItem *item = g_hash_table_lookup (self->by_code, tpt_record_get_text (rows->pdata[i], "unit"));

      if (item != NULL)
        tpt_unit_item_take_entry (item, rows->pdata[i], self->on);
    }
  return TRUE;
}

/* What, then size, then label, then code. */
static int
compare_stock_cb (gconstpointer a, gconstpointer b, gpointer data)
{
  static const char *const columns[] = { "what", "cell_size", "chemistry", "label", "item" };
  int order = 0;

  for (gsize i = 0; order == 0 && i < G_N_ELEMENTS (columns); i++)
    order = g_strcmp0 (tpt_record_get_text ((gpointer) a, columns[i]), tpt_record_get_text ((gpointer) b, columns[i]));
  return order;
}

static gboolean
read_stock (TptJobShelf *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) rows = tpt_store_list (store, TPT_TABLE_STOCK, NULL, NULL, error);

  if (rows == NULL)
    return FALSE;
  g_list_store_splice (self->stock, 0, 0, rows->pdata, rows->len);
  g_list_store_sort (self->stock, compare_stock_cb, NULL);
  return TRUE;
}

static gboolean
tpt_job_shelf_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobShelf *self = TPT_JOB_SHELF (job);
  gboolean good;

  if (self->on == TPT_NO_INSTANT)
    self->on = tpt_store_get_now (store);
  self->by_code = g_hash_table_new (g_str_hash, g_str_equal);
  self->by_id = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  self->stations = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  good = read_units (self, store, error) && read_stations (self, store, error) && read_fittings (self, store, error) &&
         read_readings (self, store, error) && read_entries (self, store, error) && read_stock (self, store, error);
  g_clear_pointer (&self->by_code, g_hash_table_unref);
  g_clear_pointer (&self->by_id, g_hash_table_unref);
  g_clear_pointer (&self->stations, g_hash_table_unref);
  return good;
}

static void
tpt_job_shelf_dispose (GObject *object)
{
  TptJobShelf *self = TPT_JOB_SHELF (object);

  g_assert (self->by_code == NULL && self->by_id == NULL && self->stations == NULL);
  g_clear_object (&self->units);
  g_clear_object (&self->stock);

  G_OBJECT_CLASS (tpt_job_shelf_parent_class)->dispose (object);
}

static void
tpt_job_shelf_class_init (TptJobShelfClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_shelf_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_shelf_run;
}

static void
tpt_job_shelf_init (TptJobShelf *self)
{
  self->units = g_list_store_new (TPT_TYPE_UNIT_ITEM);
  self->stock = g_list_store_new (TPT_TYPE_RECORD);
}

TptJobShelf *
tpt_job_shelf_new (TptInstant on)
{
  TptJobShelf *self = g_object_new (TPT_TYPE_JOB_SHELF, NULL);

  self->on = on;
  return self;
}

GListModel *
tpt_job_shelf_get_units (TptJobShelf *self)
{
  return G_LIST_MODEL (self->units);
}

GListModel *
tpt_job_shelf_get_stock (TptJobShelf *self)
{
  return G_LIST_MODEL (self->stock);
}
