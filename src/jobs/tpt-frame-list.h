/* A list model of frames, however many: keys in an array, rows read a page at a
 * time on the project's thread, and only some pages kept.
 *
 * Items are #TptFrameItem. An item that is held by somebody is found again as
 * the same object. Nothing blocks: an item tells with "changed" when its row
 * has come.
 */
#pragma once

#include "tpt-frame-item.h"
#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_FRAME_LIST (tpt_frame_list_get_type ())
G_DECLARE_FINAL_TYPE (TptFrameList, tpt_frame_list, TPT, FRAME_LIST, GObject)

TptFrameList *tpt_frame_list_new (TptProject *project);

/* @refs: (transfer full) (element-type TptFrameRef). Replaces everything. */
void tpt_frame_list_take_refs (TptFrameList *self, GArray *refs);

/* Without reading anything; keys of 0 past the end. */
TptFrameRef tpt_frame_list_get_ref (TptFrameList *self, guint position);

/* The position of the first frame of @trigger_id; %G_MAXUINT when it is not in the list. */
guint tpt_frame_list_find_trigger (TptFrameList *self, gint64 trigger_id);

/* Reads again what anybody holds and lets go of the rest; the keys stay. For after a change. */
void tpt_frame_list_refresh (TptFrameList *self);

/* Ends reading; before the project goes away. */
void tpt_frame_list_stop (TptFrameList *self);

G_END_DECLS
