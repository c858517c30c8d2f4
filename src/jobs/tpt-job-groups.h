/* Rates of each species in each month or at each station. */
#pragma once

#include "tpt-filter.h"
#include "tpt-job-findings.h"

G_BEGIN_DECLS

typedef enum {
  TPT_GROUPS_BY_MONTH,
  TPT_GROUPS_BY_STATION,
} TptGroupsBy;

/* "month" or "station"; %FALSE for anything else. */
gboolean tpt_groups_by_parse (const char *text, TptGroupsBy *by);

#define TPT_TYPE_JOB_GROUPS (tpt_job_groups_get_type ())
G_DECLARE_FINAL_TYPE (TptJobGroups, tpt_job_groups, TPT, JOB_GROUPS, TptJob)

/* @filter is copied. Groups add up to what TptJobFindings tells of it: a detection counts in the month it
 * starts in, and is not counted anew where its records go on in the next. */
TptJobGroups *tpt_job_groups_new (const TptFilter *filter, TptGroupsBy by);

/* Months from the first with effort or a detection to the last, or the stations of the filter, by code. */
guint tpt_job_groups_get_n (TptJobGroups *self);
/* (transfer none): "2026-03", or a station's code. */
const char *tpt_job_groups_get_name (TptJobGroups *self, guint group);
/* (transfer none): #TptSpeciesItem, most detections first: those seen, or those asked for. */
GListModel *tpt_job_groups_get_species (TptJobGroups *self, guint group);

G_END_DECLS
