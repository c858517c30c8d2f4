/* A pane with one figure: its title, a table of the same numbers, what is
 * pointed at in words, and the way to a figure for others.
 *
 * Properties "title", and "larger": whether somebody wants this pane to have all the room;
 * a toggle that is hidden until tpt_figure_pane_set_growing(), and a double click on the title.
 * Signal "figure-asked": somebody wants it as a file.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-figure-view.h"

G_BEGIN_DECLS

#define TPT_TYPE_FIGURE_PANE (tpt_figure_pane_get_type ())
G_DECLARE_FINAL_TYPE (TptFigurePane, tpt_figure_pane, TPT, FIGURE_PANE, GtkWidget)

/* @figure (nullable): takes a reference. */
void tpt_figure_pane_set_figure (TptFigurePane *self, TptFigure *figure);

/* Beside the first table, that of another figure; @figure (nullable): takes a reference. */
void tpt_figure_pane_set_other_figure (TptFigurePane *self, TptFigure *figure);

/* What shows in place of the figure, whose table is still that of the figure. */
void tpt_figure_pane_set_content (TptFigurePane *self, GtkWidget *content);

/* @note (nullable): one or two sentences in place of the figure or content: why there is none. */
void tpt_figure_pane_set_note (TptFigurePane *self, const char *note);

/* @summary (nullable): what the figure says, in a sentence or two above it. */
void tpt_figure_pane_set_summary (TptFigurePane *self, const char *summary);

/* What is shown is about to be another: it recedes a little until then. */
void tpt_figure_pane_set_waiting (TptFigurePane *self, gboolean waiting);

/* A control in the head, before Table. */
void tpt_figure_pane_add_control (TptFigurePane *self, GtkWidget *control);

/* A control that stands for the title and names it. */
void tpt_figure_pane_set_title_control (TptFigurePane *self, GtkWidget *control);

/* Whether there is a toggle for more room. */
void tpt_figure_pane_set_growing (TptFigurePane *self, gboolean growing);
gboolean tpt_figure_pane_get_larger (TptFigurePane *self);
/* Notifies. */
void tpt_figure_pane_set_larger (TptFigurePane *self, gboolean larger);

/* (transfer none) */
TptFigureView *tpt_figure_pane_get_view (TptFigurePane *self);

void tpt_figure_pane_set_table_shown (TptFigurePane *self, gboolean shown);

/* Whether there is a table; there is at first. */
void tpt_figure_pane_set_tabled (TptFigurePane *self, gboolean tabled);

/* Whether the way to a figure for others shows; it does at first. */
void tpt_figure_pane_set_askable (TptFigurePane *self, gboolean askable);

/* (transfer full): what Copy puts on the clipboard. */
char *tpt_figure_pane_copy_table (TptFigurePane *self);

G_END_DECLS
