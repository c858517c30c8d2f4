/* Shared by the parts of sci-activity. */
#pragma once

#include "sci-activity.h"
#include "sci-fourier.h"

#define SCI_TURN 6.283185307179586477
#define SCI_DAY_HOURS 24.0

/* Grid on which the moments of many records are taken and overlaps read. */
#define SCI_ACTIVITY_FINE 16384

/* Waves of a curve: the moments of its records times those of the kernel, of 0 to @n. */
typedef struct {
  size_t n;
  double *re;
  double *im;
} SciWaves;

struct SciActivity
{
  size_t n;
  double *hours; /* in order */
  double nu;
  SciWaves moments; /* of the records; as many as the widest use needs */
  SciWaves waves;

  /* For resampling, of few records only. */
  SciFourier *grid;
  double *share;  /* of each cell: the chance that it keeps a draw */
  size_t *other;  /* and where the draw goes else */
};

/* Makes what drawing needs. */
bool sci_activity_prepare (SciActivity *self);

/* Waves that a kernel leaves something of. */
size_t sci_activity_count_waves (double nu);

/* Concentration from the lengths of the first three moments. */
double sci_activity_rule (size_t n, const double lengths[3]);

/* The waves @n of a curve smoothed with @nu. */
void sci_activity_smooth (const SciWaves *moments, double nu, SciWaves *waves);

bool sci_waves_init (SciWaves *self, size_t n);
void sci_waves_clear (SciWaves *self);

/* Puts waves, times @scale, into the room of a transform so that its real part (or, @imaginary, its
 * other) comes out as the curve. The room must be empty or hold the other. */
void sci_waves_place (const SciWaves *self, size_t length, bool imaginary, double *re, double *im);

/* Draws as many records as @self has: how many fall into each cell of its grid. */
void sci_activity_draw (const SciActivity *self, uint64_t seed, uint64_t stream, double *counts);

/* The waves of drawn records, smoothed anew; @im is room as long as @counts, which is used up. */
void sci_activity_smooth_draw (const SciActivity *self, double *counts, double *im, SciWaves *waves);

/* A curve on a grid of @length, read off at an hour. */
double sci_activity_read (const double *grid, size_t length, double hour);
