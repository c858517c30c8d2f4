/* Makes a figure for others: what it shows, how large, in which colours, and
 * whether it may give places away. Writes it with the table of its numbers. */
#pragma once

#include <adwaita.h>

#include "tpt-figure.h"
#include "tpt-filter.h"
#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_FIGURE_DIALOG (tpt_figure_dialog_get_type ())
G_DECLARE_FINAL_TYPE (TptFigureDialog, tpt_figure_dialog, TPT, FIGURE_DIALOG, AdwWindow)

/**
 * tpt_figure_dialog_present:
 * @parent: (nullable): its "win.toast" tells what was written
 * @kind: "strip", "map", "hours", "hours-by-sun", "months", "matrix", "accumulation", "due" or
 *   "lives": what is shown at first
 * @filter: copied
 *
 * Returns: (transfer none): the dialog, which is gone once it is closed
 */
TptFigureDialog *tpt_figure_dialog_present (GtkWindow *parent, TptProject *project, const char *kind,
                                            const TptFilter *filter);

/* What stands beside it in a strip, in hours and in months. Copied; makes the preview anew. */
void tpt_figure_dialog_compare (TptFigureDialog *self, const TptFilter *other);

/* Writes what is chosen to @path, as if a person had chosen that file; closes
 * the dialog when done and says so in the dialog when it fails. */
void tpt_figure_dialog_write_to (TptFigureDialog *self, const char *path);

void tpt_figure_dialog_set_exact (TptFigureDialog *self, gboolean exact);

/* (transfer none) (nullable): what the preview shows; %NULL while it is made. */
TptFigure *tpt_figure_dialog_get_figure (TptFigureDialog *self);

/* (transfer none): what went wrong last, in words; "" when nothing did. */
const char *tpt_figure_dialog_get_fault (TptFigureDialog *self);

G_END_DECLS
