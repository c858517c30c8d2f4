/* Records a visit, or brings a rig in, as one action. */
#pragma once

#include "tpt-job-edit.h"
#include "tpt-visit-plan.h"

G_BEGIN_DECLS

/**
 * tpt_job_visit_new:
 * @what: names the action in the history
 * @visit, @lines, @bring_in: as for tpt_visit_plan_new(); copied and kept
 *
 * The plan is made anew when the job runs, from what is on record then, so that
 * a count on the shelf or a rig that somebody changed meanwhile is not
 * overwritten. A fault of the plan is a refusal with TPT_ERROR_DATA:
 * tpt_job_edit_get_fault() names the visit or the reading, both as they were
 * given, and the column.
 */
TptJobEdit *tpt_job_visit_new (const char *what, TptRecord *visit, GPtrArray *lines, gboolean bring_in);

G_END_DECLS
