/* Looks through a card before anything is copied: how much, from when to when,
 * of which camera, and therefore of which deployment; and what speaks against
 * that in the visits' records. Reads only. */
#pragma once

#include "tpt-job.h"
#include "tpt-time.h"

G_BEGIN_DECLS

/* A camera that took frames of the card, as the frames tell it. */
typedef struct {
  char *make;   /* (owned) (nullable) */
  char *model;  /* (owned) (nullable) */
  char *serial; /* (owned) (nullable) */
  guint frames;
} TptSurveyCamera;

/**
 * TptClockStep: one thing that would be done to the readings of a clock.
 * @id: (owned): stable word: offset, drift, reset, hour; reset-2 where a clock was reset twice
 * @says: (owned): in words: what is wrong, why we think so, what would be added
 * @frames: how many frames it concerns
 * @reading: (owned) (nullable): what the clock showed on the first of them
 * @before: that frame's instant without the step
 * @after: and with it
 * @proposed: whether the evidence is good enough to do it unless somebody objects
 */
typedef struct {
  char *id;
  char *says;
  guint frames;
  char *reading;
  TptInstant before;
  TptInstant after;
  gboolean proposed;
} TptClockStep;

/**
 * TptSurveyMatch: a deployment the card may have stood in.
 * @deployment: (owned): code
 * @station: (owned): code
 * @station_title: (owned): its name, else its code
 * @start: of the deployment
 * @end: or %TPT_NO_INSTANT
 * @fits: 0 to 1, for ordering
 * @reasons: (owned) (element-type utf8): what speaks for it, in sentences
 * @objections: (owned) (element-type utf8): what contradicts the records: the
 *   camera's serial number, the dates, the number of frames
 * @steps: (owned) (element-type TptClockStep): what would be done to the clock
 * @doubts: (owned) (element-type utf8): other doubts about the times, such as
 *   pictures that are bright at local midnight
 * @first: earliest instant with the steps proposed
 * @last: latest
 */
typedef struct {
  char *deployment;
  char *station;
  char *station_title;
  TptInstant start;
  TptInstant end;
  double fits;
  GPtrArray *reasons;
  GPtrArray *objections;
  GPtrArray *steps;
  GPtrArray *doubts;
  TptInstant first;
  TptInstant last;
} TptSurveyMatch;

#define TPT_TYPE_JOB_SURVEY (tpt_job_survey_get_type ())
G_DECLARE_FINAL_TYPE (TptJobSurvey, tpt_job_survey, TPT, JOB_SURVEY, TptJob)

/* @card: a folder. */
TptJobSurvey *tpt_job_survey_new (const char *card);

gint64 tpt_job_survey_get_frames (TptJobSurvey *self); /* pictures and clips */
gint64 tpt_job_survey_get_clips (TptJobSurvey *self);  /* of these */
gint64 tpt_job_survey_get_bytes (TptJobSurvey *self);
/* Of the frames, files without any content: they cannot be read, and are set aside. */
gint64 tpt_job_survey_get_empty (TptJobSurvey *self);
gint64 tpt_job_survey_get_others (TptJobSurvey *self); /* files that are no frames */
/* Frames that by name and size are on record already. */
gint64 tpt_job_survey_get_on_record (TptJobSurvey *self);
/* (nullable): earliest and latest reading, as the camera showed it. */
const char *tpt_job_survey_get_first_reading (TptJobSurvey *self);
const char *tpt_job_survey_get_last_reading (TptJobSurvey *self);
/* (element-type TptSurveyCamera): most frames first. */
GPtrArray *tpt_job_survey_get_cameras (TptJobSurvey *self);
/* (element-type TptSurveyMatch): every deployment, the likeliest first. The
 * dozen likeliest are looked into closely: others have objections of their
 * camera only, and no steps. */
GPtrArray *tpt_job_survey_get_matches (TptJobSurvey *self);

G_END_DECLS
