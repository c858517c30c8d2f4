/* Works out how probably each trigger is empty, from its pictures. */
#pragma once

#include "tpt-job.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_SCORE (tpt_job_score_get_type ())
G_DECLARE_FINAL_TYPE (TptJobScore, tpt_job_score, TPT, JOB_SCORE, TptJob)

/**
 * tpt_job_score_new:
 * @batch: (nullable): code of a card batch; %NULL for all
 * @again: those that have a score too
 *
 * Each trigger's pictures are compared with those of the triggers before and after
 * at the same deployment. Scores are written down some sixty at a time, so that what
 * is done stays done when the job is cancelled or fails; undo does not know them.
 * The same pictures give the same scores, in whatever order. Nothing is deleted or
 * hidden; a trigger that cannot be judged stays as it is, mostly without a score.
 *
 * Errors: TPT_ERROR_DATA when there is no such batch.
 */
TptJobScore *tpt_job_score_new (const char *batch, gboolean again);

/* Triggers that were looked at; of these, those that got a score. */
gint64 tpt_job_score_get_triggers (TptJobScore *self);
gint64 tpt_job_score_get_scored (TptJobScore *self);

/* Of those without one: no picture of it can be shown (gone, damaged, clips). The
 * rest had too little to be compared with. */
gint64 tpt_job_score_get_unseen (TptJobScore *self);

G_END_DECLS
