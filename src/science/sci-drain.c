#include "sci-drain.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include "sci-special.h"

#define GRID SCI_DRAIN_GRID
#define STEP 0.075
#define LOWEST (-2.7)
/* Points that reach four deviations of the cells' factor. */
#define REACH 6
/* Readings that mean nothing: typing, a meter held wrongly. */
#define USELESS 0.005
/* Units and cells that are not like the others. */
#define ODD 0.1
#define NARROWER 0.89
/* Units found out for another reason than charge: a plug, water. */
#define OTHERWISE 0.1
/* Sets of cells that were not whole to begin with, and of which any share may
 * be read. */
#define PARTLY 0.05
/* Bins of the logarithm of what is left, from a thousandth to fifteen. */
#define N_BINS 390
#define BIN 0.025
#define LOWEST_BIN (-7.0)
#define FINER 2
/* The least doubt of an expected use. */
#define LEAST_REL 0.05
/* How many units a kind's prior is worth. */
#define PRIOR_UNITS 4

static double
log_at (int i)
{
  return LOWEST + i * STEP;
}

static double
normal_density (double z)
{
  return 0.39894228040143268 * exp (-z * z / 2);
}

static void
scale_to_one (double *grid)
{
  double total = 0;

  for (int i = 0; i < GRID; i++)
    total += grid[i];
  for (int i = 0; i < GRID; i++)
    grid[i] = total > 0 ? grid[i] / total : 1.0 / GRID;
}

/* One unit in ten is not like the others, and neither is one set of cells in
 * ten: a tail three times as wide, so that a reading far off is believed. The
 * rest is narrower by as much as keeps the middle 80 % where they were. */
static void
fill_prior (double *grid, SciFactor factor)
{
  double sd = fmax (NARROWER * factor.log_sd, STEP / 2);

  for (int i = 0; i < GRID; i++)
    {
      double z = (log_at (i) - factor.log_mean) / sd;

      grid[i] = (1 - ODD) * exp (-z * z / 2) + ODD / 3 * exp (-z * z / 18);
    }
  scale_to_one (grid);
}

/* A share's likelihood is a density over 0..1, so that it can be held against
 * a share that means nothing, whose density is 1. */
static double
likelihood_of (const SciLook *look, double factor)
{
  double used = factor * look->expected, rel = fmax (look->expected_rel, LEAST_REL);
  double left = fmax (0, 1 - used), sd = hypot (look->share_sd, fmin (used, 1) * rel);

  switch (look->kind)
    {
    case SCI_LOOK_SHARE:
      return (1 - USELESS) * normal_density ((look->share - left) / sd) / sd + USELESS;
    case SCI_LOOK_ALIVE:
      return used > 0 ? USELESS + (1 - USELESS) * sci_normal_cdf (-log (used) / rel) : 1;
    case SCI_LOOK_OUT:
    default:
      return used > 0 ? OTHERWISE + (1 - OTHERWISE) * sci_normal_cdf (log (used) / rel) : OTHERWISE;
    }
}

static void
multiply_looks (double *grid, const SciLook *looks, size_t n)
{
  for (int i = 0; i < GRID; i++)
    {
      double factor = exp (log_at (i));

      for (size_t k = 0; k < n; k++)
        grid[i] *= likelihood_of (&looks[k], factor);
    }
}

/* The grid smeared by the cells' own factor. */
static void
smear (double *grid)
{
  double kernel[2 * REACH + 1], smeared[GRID] = { 0 };

  for (int k = -REACH; k <= REACH; k++)
    kernel[k + REACH] = exp (-pow (k * STEP / SCI_CELLS_LOG_SD, 2) / 2);
  for (int i = 0; i < GRID; i++)
    {
      double weight = 0;

      for (int k = -REACH; k <= REACH; k++)
        if (i + k >= 0 && i + k < GRID)
          {
            smeared[i] += kernel[k + REACH] * grid[i + k];
            weight += kernel[k + REACH];
          }
      smeared[i] /= weight;
    }
  for (int i = 0; i < GRID; i++)
    grid[i] = smeared[i];
}

static SciFactor
summarise (const double *grid)
{
  double mean = 0, spread = 0;

  for (int i = 0; i < GRID; i++)
    mean += grid[i] * log_at (i);
  for (int i = 0; i < GRID; i++)
    spread += grid[i] * pow (log_at (i) - mean, 2);
  return (SciFactor) { mean, sqrt (spread) };
}

void
sci_drain_look (const SciLook *looks, size_t n, SciDrain *drain)
{
  drain->n_looks = n;
  for (int i = 0; i < GRID; i++)
    drain->likelihood[i] = 1;
  for (size_t from = 0, to; from < n; from = to)
    {
      double set[GRID];

      for (to = from + 1; to < n && looks[to].cells == looks[from].cells; to++)
        ;
      for (int i = 0; i < GRID; i++)
        set[i] = 1;
      multiply_looks (set, looks + from, to - from);
      for (int i = 0; i < GRID; i++)
        set[i] = (1 - PARTLY) * set[i] + PARTLY;
      smear (set);
      for (int i = 0; i < GRID; i++)
        drain->likelihood[i] *= set[i];
    }
}

SciFactor
sci_drain_factor (SciFactor prior, const SciDrain *drain)
{
  double grid[GRID];

  if (drain->n_looks == 0)
    return prior;
  fill_prior (grid, prior);
  for (int i = 0; i < GRID; i++)
    grid[i] *= drain->likelihood[i];
  scale_to_one (grid);
  return summarise (grid);
}

/* --- what is left -------------------------------------------------------------
 *
 * The weight of each charge left is gathered in bins of its logarithm. */

static void
add_weight (double *bins, double left, double weight)
{
  double x;
  int i;

  if (!(left > 0))
    return;
  x = fmax (0, fmin (N_BINS - 1.001, (log (left) - LOWEST_BIN) / BIN));
  i = (int) x;
  bins[i] += weight * (i + 1 - x);
  bins[i + 1] += weight * (x - i);
}

/* The pace goes on: a charge lasts 1 / factor of its expected use. The grid is
 * taken finer between its points. */
static void
add_paces (double *bins, const double *grid, double expected)
{
  for (int i = 0; i + 1 < GRID; i++)
    for (int k = 0; k < FINER; k++)
      {
        double part = (double) k / FINER;

        add_weight (bins, exp (-log_at (i) - part * STEP) - expected, (grid[i] + part * (grid[i + 1] - grid[i])) / FINER);
      }
}

/* The cells were not whole when they came in: what was read is what there is,
 * whatever the pace before. */
static void
add_levels (double *bins, const double *prior, const SciLook *look, double expected)
{
  static const double deviations[] = { -1.5, -0.75, 0, 0.75, 1.5 };
  static const double weights[] = { 0.106, 0.247, 0.294, 0.247, 0.106 };

  for (int d = 0; d < 5; d++)
    {
      double share = fmax (0.005, fmin (1, look->share + deviations[d] * look->share_sd));

      for (int i = 0; i < GRID; i++)
        add_weight (bins, share * exp (-log_at (i)) - (expected - look->expected), PARTLY * weights[d] * prior[i]);
    }
}

static const SciLook *
find_last_share (const SciLook *looks, size_t n)
{
  while (n > 0 && looks[n - 1].kind != SCI_LOOK_SHARE)
    n--;
  return n > 0 ? &looks[n - 1] : NULL;
}

static double
quantile_of (const double *bins, double total, double p)
{
  double reached = 0;

  for (int i = 0; i < N_BINS; i++)
    {
      if (reached + bins[i] >= p * total)
        return exp (LOWEST_BIN + BIN * (i - 0.5 + (p * total - reached) / bins[i]));
      reached += bins[i];
    }
  return exp (LOWEST_BIN + BIN * N_BINS);
}

SciCharge
sci_drain_left (SciFactor unit, const SciLook *looks, size_t n, double expected)
{
  double prior[GRID], grid[GRID], bins[N_BINS] = { 0 }, total = 0, low, high;
  SciFactor present = { unit.log_mean, hypot (unit.log_sd, SCI_CELLS_LOG_SD) };
  const SciLook *last = find_last_share (looks, n);

  fill_prior (prior, present);
  for (int i = 0; i < GRID; i++)
    grid[i] = last != NULL ? (1 - PARTLY) * prior[i] : prior[i];
  multiply_looks (grid, looks, n);
  add_paces (bins, grid, expected);
  if (last != NULL)
    add_levels (bins, prior, last, expected);
  for (int i = 0; i < N_BINS; i++)
    total += bins[i];
  if (!(total > 1e-12))
    return (SciCharge) { 0, 0 };
  low = quantile_of (bins, total, 0.1);
  high = quantile_of (bins, total, 0.9);
  return (SciCharge) {
    .median = quantile_of (bins, total, 0.5),
    .log_sd = fmax (0.02, log (high / low) / (2 * 1.2815515655446004)),
  };
}

/* What a unit alone says: its posterior with the prior divided out. */
static bool
tell_alone (SciFactor posterior, SciFactor prior, double *mean, double *precision)
{
  double whole = 1 / (posterior.log_sd * posterior.log_sd), given = 1 / (prior.log_sd * prior.log_sd);

  *precision = whole - given;
  if (*precision < 0.05 * given)
    return false;
  *mean = (posterior.log_mean * whole - prior.log_mean * given) / *precision;
  return true;
}

SciFactor
sci_drain_kind (const SciFactor *units, size_t n, SciFactor prior)
{
  double variance = prior.log_sd * prior.log_sd;
  double w = 0, w2 = 0, wm = 0, wm2 = 0, between, excess, told = 0, mean, sum = 0, sum_mean = 0;

  for (size_t i = 0; i < n; i++)
    {
      double m, precision;

      if (!tell_alone (units[i], prior, &m, &precision))
        continue;
      told++;
      w += precision;
      w2 += precision * precision;
      wm += precision * m;
      wm2 += precision * m * m;
    }
  if (told < 2)
    return prior;
  excess = (wm2 - wm * wm / w - (told - 1)) / (w - w2 / w);
  between = (told * fmax (0, excess) + PRIOR_UNITS * variance) / (told + PRIOR_UNITS);
  for (size_t i = 0; i < n; i++)
    {
      double m, precision;

      if (!tell_alone (units[i], prior, &m, &precision))
        continue;
      sum += 1 / (1 / precision + between);
      sum_mean += m / (1 / precision + between);
    }
  mean = (sum_mean + prior.log_mean / variance) / (sum + 1 / variance);
  return (SciFactor) { mean, sqrt (between + 1 / (sum + 1 / variance)) };
}
