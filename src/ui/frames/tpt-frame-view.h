/* One picture, large: fitted, or at its own size to look around in.
 *
 * With the mouse: dragging moves, a double click and the wheel go between fitted,
 * 100 % and 200 %. Property "zoom" (int): 0 fitted, 1 and 2 screen pixels for
 * one of the picture's; notified. Signal "whole-wanted": zoomed in without the
 * whole picture being there; what is there is shown larger meanwhile. Signal
 * "resized".
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-previews.h"

G_BEGIN_DECLS

#define TPT_TYPE_FRAME_VIEW (tpt_frame_view_get_type ())
G_DECLARE_FINAL_TYPE (TptFrameView, tpt_frame_view, TPT, FRAME_VIEW, GtkWidget)

/* @picture: (nullable): at whatever size there is. A %NULL empties the view, and
 * forgets the whole picture of the frame before; a better one of the same
 * frame does not. */
void tpt_frame_view_set_picture (TptFrameView *self, TptPicture *picture);

/* Whether what shows has as many pixels as the view has for it. */
gboolean tpt_frame_view_is_sharp (TptFrameView *self);

/* @whole: (nullable): the same picture with all its pixels. */
void tpt_frame_view_set_whole (TptFrameView *self, TptPicture *whole);

void tpt_frame_view_set_zoom (TptFrameView *self, int zoom);
int tpt_frame_view_get_zoom (TptFrameView *self);

/* Moves by these parts of what is seen. */
void tpt_frame_view_pan (TptFrameView *self, double right, double down);

/* See tpt-light.h. */
void tpt_frame_view_set_lift (TptFrameView *self, double lift);
double tpt_frame_view_get_lift (TptFrameView *self);

/* What is to be seen, for readers of screens. */
void tpt_frame_view_set_text (TptFrameView *self, const char *text);

/* The longer side, in device pixels, of a picture that would fill the view;
 * of the proportions of the one shown last. 0 while it has no size. */
int tpt_frame_view_get_fit (TptFrameView *self);

G_END_DECLS
