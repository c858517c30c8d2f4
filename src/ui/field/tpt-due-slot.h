/* A place in the station list that stays the same station's while what is due
 * there changes: its row is kept instead of being made again. */
#pragma once

#include "tpt-station-item.h"

G_BEGIN_DECLS

#define TPT_TYPE_DUE_SLOT (tpt_due_slot_get_type ())
G_DECLARE_FINAL_TYPE (TptDueSlot, tpt_due_slot, TPT, DUE_SLOT, GObject)

TptDueSlot *tpt_due_slot_new (void);

/* Property "item". (transfer none) (nullable) */
TptStationItem *tpt_due_slot_get_item (TptDueSlot *self);
void tpt_due_slot_set_item (TptDueSlot *self, TptStationItem *item);

G_END_DECLS
