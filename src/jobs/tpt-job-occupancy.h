/* At what share of the stations a species is, allowing for stations that missed it: single-season occupancy. */
#pragma once

#include "tpt-filter.h"
#include "tpt-job.h"

G_BEGIN_DECLS

#define TPT_OCCASION_DAYS 14

/* Fewer stations are no sample. */
#define TPT_OCCUPANCY_LEAST_SITES 5

/**
 * TptOccupancy: one species, constant psi and p. What the data cannot carry is NAN, and @why_not says so.
 * @sites: stations with at least one occasion
 * @occasions: of the period
 * @visits: occasions in which a station worked at least half the time, all stations together
 * @sites_detected: stations with a detection in one of these
 * @detections: station-occasions with one
 * @naive: @sites_detected / @sites
 * @psi, @p: share of stations occupied; chance to be seen in one occasion where it is
 * @psi_se, @p_se: from the Hessian; NAN on the boundary
 * @psi_low and so on: profile likelihood, 95 %
 * @loglik, @aic
 * @boundary: psi reached 1 (or the fit has no inner maximum)
 * @missed: chance that a station without a detection, worked all occasions, is occupied
 * @needed: occasions to see it with 95 % where it is
 * @left_out: detections in occasions that are missing at their station
 * @period: from the beginning of the first occasion to the end of the last; both ends
 *   %TPT_NO_INSTANT without one
 * @why_not: (owned) (nullable): why there is no estimate or it is weak, and what would be needed
 */
typedef struct {
  guint sites;
  guint occasions;
  guint visits;
  guint sites_detected;
  guint detections;
  double naive;
  double psi, psi_se, psi_low, psi_high;
  double p, p_se, p_low, p_high;
  double loglik;
  double aic;
  gboolean boundary;
  double missed;
  double needed;
  guint left_out;
  TptRange period;
  char *why_not;
} TptOccupancy;

/**
 * TptHistory: what a station saw.
 * @station: (owned): code
 * @occasions: (owned): a letter for each: "." missing, "0" not detected, "1" detected
 */
typedef struct {
  char *station;
  char *occasions;
} TptHistory;

#define TPT_TYPE_JOB_OCCUPANCY (tpt_job_occupancy_get_type ())
G_DECLARE_FINAL_TYPE (TptJobOccupancy, tpt_job_occupancy, TPT, JOB_OCCUPANCY, TptJob)

/* @filter is copied; names exactly one species, else TPT_ERROR_USAGE. @occasion_days at least 1.
 *
 * Occasions start at the filter's beginning, or at the midnight before the first effort, and
 * go by the calendar of the project's zone: an occasion in which clocks change is an hour
 * longer or shorter. The last is the one of which at least half lies before the end of all
 * effort. One in which a station worked less than half the time is missing there, and what was
 * seen in it does not count. Each record counts in the occasion in which it starts, also one that
 * runs over midnight; how far apart records are is of no account, so the filter's
 * independence is not looked at. */
TptJobOccupancy *tpt_job_occupancy_new (const TptFilter *filter, int occasion_days);

/* (transfer none) */
const TptOccupancy *tpt_job_occupancy_get (TptJobOccupancy *self);
/* (transfer none): what was found, without why_not. */
const char *tpt_job_occupancy_get_sentence (TptJobOccupancy *self);
/* (transfer none): how it was computed, in a sentence or two. */
const char *tpt_job_occupancy_get_method (TptJobOccupancy *self);
/* (element-type TptHistory): stations with an occasion, by code. */
GPtrArray *tpt_job_occupancy_get_histories (TptJobOccupancy *self);

G_END_DECLS
