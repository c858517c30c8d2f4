/* Puts the clock of a batch that is on record another way: with chosen steps,
 * or back to the bare reading. Frames, triggers, what was said of them and the
 * batch follow in one action that can be undone. */
#pragma once

#include "tpt-job.h"
#include "tpt-time.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_CLOCK (tpt_job_clock_get_type ())
G_DECLARE_FINAL_TYPE (TptJobClock, tpt_job_clock, TPT, JOB_CLOCK, TptJob)

/* Only looks. */
TptJobClock *tpt_job_clock_new_look (const char *batch);

/**
 * tpt_job_clock_new:
 * @batch: code of a batch
 * @ids: (array zero-terminated=1): the steps to do, and no others; none is the
 *   bare reading. What the batch has had done to its clock before does not
 *   count: everything begins with what the camera showed
 *
 * Clock pairs are those of the visits as they are on record now; one that was
 * given when the batch was taken in is used where no visit within twelve hours
 * of it noted any. A step that this clock does not offer is refused with TPT_ERROR_USAGE.
 *
 * What the light tells needs the exposure of each frame, which is not on
 * record: only the flash counts here.
 */
TptJobClock *tpt_job_clock_new (const char *batch, const char *const *ids);

/* Does every step that is proposed. */
TptJobClock *tpt_job_clock_new_repair (const char *batch);

/* (element-type TptClockStep): what could be done. */
GPtrArray *tpt_job_clock_get_steps (TptJobClock *self);
/* (element-type utf8): in sentences. */
GPtrArray *tpt_job_clock_get_doubts (TptJobClock *self);
/* (nullable) (array zero-terminated=1): the steps that the batch has on record when the job is done. */
const char *const *tpt_job_clock_get_done (TptJobClock *self);
/* Frames that got another instant. */
gint64 tpt_job_clock_get_changed (TptJobClock *self);
gint64 tpt_job_clock_get_frames (TptJobClock *self);
/* As they are on record when the job is done, or %TPT_NO_INSTANT. */
TptInstant tpt_job_clock_get_first (TptJobClock *self);
TptInstant tpt_job_clock_get_last (TptJobClock *self);

G_END_DECLS
