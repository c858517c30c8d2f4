/* The figure of what is due. */
#pragma once

#include "tpt-job-due.h"

G_BEGIN_DECLS

/**
 * tpt_due_figure_make:
 * @due: has run
 * @exact: stations and units by name, which the figure says; else by number and
 *   by kind
 *
 * Returns: (transfer full)
 */
TptFigure *tpt_due_figure_make (TptJobDue *due, TptZone *zone, gboolean exact);

G_END_DECLS
