/* The triggers a day that a new rig of this project can expect. */
#pragma once

#include "tpt-job.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_RATE (tpt_job_rate_get_type ())
G_DECLARE_FINAL_TYPE (TptJobRate, tpt_job_rate, TPT, JOB_RATE, TptJob)

TptJobRate *tpt_job_rate_new (void);

/* The mean over the project's stations as the forecast has learned it, or of
 * its weak prior where there is no history. */
double tpt_job_rate_get_triggers_per_day (TptJobRate *self);

G_END_DECLS
