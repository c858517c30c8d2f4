/* Shows a figure, and lets it be pointed at, walked through and brushed.
 *
 * Property "reading": what the pointer or the keyboard is at, in words, or
 * %NULL. Signal "activated" (row, key): a click or Enter on something; the row
 * may be -1 and the key %NULL. Signal "brushed" (from, to): two instants, when
 * somebody dragged over a stretch of time; only while brushable.
 *
 * With the keyboard: arrows go from thing to thing, Enter activates.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-figure.h"

G_BEGIN_DECLS

#define TPT_TYPE_FIGURE_VIEW (tpt_figure_view_get_type ())
G_DECLARE_FINAL_TYPE (TptFigureView, tpt_figure_view, TPT, FIGURE_VIEW, GtkWidget)

GtkWidget *tpt_figure_view_new (void);

/* @figure (nullable): takes a reference. */
void tpt_figure_view_set_figure (TptFigureView *self, TptFigure *figure);
/* (transfer none) (nullable) */
TptFigure *tpt_figure_view_get_figure (TptFigureView *self);

/* Off at first. */
void tpt_figure_view_set_brushable (TptFigureView *self, gboolean brushable);

/* The stretch shown as chosen; both ends %TPT_NO_INSTANT for none. Emits nothing. */
void tpt_figure_view_set_brush (TptFigureView *self, TptRange brush);

/* The row shown as chosen, or -1. */
void tpt_figure_view_set_chosen_row (TptFigureView *self, int row);

const char *tpt_figure_view_get_reading (TptFigureView *self);

/* What a drag from one to another x in pixels does: shows it as a brush, and
 * once @done emits "brushed". */
void tpt_figure_view_drag (TptFigureView *self, double from, double to, gboolean done);

G_END_DECLS
