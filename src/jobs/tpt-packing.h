/* What to bring: fresh cells, packs and cards for the stations that are due,
 * beside what lies on the shelf.
 *
 * A unit is renewed when its chance of being out by the next round reaches the
 * project's threshold. How:
 *
 *   throw-away cells (alkaline, lithium) and cells that sit in the unit itself
 *     are brought as cells;
 *   a power pack of rechargeable cells (NiMH) is swapped whole as long as a
 *     spare one of as many cells in series lies on the shelf, else its cells are;
 *   sealed lead-acid and Li-ion packs, and whatever is one block, are always
 *     brought as packs.
 */
#pragma once

#include "tpt-station-item.h"

G_BEGIN_DECLS

#define TPT_PACK_CELLS "cells"
#define TPT_PACK_PACK "pack"
#define TPT_PACK_CARD "card"

/**
 * TptPackItem:
 * @what: (transfer none): one of the words above
 * @size: (transfer none) (nullable): size of the cells; %NULL unknown
 * @chemistry: (transfer none) (nullable): of cells and packs
 * @series: cells in series of a pack; 0 for the rest
 * @needed: pieces
 * @on_shelf: pieces that would do, of spare units and of the stock
 * @counted: whether such things are counted in this project at all; if not,
 *   @on_shelf of 0 says nothing
 */
typedef struct {
  const char *what;
  const char *size;
  const char *chemistry;
  int series;
  guint needed;
  guint on_shelf;
  gboolean counted;
} TptPackItem;

/* What lies on the shelf, and how each unit is fed. Read once by a job. */
typedef struct _TptPackShelf TptPackShelf;

TptPackShelf *tpt_pack_shelf_ref (TptPackShelf *self);
void tpt_pack_shelf_unref (TptPackShelf *self);

/* A list that grows by a station at a time; spare packs go to those added first. */
typedef struct _TptPacking TptPacking;

/* @threshold: chance from which a unit is renewed, 0 to 1 */
TptPacking *tpt_packing_new (TptPackShelf *shelf, double threshold);
void tpt_packing_free (TptPacking *self);

/* (transfer full) (element-type TptPackItem): what this station takes; empty
 * when nothing is due there. Goes into the whole as well. */
GArray *tpt_packing_add (TptPacking *self, TptStationItem *station);

/* (transfer none) (element-type TptPackItem): the whole: cells by size and
 * chemistry, then packs, then cards. */
GArray *tpt_packing_get_items (TptPacking *self);

/* (transfer full): "48 AA (36 AA on the shelf), 12 NiMH AA, 4 cards"; "" when
 * @items is empty. The shelf is named where it holds too little. */
char *tpt_packing_describe (GArray *items);

/* (transfer full): one line of it without the shelf: "12 NiMH AA". @items are
 * those it stands among: alkaline cells of a size that no other needed cells
 * have go by their size alone. */
char *tpt_pack_item_describe (const TptPackItem *item, GArray *items);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptPackShelf, tpt_pack_shelf_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptPacking, tpt_packing_free)

G_END_DECLS
