#include "config.h"

#include "tpt-packing.h"

#include <glib/gi18n-lib.h>

#include "tpt-pack-shelf-private.h"

struct _TptPacking {
  TptPackShelf *shelf; /* (owned) */
  double threshold;
  GArray *spares; /* (owned) (element-type TptSparePack): not yet given to a station */
  GArray *items;  /* (owned) (element-type TptPackItem) */
};

TptPacking *
tpt_packing_new (TptPackShelf *shelf, double threshold)
{
  TptPacking *self = g_new0 (TptPacking, 1);

  self->shelf = tpt_pack_shelf_ref (shelf);
  self->threshold = threshold;
  self->spares = g_array_copy (shelf->packs);
  self->items = g_array_new (FALSE, FALSE, sizeof (TptPackItem));
  return self;
}

void
tpt_packing_free (TptPacking *self)
{
  tpt_pack_shelf_unref (self->shelf);
  g_array_unref (self->spares);
  g_array_unref (self->items);
  g_free (self);
}

GArray *
tpt_packing_get_items (TptPacking *self)
{
  return self->items;
}

/* --- what lies on the shelf ------------------------------------------------ */

/* Where a size is not on record, any cells of the chemistry would have to do. */
static guint
count_cells (TptPackShelf *shelf, const TptPackItem *item)
{
  guint n = 0;

  for (guint i = 0; i < shelf->cells->len; i++)
    {
      const TptSpareCells *cells = &g_array_index (shelf->cells, TptSpareCells, i);

      if (cells->chemistry == item->chemistry && (item->size == NULL || cells->size == item->size))
        n += cells->pieces;
    }
  return n;
}

static gboolean
is_like (const TptSparePack *pack, const TptPackItem *item)
{
  return pack->chemistry == item->chemistry && pack->series == item->series;
}

static guint
count_packs (TptPackShelf *shelf, const TptPackItem *item)
{
  guint n = 0;

  for (guint i = 0; i < shelf->packs->len; i++)
    n += is_like (&g_array_index (shelf->packs, TptSparePack, i), item);
  return n;
}

static void
look_on_shelf (TptPackShelf *shelf, TptPackItem *item)
{
  if (g_str_equal (item->what, TPT_PACK_CARD))
    {
      item->on_shelf = shelf->cards;
      item->counted = shelf->cards_counted;
    }
  else if (g_str_equal (item->what, TPT_PACK_PACK))
    {
      item->on_shelf = count_packs (shelf, item);
      item->counted = shelf->packs->len > 0;
    }
  else
    {
      item->on_shelf = count_cells (shelf, item);
      item->counted = shelf->cells->len > 0;
    }
}

/* --- the list ---------------------------------------------------------------- */

/* Ordered as sizes and chemistries are listed everywhere else; unknown last. */
static int
rank_choice (const char *column, const char *word)
{
  const TptTable *units = tpt_table_get (TPT_TABLE_UNITS);
  const char *const *choices = units->columns[tpt_table_find (units, column)].choices;
  int i = 0;

  while (choices[i] != NULL && g_strcmp0 (choices[i], word) != 0)
    i++;
  return i;
}

static int
rank_what (const char *what)
{
  return g_str_equal (what, TPT_PACK_CELLS) ? 0 : g_str_equal (what, TPT_PACK_PACK) ? 1 : 2;
}

static int
compare_items (gconstpointer a, gconstpointer b)
{
  const TptPackItem *x = a, *y = b;

  if (rank_what (x->what) != rank_what (y->what))
    return rank_what (x->what) - rank_what (y->what);
  if (x->size != y->size)
    return rank_choice ("cell_size", x->size) - rank_choice ("cell_size", y->size);
  if (x->chemistry != y->chemistry)
    return rank_choice ("chemistry", x->chemistry) - rank_choice ("chemistry", y->chemistry);
  return x->series - y->series;
}

static void
add_item (GArray *items, const TptPackItem *wanted)
{
  for (guint i = 0; i < items->len; i++)
    {
      TptPackItem *item = &g_array_index (items, TptPackItem, i);

      if (compare_items (item, wanted) == 0)
        {
          item->needed += wanted->needed;
          return;
        }
    }
  g_array_append_vals (items, wanted, 1);
  g_array_sort (items, compare_items);
}

static gboolean
take_spare (TptPacking *self, const TptPackItem *item)
{
  for (guint i = 0; i < self->spares->len; i++)
    if (is_like (&g_array_index (self->spares, TptSparePack, i), item))
      {
        g_array_remove_index (self->spares, i);
        return TRUE;
      }
  return FALSE;
}

/* Li-ion and lead-acid are not taken apart in the field, nor is any block; but
 * round Li-ion cells of a known size that sit in the unit itself are cells. */
static gboolean
is_sealed (TptRecord *unit, const TptPackItem *cells)
{
  gboolean pack = g_strcmp0 (tpt_record_get_text (unit, "kind"), "pack") == 0;

  if (g_strcmp0 (cells->size, "block") == 0 || g_strcmp0 (cells->chemistry, "lead-acid") == 0)
    return TRUE;
  return g_strcmp0 (cells->chemistry, "li-ion") == 0 && (pack || cells->size == NULL);
}

static TptPackItem
describe_feed (TptPacking *self, TptRecord *unit)
{
  int series = (int) tpt_record_get_integer (unit, "cells_series", 1);
  TptPackItem cells = { TPT_PACK_CELLS, g_intern_string (tpt_record_get_text (unit, "cell_size")),
                        g_intern_string (tpt_record_get_text (unit, "chemistry")), 0, 0, 0, FALSE };
  TptPackItem pack = { TPT_PACK_PACK, cells.size, cells.chemistry, series, 1, 0, FALSE };
  gboolean whole = g_strcmp0 (tpt_record_get_text (unit, "kind"), "pack") == 0;

  cells.needed = (guint) (series * tpt_record_get_integer (unit, "cells_parallel", 1));
  if (is_sealed (unit, &cells))
    {
      take_spare (self, &pack);
      return pack;
    }
  return whole && g_strcmp0 (cells.chemistry, "nimh") == 0 && take_spare (self, &pack) ? pack : cells;
}

static void
need (TptPacking *self, GArray *own, TptPackItem item)
{
  look_on_shelf (self->shelf, &item);
  add_item (own, &item);
  add_item (self->items, &item);
}

static void
need_unit (TptPacking *self, GArray *own, const char *code)
{
  TptRecord *unit = g_hash_table_lookup (self->shelf->units, code);

  if (unit != NULL && tpt_record_is_set (unit, "chemistry"))
    need (self, own, describe_feed (self, unit));
}

static void
need_card (TptPacking *self, GArray *own)
{
  need (self, own, (TptPackItem){ TPT_PACK_CARD, NULL, NULL, 0, 1, 0, FALSE });
}

GArray *
tpt_packing_add (TptPacking *self, TptStationItem *station)
{
  const TptForecast *forecast = tpt_station_item_get_forecast (station);
  GArray *own = g_array_new (FALSE, FALSE, sizeof (TptPackItem));

  for (guint i = 0; i < forecast->units->len; i++)
    {
      const TptUnitForecast *unit = forecast->units->pdata[i];

      if (unit->p_out >= self->threshold)
        need_unit (self, own, unit->unit);
    }
  if (forecast->card.p_full >= self->threshold)
    need_card (self, own);

  /* Found out of order, though no part by itself would have told. */
  if (own->len == 0 && forecast->state == TPT_STATE_DOWN && forecast->limiting != NULL)
    {
      if (g_str_equal (forecast->limiting, "card"))
        need_card (self, own);
      else
        need_unit (self, own, forecast->limiting);
    }
  return own;
}

/* --- in words ------------------------------------------------------------------ */

/* Whether the size alone tells which cells are meant. */
static gboolean
goes_by_size (const TptPackItem *item, GArray *items)
{
  if (g_strcmp0 (item->chemistry, "alkaline") != 0)
    return FALSE;
  for (guint i = 0; i < items->len; i++)
    {
      const TptPackItem *other = &g_array_index (items, TptPackItem, i);

      if (g_str_equal (other->what, TPT_PACK_CELLS) && other->size == item->size && other->chemistry != item->chemistry)
        return FALSE;
    }
  return TRUE;
}

/* "48 AA", but "6 × 18650": a number after a number needs a sign between. */
static char *
describe_sized (guint n, const TptPackItem *item, GArray *items)
{
  g_autofree char *size = tpt_choice_inline (item->size);
  g_autofree char *chemistry = item->chemistry != NULL ? tpt_choice_inline (item->chemistry) : NULL;

  if (chemistry != NULL && !goes_by_size (item, items))
    /* Translators: a number of cells, their chemistry, their size: "12 NiMH AA" */
    return g_strdup_printf (_("%1$u %2$s %3$s"), n, chemistry, size);
  return g_strdup_printf (g_ascii_isdigit (*size) ? _("%1$u × %2$s") : _("%1$u %2$s"), n, size);
}

static char *
describe_unsized (guint n, const TptPackItem *item)
{
  g_autofree char *chemistry = item->chemistry != NULL ? tpt_choice_inline (item->chemistry) : NULL;

  if (chemistry == NULL)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u cell", "%u cells", n), n);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%1$u %2$s cell", "%1$u %2$s cells", n), n, chemistry);
}

static char *
describe_packs (guint n, const TptPackItem *item)
{
  g_autofree char *chemistry = item->chemistry != NULL ? tpt_choice_inline (item->chemistry) : NULL;
  g_autofree char *packs = chemistry != NULL
                             ? g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%1$u %2$s pack", "%1$u %2$s packs", n), n, chemistry)
                             : g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u pack", "%u packs", n), n);

  if (item->series < 2)
    return g_steal_pointer (&packs);
  /* Translators: a number of packs, then the cells each has in series: "2 NiMH packs of 8 cells". */
  return g_strdup_printf (_("%1$s of %2$d cells"), packs, item->series);
}

static char *
describe_pieces (guint n, const TptPackItem *item, GArray *items)
{
  if (g_str_equal (item->what, TPT_PACK_CARD))
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u card", "%u cards", n), n);
  if (g_str_equal (item->what, TPT_PACK_PACK))
    return describe_packs (n, item);
  return item->size != NULL ? describe_sized (n, item, items) : describe_unsized (n, item);
}

char *
tpt_pack_item_describe (const TptPackItem *item, GArray *items)
{
  return describe_pieces (item->needed, item, items);
}

/* (transfer full) (nullable): what the shelf is short of. The chemistry was
 * said just before. */
static char *
describe_shelf (const TptPackItem *item)
{
  if (!item->counted || item->on_shelf >= item->needed)
    return NULL;
  if (item->on_shelf == 0)
    return g_strdup (_("none on the shelf"));
  if (item->size != NULL && g_str_equal (item->what, TPT_PACK_CELLS) && !g_ascii_isdigit (*item->size))
    /* Translators: a number of cells and their size: "36 AA on the shelf" */
    return g_strdup_printf (_("%1$u %2$s on the shelf"), item->on_shelf, item->size);
  return g_strdup_printf (_("%u on the shelf"), item->on_shelf);
}

char *
tpt_packing_describe (GArray *items)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < items->len; i++)
    {
      const TptPackItem *item = &g_array_index (items, TptPackItem, i);
      g_autofree char *pieces = tpt_pack_item_describe (item, items);
      g_autofree char *shelf = describe_shelf (item);

      g_string_append_printf (text, "%s%s", i == 0 ? "" : ", ", pieces);
      if (shelf != NULL)
        g_string_append_printf (text, " (%s)", shelf);
    }
  return g_string_free (text, FALSE);
}
