/* Detections counted once, for the findings and for figures of them. */
#pragma once

#include "tpt-job-findings.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/* Runs @self inside another job. */
gboolean tpt_job_findings_compute (TptJobFindings *self, TptStore *store, GCancellable *cancellable, GError **error);

/* With @named, rows carry the stations' names; else numbers by their order. */
TptFigure *tpt_job_findings_draw_strip (TptJobFindings *self, gboolean named);

/* (transfer full): the names of the chosen species, or "All species". */
char *tpt_job_findings_name_species (TptJobFindings *self);

/* (transfer full): how it was counted, in a sentence or two. */
char *tpt_job_findings_describe_method (TptJobFindings *self);

G_END_DECLS
