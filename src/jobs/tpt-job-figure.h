/* Makes a figure and, on request, writes it with the table of its numbers. */
#pragma once

#include "tpt-figure.h"
#include "tpt-filter.h"
#include "tpt-job-lives.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_FIGURE (tpt_job_figure_get_type ())
G_DECLARE_FINAL_TYPE (TptJobFigure, tpt_job_figure, TPT, JOB_FIGURE, TptJob)

/**
 * tpt_job_figure_new:
 * @kind: one that tpt_job_figure_knows()
 * @filter: copied; has no bearing on lives, and must be empty for them; of what
 *   is due it chooses stations and must hold nothing else
 * @exact: exact places, a deliberate choice that the figure names; else the
 *   grid of the project and of the species' sensitivity, and stations by number
 *   instead of name
 */
TptJobFigure *tpt_job_figure_new (const char *kind, const TptFilter *filter, gboolean exact);

/**
 * tpt_job_figure_write_to:
 * @path: ends in .png, .svg or .pdf; the numbers go to the same name ending in .csv
 */
void tpt_job_figure_write_to (TptJobFigure *self, const char *path, const TptFigureSize *size, const TptFigureStyle *style);

/* What the units of a figure of lives have in common; their kind unless set. */
void tpt_job_figure_set_by (TptJobFigure *self, TptLivesBy by);

/* Of a figure of what is due: the moment of asking and the next round, as for
 * tpt_job_due_new(), which stand unless set. */
void tpt_job_figure_set_moments (TptJobFigure *self, TptInstant on, TptInstant until);

/* Of a figure of hours: those of the sun's day, else of the project's clock. */
void tpt_job_figure_set_by_sun (TptJobFigure *self, gboolean by_sun);

/* Besides, what another filter chooses: of a strip, of hours and of months; others show the first alone. Copied. */
void tpt_job_figure_compare (TptJobFigure *self, const TptFilter *other);

/* (transfer none): the figure, after the run. */
TptFigure *tpt_job_figure_get_figure (TptJobFigure *self);
/* (transfer none) (nullable): where the numbers went. */
const char *tpt_job_figure_get_csv_path (TptJobFigure *self);

/* Whether there is such a kind. */
gboolean tpt_job_figure_knows (const char *kind);

/* (transfer full): the names of all kinds, for a message. */
char *tpt_job_figure_list_kinds (const char *separator);

G_END_DECLS
