/* How long things last: survival with some of them still at work, and failures
 * per time.
 *
 * A life ends in a failure or is censored: seen at work until then and not
 * followed further. At one age failures come before censorings, so that what
 * is withdrawn at that age was at risk.
 */
#pragma once

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "sci-poisson.h"

/* Most groups sci_log_rank() compares. */
#define SCI_LOG_RANK_GROUPS 16

/* One life: its length in any unit of time, from 0, and how it ended. The group
 * counts from 0 and is looked at by sci_log_rank() only. */
typedef struct {
  double time;
  bool failed;
  size_t group;
} SciLife;

/* How the limits of a survival curve are taken; cut to 0..1 in each case. */
typedef enum {
  SCI_LIMITS_LOG,     /* symmetric in ln S: the choice here, and R's default */
  SCI_LIMITS_PLAIN,   /* symmetric in S */
  SCI_LIMITS_LOG_LOG, /* symmetric in ln (-ln S) */
} SciLimits;

/* A survival curve at one age at which something failed; it is flat from there
 * to the next. error is Greenwood's standard error. Error and limits are NaN
 * where S is 0: nothing is left to estimate them from. */
typedef struct {
  double time;
  size_t at_risk;
  size_t failures;
  double survival;
  double error;
  double lower;
  double upper;
} SciSurvivalStep;

/* Puts lives in order of time, at one age failures first. */
void sci_lives_sort (SciLife *lives, size_t n);

/* Kaplan-Meier's estimate.
 *
 * Given:
 *   lives   SciLife[n]       put in order of time by this call
 *   limits  SciLimits        transformation of the limits
 *   level   double           coverage of the limits, 0 < level < 1
 *
 * Returned:
 *   steps   SciSurvivalStep[at most n]  by time, ages with a failure only
 *   the number of steps; 0 when nothing failed
 *
 * Notes:
 *   S = product of (1 - d/n); error = S sqrt (sum d / (n (n - d))). Limits:
 *   plain S +- z e; log S exp (+- z s); log-log exp (-exp (ln (-ln S) +- z s /
 *   ln S)), s = e / S. Pointwise, and too narrow for a handful of failures.
 *   Times must not be NaN. Agrees with R survival 3.5-3 to 1e-9.
 *
 * References:
 *   Kaplan & Meier 1958, J. Am. Stat. Assoc. 53:457-481;
 *   Greenwood 1926, Rep. Public Health Med. Subj. 33 (from memory).
 */
size_t sci_survival_curve (SciLife *lives, size_t n, SciLimits limits, double level, SciSurvivalStep *steps);

/* The age half of them reach.
 *
 * Given:
 *   steps  SciSurvivalStep[n]  from sci_survival_curve()
 *
 * Returned:
 *   the first age with S below 0.5, or where S is 0.5 over an interval its
 *   middle; the limits are the same of the lower and the upper limit of S.
 *   NaN for what the curve does not reach
 *
 * Notes:
 *   A curve that ends at 0.5 exactly gives the age at which it got there, as
 *   in R. 0.5 is met within 1.5e-8.
 *
 * References:
 *   Brookmeyer & Crowley 1982, Biometrics 38:29-41 (from memory).
 */
SciInterval sci_survival_median (const SciSurvivalStep *steps, size_t n);

/* Mean life up to an age: the area under the curve.
 *
 * Given:
 *   steps  SciSurvivalStep[n]
 *   to     double   age to look at, to > 0
 *   error  double*  standard error out; may be NULL
 *
 * Returned:
 *   mean of the smaller of life and @to, in units of time
 *
 * Notes:
 *   Variance = sum (area right of t)^2 d / (n (n - d)). Says nothing of what
 *   comes after @to; choose no @to beyond the last age seen.
 *
 * References:
 *   Kaplan & Meier 1958, section 6.
 */
double sci_survival_mean (const SciSurvivalStep *steps, size_t n, double to, double *error);

/* What a log-rank test found; NaN and df 0 when there is nothing to compare. */
typedef struct {
  double chi2;
  int df;
  double p;
} SciLogRank;

/* Log-rank test: do the groups fail alike?
 *
 * Given:
 *   lives     SciLife[n]   group < n_groups; put in order of time by this call
 *   n_groups  size_t       2 to SCI_LOG_RANK_GROUPS
 *   observed, expected  double[n_groups] out; may be NULL
 *
 * Returned:
 *   chi-square statistic, degrees of freedom and tail probability
 *
 * Notes:
 *   Groups of which no failure is expected (never at risk when something
 *   failed) are left out and cost no degree of freedom. Nothing to compare when
 *   fewer than two are left, or when all that were at risk failed at once. The
 *   chi-square law holds for many failures; with few p is only a hint. Agrees
 *   with R survdiff to 1e-8.
 *
 * References:
 *   Mantel 1966, Cancer Chemother. Rep. 50:163-170; Peto & Peto 1972, J. R.
 *   Stat. Soc. A 135:185-207 (both from memory).
 */
SciLogRank sci_log_rank (SciLife *lives, size_t n, size_t n_groups, double *observed, double *expected);

/* When watching for failures stopped. */
typedef enum {
  SCI_STOPPED_BY_TIME,    /* at a time chosen beforehand, or for other reasons */
  SCI_STOPPED_BY_FAILURE, /* with the last failure */
} SciStop;

/* Mean time between failures at a constant hazard.
 *
 * Given:
 *   failures  int64_t  r >= 0
 *   total     double   time at work of all together, total > 0
 *   stop      SciStop
 *   level     double   coverage, 0 < level < 1
 *
 * Returned:
 *   total / r and its two-sided interval. Without a failure: estimate NaN and
 *   upper infinite
 *
 * Notes:
 *   By time: 2T / chi2 (1 - a/2; 2r + 2) to 2T / chi2 (a/2; 2r); by failure
 *   2r degrees in both, which takes r >= 1. NaN outside the ranges.
 *
 * References:
 *   MIL-HDBK-338; NIST/SEMATECH e-Handbook 8.4.5.1 (both from memory).
 */
SciInterval sci_mtbf (int64_t failures, double total, SciStop stop, double level);

/* The one-sided lower limit: 2T / chi2 (level; 2r + 2), also without a failure. */
double sci_mtbf_at_least (int64_t failures, double total, double level);
