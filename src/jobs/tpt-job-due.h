/* What is due: the run-out forecast of every station. */
#pragma once

#include "tpt-job.h"
#include "tpt-figure.h"
#include "tpt-station-item.h"
#include "tpt-time.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_DUE (tpt_job_due_get_type ())
G_DECLARE_FINAL_TYPE (TptJobDue, tpt_job_due, TPT, JOB_DUE, TptJob)

/**
 * tpt_job_due_new:
 * @on: the moment of asking; %TPT_NO_INSTANT for now. Later visits and frames
 *   are as if they were not on record
 * @until: the next round; %TPT_NO_INSTANT for the planned one, else 28 days on
 */
TptJobDue *tpt_job_due_new (TptInstant on, TptInstant until);

TptInstant tpt_job_due_get_on (TptJobDue *self);
TptInstant tpt_job_due_get_until (TptJobDue *self);

/* (transfer none): items are #TptStationItem, most expected lost nights first,
 * stations without a rig last. */
GListModel *tpt_job_due_get_stations (TptJobDue *self);

/* (transfer none): "3 stations down, 5 due before 14 June" and "Bring 44 AA, 3
 * cards"; the second is "" when nothing is needed. */
const char *tpt_job_due_get_summary (TptJobDue *self);
const char *tpt_job_due_get_bring (TptJobDue *self);

/* (transfer none): the axis that shows every interval of interest. */
TptRange tpt_job_due_get_axis (TptJobDue *self);

G_END_DECLS
