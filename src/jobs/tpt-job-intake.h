/* Takes in what came home on a card. */
#pragma once

#include "tpt-job.h"
#include "tpt-time.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_INTAKE (tpt_job_intake_get_type ())
G_DECLARE_FINAL_TYPE (TptJobIntake, tpt_job_intake, TPT, JOB_INTAKE, TptJob)

/**
 * tpt_job_intake_new:
 * @deployment: code of the deployment the card stood in
 * @card: folder of the card; only read
 *
 * Pictures are copied and verified first; then everything goes on record in
 * one action. Stopped at any moment it can be run again and goes on from there.
 */
TptJobIntake *tpt_job_intake_new (const char *deployment, const char *card);

/* Inputs that may be left out. @pictures: folder below the project's, default
 * "pictures". A clock pair: what the camera's clock showed, as written, and the
 * true time; the latter without an offset is in the project's zone. */
void tpt_job_intake_set_pictures (TptJobIntake *self, const char *pictures);
void tpt_job_intake_set_clock (TptJobIntake *self, const char *read, const char *true_time);
void tpt_job_intake_set_verify_only (TptJobIntake *self, gboolean verify_only);

/* A file that gave no frame, or a frame that is damaged. */
typedef struct {
  char *file;
  char *reason;
  char *kept_as; /* (nullable) */
} TptIntakeNote;

const char *tpt_job_intake_get_batch (TptJobIntake *self); /* (nullable): none when there was nothing new */
gint64 tpt_job_intake_get_frames (TptJobIntake *self);
gint64 tpt_job_intake_get_triggers (TptJobIntake *self);
gint64 tpt_job_intake_get_duplicates (TptJobIntake *self);
gint64 tpt_job_intake_get_bytes (TptJobIntake *self);
double tpt_job_intake_get_clock_offset (TptJobIntake *self); /* seconds, true minus read */
TptInstant tpt_job_intake_get_first (TptJobIntake *self);
TptInstant tpt_job_intake_get_last (TptJobIntake *self);
/* (element-type TptIntakeNote) */
GPtrArray *tpt_job_intake_get_unreadable (TptJobIntake *self);
GPtrArray *tpt_job_intake_get_damaged (TptJobIntake *self);
/* Only with verify-only: what the pictures folder lacks or has differently. */
GPtrArray *tpt_job_intake_get_missing (TptJobIntake *self);
/* (element-type utf8): doubts about the clock, in sentences. */
GPtrArray *tpt_job_intake_get_doubts (TptJobIntake *self);

G_END_DECLS
