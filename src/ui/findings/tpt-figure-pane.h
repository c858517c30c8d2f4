/* A pane with one figure: its title, a table of the same numbers, what is
 * pointed at in words, and the way to a figure for others.
 *
 * Property "title". Signal "figure-asked": somebody wants it as a file.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-figure-view.h"

G_BEGIN_DECLS

#define TPT_TYPE_FIGURE_PANE (tpt_figure_pane_get_type ())
G_DECLARE_FINAL_TYPE (TptFigurePane, tpt_figure_pane, TPT, FIGURE_PANE, GtkWidget)

/* @figure (nullable): takes a reference. */
void tpt_figure_pane_set_figure (TptFigurePane *self, TptFigure *figure);

/* (transfer none) */
TptFigureView *tpt_figure_pane_get_view (TptFigurePane *self);

void tpt_figure_pane_set_table_shown (TptFigurePane *self, gboolean shown);

/* Whether the way to a figure for others shows; it does at first. */
void tpt_figure_pane_set_askable (TptFigurePane *self, gboolean askable);

/* (transfer full): what Copy puts on the clipboard. */
char *tpt_figure_pane_copy_table (TptFigurePane *self);

G_END_DECLS
