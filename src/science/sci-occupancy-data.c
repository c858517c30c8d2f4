#include "sci-occupancy-private.h"

#include <math.h>
#include <stdlib.h>

static int
compare_silent (const void *a, const void *b)
{
  double x = ((const SciSilent *) a)->visits, y = ((const SciSilent *) b)->visits;

  return (x > y) - (x < y);
}

/* Sites with as many visits become one. */
static size_t
unite_silent (SciSilent *silent, size_t n)
{
  size_t kinds = 0;

  if (n > 0)
    qsort (silent, n, sizeof *silent, compare_silent);
  for (size_t i = 0; i < n; i++)
    if (kinds > 0 && silent[kinds - 1].visits == silent[i].visits)
      silent[kinds - 1].sites += silent[i].sites;
    else
      silent[kinds++] = silent[i];
  return kinds;
}

bool
sci_occupancy_data_init (SciOccupancyData *self, const SciOccupancySite *sites, size_t n)
{
  *self = (SciOccupancyData) { .silent = calloc (n + 1, sizeof (SciSilent)) };
  if (self->silent == NULL)
    return false;
  for (size_t i = 0; i < n; i++)
    {
      double visits = (double) sites[i].visits, detections = (double) sites[i].detections;

      if (sites[i].visits == 0)
        continue;
      self->sites++;
      self->visits += visits;
      self->repeated = self->repeated || sites[i].visits > 1;
      if (sites[i].detections == 0)
        self->silent[self->n_silent++] = (SciSilent) { visits, 1, 0 };
      else
        {
          self->detected++;
          self->detections += detections;
          self->misses += visits - detections;
        }
    }
  self->n_silent = unite_silent (self->silent, self->n_silent);
  return true;
}

void
sci_occupancy_data_clear (SciOccupancyData *self)
{
  free (self->silent);
  self->silent = NULL;
}

/* 0 times an infinite logarithm is 0 here: what never happened. */
static double
weigh (double n, double logarithm)
{
  return n > 0 ? n * logarithm : 0;
}

void
sci_occupancy_set_p (SciOccupancyData *self, double p)
{
  double log_q = log1p (-p);

  self->p = p;
  for (size_t i = 0; i < self->n_silent; i++)
    self->silent[i].missed = exp (self->silent[i].visits * log_q);
}

double
sci_occupancy_value (const SciOccupancyData *self, double psi)
{
  double sum = weigh (self->detected, log (psi)) + weigh (self->detections, log (self->p)) +
               weigh (self->misses, log1p (-self->p));

  for (size_t i = 0; i < self->n_silent; i++)
    sum += self->silent[i].sites * log (1 - psi + psi * self->silent[i].missed);
  return sum;
}

double
sci_occupancy_slope (const SciOccupancyData *self, double psi)
{
  double q = 1 - self->p;
  double sum = self->detections / self->p - (self->misses > 0 ? self->misses / q : 0);

  for (size_t i = 0; i < self->n_silent; i++)
    {
      const SciSilent *silent = &self->silent[i];
      double change = q > 0 ? silent->missed / q : silent->visits == 1;

      if (change > 0)
        sum -= silent->sites * psi * silent->visits * change / (1 - psi + psi * silent->missed);
    }
  return sum;
}

/* psi times the slope of lnL in psi, which falls and is concave, and its own slope. */
static double
measure_psi (const SciOccupancyData *self, double psi, double *steepness)
{
  double value = self->detected;

  *steepness = 0;
  for (size_t i = 0; i < self->n_silent; i++)
    {
      double seen = 1 - self->silent[i].missed, left = 1 - psi + psi * self->silent[i].missed;

      value -= self->silent[i].sites * psi * seen / left;
      *steepness -= self->silent[i].sites * seen / (left * left);
    }
  return value;
}

/* Exact where all have as many visits. */
static double
guess_psi (const SciOccupancyData *self)
{
  double silent = 0, seen = 0;

  for (size_t i = 0; i < self->n_silent; i++)
    {
      silent += self->silent[i].sites;
      seen += self->silent[i].sites * (1 - self->silent[i].missed);
    }
  return self->detected / (self->sites * seen / silent);
}

/* Newton's steps, kept inside a shrinking bracket. */
double
sci_occupancy_best_psi (const SciOccupancyData *self)
{
  double low = self->detected / self->sites, high = 1, psi, steepness;

  if (self->n_silent == 0 || measure_psi (self, 1, &steepness) >= 0)
    return 1;
  psi = guess_psi (self);
  for (int i = 0; i < 100 && high - low > 1e-16; i++)
    {
      double value, step;

      if (!(psi > low && psi < high))
        psi = (low + high) / 2;
      value = measure_psi (self, psi, &steepness);
      if (value > 0)
        low = psi;
      else
        high = psi;
      step = value / steepness;
      psi -= step;
      if (fabs (step) <= 1e-16 * psi)
        break;
    }
  return fmin (fmax (psi, low), high);
}
