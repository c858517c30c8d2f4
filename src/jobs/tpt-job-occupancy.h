/* At what share of the stations a species is, allowing for stations that missed it: single-season occupancy. */
#pragma once

#include "tpt-filter.h"
#include "tpt-job.h"

G_BEGIN_DECLS

#define TPT_OCCASION_DAYS 14

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
  char *why_not;
} TptOccupancy;

#define TPT_TYPE_JOB_OCCUPANCY (tpt_job_occupancy_get_type ())
G_DECLARE_FINAL_TYPE (TptJobOccupancy, tpt_job_occupancy, TPT, JOB_OCCUPANCY, TptJob)

/* @filter is copied; names exactly one species, else TPT_ERROR_USAGE. @occasion_days at least 1. Occasions start at the filter's
 * beginning, or at the midnight before the first effort. */
TptJobOccupancy *tpt_job_occupancy_new (const TptFilter *filter, int occasion_days);

/* (transfer none) */
const TptOccupancy *tpt_job_occupancy_get (TptJobOccupancy *self);
/* (transfer none) */
const char *tpt_job_occupancy_get_sentence (TptJobOccupancy *self);

G_END_DECLS
