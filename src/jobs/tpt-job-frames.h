/* Finds frames by a query; reads the rows of some. */
#pragma once

#include "tpt-frame-item.h"
#include "tpt-frame-query.h"
#include "tpt-job.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_FRAMES (tpt_job_frames_get_type ())
G_DECLARE_FINAL_TYPE (TptJobFrames, tpt_job_frames, TPT, JOB_FRAMES, TptJob)

/* @query is copied. */
TptJobFrames *tpt_job_frames_new (const TptFrameQuery *query);

/* (transfer full) (element-type TptFrameRef): in the query's order; once. */
GArray *tpt_job_frames_steal_refs (TptJobFrames *self);
/* Of the whole answer. */
gint64 tpt_job_frames_get_triggers (TptJobFrames *self);
gint64 tpt_job_frames_get_undecided (TptJobFrames *self);

#define TPT_TYPE_JOB_FRAME_ROWS (tpt_job_frame_rows_get_type ())
G_DECLARE_FINAL_TYPE (TptJobFrameRows, tpt_job_frame_rows, TPT, JOB_FRAME_ROWS, TptJob)

/* The rows of these frames, in their order; one that is gone is left out. */
TptJobFrameRows *tpt_job_frame_rows_new (const TptFrameRef *refs, guint n);
/* By codes; refused with TPT_ERROR_DATA when one is of no frame on record. */
TptJobFrameRows *tpt_job_frame_rows_new_for_codes (const char *const *codes);
/* All frames of one trigger, by time. */
TptJobFrameRows *tpt_job_frame_rows_new_for_trigger (gint64 trigger_id);

/* (transfer none) (element-type TptFrameRow): may be emptied by stealing. */
GPtrArray *tpt_job_frame_rows_get_rows (TptJobFrameRows *self);

G_END_DECLS
