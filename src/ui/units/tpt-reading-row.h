/* One unit on a visit: its state, what was read, what was done. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-job-station.h"

G_BEGIN_DECLS

#define TPT_TYPE_READING_ROW (tpt_reading_row_get_type ())
G_DECLARE_FINAL_TYPE (TptReadingRow, tpt_reading_row, TPT, READING_ROW, GtkWidget)

/* @spare (element-type TptRecord): cards on the shelf, offered when this unit is
 * a card. @labelled: with the names of the columns above, for the first row. */
TptReadingRow *tpt_reading_row_new (TptRigItem *item, GListModel *spare, gboolean labelled);

/* What the unit's state most likely is when its rig was @found so (%NULL: not
 * told); does nothing once somebody has chosen a state. */
void tpt_reading_row_expect (TptReadingRow *self, const char *found);

/* Signal "changed". */
gboolean tpt_reading_row_is_valid (TptReadingRow *self);

/* (transfer full) (nullable): the reading, without its visit; %NULL when
 * nothing was said about the unit. */
TptRecord *tpt_reading_row_make_reading (TptReadingRow *self);

/* (transfer none) (nullable): the card put in instead. */
TptRecord *tpt_reading_row_get_replacement (TptReadingRow *self);
TptRigItem *tpt_reading_row_get_item (TptReadingRow *self);

G_END_DECLS
