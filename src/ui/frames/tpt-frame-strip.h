/* The frames of one trigger, side by side, and the limits of the trigger.
 *
 * Signals: "chosen" (place, int): a frame was pressed; "split": the trigger is
 * to end before the frame shown large; "join": it is to be one with the
 * trigger before it. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-frame-item.h"

G_BEGIN_DECLS

#define TPT_TYPE_FRAME_STRIP (tpt_frame_strip_get_type ())
G_DECLARE_FINAL_TYPE (TptFrameStrip, tpt_frame_strip, TPT, FRAME_STRIP, GtkWidget)

/**
 * tpt_frame_strip_show:
 * @rows: (nullable) (element-type TptFrameRow): of one trigger, by place; not kept
 * @chosen: place of the one shown large
 * @lift: as in tpt-light.h
 *
 * Of a long trigger it shows a stretch around the chosen frame.
 */
void tpt_frame_strip_show (TptFrameStrip *self, GPtrArray *rows, guint chosen, double lift);

/* Whether the limits of the trigger may be changed. */
void tpt_frame_strip_set_editable (TptFrameStrip *self, gboolean editable);

G_END_DECLS
