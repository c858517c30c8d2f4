/* Frames as small pictures, however many; any number of them can be chosen.
 *
 * Signals: "opened" (position, guint): double click or Enter. "chosen-changed".
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-frame-list.h"
#include "tpt-frame-selection.h"

G_BEGIN_DECLS

#define TPT_TYPE_FRAME_GRID (tpt_frame_grid_get_type ())
G_DECLARE_FINAL_TYPE (TptFrameGrid, tpt_frame_grid, TPT, FRAME_GRID, GtkWidget)

TptFrameGrid *tpt_frame_grid_new (void);

/* @list: (nullable). @zone: of its project. */
void tpt_frame_grid_set_list (TptFrameGrid *self, TptFrameList *list, TptZone *zone);

/* Whether each picture names its station. */
void tpt_frame_grid_set_station_shown (TptFrameGrid *self, gboolean shown);

TptFrameSelection *tpt_frame_grid_get_selection (TptFrameGrid *self);

/* Scrolls there; with @focus the keyboard goes there too. */
void tpt_frame_grid_go (TptFrameGrid *self, guint position, gboolean focus);

/* Where the keyboard is, else the first that is in sight; %G_MAXUINT in an empty list. */
guint tpt_frame_grid_get_position (TptFrameGrid *self);

/* Whether the keyboard is in it. */
gboolean tpt_frame_grid_has_focus (TptFrameGrid *self);

G_END_DECLS
