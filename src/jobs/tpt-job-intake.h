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

/**
 * tpt_job_intake_set_steps:
 * @ids: (nullable) (array zero-terminated=1): what to do about the clock, as a
 *   survey of the card names it (#TptClockStep); what does not concern the
 *   frames that are new is passed over. %NULL: offset and drift, where visits
 *   or the record tell them, and nothing else
 *
 * A clock pair that was set is used in any case, instead of what visits noted.
 */
void tpt_job_intake_set_steps (TptJobIntake *self, const char *const *ids);
/* Does every step that is proposed. */
void tpt_job_intake_set_repair (TptJobIntake *self, gboolean repair);

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
/* (element-type TptClockStep): what was done about the clock. */
GPtrArray *tpt_job_intake_get_steps (TptJobIntake *self);
/* (element-type utf8): what contradicts the records, in sentences. */
GPtrArray *tpt_job_intake_get_objections (TptJobIntake *self);
/* (nullable): the camera's model and serial number, as most frames tell them. */
const char *tpt_job_intake_get_camera_model (TptJobIntake *self);
const char *tpt_job_intake_get_camera_serial (TptJobIntake *self);
/* Whether the card may be used again: every frame of it was verified on disk, or
 * is on record with its copy read back, and every file that is no frame but
 * should be one is kept. */
gboolean tpt_job_intake_get_safe (TptJobIntake *self);
/* (nullable): why it may not, in a sentence. */
const char *tpt_job_intake_get_why_not (TptJobIntake *self);

G_END_DECLS
