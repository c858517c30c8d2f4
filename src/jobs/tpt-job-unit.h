/* Everything there is to say about one unit: where it is, its whole life, and
 * its charge through time. */
#pragma once

#include "tpt-figure.h"
#include "tpt-job.h"
#include "tpt-unit-item.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_UNIT (tpt_job_unit_get_type ())
G_DECLARE_FINAL_TYPE (TptJobUnit, tpt_job_unit, TPT, JOB_UNIT, TptJob)

/* @unit: its code; @on: the moment of asking, %TPT_NO_INSTANT for now. What
 * is later is left out. Refused with TPT_ERROR_DATA when there is no such unit. */
TptJobUnit *tpt_job_unit_new (const char *unit, TptInstant on);

/* All (transfer none). */
TptUnitItem *tpt_job_unit_get_item (TptJobUnit *self);
/* #TptLogItem, newest first. */
GListModel *tpt_job_unit_get_log (TptJobUnit *self);
/* (nullable): of kind "battery". */
TptFigure *tpt_job_unit_get_battery (TptJobUnit *self);
/* (nullable): why there is no battery to show, or no forecast in it; a sentence. */
const char *tpt_job_unit_get_why_not (TptJobUnit *self);

G_END_DECLS
