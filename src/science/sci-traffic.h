/* What a project's own counts teach of the triggers to come: how busy stations
 * are and how much they differ, how clumped the triggers are, how a station's
 * level drifts, and the season.
 */
#pragma once

#include <stddef.h>

#include "sci-rate.h"

/* Triggers counted over a stretch of working time. */
typedef struct {
  size_t group; /* deployment, 0 .. n_groups - 1 */
  double from;  /* days since any day, the same for all; its year begins at day 0 */
  double days;  /* length, > 0 */
  double n;     /* triggers, >= 0 */
} SciWatch;

typedef struct {
  double prior_a; /* gamma prior of a station's yearly mean level, per day */
  double prior_b;
  double clump; /* as in SciRate */
  double drift;
  double drift_days;
  SciSeason season;
} SciTraffic;

/* For a project without a history: about 10 triggers a day, anything from
 * 1 to 25 plausible, variance of a count three times its mean, a level that wanders
 * by a third within six weeks. Common practice on game trails, no source. */
extern const SciTraffic sci_traffic_weak;

/* Everything above, learned from the watches of a project.
 *
 * Given:
 *   watches   SciWatch[n]  any order; those of no length are passed over
 *   n         size_t
 *   n_groups  size_t
 *
 * Returned:
 *   traffic  SciTraffic
 *
 * Notes:
 *   Within a group the count of a watch has mean mu = level x season's days and
 *   variance D mu + drift mu^2, D = 1 + clump. D and drift come from a weighted
 *   least-squares fit of the squared residuals over mu, (n - mu)^2 / mu / (1 -
 *   leverage) = D + drift mu, with the weak values as ridge; so a project with
 *   few watches keeps near them. D is at least 1, drift at least 0.02.
 *   The season is a quasi-likelihood fit of one yearly wave common to all,
 *   levels of groups profiled out, with a ridge of deviation 0.5; none when
 *   the watches span less than 300 days; then the drift is larger by 0.1 and
 *   its memory 90 days, for the season that is not seen yet.
 *   The prior's shape and mean maximise the marginal likelihood of the groups'
 *   totals, counts and days divided by their variance ratio; with fewer than
 *   four groups of a week or more the weak prior stands.
 *   What was left out: that a group's watches are alike in more than their
 *   level, trends over years, waves shorter than a year.
 *
 * References:
 *   Gelman et al., Bayesian Data Analysis, ch. 2 and 5 (gamma-Poisson, empirical
 *   Bayes). McCullagh & Nelder 1989, Generalized Linear Models, ch. 9
 *   (quasi-likelihood), both from memory.
 */
void sci_traffic_learn (const SciWatch *watches, size_t n, size_t n_groups, SciTraffic *traffic);

/* A station's rate at a moment, from its own watches.
 *
 * Given:
 *   traffic  SciTraffic
 *   watches  SciWatch[n]  of this deployment, by time, ending before @now
 *   n        size_t       may be 0
 *   now      double       day
 *
 * Returned:
 *   SciRate with time 0 at @now
 *
 * Notes:
 *   Each watch adds n / D and season's days / D to the shape and rate. Between
 *   the middles of watches the level may have wandered: the relative variance
 *   grows by drift (1 - exp (-2 t / drift_days)) at the same mean, so that old
 *   counts fade. A watch itself teaches no more than its drift lets it: D is
 *   raised by drift mu where a watch is long.
 *
 * References:
 *   West & Harrison 1997, Bayesian Forecasting and Dynamic Models, ch. 10 and 14
 *   (local level with a gamma prior), from memory.
 */
SciRate sci_traffic_rate (const SciTraffic *traffic, const SciWatch *watches, size_t n, double now);
