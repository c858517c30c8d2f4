/* The project's trails, rivers and boundaries. */
#pragma once

#include "tpt-job.h"
#include "tpt-track.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_TRACKS (tpt_job_tracks_get_type ())
G_DECLARE_FINAL_TYPE (TptJobTracks, tpt_job_tracks, TPT, JOB_TRACKS, TptJob)

TptJobTracks *tpt_job_tracks_new (void);
/* (transfer none) (element-type TptTrack) */
GPtrArray *tpt_job_tracks_get_tracks (TptJobTracks *self);

G_END_DECLS
