#include "config.h"

#include "tpt-pack-shelf-private.h"

#include <string.h>

#include "tpt-packing-private.h"
#include "tpt-records.h"

static TptPackShelf *
new_shelf (void)
{
  TptPackShelf *self = g_new0 (TptPackShelf, 1);

  g_atomic_ref_count_init (&self->refs);
  self->units = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  self->packs = g_array_new (FALSE, FALSE, sizeof (TptSparePack));
  self->cells = g_array_new (FALSE, FALSE, sizeof (TptSpareCells));
  return self;
}

TptPackShelf *
tpt_pack_shelf_ref (TptPackShelf *self)
{
  g_atomic_ref_count_inc (&self->refs);
  return self;
}

void
tpt_pack_shelf_unref (TptPackShelf *self)
{
  if (!g_atomic_ref_count_dec (&self->refs))
    return;
  g_hash_table_unref (self->units);
  g_array_unref (self->packs);
  g_array_unref (self->cells);
  g_free (self);
}

static const char *
intern_text (TptRecord *record, const char *column)
{
  return g_intern_string (tpt_record_get_text (record, column));
}

static gboolean
covers (TptRecord *record, const char *from, const char *to, TptInstant on)
{
  TptInstant end = tpt_record_get_instant (record, to);

  return tpt_record_get_instant (record, from) <= on && (end == TPT_NO_INSTANT || end > on);
}

/* Deployments at work at @on: a fitting counts no longer than its rig stands. */
static GHashTable *
read_at_work (TptStore *store, TptInstant on, GError **error)
{
  g_autoptr (GPtrArray) rows = tpt_store_list (store, TPT_TABLE_DEPLOYMENTS, NULL, NULL, error);
  GHashTable *at_work;

  if (rows == NULL)
    return NULL;
  at_work = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < rows->len; i++)
    if (covers (rows->pdata[i], "start", "end", on))
      g_hash_table_add (at_work, g_strdup (tpt_record_get_code (rows->pdata[i])));
  return at_work;
}

/* Codes of the units that stand in a rig at @on. */
static GHashTable *
read_fitted (TptStore *store, TptInstant on, GError **error)
{
  g_autoptr (GHashTable) at_work = read_at_work (store, on, error);
  g_autoptr (GPtrArray) rows = at_work != NULL ? tpt_store_list (store, TPT_TABLE_FITTINGS, NULL, NULL, error) : NULL;
  GHashTable *fitted;

  if (rows == NULL)
    return NULL;
  fitted = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < rows->len; i++)
    if (covers (rows->pdata[i], "from", "to", on)
        && g_hash_table_contains (at_work, tpt_record_get_text (rows->pdata[i], "deployment")))
      g_hash_table_add (fitted, g_strdup (tpt_record_get_text (rows->pdata[i], "unit")));
  return fitted;
}

static void
put_spare (TptPackShelf *self, TptRecord *unit)
{
  const char *kind = tpt_record_get_text (unit, "kind");

  if (g_strcmp0 (kind, "card") == 0)
    {
      self->cards++;
      self->cards_counted = TRUE;
    }
  else if (g_strcmp0 (kind, "pack") == 0)
    {
      TptSparePack pack = { intern_text (unit, "chemistry"), intern_text (unit, "cell_size"),
                            (int) tpt_record_get_integer (unit, "cells_series", 1) };
      g_array_append_val (self->packs, pack);
    }
}

static gboolean
is_retired (TptRecord *unit, const char *today)
{
  const char *retired = tpt_record_get_text (unit, "retired");

  return retired != NULL && strcmp (retired, today) <= 0;
}

static char *
write_day (TptStore *store, TptInstant on)
{
  int year, month, day;

  tpt_civil_from_days (tpt_zone_local_day (tpt_store_get_zone (store), on), &year, &month, &day);
  return g_strdup_printf ("%04d-%02d-%02d", year, month, day);
}

static gboolean
read_units (TptPackShelf *self, TptStore *store, TptInstant on, GError **error)
{
  g_autoptr (GHashTable) fitted = read_fitted (store, on, error);
  g_autoptr (GPtrArray) rows = fitted != NULL ? tpt_store_list (store, TPT_TABLE_UNITS, NULL, NULL, error) : NULL;
  g_autofree char *today = write_day (store, on);

  if (rows == NULL)
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    {
      const char *code = tpt_record_get_code (rows->pdata[i]);

      g_hash_table_insert (self->units, g_strdup (code), g_object_ref (rows->pdata[i]));
      if (!g_hash_table_contains (fitted, code) && !is_retired (rows->pdata[i], today))
        put_spare (self, rows->pdata[i]);
    }
  return TRUE;
}

static void
put_stock (TptPackShelf *self, TptRecord *row)
{
  const char *what = tpt_record_get_text (row, "what");
  guint pieces = (guint) tpt_record_get_integer (row, "pieces", 0);

  if (g_strcmp0 (what, "card") == 0)
    {
      self->cards += pieces;
      self->cards_counted = TRUE;
    }
  else if (g_strcmp0 (what, "cells") == 0)
    {
      TptSpareCells cells = { intern_text (row, "chemistry"), intern_text (row, "cell_size"), pieces };
      g_array_append_val (self->cells, cells);
    }
}

TptPackShelf *
tpt_pack_shelf_read (TptStore *store, TptInstant on, GError **error)
{
  g_autoptr (TptPackShelf) self = new_shelf ();
  g_autoptr (GPtrArray) stock = NULL;

  if (!read_units (self, store, on, error))
    return NULL;
  stock = tpt_store_list (store, TPT_TABLE_STOCK, NULL, NULL, error);
  if (stock == NULL)
    return NULL;
  for (guint i = 0; i < stock->len; i++)
    put_stock (self, stock->pdata[i]);
  return g_steal_pointer (&self);
}
