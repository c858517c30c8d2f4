/* Samples that could have been, drawn from a curve. */
#include "sci-activity-private.h"

#include <math.h>
#include <stdlib.h>

#include "sci-random.h"

/* Cells of 1.4 minutes; of narrow kernels, half as wide as they need. */
#define FEWEST_CELLS 1024

/* Walker's alias method: each cell keeps a draw with its share, or hands it on to one other. */
static void
make_aliases (SciActivity *self, double *shares, size_t *stack)
{
  size_t cells = sci_fourier_get_length (self->grid), small = 0, large = cells;

  for (size_t i = 0; i < cells; i++)
    {
      self->share[i] = 1;
      self->other[i] = i;
      stack[shares[i] < 1 ? small++ : --large] = i;
    }
  while (small > 0 && large < cells)
    {
      size_t low = stack[--small], high = stack[large];

      self->share[low] = shares[low];
      self->other[low] = high;
      shares[high] -= 1 - shares[low];
      if (shares[high] >= 1)
        continue;
      large++;
      stack[small++] = high;
    }
}

bool
sci_activity_prepare (SciActivity *self)
{
  size_t cells = FEWEST_CELLS;
  double *shares, sum = 0;
  size_t *stack;
  bool done;

  while (cells < 2 * self->waves.n + 2)
    cells *= 2;
  shares = malloc (cells * sizeof *shares);
  stack = malloc (cells * sizeof *stack);
  self->grid = sci_fourier_new (cells);
  self->share = malloc (cells * sizeof *self->share);
  self->other = malloc (cells * sizeof *self->other);
  done = shares != NULL && stack != NULL && self->grid != NULL && self->share != NULL && self->other != NULL;
  if (done)
    {
      sci_activity_curve (self, cells, shares);
      for (size_t i = 0; i < cells; i++)
        sum += shares[i];
      for (size_t i = 0; i < cells; i++)
        shares[i] *= (double) cells / sum;
      make_aliases (self, shares, stack);
    }
  free (shares);
  free (stack);
  return done;
}

/* The upper half of a random number chooses the cell, the lower whether it keeps the draw. */
void
sci_activity_draw (const SciActivity *self, uint64_t seed, uint64_t stream, double *counts)
{
  size_t cells = sci_fourier_get_length (self->grid);

  for (size_t i = 0; i < cells; i++)
    counts[i] = 0;
  for (size_t i = 0; i < self->n; i++)
    {
      uint64_t bits = sci_random_bits (seed, stream, i);
      size_t cell = (size_t) (bits >> 32) & (cells - 1);
      bool keeps = (double) (bits & UINT32_MAX) * 0x1p-32 < self->share[cell];

      /* without a jump: half of those would be foreseen wrongly */
      counts[keeps * cell + !keeps * self->other[cell]] += 1;
    }
}

void
sci_activity_smooth_draw (const SciActivity *self, double *counts, double *im, SciWaves *waves)
{
  size_t cells = sci_fourier_get_length (self->grid);
  SciWaves moments = { cells, counts, im };
  double lengths[3], nu;

  for (size_t i = 0; i < cells; i++)
    {
      counts[i] /= (double) self->n;
      im[i] = 0;
    }
  sci_fourier_transform (self->grid, counts, im);
  for (int j = 0; j < 3; j++)
    lengths[j] = fmin (hypot (counts[j + 1], im[j + 1]), 1);
  nu = sci_activity_rule (self->n, lengths);
  waves->n = sci_activity_count_waves (nu);
  if (waves->n > cells / 2 - 1)
    waves->n = cells / 2 - 1;
  sci_activity_smooth (&moments, nu, waves);
}

void
sci_waves_place (const SciWaves *self, size_t length, bool imaginary, double *re, double *im)
{
  double *along = imaginary ? im : re, *across = imaginary ? re : im;
  double sign = imaginary ? -1 : 1;

  along[0] += self->re[0];
  for (size_t k = 1; k <= self->n; k++)
    {
      along[k] += self->re[k];
      along[length - k] += self->re[k];
      across[k] -= sign * self->im[k];
      across[length - k] += sign * self->im[k];
    }
}

double
sci_activity_read (const double *grid, size_t length, double hour)
{
  double place = hour * ((double) length / SCI_DAY_HOURS), weights[4], value = 0;
  size_t cell = (size_t) place;

  sci_cubic_weights (place - (double) cell, weights);
  for (size_t k = 0; k < 4; k++)
    value += weights[k] * grid[(cell + length - 1 + k) & (length - 1)];
  return value;
}

/* Room: counts, imaginary part, waves. */
static void
resample (const SciActivity *self, uint64_t seed, uint64_t stream, size_t points, double *density, double *room)
{
  size_t cells = sci_fourier_get_length (self->grid);
  SciWaves waves = { 0, room + 2 * cells, room + 3 * cells };

  sci_activity_draw (self, seed, stream, room);
  sci_activity_smooth_draw (self, room, room + cells, &waves);
  for (size_t i = 0; i < 2 * cells; i++)
    room[i] = 0;
  sci_waves_place (&waves, cells, false, room, room + cells);
  sci_fourier_transform (self->grid, room, room + cells);
  for (size_t i = 0; i < points; i++)
    {
      double value = sci_activity_read (room, cells, SCI_DAY_HOURS * (double) i / (double) points);

      density[i] = fmax (value, 0) / SCI_DAY_HOURS;
    }
}

bool
sci_activity_resample (const SciActivity *self, uint64_t seed, uint64_t stream, size_t points, double *density)
{
  double *room = self->grid != NULL ? malloc (4 * sci_fourier_get_length (self->grid) * sizeof *room) : NULL;

  if (room == NULL)
    return false;
  resample (self, seed, stream, points, density, room);
  free (room);
  return true;
}
