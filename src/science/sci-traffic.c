#include "sci-traffic.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "sci-special.h"

#define LEAST_DRIFT 0.02
#define LEAST_GROUPS 4
#define LEAST_DAYS 7.0
#define SEASON_SPAN 300.0
#define SEASON_WATCHES 24
#define SEASON_SD 0.5
#define UNSEEN_SEASON 0.1
#define UNSEEN_SEASON_DAYS 90.0
#define ROUNDS 4

const SciTraffic sci_traffic_weak = {
  .prior_a = 1.2,
  .prior_b = 0.12,
  .clump = 2,
  .drift = 0.1,
  .drift_days = 45,
};

/* A group's sums, and its level at the present season. */
typedef struct {
  double n;
  double days; /* the season's days */
  double level;
  double span; /* plain days */
} Group;

typedef struct {
  const SciWatch *watches;
  size_t n;
  Group *groups;
  size_t n_groups;
  double *exposures; /* per watch, the season's days */
  SciTraffic *traffic;
} Learning;

static void
measure (Learning *self)
{
  for (size_t g = 0; g < self->n_groups; g++)
    self->groups[g] = (Group) { 0, 0, 0, 0 };
  for (size_t i = 0; i < self->n; i++)
    {
      const SciWatch *watch = &self->watches[i];
      Group *group = &self->groups[watch->group];

      self->exposures[i] = watch->days > 0 ? sci_season_days (&self->traffic->season, watch->from, watch->days) : 0;
      group->n += watch->n;
      group->days += self->exposures[i];
      group->span += watch->days > 0 ? watch->days : 0;
    }
  for (size_t g = 0; g < self->n_groups; g++)
    self->groups[g].level = self->groups[g].days > 0 ? self->groups[g].n / self->groups[g].days : 0;
}

static double
mean_of (const Learning *self, size_t i)
{
  return self->groups[self->watches[i].group].level * self->exposures[i];
}

static double
variance_of (const SciTraffic *traffic, double mean)
{
  return mean * (1 + traffic->clump) + traffic->drift * mean * mean;
}

/* Fits D + drift mu to the squared residuals over mu. The spread of such a
 * residual is about its own mean times the root of two. */
static void
fit_spread (Learning *self)
{
  SciTraffic *traffic = self->traffic;
  const double ridge_d = 1 / 4.0, ridge_drift = 1 / (0.1 * 0.1);
  double s00 = ridge_d, s01 = 0, s11 = ridge_drift;
  double t0 = ridge_d * (1 + sci_traffic_weak.clump), t1 = ridge_drift * sci_traffic_weak.drift;
  double determinant;

  for (size_t i = 0; i < self->n; i++)
    {
      double mean = mean_of (self, i), miss = self->watches[i].n - mean;
      double total = self->groups[self->watches[i].group].n;
      double free = total > 0 ? 1 - mean / total : 0;
      double expected, weight, seen;

      if (!(mean > 0) || free < 0.05)
        continue;
      expected = variance_of (traffic, mean) / mean;
      weight = free / (2 * expected * expected);
      seen = miss * miss / mean / free;
      s00 += weight;
      s01 += weight * mean;
      s11 += weight * mean * mean;
      t0 += weight * seen;
      t1 += weight * mean * seen;
    }
  determinant = s00 * s11 - s01 * s01;
  traffic->clump = fmax (0, (t0 * s11 - t1 * s01) / determinant - 1);
  traffic->drift = fmax (LEAST_DRIFT, (t1 * s00 - t0 * s01) / determinant);
}

/* One Newton step of the wave: the score and information of the residuals on
 * cos and sin at the middle of each watch, less their mean in the group. */
static void
step_season (Learning *self, const double *waves, const double *group_waves)
{
  double h00 = 1 / (SEASON_SD * SEASON_SD), h01 = 0, h11 = h00;
  double g0 = -self->traffic->season.cosine * h00, g1 = -self->traffic->season.sine * h11;
  double determinant;

  for (size_t i = 0; i < self->n; i++)
    {
      size_t group = self->watches[i].group;
      double mean = mean_of (self, i), ratio;
      double c = waves[2 * i] - group_waves[2 * group], s = waves[2 * i + 1] - group_waves[2 * group + 1];

      if (!(mean > 0))
        continue;
      ratio = mean / variance_of (self->traffic, mean);
      g0 += ratio * (self->watches[i].n - mean) * c;
      g1 += ratio * (self->watches[i].n - mean) * s;
      h00 += ratio * mean * c * c;
      h01 += ratio * mean * c * s;
      h11 += ratio * mean * s * s;
    }
  determinant = h00 * h11 - h01 * h01;
  self->traffic->season.cosine += (g0 * h11 - g1 * h01) / determinant;
  self->traffic->season.sine += (g1 * h00 - g0 * h01) / determinant;
}

static void
find_waves (const Learning *self, double *waves, double *group_waves)
{
  for (size_t g = 0; g < 2 * self->n_groups; g++)
    group_waves[g] = 0;
  for (size_t i = 0; i < self->n; i++)
    {
      const SciWatch *watch = &self->watches[i];
      double w = 6.283185307179586477 * (watch->from + watch->days / 2) / 365.25;
      double share = self->groups[watch->group].n > 0 ? mean_of (self, i) / self->groups[watch->group].n : 0;

      waves[2 * i] = cos (w);
      waves[2 * i + 1] = sin (w);
      group_waves[2 * watch->group] += share * cos (w);
      group_waves[2 * watch->group + 1] += share * sin (w);
    }
}

static void
fit_season (Learning *self)
{
  double *waves = malloc (2 * (self->n + 1) * sizeof *waves);
  double *group_waves = malloc (2 * (self->n_groups + 1) * sizeof *group_waves);

  if (waves != NULL && group_waves != NULL)
    for (int i = 0; i < 3; i++)
      {
        find_waves (self, waves, group_waves);
        step_season (self, waves, group_waves);
        measure (self);
      }
  free (waves);
  free (group_waves);
}

static bool
spans_seasons (const Learning *self)
{
  double first = INFINITY, last = -INFINITY;

  for (size_t i = 0; i < self->n; i++)
    {
      first = fmin (first, self->watches[i].from);
      last = fmax (last, self->watches[i].from + self->watches[i].days);
    }
  return self->n >= SEASON_WATCHES && last - first >= SEASON_SPAN;
}

static bool
is_usable (const Group *group)
{
  return group->span >= LEAST_DAYS;
}

/* Counts and days over the variance ratio of the group's total: what its mean
 * level is worth in unclumped triggers. Drift averages out over a long watch. */
static double
variance_ratio (const SciTraffic *traffic, const Group *group)
{
  double stretches = fmax (1, group->span / (2 * traffic->drift_days));

  return 1 + traffic->clump + traffic->drift * group->n / stretches;
}

/* The mean level of all groups at a shape, by expectation-maximisation. */
static double
fit_mean (const Learning *self, double a, double start)
{
  double mean = start;

  for (int step = 0; step < 25; step++)
    {
      double total = 0, used = 0;

      for (size_t g = 0; g < self->n_groups; g++)
        {
          const Group *group = &self->groups[g];
          double ratio = variance_ratio (self->traffic, group);

          if (!is_usable (group))
            continue;
          total += (a + group->n / ratio) / (a / mean + group->days / ratio);
          used++;
        }
      mean = fmax (total / used, 1e-3);
    }
  return mean;
}

static double
marginal_likelihood (const Learning *self, double a, double b)
{
  double total = 0;

  for (size_t g = 0; g < self->n_groups; g++)
    {
      const Group *group = &self->groups[g];
      double ratio = variance_ratio (self->traffic, group);
      double n = group->n / ratio, days = group->days / ratio;

      if (is_usable (group))
        total += sci_log_gamma (a + n) - sci_log_gamma (a) + a * log (b) - (a + n) * log (b + days);
    }
  return total;
}

static void
fit_prior (Learning *self)
{
  double best = -INFINITY, total = 0, used = 0;

  for (size_t g = 0; g < self->n_groups; g++)
    if (is_usable (&self->groups[g]))
      {
        total += self->groups[g].level;
        used++;
      }
  if (used < LEAST_GROUPS || !(total > 0))
    return;
  /* Shapes from 0.3 to 30: stations differ by a factor of ten, or by a fifth. */
  for (double a = 0.3; a < 31; a *= 1.2)
    {
      double mean = fit_mean (self, a, total / used), likelihood = marginal_likelihood (self, a, a / mean);

      if (likelihood <= best)
        continue;
      best = likelihood;
      self->traffic->prior_a = a;
      self->traffic->prior_b = a / mean;
    }
}

/* A season nobody has seen yet changes the level too, and more slowly. */
static void
allow_for_season (SciTraffic *traffic)
{
  traffic->drift += UNSEEN_SEASON;
  traffic->drift_days = UNSEEN_SEASON_DAYS;
}

void
sci_traffic_learn (const SciWatch *watches, size_t n, size_t n_groups, SciTraffic *traffic)
{
  Learning self = { watches, n, calloc (n_groups + 1, sizeof (Group)), n_groups, calloc (n + 1, sizeof (double)), traffic };

  *traffic = sci_traffic_weak;
  if (n == 0)
    allow_for_season (traffic);
  if (self.groups != NULL && self.exposures != NULL && n > 0)
    {
      bool seasons = spans_seasons (&self);

      measure (&self);
      for (int round = 0; round < ROUNDS; round++)
        {
          if (seasons)
            fit_season (&self);
          fit_spread (&self);
        }
      fit_prior (&self);
      if (!seasons)
        allow_for_season (traffic);
    }
  free (self.groups);
  free (self.exposures);
}

/* Lets the level wander for a while: the mean stays, its variance grows. */
static void
wander (SciRate *rate, double days)
{
  double grown = 1 / rate->a + rate->drift * -expm1 (-2 * fmax (0, days) / rate->drift_days);
  double level = rate->a / rate->b;

  rate->a = 1 / grown;
  rate->b = rate->a / level;
}

SciRate
sci_traffic_rate (const SciTraffic *traffic, const SciWatch *watches, size_t n, double now)
{
  SciRate rate = {
    .a = traffic->prior_a,
    .b = traffic->prior_b,
    .clump = traffic->clump,
    .drift = traffic->drift,
    .drift_days = traffic->drift_days,
    .season = traffic->season,
    .day = now,
  };
  double reached = n > 0 ? watches[0].from : now;

  for (size_t i = 0; i < n; i++)
    {
      double middle = watches[i].from + watches[i].days / 2;
      double days = sci_season_days (&traffic->season, watches[i].from, watches[i].days);
      double mean = rate.a / rate.b * days;
      double ratio = 1 + traffic->clump + traffic->drift * mean * fmin (1, watches[i].days / traffic->drift_days) / 3;

      if (!(watches[i].days > 0))
        continue;
      wander (&rate, i > 0 ? middle - reached : 0);
      rate.a += watches[i].n / ratio;
      rate.b += days / ratio;
      reached = middle;
    }
  wander (&rate, n > 0 ? now - reached : 0);
  return rate;
}
