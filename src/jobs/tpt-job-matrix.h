/* Which species turned up at which station. */
#pragma once

#include "tpt-figure.h"
#include "tpt-filter.h"
#include "tpt-job.h"
#include "tpt-matrix.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_MATRIX (tpt_job_matrix_get_type ())
G_DECLARE_FINAL_TYPE (TptJobMatrix, tpt_job_matrix, TPT, JOB_MATRIX, TptJob)

/* @filter is copied. Rows: the species of the filter, else all that were seen, most detections first; columns: its
 * stations, by code. Keys are the scientific names and the stations' codes. */
TptJobMatrix *tpt_job_matrix_new (const TptFilter *filter, TptMatrixMeasure measure);

/* Made for others: stations by number in the order of their codes, without keys, and species of extreme
 * sensitivity left out. */
void tpt_job_matrix_set_discreet (TptJobMatrix *self, gboolean discreet);

/* Scientific or common names, the first on top: their rows are above the others. Copied. */
void tpt_job_matrix_put_first (TptJobMatrix *self, const char *const *species);

/* (transfer none): kind "matrix". */
TptFigure *tpt_job_matrix_get_figure (TptJobMatrix *self);

G_END_DECLS
