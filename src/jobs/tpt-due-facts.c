#include "config.h"

#include <math.h>

#include "tpt-due-facts-private.h"
#include "tpt-records.h"

static void
free_deployment (gpointer data)
{
  TptDueDeployment *deployment = data;

  g_clear_object (&deployment->record);
  g_free (deployment);
}

static void
free_life (gpointer data)
{
  TptDueLife *life = data;

  g_array_unref (life->looks);
  g_free (life);
}

static GHashTable *
new_by_id (GDestroyNotify destroy)
{
  return g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, destroy);
}

static void
put_by_id (GHashTable *table, gint64 id, gpointer value)
{
  g_hash_table_insert (table, g_memdup2 (&id, sizeof id), value);
}

double
tpt_due_day (TptInstant at)
{
  return (double) at / TPT_DAY;
}

TptDueDeployment *
tpt_due_facts_find_deployment (const TptDueFacts *facts, gint64 id)
{
  return g_hash_table_lookup (facts->by_id, &id);
}

/* The slice of rows that belong to @id; each row begins with or holds its key
 * at @offset, and rows are sorted by it. */
static gconstpointer
find_slice (const GArray *rows, gsize size, gsize offset, gint64 id, guint *n)
{
  guint low = 0, high = rows->len;

#define KEY(i) (*(const gint64 *) (gconstpointer) (rows->data + (i) * size + offset))
  while (low < high)
    {
      guint middle = (low + high) / 2;

      if (KEY (middle) < id)
        low = middle + 1;
      else
        high = middle;
    }
  for (*n = 0; low + *n < rows->len && KEY (low + *n) == id; (*n)++)
    ;
#undef KEY
  return rows->data + low * size;
}

const TptVisitRow *
tpt_due_facts_find_visits (const TptDueFacts *facts, gint64 station_id, guint *n)
{
  return find_slice (facts->visits, sizeof (TptVisitRow), G_STRUCT_OFFSET (TptVisitRow, station_id), station_id, n);
}

const TptFittingRow *
tpt_due_facts_find_fittings (const TptDueFacts *facts, gint64 unit_id, guint *n)
{
  return find_slice (facts->fittings, sizeof (TptFittingRow), G_STRUCT_OFFSET (TptFittingRow, unit_id), unit_id, n);
}

const TptReadingRow *
tpt_due_facts_find_readings (const TptDueFacts *facts, gint64 unit_id, guint *n)
{
  return find_slice (facts->readings, sizeof (TptReadingRow), G_STRUCT_OFFSET (TptReadingRow, unit_id), unit_id, n);
}

TptInstant
tpt_due_known_at (const TptDueFacts *facts, const TptDueDeployment *deployment, const TptVisitRow **visit)
{
  guint n;
  const TptVisitRow *visits = tpt_due_facts_find_visits (facts, deployment->station_id, &n);

  if (visit != NULL)
    *visit = NULL;
  while (n > 0 && visits[n - 1].at > deployment->end)
    n--;
  if (n == 0 || visits[n - 1].at <= deployment->start)
    return deployment->start;
  if (visit != NULL)
    *visit = &visits[n - 1];
  return visits[n - 1].at;
}

static gboolean
read_units (TptDueFacts *self, GError **error)
{
  g_autoptr (GPtrArray) rows = tpt_store_list (self->store, TPT_TABLE_UNITS, NULL, NULL, error);

  if (rows == NULL)
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    {
      g_hash_table_insert (self->units, g_strdup (tpt_record_get_code (rows->pdata[i])), g_object_ref (rows->pdata[i]));
      put_by_id (self->unit_ids, tpt_record_get_id (rows->pdata[i]), g_object_ref (rows->pdata[i]));
    }
  return TRUE;
}

static void
add_deployment (TptDueFacts *self, TptRecord *record, TptRecord *station)
{
  TptDueDeployment *deployment = g_new0 (TptDueDeployment, 1);
  TptInstant end = tpt_record_get_instant (record, "end");

  deployment->id = tpt_record_get_id (record);
  deployment->record = g_object_ref (record);
  deployment->station_id = tpt_record_get_id (station);
  deployment->latitude = tpt_record_get_real (station, "latitude");
  deployment->longitude = tpt_record_get_real (station, "longitude");
  deployment->start = tpt_record_get_instant (record, "start");
  deployment->end = end == TPT_NO_INSTANT ? self->on : MIN (end, self->on);
  deployment->frames_per_trigger = (double) tpt_record_get_integer (record, "frames_per_trigger", 1);
  deployment->home_mb = NAN;
  g_ptr_array_add (self->deployments, deployment);
  put_by_id (self->by_id, deployment->id, deployment);
  g_hash_table_insert (self->by_code, (gpointer) tpt_record_get_code (record), deployment);
}

static gboolean
read_deployments (TptDueFacts *self, GError **error)
{
  g_autoptr (GPtrArray) stations = tpt_store_list (self->store, TPT_TABLE_STATIONS, NULL, NULL, error);
  g_autoptr (GPtrArray) rows = stations != NULL ? tpt_store_list (self->store, TPT_TABLE_DEPLOYMENTS, NULL, NULL, error) : NULL;
  g_autoptr (GHashTable) by_code = g_hash_table_new (g_str_hash, g_str_equal);

  if (rows == NULL)
    return FALSE;
  for (guint i = 0; i < stations->len; i++)
    g_hash_table_insert (by_code, (gpointer) tpt_record_get_code (stations->pdata[i]), stations->pdata[i]);
  for (guint i = 0; i < rows->len; i++)
    {
      TptRecord *station = g_hash_table_lookup (by_code, tpt_record_get_text (rows->pdata[i], "station"));

      if (station != NULL && tpt_record_get_instant (rows->pdata[i], "start") <= self->on)
        add_deployment (self, rows->pdata[i], station);
    }
  return TRUE;
}

static int
compare_readings (const TptReadingRow *a, const TptReadingRow *b)
{
  return a->at != b->at ? (a->at > b->at) - (a->at < b->at) : (a->visit_id > b->visit_id) - (a->visit_id < b->visit_id);
}

/* Gives readings the time of their visit, drops those of visits that are not
 * known or too old, and puts each unit's in order, which they nearly are. */
static void
date_readings (TptDueFacts *self, TptInstant from)
{
  g_autoptr (GHashTable) visits = g_hash_table_new (g_int64_hash, g_int64_equal);
  TptReadingRow *rows = (TptReadingRow *) (gpointer) self->readings->data;
  guint n = 0;

  for (guint i = 0; i < self->visits->len; i++)
    {
      TptVisitRow *visit = &g_array_index (self->visits, TptVisitRow, i);
      g_hash_table_insert (visits, &visit->id, visit);
    }
  for (guint i = 0; i < self->readings->len; i++)
    {
      const TptVisitRow *visit = g_hash_table_lookup (visits, &rows[i].visit_id);
      TptReadingRow row = rows[i];
      guint k = n;

      if (visit == NULL || visit->at < from)
        continue;
      row.at = visit->at;
      for (; k > 0 && rows[k - 1].unit_id == row.unit_id && compare_readings (&rows[k - 1], &row) > 0; k--)
        rows[k] = rows[k - 1];
      rows[k] = row;
      n++;
    }
  g_array_set_size (self->readings, n);
}

static gboolean
read_rows (TptDueFacts *self, GError **error)
{
  g_autoptr (GArray) cards = NULL;
  TptInstant from = self->on - TPT_DUE_MEMORY;

  if ((self->visits = tpt_store_read_visit_rows (self->store, self->on, error)) == NULL ||
      (self->fittings = tpt_store_read_fitting_rows (self->store, self->on, error)) == NULL ||
      (self->readings = tpt_store_read_reading_rows (self->store, error)) == NULL ||
      (self->triggers = tpt_store_read_trigger_rows (self->store, from, self->on, error)) == NULL ||
      (cards = tpt_store_read_card_rows (self->store, self->on, error)) == NULL)
    return FALSE;
  date_readings (self, from);
  for (guint i = 0; i < cards->len; i++)
    {
      const TptCardRow *row = &g_array_index (cards, TptCardRow, i);
      TptDueDeployment *deployment = tpt_due_facts_find_deployment (self, row->deployment_id);

      if (deployment != NULL && row->frames > 0 && row->bytes > 0)
        deployment->home_mb = (double) row->bytes / (double) row->frames / 1e6;
    }
  return TRUE;
}

/* When frames of a deployment last came home. */
static TptInstant
home_at (const TptDueFacts *self, const TptDueDeployment *deployment)
{
  return deployment->end < self->on ? deployment->end : tpt_due_known_at (self, deployment, NULL);
}

static void
share_out_triggers (TptDueFacts *self)
{
  for (guint i = 0; i < self->triggers->len; i++)
    {
      const TptTriggerRow *row = &g_array_index (self->triggers, TptTriggerRow, i);
      TptDueDeployment *deployment = tpt_due_facts_find_deployment (self, row->deployment_id);

      /* What is still out on a card is not known yet. */
      if (deployment == NULL || row->at > home_at (self, deployment))
        continue;
      if (deployment->n_triggers == 0)
        deployment->first_trigger = i;
      deployment->n_triggers++;
    }
}

static void
put_fresh_card (TptDueFacts *self, gint64 station_id, TptInstant at)
{
  GArray *list = g_hash_table_lookup (self->fresh_cards, &station_id);

  if (list == NULL)
    {
      list = g_array_new (FALSE, FALSE, sizeof (TptInstant));
      put_by_id (self->fresh_cards, station_id, list);
    }
  g_array_append_val (list, at);
}

static gboolean
is_card (TptRecord *unit)
{
  return g_strcmp0 (tpt_record_get_text (unit, "kind"), "card") == 0;
}

static gint64
station_of_reading (const TptDueFacts *self, const TptReadingRow *reading)
{
  guint n;
  const TptFittingRow *fittings = tpt_due_facts_find_fittings (self, reading->unit_id, &n);

  for (guint i = n; i > 0; i--)
    if (fittings[i - 1].from <= reading->at)
      {
        const TptDueDeployment *deployment = tpt_due_facts_find_deployment (self, fittings[i - 1].deployment_id);

        return deployment != NULL ? deployment->station_id : 0;
      }
  return 0;
}

/* A card is empty when it is fitted, swapped, or cleaned of its frames. */
static void
find_fresh_cards (TptDueFacts *self)
{
  for (guint i = 0; i < self->fittings->len; i++)
    {
      const TptFittingRow *row = &g_array_index (self->fittings, TptFittingRow, i);
      TptRecord *unit = g_hash_table_lookup (self->unit_ids, &row->unit_id);
      const TptDueDeployment *deployment = tpt_due_facts_find_deployment (self, row->deployment_id);

      if (unit != NULL && deployment != NULL && is_card (unit))
        put_fresh_card (self, deployment->station_id, row->from);
    }
  for (guint i = 0; i < self->readings->len; i++)
    {
      const TptReadingRow *row = &g_array_index (self->readings, TptReadingRow, i);
      TptRecord *unit = g_hash_table_lookup (self->unit_ids, &row->unit_id);

      if (unit != NULL && is_card (unit) && (g_str_equal (row->action, "swapped") || g_str_equal (row->action, "cleaned")))
        put_fresh_card (self, station_of_reading (self, row), row->at);
    }
}

static void
find_rigs (TptDueFacts *self)
{
  for (guint i = 0; i < self->fittings->len; i++)
    {
      const TptFittingRow *row = &g_array_index (self->fittings, TptFittingRow, i);
      GArray *rig = g_hash_table_lookup (self->rigs, &row->deployment_id);

      if (row->to != TPT_NO_INSTANT)
        continue;
      if (rig == NULL)
        {
          rig = g_array_new (FALSE, FALSE, sizeof (guint));
          put_by_id (self->rigs, row->deployment_id, rig);
        }
      g_array_append_val (rig, i);
    }
}

TptDueFacts *
tpt_due_facts_new (TptStore *store, TptInstant on, TptInstant until, GError **error)
{
  g_autoptr (TptDueFacts) self = g_new0 (TptDueFacts, 1);

  self->store = store;
  self->on = on;
  self->until = until;
  self->threshold = tpt_store_get_setting_real (store, "due_threshold", 0.1);
  self->units = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  self->unit_ids = new_by_id (g_object_unref);
  self->deployments = g_ptr_array_new_with_free_func (free_deployment);
  self->by_id = new_by_id (NULL);
  self->by_code = g_hash_table_new (g_str_hash, g_str_equal);
  self->watches = g_array_new (FALSE, FALSE, sizeof (SciWatch));
  self->rigs = new_by_id ((GDestroyNotify) g_array_unref);
  self->fresh_cards = new_by_id ((GDestroyNotify) g_array_unref);
  self->lives = new_by_id (free_life);
  if (!read_units (self, error) || !read_deployments (self, error) || !read_rows (self, error))
    return NULL;
  self->store = NULL;
  share_out_triggers (self);
  find_fresh_cards (self);
  find_rigs (self);
  tpt_due_find_watches (self);
  sci_traffic_learn ((const SciWatch *) (gpointer) self->watches->data, self->watches->len, self->deployments->len, &self->traffic);
  tpt_due_find_lives (self);
  return g_steal_pointer (&self);
}

void
tpt_due_facts_free (TptDueFacts *self)
{
  g_clear_pointer (&self->units, g_hash_table_unref);
  g_clear_pointer (&self->unit_ids, g_hash_table_unref);
  g_clear_pointer (&self->by_id, g_hash_table_unref);
  g_clear_pointer (&self->by_code, g_hash_table_unref);
  g_clear_pointer (&self->deployments, g_ptr_array_unref);
  g_clear_pointer (&self->visits, g_array_unref);
  g_clear_pointer (&self->fittings, g_array_unref);
  g_clear_pointer (&self->readings, g_array_unref);
  g_clear_pointer (&self->triggers, g_array_unref);
  g_clear_pointer (&self->watches, g_array_unref);
  g_clear_pointer (&self->rigs, g_hash_table_unref);
  g_clear_pointer (&self->fresh_cards, g_hash_table_unref);
  g_clear_pointer (&self->lives, g_hash_table_unref);
  g_free (self);
}
