/* A frame of the grid: a small picture, when it was taken, and what it shows.
 *
 * What a badge says is said in words too: in the tooltip, and in the label for
 * readers of screens.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-frame-item.h"

G_BEGIN_DECLS

#define TPT_TYPE_FRAME_CELL (tpt_frame_cell_get_type ())
G_DECLARE_FINAL_TYPE (TptFrameCell, tpt_frame_cell, TPT, FRAME_CELL, GtkWidget)

TptFrameCell *tpt_frame_cell_new (void);

/* @zone is kept. The picture is asked for only once the cell is wanted. */
void tpt_frame_cell_bind (TptFrameCell *self, TptFrameItem *item, guint position, TptZone *zone);

/* Whether it names its station; where all are of one it need not. */
void tpt_frame_cell_set_station_shown (TptFrameCell *self, gboolean shown);

/* Lets go of the frame, its picture and of waiting for it. */
void tpt_frame_cell_unbind (TptFrameCell *self);

/* Whether it is in sight or nearly so: then its picture is loaded; out of sight
 * it is no longer waited for. */
void tpt_frame_cell_set_wanted (TptFrameCell *self, gboolean wanted);

guint tpt_frame_cell_get_position (TptFrameCell *self);

/* (nullable): all that is known of it, in words. */
const char *tpt_frame_cell_get_text (TptFrameCell *self);

G_END_DECLS
