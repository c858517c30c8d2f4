#include "sci-fourier.h"

#include <math.h>
#include <stdlib.h>

#define TURN 6.283185307179586477
#define LONGEST ((size_t) 1 << 24)

struct SciFourier
{
  size_t n;
  double *cosines; /* of the first half turn */
  double *sines;
};

SciFourier *
sci_fourier_new (size_t n)
{
  SciFourier *self;

  if (n < 2 || n > LONGEST || (n & (n - 1)) != 0)
    return NULL;
  self = malloc (sizeof *self);
  if (self == NULL)
    return NULL;
  self->n = n;
  self->cosines = malloc (n * sizeof (double));
  if (self->cosines == NULL)
    {
      free (self);
      return NULL;
    }
  self->sines = self->cosines + n / 2;
  for (size_t i = 0; i < n / 2; i++)
    {
      self->cosines[i] = cos (TURN * (double) i / (double) n);
      self->sines[i] = sin (TURN * (double) i / (double) n);
    }
  return self;
}

void
sci_fourier_free (SciFourier *self)
{
  if (self == NULL)
    return;
  free (self->cosines);
  free (self);
}

size_t
sci_fourier_get_length (const SciFourier *self)
{
  return self->n;
}

static void
swap (double *values, size_t a, size_t b)
{
  double value = values[a];

  values[a] = values[b];
  values[b] = value;
}

/* Each to the place whose number has its bits backwards. */
static void
reverse_bits (size_t n, double *re, double *im)
{
  for (size_t i = 1, k = 0; i < n; i++)
    {
      size_t bit = n >> 1;

      for (; k & bit; bit >>= 1)
        k ^= bit;
      k ^= bit;
      if (i < k)
        {
          swap (re, i, k);
          swap (im, i, k);
        }
    }
}

/* Joins two transforms of @half points each, side by side, to one. */
static void
join_halves (const SciFourier *self, double *restrict re, double *restrict im, size_t half)
{
  size_t step = self->n / (2 * half);

  for (size_t i = 0; i < half; i++)
    {
      double c = self->cosines[i * step], s = self->sines[i * step];
      double x = c * re[i + half] - s * im[i + half], y = s * re[i + half] + c * im[i + half];

      re[i + half] = re[i] - x;
      im[i + half] = im[i] - y;
      re[i] += x;
      im[i] += y;
    }
}

void
sci_fourier_transform (const SciFourier *self, double *re, double *im)
{
  reverse_bits (self->n, re, im);
  for (size_t half = 1; half < self->n; half *= 2)
    for (size_t i = 0; i < self->n; i += 2 * half)
      join_halves (self, re + i, im + i, half);
}

void
sci_cubic_weights (double t, double weights[4])
{
  weights[0] = -t * (t - 1) * (t - 2) / 6;
  weights[1] = (t + 1) * (t - 1) * (t - 2) / 2;
  weights[2] = -(t + 1) * t * (t - 2) / 2;
  weights[3] = (t + 1) * t * (t - 1) / 6;
}
