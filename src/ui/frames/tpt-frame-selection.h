/* Which frames of a list are chosen, however many: positions in a bit set, so that
 * choosing all of a million reads none of them.
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define TPT_TYPE_FRAME_SELECTION (tpt_frame_selection_get_type ())
G_DECLARE_FINAL_TYPE (TptFrameSelection, tpt_frame_selection, TPT, FRAME_SELECTION, GObject)

TptFrameSelection *tpt_frame_selection_new (void);

/* @model: (nullable): nothing is chosen of a new one. */
void tpt_frame_selection_set_model (TptFrameSelection *self, GListModel *model);

/* (transfer none): the positions that are chosen. */
const GtkBitset *tpt_frame_selection_get_chosen (TptFrameSelection *self);

/* Chooses these and no others. */
void tpt_frame_selection_choose (TptFrameSelection *self, GtkBitset *positions);

G_END_DECLS
