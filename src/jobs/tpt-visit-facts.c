#include "config.h"

#include "tpt-visit-facts.h"

#include <glib/gi18n-lib.h>

#include "tpt-error.h"
#include "tpt-records.h"
#include "tpt-visit-private.h"

static gboolean
covers (TptRecord *record, const char *from, const char *to, TptInstant at)
{
  TptInstant end = tpt_record_get_instant (record, to);

  return tpt_record_get_instant (record, from) <= at && (end == TPT_NO_INSTANT || end > at);
}

static void
choose_deployment (TptVisitFacts *self, GPtrArray *deployments)
{
  for (guint i = 0; i < deployments->len; i++)
    {
      TptInstant start = tpt_record_get_instant (deployments->pdata[i], "start");

      if (covers (deployments->pdata[i], "start", "end", self->at))
        g_set_object (&self->deployment, deployments->pdata[i]);
      else if (start > self->at && (self->next_start == TPT_NO_INSTANT || start < self->next_start))
        self->next_start = start;
    }
}

static int
rank_kind (TptRecord *unit)
{
  static const char *const order[] = { "camera", "trigger", "flash", "pack", "card", "housing", "other" };

  for (guint i = 0; i < G_N_ELEMENTS (order); i++)
    if (unit != NULL && g_strcmp0 (tpt_record_get_text (unit, "kind"), order[i]) == 0)
      return (int) i;
  return G_N_ELEMENTS (order);
}

static int
compare_fittings_cb (gconstpointer a, gconstpointer b, gpointer facts)
{
  const char *x = tpt_record_get_text (*(TptRecord *const *) a, "unit"), *y = tpt_record_get_text (*(TptRecord *const *) b, "unit");
  int by_kind = rank_kind (tpt_visit_facts_find_unit (facts, x)) - rank_kind (tpt_visit_facts_find_unit (facts, y));

  return by_kind != 0 ? by_kind : g_strcmp0 (x, y);
}

static gboolean
read_rig (TptVisitFacts *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) fittings = NULL;

  if (self->deployment == NULL)
    return TRUE;
  fittings = tpt_store_list (store, TPT_TABLE_FITTINGS, "deployment", tpt_record_get_code (self->deployment), error);
  if (fittings == NULL)
    return FALSE;
  for (guint i = 0; i < fittings->len; i++)
    {
      const char *code = tpt_record_get_text (fittings->pdata[i], "unit");
      TptRecord *unit;

      if (!covers (fittings->pdata[i], "from", "to", self->at))
        continue;
      unit = tpt_store_find (store, TPT_TABLE_UNITS, code, error);
      if (unit == NULL)
        return FALSE;
      g_hash_table_replace (self->units, g_strdup (code), unit);
      g_ptr_array_add (self->rig, g_object_ref (fittings->pdata[i]));
    }
  g_ptr_array_sort_with_data (self->rig, compare_fittings_cb, self);
  return TRUE;
}

/* Of one visit: what it says about the units of the rig. */
static gboolean
read_visit (TptVisitFacts *self, TptStore *store, TptRecord *visit, GError **error)
{
  TptInstant at = tpt_record_get_instant (visit, "at");
  g_autoptr (GPtrArray) readings = tpt_store_list (store, TPT_TABLE_READINGS, "visit", tpt_record_get_code (visit), error);

  if (readings == NULL)
    return FALSE;
  for (guint i = 0; i < readings->len; i++)
    {
      const char *unit = tpt_record_get_text (readings->pdata[i], "unit");

      if (at < self->at)
        g_hash_table_replace (self->last, g_strdup (unit), g_object_ref (readings->pdata[i]));
      else if (at > self->at && !g_hash_table_contains (self->later, unit))
        g_hash_table_replace (self->later, g_strdup (unit), g_memdup2 (&at, sizeof at));
    }
  return TRUE;
}

static gboolean
read_visits (TptVisitFacts *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) visits = tpt_store_list (store, TPT_TABLE_VISITS, "station", tpt_record_get_code (self->station), error);

  for (guint i = 0; visits != NULL && i < visits->len; i++)
    {
      TptInstant at = tpt_record_get_instant (visits->pdata[i], "at");

      self->recorded |= at == self->at;
      if (self->deployment == NULL || at < tpt_record_get_instant (self->deployment, "start") ||
          (tpt_record_is_set (self->deployment, "end") && at > tpt_record_get_instant (self->deployment, "end")))
        continue;
      if (at > self->at)
        self->last_visit = at; /* in order of time */
      if (!read_visit (self, store, visits->pdata[i], error))
        return FALSE;
    }
  return visits != NULL;
}

static gboolean
add_place (TptVisitFacts *self, TptStore *store, const char *deployment, GError **error)
{
  g_autoptr (TptRecord) record = NULL;

  if (g_hash_table_contains (self->places, deployment))
    return TRUE;
  record = tpt_store_find (store, TPT_TABLE_DEPLOYMENTS, deployment, error);
  if (record == NULL)
    return FALSE;
  g_hash_table_replace (self->places, g_strdup (deployment), g_strdup (tpt_record_get_text (record, "station")));
  return TRUE;
}

static gboolean
add_fittings (TptVisitFacts *self, TptStore *store, const char *unit, GError **error)
{
  g_autoptr (GPtrArray) fittings =
    tpt_store_list (store, TPT_TABLE_FITTINGS, unit != NULL ? "unit" : NULL, unit, error);

  for (guint i = 0; fittings != NULL && i < fittings->len; i++)
    {
      TptRecord *fitting = fittings->pdata[i];
      TptInstant to = tpt_record_get_instant (fitting, "to");

      if ((to != TPT_NO_INSTANT && to <= self->at) ||
          tpt_visit_facts_find_fitting (self, tpt_record_get_text (fitting, "unit")) != NULL)
        continue;
      if (!add_place (self, store, tpt_record_get_text (fitting, "deployment"), error))
        return FALSE;
      g_ptr_array_add (self->fittings, g_object_ref (fitting));
    }
  return fittings != NULL;
}

gboolean
tpt_visit_facts_add_unit (TptVisitFacts *self, TptStore *store, const char *code, GError **error)
{
  GError *failure = NULL;
  TptRecord *unit;

  if (g_hash_table_contains (self->units, code))
    return TRUE;
  unit = tpt_store_find (store, TPT_TABLE_UNITS, code, &failure);
  if (unit == NULL)
    {
      if (failure != NULL)
        g_propagate_error (error, failure);
      return failure == NULL;
    }
  g_hash_table_replace (self->units, g_strdup (code), unit);
  return add_fittings (self, store, code, error);
}

gboolean
tpt_visit_facts_add_lines (TptVisitFacts *self, TptStore *store, GPtrArray *lines, GError **error)
{
  static const char *const columns[] = { "unit", "replacement" };

  for (guint i = 0; i < lines->len; i++)
    for (gsize c = 0; c < G_N_ELEMENTS (columns); c++)
      {
        const TptVisitLine *line = lines->pdata[i];
        const char *code = tpt_record_get_text (line->reading, columns[c]);

        if (code != NULL && !tpt_visit_facts_add_unit (self, store, code, error))
          return FALSE;
      }
  return TRUE;
}

gboolean
tpt_visit_facts_add_all (TptVisitFacts *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) units = tpt_store_list (store, TPT_TABLE_UNITS, NULL, NULL, error);

  if (units == NULL)
    return FALSE;
  for (guint i = 0; i < units->len; i++)
    g_hash_table_replace (self->units, g_strdup (tpt_record_get_code (units->pdata[i])), g_object_ref (units->pdata[i]));
  return add_fittings (self, store, NULL, error);
}

static TptVisitFacts *
make_empty (TptStore *store, TptInstant at)
{
  TptVisitFacts *self = g_new0 (TptVisitFacts, 1);

  self->now = tpt_store_get_now (store);
  self->at = at != TPT_NO_INSTANT ? at : self->now;
  self->zone = tpt_zone_ref (tpt_store_get_zone (store));
  self->next_start = self->last_visit = TPT_NO_INSTANT;
  self->rig = g_ptr_array_new_with_free_func (g_object_unref);
  self->fittings = g_ptr_array_new_with_free_func (g_object_unref);
  self->units = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  self->places = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->later = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->last = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  return self;
}

TptVisitFacts *
tpt_visit_facts_read (TptStore *store, const char *station, TptInstant at, GError **error)
{
  g_autoptr (TptVisitFacts) self = make_empty (store, at);
  const char *const stations[] = { station, NULL };
  g_autoptr (GPtrArray) deployments = NULL;

  if (!tpt_store_check_stations (store, stations, error))
    return NULL;
  self->station = tpt_store_find (store, TPT_TABLE_STATIONS, station, error);
  deployments = tpt_store_list (store, TPT_TABLE_DEPLOYMENTS, "station", station, error);
  self->stock = tpt_store_list (store, TPT_TABLE_STOCK, NULL, NULL, error);
  if (self->station == NULL || deployments == NULL || self->stock == NULL)
    return NULL;
  choose_deployment (self, deployments);
  return read_rig (self, store, error) && read_visits (self, store, error) ? g_steal_pointer (&self) : NULL;
}

void
tpt_visit_facts_free (TptVisitFacts *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->zone, tpt_zone_unref);
  g_clear_object (&self->station);
  g_clear_object (&self->deployment);
  g_clear_pointer (&self->rig, g_ptr_array_unref);
  g_clear_pointer (&self->fittings, g_ptr_array_unref);
  g_clear_pointer (&self->stock, g_ptr_array_unref);
  g_clear_pointer (&self->units, g_hash_table_unref);
  g_clear_pointer (&self->places, g_hash_table_unref);
  g_clear_pointer (&self->later, g_hash_table_unref);
  g_clear_pointer (&self->last, g_hash_table_unref);
  g_free (self);
}

TptRecord *
tpt_visit_facts_find_fitting (const TptVisitFacts *self, const char *unit)
{
  for (guint i = 0; i < self->rig->len; i++)
    if (g_strcmp0 (tpt_record_get_text (self->rig->pdata[i], "unit"), unit) == 0)
      return self->rig->pdata[i];
  return NULL;
}

TptRecord *
tpt_visit_facts_find_unit (const TptVisitFacts *self, const char *unit)
{
  return g_hash_table_lookup (self->units, unit);
}

TptRecord *
tpt_visit_facts_find_hindrance (const TptVisitFacts *self, const char *unit, TptInstant to)
{
  for (guint i = 0; i < self->fittings->len; i++)
    {
      TptRecord *fitting = self->fittings->pdata[i];

      if (g_strcmp0 (tpt_record_get_text (fitting, "unit"), unit) == 0 &&
          (to == TPT_NO_INSTANT || tpt_record_get_instant (fitting, "from") < to))
        return fitting;
    }
  return NULL;
}

static int
compare_codes_cb (gconstpointer a, gconstpointer b)
{
  return g_strcmp0 (tpt_record_get_code (*(TptRecord *const *) a), tpt_record_get_code (*(TptRecord *const *) b));
}

GPtrArray *
tpt_visit_facts_list_spares (const TptVisitFacts *self, const char *kind)
{
  GPtrArray *spares = g_ptr_array_new_with_free_func (g_object_unref);
  g_autoptr (GHashTable) taken = g_hash_table_new (g_str_hash, g_str_equal);
  GHashTableIter iter;
  gpointer code, unit;

  for (guint i = 0; i < self->fittings->len; i++)
    g_hash_table_add (taken, (gpointer) tpt_record_get_text (self->fittings->pdata[i], "unit"));
  g_hash_table_iter_init (&iter, self->units);
  while (g_hash_table_iter_next (&iter, &code, &unit))
    if (g_strcmp0 (tpt_record_get_text (unit, "kind"), kind) == 0 && !tpt_record_is_set (unit, "retired") &&
        !g_hash_table_contains (taken, code) && tpt_visit_facts_find_fitting (self, code) == NULL)
      g_ptr_array_add (spares, g_object_ref (unit));
  g_ptr_array_sort (spares, compare_codes_cb);
  return spares;
}
