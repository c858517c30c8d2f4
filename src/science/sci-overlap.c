#include "sci-overlap.h"

#include <math.h>
#include <stdlib.h>

#include "sci-activity-private.h"
#include "sci-special.h"

#define FEW 50

/* Nearer to 0 or 1 an overlap has no logit worth moving. */
#define LEAST_SHARE 1e-9

SciOverlapEstimator
sci_overlap_choose (size_t n_a, size_t n_b)
{
  return n_a < FEW || n_b < FEW ? SCI_OVERLAP_D1 : SCI_OVERLAP_D4;
}

/* Two curves times 2 pi on one grid, in one transform; (owned) f, and g behind it. */
static double *
draw_both (const SciWaves *a, const SciWaves *b, const SciFourier *fourier)
{
  size_t length = sci_fourier_get_length (fourier);
  double *f = calloc (2 * length, sizeof *f);

  if (f == NULL)
    return NULL;
  sci_waves_place (a, length, false, f, f + length);
  sci_waves_place (b, length, true, f, f + length);
  sci_fourier_transform (fourier, f, f + length);
  return f;
}

static double
find_common (const double *f, const double *g, size_t length)
{
  double sum = 0;

  for (size_t i = 0; i < length; i++)
    sum += fmax (fmin (f[i], g[i]), 0);
  return sum / (double) length;
}

/* min (1, g / f); a curve is never zero at its own records. */
static double
compare (double own, double other)
{
  return own <= other ? 1 : fmax (other, 0) / own;
}

static double
compare_records (const SciActivity *self, const double *own, const double *other, size_t length)
{
  double sum = 0;

  for (size_t i = 0; i < self->n; i++)
    sum += compare (sci_activity_read (own, length, self->hours[i]), sci_activity_read (other, length, self->hours[i]));
  return sum / (double) self->n;
}

double
sci_overlap (const SciActivity *a, const SciActivity *b, SciOverlapEstimator estimator)
{
  SciFourier *fourier = sci_fourier_new (SCI_ACTIVITY_FINE);
  double *f = fourier != NULL ? draw_both (&a->waves, &b->waves, fourier) : NULL;
  double *g = f != NULL ? f + SCI_ACTIVITY_FINE : NULL, overlap = NAN;

  if (f != NULL && estimator == SCI_OVERLAP_D1)
    overlap = find_common (f, g, SCI_ACTIVITY_FINE);
  else if (f != NULL)
    overlap = (compare_records (a, f, g, SCI_ACTIVITY_FINE) + compare_records (b, g, f, SCI_ACTIVITY_FINE)) / 2;
  free (f);
  sci_fourier_free (fourier);
  return isnan (overlap) ? overlap : fmin (overlap, 1);
}

/* A drawn sample: how many in each cell, and its curve. */
typedef struct {
  size_t cells;
  double *counts; /* (owned), as all the rest */
  double *room;
  SciWaves waves;
} Drawn;

static bool
draw_sample (Drawn *drawn, const SciActivity *of, uint64_t seed, uint64_t stream)
{
  drawn->cells = sci_fourier_get_length (of->grid);
  drawn->counts = malloc (3 * drawn->cells * sizeof *drawn->counts);
  if (drawn->counts == NULL || !sci_waves_init (&drawn->waves, drawn->cells))
    return false;
  drawn->room = drawn->counts + drawn->cells;
  sci_activity_draw (of, seed, stream, drawn->counts);
  for (size_t i = 0; i < drawn->cells; i++)
    drawn->room[i] = drawn->counts[i];
  sci_activity_smooth_draw (of, drawn->room, drawn->room + drawn->cells, &drawn->waves);
  return true;
}

static void
clear_sample (Drawn *drawn)
{
  free (drawn->counts);
  sci_waves_clear (&drawn->waves);
}

/* As compare_records(), of records in the middle of cells. */
static double
compare_cells (const Drawn *drawn, size_t n, const double *own, const double *other, size_t length)
{
  size_t step = length / drawn->cells;
  double sum = 0;

  for (size_t i = 0; i < drawn->cells; i++)
    if (drawn->counts[i] > 0)
      sum += drawn->counts[i] * compare (own[i * step], other[i * step]);
  return sum / (double) n;
}

double
sci_overlap_resample (const SciActivity *a,
                      const SciActivity *b,
                      SciOverlapEstimator estimator,
                      uint64_t seed,
                      uint64_t resample)
{
  Drawn x = { 0 }, y = { 0 };
  double overlap = NAN, *f = NULL;

  if (a->grid != NULL && b->grid != NULL && draw_sample (&x, a, seed, 2 * resample) &&
      draw_sample (&y, b, seed, 2 * resample + 1))
    {
      const SciFourier *fourier = x.cells > y.cells ? a->grid : b->grid;
      size_t length = sci_fourier_get_length (fourier);

      f = draw_both (&x.waves, &y.waves, fourier);
      if (f != NULL && estimator == SCI_OVERLAP_D1)
        overlap = find_common (f, f + length, length);
      else if (f != NULL)
        overlap =
          (compare_cells (&x, a->n, f, f + length, length) + compare_cells (&y, b->n, f + length, f, length)) / 2;
    }
  free (f);
  clear_sample (&x);
  clear_sample (&y);
  return overlap;
}

static double
logit (double share)
{
  double inside = fmin (fmax (share, LEAST_SHARE), 1 - LEAST_SHARE);

  return log (inside / (1 - inside));
}

static double
unlogit (double x)
{
  return 1 / (1 + exp (-x));
}

SciInterval
sci_overlap_interval (double overlap, double *resampled, size_t n, double level)
{
  SciInterval self = { overlap, NAN, NAN };
  double shift = logit (overlap), low, high;

  if (n == 0)
    return self;
  for (size_t i = 0; i < n; i++)
    shift -= logit (resampled[i]) / (double) n;
  sci_percentiles (resampled, n, level, &low, &high);
  self.lower = fmax (fmin (unlogit (logit (low) + shift), 2 * overlap - high), 0);
  self.upper = fmin (fmax (unlogit (logit (high) + shift), 2 * overlap - low), 1);
  return self;
}

SciInterval
sci_overlap_normal (const SciActivity *a, const SciActivity *b, SciOverlapEstimator estimator, double level)
{
  SciInterval self = { sci_overlap (a, b, estimator), NAN, NAN };
  SciFourier *fourier = sci_fourier_new (SCI_ACTIVITY_FINE);
  double *f = fourier != NULL ? draw_both (&a->waves, &b->waves, fourier) : NULL;

  if (f != NULL)
    {
      const double *g = f + SCI_ACTIVITY_FINE;
      double p = 0, q = 0, reach;

      for (size_t i = 0; i < SCI_ACTIVITY_FINE; i++)
        if (f[i] < g[i])
          p += f[i] / SCI_ACTIVITY_FINE;
        else
          q += g[i] / SCI_ACTIVITY_FINE;
      reach = -sci_normal_quantile ((1 - level) / 2) *
              sqrt (fmax (p * (1 - p), 0) / (double) a->n + fmax (q * (1 - q), 0) / (double) b->n);
      self.lower = fmax (self.estimate - reach, 0);
      self.upper = fmin (self.estimate + reach, 1);
    }
  free (f);
  sci_fourier_free (fourier);
  return self;
}
