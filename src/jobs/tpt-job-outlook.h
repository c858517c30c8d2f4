/* What each day costs on which the next round could be: worked out once beside
 * what is due, so that the round can be moved without waiting. */
#pragma once

#include "tpt-job-due.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_OUTLOOK (tpt_job_outlook_get_type ())
G_DECLARE_FINAL_TYPE (TptJobOutlook, tpt_job_outlook, TPT, JOB_OUTLOOK, TptJob)

/* @due has run; it is only read. */
TptJobOutlook *tpt_job_outlook_new (TptJobDue *due);

/* Whether @until lies within the days worked out: after the moment of asking
 * and on the axis of what is due. */
gboolean tpt_job_outlook_covers (TptJobOutlook *self, TptInstant until);

/* Expected nights lost at all stations until the round; NAN where not covered. */
double tpt_job_outlook_get_lost_nights (TptJobOutlook *self, TptInstant until);

/* (transfer full) (nullable): what a #TptJobDue asked about @until would say:
 * chances within 0.02 and lost nights within 0.05 of a station; %NULL where not
 * covered. Fast enough for every move of a hand. */
TptJobDue *tpt_job_outlook_ask (TptJobOutlook *self, TptInstant until);

G_END_DECLS
