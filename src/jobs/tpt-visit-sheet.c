/* What is on record about a station whose visit is ahead. */
#include "config.h"

#include "tpt-visit-sheet-private.h"

#include "tpt-records.h"

static void
free_unit (gpointer data)
{
  g_object_unref (((TptSheetUnit *) data)->unit);
  g_free (data);
}

void
tpt_visit_sheet_free (TptVisitSheet *self)
{
  g_clear_object (&self->item);
  g_clear_object (&self->last_visit);
  g_clear_pointer (&self->done, g_ptr_array_unref);
  g_clear_pointer (&self->done_units, g_ptr_array_unref);
  g_clear_pointer (&self->units, g_ptr_array_unref);
  g_clear_pointer (&self->pack, g_array_unref);
  g_free (self);
}

/* Some may be in no rig any more: just what a swap is about. */
static gboolean
read_done (TptVisitSheet *self, GError **error)
{
  TptStore *store = self->context->store;

  self->done = tpt_store_list (store, TPT_TABLE_READINGS, "visit", tpt_record_get_code (self->last_visit), error);
  for (guint i = 0; self->done != NULL && i < self->done->len; i++)
    {
      TptRecord *unit = tpt_store_find (store, TPT_TABLE_UNITS, tpt_record_get_text (self->done->pdata[i], "unit"), error);

      if (unit == NULL)
        return FALSE;
      g_ptr_array_add (self->done_units, unit);
    }
  return self->done != NULL;
}

static gboolean
read_last_visit (TptVisitSheet *self, GError **error)
{
  g_autoptr (GPtrArray) visits =
    tpt_store_list (self->context->store, TPT_TABLE_VISITS, "station", tpt_station_item_get_code (self->item), error);

  if (visits == NULL)
    return FALSE;
  for (guint i = 0; i < visits->len; i++)
    if (tpt_record_get_instant (visits->pdata[i], "at") <= self->context->on)
      g_set_object (&self->last_visit, visits->pdata[i]);
  if (self->last_visit != NULL)
    return read_done (self, error);
  self->done = g_ptr_array_new ();
  return TRUE;
}

static const TptLastReading *
find_reading (const TptSheetContext *context, TptRecord *unit, TptInstant since)
{
  for (guint i = 0; i < context->readings->len; i++)
    {
      const TptLastReading *reading = &g_array_index (context->readings, TptLastReading, i);

      if (reading->unit_id == tpt_record_get_id (unit))
        return reading->at >= since ? reading : NULL;
    }
  return NULL;
}

static const TptUnitForecast *
find_forecast (TptStationItem *item, TptRecord *unit)
{
  const TptForecast *forecast = tpt_station_item_get_forecast (item);

  for (guint i = 0; i < forecast->units->len; i++)
    {
      const TptUnitForecast *row = forecast->units->pdata[i];

      if (g_strcmp0 (row->unit, tpt_record_get_code (unit)) == 0)
        return row;
    }
  return NULL;
}

static guint
rank_kind (TptRecord *unit)
{
  const TptTable *table = tpt_table_get (TPT_TABLE_UNITS);
  const char *const *kinds = table->columns[tpt_table_find (table, "kind")].choices;
  guint rank = 0;

  while (kinds[rank] != NULL && g_strcmp0 (kinds[rank], tpt_record_get_text (unit, "kind")) != 0)
    rank++;
  return rank;
}

static int
compare_units_cb (gconstpointer a, gconstpointer b)
{
  TptRecord *x = (*(TptSheetUnit *const *) a)->unit, *y = (*(TptSheetUnit *const *) b)->unit;
  guint rx = rank_kind (x), ry = rank_kind (y);

  return rx != ry ? (rx < ry ? -1 : 1) : g_strcmp0 (tpt_record_get_code (x), tpt_record_get_code (y));
}

static gboolean
add_unit (TptVisitSheet *self, TptRecord *fitting, GError **error)
{
  TptInstant on = self->context->on, from = tpt_record_get_instant (fitting, "from"), to = tpt_record_get_instant (fitting, "to");
  TptSheetUnit *unit;
  TptRecord *record;

  if (from > on || (to != TPT_NO_INSTANT && to <= on))
    return TRUE;
  record = tpt_store_find (self->context->store, TPT_TABLE_UNITS, tpt_record_get_text (fitting, "unit"), error);
  if (record == NULL)
    return FALSE;
  unit = g_new0 (TptSheetUnit, 1);
  unit->unit = record;
  unit->fitted_at = from;
  unit->reading = find_reading (self->context, record, from);
  unit->forecast = find_forecast (self->item, record);
  g_ptr_array_add (self->units, unit);
  return TRUE;
}

static gboolean
read_units (TptVisitSheet *self, GError **error)
{
  TptRecord *deployment = tpt_station_item_get_deployment (self->item);
  g_autoptr (GPtrArray) fittings = NULL;

  if (deployment == NULL)
    return TRUE;
  fittings = tpt_store_list (self->context->store, TPT_TABLE_FITTINGS, "deployment", tpt_record_get_code (deployment), error);
  if (fittings == NULL)
    return FALSE;
  for (guint i = 0; i < fittings->len; i++)
    if (!add_unit (self, fittings->pdata[i], error))
      return FALSE;
  g_ptr_array_sort (self->units, compare_units_cb);
  return TRUE;
}

TptVisitSheet *
tpt_visit_sheet_read (const TptSheetContext *context, TptStationItem *item, GError **error)
{
  g_autoptr (TptVisitSheet) self = g_new0 (TptVisitSheet, 1);

  self->context = context;
  self->item = g_object_ref (item);
  self->done_units = g_ptr_array_new_with_free_func (g_object_unref);
  self->units = g_ptr_array_new_with_free_func (free_unit);
  if (!read_last_visit (self, error) || !read_units (self, error))
    return NULL;
  self->pack = tpt_packing_add (context->packing, item);
  return g_steal_pointer (&self);
}

gboolean
tpt_sheet_unit_is_kind (const TptSheetUnit *unit, const char *kind)
{
  return g_strcmp0 (tpt_record_get_text (unit->unit, "kind"), kind) == 0;
}

gboolean
tpt_visit_sheet_has_kind (const TptVisitSheet *self, const char *kind)
{
  for (guint i = 0; i < self->units->len; i++)
    if (tpt_sheet_unit_is_kind (self->units->pdata[i], kind))
      return TRUE;
  return FALSE;
}

gboolean
tpt_visit_sheet_has_chemistry (const TptVisitSheet *self, const char *chemistry)
{
  for (guint i = 0; i < self->units->len; i++)
    {
      const TptSheetUnit *unit = self->units->pdata[i];

      if (g_strcmp0 (tpt_record_get_text (unit->unit, "chemistry"), chemistry) == 0)
        return TRUE;
    }
  return FALSE;
}
