/* Shows a figure, and lets it be pointed at, walked through and brushed.
 *
 * Property "reading": what the pointer or the keyboard is at, or the stretch that
 * somebody is brushing, in words, or %NULL.
 *
 * Signals:
 * "picked" (#TptHit *hit, gboolean add): a click or Enter on something; @add when
 *   Control was held. The hit is the view's and its rectangle is in the view's pixels.
 * "brushed" (gint64 from, gint64 to): two instants, when somebody chose a stretch of time.
 * "hours-brushed" (double from, double to): hours of the figure's clock, to the quarter
 *   hour, 0 <= from < 24 and 0 < to <= 24, over midnight when to <= from. The whole
 *   day, however it was reached, is 0 and 24.
 * "brush-cleared": Backspace or Delete: what is chosen by a brush is no longer wanted.
 *
 * The last three only while brushable; which of the two it is follows from the axis.
 *
 * With the keyboard: arrows go from thing to thing, Enter and Space pick (with Control:
 * also). Shift with Left or Right grows a stretch from where the keyboard is, in whole
 * hours, or days, weeks or months by the length of the axis; Enter or Space takes it,
 * Escape gives it up.
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

/* Whether it can be lower than the figure would like, for charts without rows; off at first. */
void tpt_figure_view_set_squeezable (TptFigureView *self, gboolean squeezable);

/* Off at first. */
void tpt_figure_view_set_brushable (TptFigureView *self, gboolean brushable);

/* The stretch shown as chosen; both ends %TPT_NO_INSTANT for none. Emits nothing. */
void tpt_figure_view_set_brush (TptFigureView *self, TptRange brush);

/* The hours shown as chosen, of the figure's clock; NAN for none. Emits nothing. */
void tpt_figure_view_set_hours (TptFigureView *self, double from, double to);

/* The row shown as chosen, or -1. */
void tpt_figure_view_set_chosen_row (TptFigureView *self, int row);

/* Keys of the rows, columns or stations shown as chosen, the others receding;
 * @keys (nullable) is copied, and %NULL or none chosen shows all alike. */
void tpt_figure_view_set_chosen_keys (TptFigureView *self, const char *const *keys);

const char *tpt_figure_view_get_reading (TptFigureView *self);

/* What a drag from one to another x in pixels does: shows it as a brush, and
 * once @done emits "brushed" or "hours-brushed". Past an end of the hours it goes
 * on at the other. */
void tpt_figure_view_drag (TptFigureView *self, double from, double to, gboolean done);

/* What a click at a pixel does. */
void tpt_figure_view_click (TptFigureView *self, double x, double y, gboolean add);

G_END_DECLS
