/* Triggers to come: what a rate, its clumping, its drift and the season say of
 * the number of triggers until a time.
 */
#pragma once

/* A year's swing common to all stations: the rate on day d is the yearly mean
 * level times exp (cosine cos w + sine sin w), w = 2 pi d / 365.25. */
typedef struct {
  double cosine;
  double sine;
} SciSeason;

/* What is known of one station's triggers at time 0.
 *
 * The level is gamma: mean a / b per day, relative variance 1 / a. A structure
 * that names only a and b has no clumping, no drift and no season. */
typedef struct {
  double a;          /* shape, > 0 */
  double b;          /* rate, days, > 0 */
  double clump;      /* variance of a count over its mean, less 1, >= 0 */
  double drift;      /* variance of the logarithm of the level in the long run, >= 0 */
  double drift_days; /* days over which the level changes; 0: at once */
  SciSeason season;
  double day; /* day of the season's year at time 0 */
} SciRate;

/* Rate of triggers after a count.
 *
 * Given:
 *   prior_a     double  shape of the prior, > 0
 *   prior_b     double  rate of the prior, days, > 0
 *   n_triggers  double  triggers counted, >= 0
 *   days        double  working days they were counted in, >= 0
 *
 * Returned:
 *   gamma (prior_a + n_triggers, prior_b + days), without clumping, drift or
 *   season
 *
 * References:
 *   Gelman et al., Bayesian Data Analysis, ch. 2.
 */
SciRate sci_rate_posterior (double prior_a, double prior_b, double n_triggers, double days);

/* Days at the yearly mean level that a stretch of days is worth.
 *
 * Given:
 *   season  SciSeason
 *   day     double  where the stretch begins, day of the season's year
 *   days    double  its length, >= 0
 *
 * Returned:
 *   the integral of the season's factor over the stretch
 *
 * Notes:
 *   Whole years by the Bessel function I0, the rest by Simpson's rule in steps
 *   of at most 5 days: relative error below 1e-6 for swings up to a factor of
 *   7 between the best and the worst day.
 */
double sci_season_days (const SciSeason *season, double day, double days);

/* The number of triggers until a time, as a negative binomial.
 *
 * Given:
 *   rate  SciRate
 *   days  double  T, >= 0
 *
 * Returned:
 *   size  double  shape, > 0
 *   odds  double  mean / size, >= 0
 *
 * Notes:
 *   With U the season's days in T, the mean is m = a U / b and the variance
 *   m (1 + clump) + m^2 (1 / a + drift w (T / drift_days)): what is not known of
 *   the level now, and how far its mean over T wanders from it, w (t) = 2 (1 -
 *   g) / t - g^2 with g = (1 - exp (-t)) / t. w rises as 2 t / 3 to 0.4 near t
 *   = 2 and falls again: a long time has good and bad weeks in it.
 *   Without clumping and drift this is the exact predictive distribution of
 *   a gamma-Poisson process; with them the two moments are matched.
 *
 * References:
 *   The mean of an Ornstein-Uhlenbeck process given its start, worked out by
 *   hand: Gardiner 1985, Handbook of Stochastic Methods, 4.4.4, from memory,
 *   for the covariance.
 */
void sci_rate_count (const SciRate *rate, double days, double *size, double *odds);

/* Mean triggers until a time: a U / b. */
double sci_rate_mean (const SciRate *rate, double days);
