#include "sci-activity-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "sci-bessel.h"
#include "sci-circular.h"

#define PI (SCI_TURN / 2)

/* What is left of a wave that is no longer taken along. */
#define LEAST_WAVE 1e-12

/* No rule gives a kernel wide enough to ask for Bessel functions beyond their range. */
#define MOST_KAPPA 2e4

#define MOST_MOMENTS 3

/* Points for each wave on which the top of a curve is looked for, and steps from there. */
#define TOP_FINENESS 4
#define TOP_LEAST 256
#define TOP_STEPS 8

bool
sci_waves_init (SciWaves *self, size_t n)
{
  self->n = n;
  self->re = calloc (2 * (n + 1), sizeof (double));
  self->im = self->re != NULL ? self->re + n + 1 : NULL;
  return self->re != NULL;
}

void
sci_waves_clear (SciWaves *self)
{
  free (self->re);
  *self = (SciWaves) { 0 };
}

/* A_k falls nearly as exp (-k^2 / 2 nu), for narrow kernels; for wide ones, where it falls
 * slower, there are some more to look at. */
size_t
sci_activity_count_waves (double nu)
{
  size_t most = (size_t) ceil (sqrt (-2 * log (LEAST_WAVE) * nu)) + 12, n = 1;
  double ratios[2048];

  if (most > sizeof ratios / sizeof *ratios - 1)
    most = sizeof ratios / sizeof *ratios - 1;
  sci_bessel_ratios (nu, (int) most, ratios);
  while (n < most && ratios[n + 1] >= LEAST_WAVE)
    n++;
  return n;
}

double
sci_activity_rule (size_t n, const double lengths[3])
{
  double kappa = 0, i0, nu;

  for (int j = 1; j <= MOST_MOMENTS; j++)
    kappa = fmax (kappa, sci_von_mises_kappa (lengths[j - 1], j));
  if (kappa > MOST_KAPPA)
    return SCI_ACTIVITY_NU_MOST;
  i0 = sci_bessel_i_scaled (0, kappa);
  nu = pow (3 * (double) n * kappa * kappa * sci_bessel_i_scaled (2, 2 * kappa) / (4 * sqrt (PI) * i0 * i0), 0.4);
  return fmin (nu, SCI_ACTIVITY_NU_MOST);
}

double
sci_activity_bandwidth (const double *hours, size_t n)
{
  double lengths[MOST_MOMENTS];

  for (int j = 1; j <= MOST_MOMENTS; j++)
    {
      lengths[j - 1] = sci_circular_moment (hours, n, j);
      if (isnan (lengths[j - 1]))
        return NAN;
    }
  return sci_activity_rule (n, lengths);
}

void
sci_activity_kernels (const double *hours, size_t n, double nu, const double *at, size_t n_at, double *density)
{
  double top = 1 / (SCI_DAY_HOURS * sci_bessel_i_scaled (0, nu) * (double) n);

  for (size_t i = 0; i < n_at; i++)
    {
      double sum = 0;

      for (size_t k = 0; k < n; k++)
        sum += exp (nu * (cos (SCI_TURN / SCI_DAY_HOURS * (at[i] - hours[k])) - 1));
      density[i] = top * sum;
    }
}

void
sci_activity_smooth (const SciWaves *moments, double nu, SciWaves *waves)
{
  sci_bessel_ratios (nu, (int) waves->n, waves->re);
  for (size_t k = 0; k <= waves->n; k++)
    {
      double ratio = waves->re[k];

      waves->re[k] = ratio * moments->re[k];
      waves->im[k] = ratio * moments->im[k];
    }
}

/* Each record's waves by turning the one before on. */
static void
sum_records (const double *hours, size_t n, SciWaves *moments)
{
  for (size_t i = 0; i < n; i++)
    {
      double angle = SCI_TURN / SCI_DAY_HOURS * hours[i], c = cos (angle), s = sin (angle), re = 1, im = 0;

      for (size_t k = 0; k <= moments->n; k++)
        {
          double turned = re * c - im * s;

          moments->re[k] += re;
          moments->im[k] += im;
          im = re * s + im * c;
          re = turned;
        }
    }
  for (size_t k = 0; k <= moments->n; k++)
    {
      moments->re[k] /= (double) n;
      moments->im[k] /= (double) n;
    }
}

/* Records are put on the four points of a fine grid around them. */
static void
spread_records (const SciActivity *self, double *grid)
{
  for (size_t i = 0; i < self->n; i++)
    {
      double place = self->hours[i] * (SCI_ACTIVITY_FINE / SCI_DAY_HOURS), weights[4];
      size_t cell = (size_t) place;

      sci_cubic_weights (place - (double) cell, weights);
      for (size_t k = 0; k < 4; k++)
        grid[(cell + SCI_ACTIVITY_FINE - 1 + k) % SCI_ACTIVITY_FINE] += weights[k] / (double) self->n;
    }
}

static bool
take_fine_moments (SciActivity *self)
{
  SciFourier *fourier = sci_fourier_new (SCI_ACTIVITY_FINE);
  SciWaves room = { 0 };
  bool done = fourier != NULL && sci_waves_init (&room, SCI_ACTIVITY_FINE);

  if (done)
    {
      spread_records (self, room.re);
      sci_fourier_transform (fourier, room.re, room.im);
      if (isnan (self->nu))
        self->nu = sci_activity_rule (self->n, (double[]) { fmin (hypot (room.re[1], room.im[1]), 1),
                                                            fmin (hypot (room.re[2], room.im[2]), 1),
                                                            fmin (hypot (room.re[3], room.im[3]), 1) });
      done = sci_waves_init (&self->moments, sci_activity_count_waves (2 * self->nu));
    }
  if (done)
    {
      memcpy (self->moments.re, room.re, (self->moments.n + 1) * sizeof (double));
      memcpy (self->moments.im, room.im, (self->moments.n + 1) * sizeof (double));
    }
  sci_waves_clear (&room);
  sci_fourier_free (fourier);
  return done;
}

static bool
take_moments (SciActivity *self)
{
  if (self->n > SCI_ACTIVITY_RESAMPLED_MOST)
    return take_fine_moments (self);
  if (isnan (self->nu))
    self->nu = sci_activity_bandwidth (self->hours, self->n);
  if (!sci_waves_init (&self->moments, sci_activity_count_waves (2 * self->nu)))
    return false;
  sum_records (self->hours, self->n, &self->moments);
  return true;
}

static bool
take_hours (SciActivity *self, const double *hours, size_t n)
{
  self->n = n;
  self->hours = malloc (n * sizeof *self->hours);
  for (size_t i = 0; i < n && self->hours != NULL; i++)
    {
      self->hours[i] = sci_hour_wrap (hours[i]);
      if (isnan (self->hours[i]))
        return false;
    }
  if (self->hours != NULL)
    sci_hours_sort (self->hours, n);
  return self->hours != NULL;
}

SciActivity *
sci_activity_new (const double *hours, size_t n, double nu)
{
  SciActivity *self = n > 0 && !(nu < 0 || nu > SCI_ACTIVITY_NU_MOST) ? calloc (1, sizeof *self) : NULL;

  if (self == NULL)
    return NULL;
  self->nu = nu;
  if (take_hours (self, hours, n) && take_moments (self) &&
      sci_waves_init (&self->waves, sci_activity_count_waves (self->nu)))
    {
      sci_activity_smooth (&self->moments, self->nu, &self->waves);
      if (n > SCI_ACTIVITY_RESAMPLED_MOST || sci_activity_prepare (self))
        return self;
    }
  sci_activity_free (self);
  return NULL;
}

void
sci_activity_free (SciActivity *self)
{
  if (self == NULL)
    return;
  free (self->hours);
  sci_waves_clear (&self->moments);
  sci_waves_clear (&self->waves);
  sci_fourier_free (self->grid);
  free (self->share);
  free (self->other);
  free (self);
}

size_t
sci_activity_get_n (const SciActivity *self)
{
  return self->n;
}

double
sci_activity_get_bandwidth (const SciActivity *self)
{
  return self->nu;
}

/* The curve at an angle and its first two slopes there, times 2 pi. */
static double
read_waves (const SciWaves *waves, double angle, double *slope, double *bend)
{
  double c = cos (angle), s = sin (angle), re = 1, im = 0, value = 1;

  *slope = *bend = 0;
  for (size_t k = 1; k <= waves->n; k++)
    {
      double turned = re * c - im * s, along, across;

      im = re * s + im * c;
      re = turned;
      along = 2 * (waves->re[k] * re + waves->im[k] * im);
      across = 2 * (waves->im[k] * re - waves->re[k] * im);
      value += along;
      *slope += (double) k * across;
      *bend -= (double) (k * k) * along;
    }
  return value;
}

void
sci_activity_curve (const SciActivity *self, size_t points, double *density)
{
  for (size_t i = 0; i < points; i++)
    {
      double slope, bend, value = read_waves (&self->waves, SCI_TURN * (double) i / (double) points, &slope, &bend);

      density[i] = fmax (value, 0) / SCI_DAY_HOURS;
    }
}

/* The place of the highest of some points; -1 where all are alike. */
static int
find_highest (const SciWaves *waves, int points)
{
  double best = -INFINITY, least = INFINITY, slope, bend;
  int place = -1;

  for (int i = 0; i < points; i++)
    {
      double value = read_waves (waves, SCI_TURN * i / points, &slope, &bend);

      least = fmin (least, value);
      if (value <= best)
        continue;
      best = value;
      place = i;
    }
  return best - least > 1e-9 ? place : -1;
}

SciActivityPeak
sci_activity_peak (const SciActivity *self)
{
  int points = (int) fmax (TOP_FINENESS * (double) self->waves.n, TOP_LEAST);
  int place = find_highest (&self->waves, points);
  double reach = SCI_TURN / points, angle = reach * place, slope, bend, value;

  if (place < 0)
    return (SciActivityPeak) { NAN, 1 / SCI_DAY_HOURS, 1 };
  value = read_waves (&self->waves, angle, &slope, &bend);
  for (int i = 0; i < TOP_STEPS && bend < 0; i++)
    {
      double step = fmin (fmax (-slope / bend, -reach), reach);
      double next_slope, next_bend, next = read_waves (&self->waves, angle + step, &next_slope, &next_bend);

      if (next < value)
        break;
      angle += step;
      value = next;
      slope = next_slope;
      bend = next_bend;
    }
  return (SciActivityPeak) { sci_hour_wrap (angle * SCI_DAY_HOURS / SCI_TURN), value / SCI_DAY_HOURS, 1 / value };
}
