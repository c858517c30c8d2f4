/* What is due: the run-out forecast of every station. */
#pragma once

#include "tpt-job.h"
#include "tpt-figure.h"
#include "tpt-packing.h"
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

/* Before the run: only these, by code; copied; %NULL for all. A code that is no
 * station fails the run with TPT_ERROR_DATA. */
void tpt_job_due_set_stations (TptJobDue *self, const char *const *stations);

TptInstant tpt_job_due_get_on (TptJobDue *self);
TptInstant tpt_job_due_get_until (TptJobDue *self);

/* (transfer none): items are #TptStationItem, most expected lost nights first,
 * then those of which nothing can be told, then those without a rig. */
GListModel *tpt_job_due_get_stations (TptJobDue *self);

/* Expected nights lost at all stations together until the round. */
double tpt_job_due_get_lost_nights (TptJobDue *self);

/* (transfer none): "3 stations down, 5 due before 14 June" and "Bring 44 AA (36
 * AA on the shelf), 3 cards"; the second is "" when nothing is needed. */
const char *tpt_job_due_get_summary (TptJobDue *self);
const char *tpt_job_due_get_bring (TptJobDue *self);

/* (transfer none) (element-type TptPackItem): what to bring for all stations. */
GArray *tpt_job_due_get_packing (TptJobDue *self);

/* The project's: a unit is due when its chance of being out reaches it, 0 to 1. */
double tpt_job_due_get_threshold (TptJobDue *self);

/* (transfer full): an empty list beside the same shelf, to which stations are
 * added one at a time, as for their sheets. */
TptPacking *tpt_job_due_begin_packing (TptJobDue *self);

/* (transfer none): the axis that shows every interval of interest. */
TptRange tpt_job_due_get_axis (TptJobDue *self);

G_END_DECLS
