/* When each deployment was in working order. */
#pragma once

#include "tpt-filter.h"
#include "tpt-job.h"
#include "tpt-record.h"

G_BEGIN_DECLS

/* Why a stretch of a deployment does not count. */
typedef enum {
  TPT_GAP_DEAD,      /* found dead: from the last sign of life to the visit */
  TPT_GAP_CARD_FULL, /* from the last frame to the visit */
  TPT_GAP_GONE,      /* the rig was gone */
} TptGapWhy;

const char *tpt_gap_why_to_string (TptGapWhy why); /* "dead", "card-full", "gone" */
const char *tpt_gap_why_label (TptGapWhy why);     /* "found dead", translated */

typedef struct {
  TptRange range;
  TptGapWhy why;
} TptGap;

/**
 * TptEffort: one deployment.
 * @deployment: (owned): its code
 * @station: (owned): code
 * @nights: trap nights within the filter's period, elapsed days of 24 hours
 * @worked: (owned) (element-type TptRange): by time, not touching
 * @gaps: (owned) (element-type TptGap)
 */
typedef struct {
  char *deployment;
  gint64 deployment_id;
  char *station;
  gint64 station_id;
  double nights;
  GArray *worked;
  GArray *gaps;
} TptEffort;

#define TPT_TYPE_JOB_EFFORT (tpt_job_effort_get_type ())
G_DECLARE_FINAL_TYPE (TptJobEffort, tpt_job_effort, TPT, JOB_EFFORT, TptJob)

/* @filter: stations and period; what lies after @now does
 * not count; %TPT_NO_INSTANT for the project's now. */
TptJobEffort *tpt_job_effort_new (const TptFilter *filter, TptInstant now);

/* (element-type TptEffort): by start. */
GPtrArray *tpt_job_effort_get_deployments (TptJobEffort *self);
double tpt_job_effort_get_nights (TptJobEffort *self);

G_END_DECLS
