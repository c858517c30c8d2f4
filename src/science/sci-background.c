#include "sci-background.h"

#include <math.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

/* Gain and six terms of the surface. */
#define N_TERMS 7
#define ROUNDS 6
#define TUKEY 4.685
#define MAD_TO_DEVIATION 1.4826

static inline int
clamp_to (int value, int most)
{
  return value < 0 ? 0 : value > most ? most : value;
}

void
sci_picture_smooth (const unsigned char *grey, int width, int height, float *smooth)
{
  for (int y = 0; y < height; y++)
    {
      const unsigned char *above = grey + clamp_to (y - 1, height - 1) * width, *here = grey + y * width;
      const unsigned char *below = grey + clamp_to (y + 1, height - 1) * width;

      for (int x = 0; x < width; x++)
        {
          int left = clamp_to (x - 1, width - 1), right = clamp_to (x + 1, width - 1);
          int sum = above[left] + above[right] + below[left] + below[right] + 4 * here[x] +
                    2 * (above[x] + below[x] + here[left] + here[right]);

          smooth[y * width + x] = (float) sum / 16;
        }
    }
}

void
sci_picture_blocks (const unsigned char *grey, int width, int height, float *blocks)
{
  int columns = width / SCI_BLOCK, rows = height / SCI_BLOCK;

  for (int i = 0; i < columns * rows; i++)
    {
      const unsigned char *corner = grey + (i / columns) * SCI_BLOCK * width + (i % columns) * SCI_BLOCK;
      int sum = 0;

      for (int y = 0; y < SCI_BLOCK; y++)
        for (int x = 0; x < SCI_BLOCK; x++)
          sum += corner[y * width + x];
      blocks[i] = (float) sum / (SCI_BLOCK * SCI_BLOCK);
    }
}

/* Hoare's selection: the element that belongs at @rank, smaller ones before it. */
static float
select_rank (float *values, int n, int rank)
{
  int low = 0, high = n - 1;

  while (low < high)
    {
      float pivot = values[low + (high - low) / 2];
      int i = low, j = high;

      while (i <= j)
        {
          while (values[i] < pivot)
            i++;
          while (values[j] > pivot)
            j--;
          if (i <= j)
            {
              float swap = values[i];
              values[i++] = values[j];
              values[j--] = swap;
            }
        }
      if (rank <= j)
        high = j;
      else if (rank >= i)
        low = i;
      else
        break;
    }
  return values[rank];
}

double
sci_median (float *values, int n)
{
  return n > 0 ? (double) select_rank (values, n, n / 2) : NAN;
}

static void
fill_terms (double level, double u, double v, double *terms)
{
  terms[0] = level;
  terms[1] = 1;
  terms[2] = u;
  terms[3] = v;
  terms[4] = u * u;
  terms[5] = u * v;
  terms[6] = v * v;
}

static double
place_of (int i, int n)
{
  return n > 1 ? 2.0 * i / (n - 1) - 1 : 0;
}

/* Cholesky's way through the normal equations; false when they are singular. */
static bool
solve (double matrix[N_TERMS][N_TERMS], double *right)
{
  for (int i = 0; i < N_TERMS; i++)
    for (int j = 0; j <= i; j++)
      {
        double sum = matrix[i][j];

        for (int k = 0; k < j; k++)
          sum -= matrix[i][k] * matrix[j][k];
        if (i == j && !(sum > 1e-12))
          return false;
        matrix[i][j] = i == j ? sqrt (sum) : sum / matrix[j][j];
      }
  for (int i = 0; i < N_TERMS; i++)
    {
      for (int k = 0; k < i; k++)
        right[i] -= matrix[i][k] * right[k];
      right[i] /= matrix[i][i];
    }
  for (int i = N_TERMS - 1; i >= 0; i--)
    {
      for (int k = i + 1; k < N_TERMS; k++)
        right[i] -= matrix[k][i] * right[k];
      right[i] /= matrix[i][i];
    }
  return true;
}

static double
weigh (double residual, double scale)
{
  double part = residual / (TUKEY * scale);

  return fabs (part) < 1 ? (1 - part * part) * (1 - part * part) : 0;
}

/* One round; @residuals of the round before, or NULL to begin with. */
static bool
fit_once (const float *from, const float *to, int columns, int rows, const float *residuals, double scale, double *terms_out)
{
  double matrix[N_TERMS][N_TERMS] = { 0 }, right[N_TERMS] = { 0 }, terms[N_TERMS];

  for (int i = 0; i < columns * rows; i++)
    {
      double weight = residuals != NULL ? weigh (residuals[i], scale) : 1;

      if (weight <= 0)
        continue;
      fill_terms (from[i], place_of (i % columns, columns), place_of (i / columns, rows), terms);
      for (int a = 0; a < N_TERMS; a++)
        {
          for (int b = 0; b <= a; b++)
            matrix[a][b] += weight * terms[a] * terms[b];
          right[a] += weight * terms[a] * to[i];
        }
    }
  /* A picture without any contrast has a gain all the same. */
  matrix[0][0] += 1;
  right[0] += 1;
  for (int a = 1; a < N_TERMS; a++)
    matrix[a][a] += 1e-3;
  if (!solve (matrix, right))
    return false;
  memcpy (terms_out, right, sizeof right);
  return true;
}

static double
take_residuals (const float *from, const float *to, int columns, int rows, const double *found, float *residuals, float *sizes)
{
  double terms[N_TERMS];

  for (int i = 0; i < columns * rows; i++)
    {
      double level = 0;

      fill_terms (from[i], place_of (i % columns, columns), place_of (i / columns, rows), terms);
      for (int a = 0; a < N_TERMS; a++)
        level += found[a] * terms[a];
      residuals[i] = (float) (to[i] - level);
      sizes[i] = fabsf (residuals[i]);
    }
  return MAD_TO_DEVIATION * sci_median (sizes, columns * rows);
}

bool
sci_light_fit (const float *from, const float *to, int columns, int rows, SciLight *light)
{
  size_t n = (size_t) columns * (size_t) rows;
  float *residuals = malloc (2 * n * sizeof *residuals);
  double found[N_TERMS] = { 0 };
  bool good = residuals != NULL;

  light->misfit = 0;
  for (int round = 0; good && round <= ROUNDS; round++)
    {
      /* Below half a grey level all residuals are rounding. */
      good = fit_once (from, to, columns, rows, round > 0 ? residuals : NULL, fmax (light->misfit, 0.5), found);
      light->misfit = take_residuals (from, to, columns, rows, found, residuals, residuals + n);
    }
  free (residuals);
  light->gain = found[0];
  memcpy (light->surface, found + 1, sizeof light->surface);
  return good && light->gain > 0.25 && light->gain < 4;
}

void
sci_light_apply (const SciLight *light, int width, int height, float *smooth)
{
  const double *s = light->surface;

  for (int y = 0; y < height; y++)
    {
      double v = place_of (y, height), constant = s[0] + s[2] * v + s[5] * v * v, slope = s[1] + s[4] * v;

      for (int x = 0; x < width; x++)
        {
          double u = place_of (x, width);

          smooth[y * width + x] = (float) (light->gain * smooth[y * width + x] + constant + slope * u + s[3] * u * u);
        }
    }
}

void
sci_background_median (const float *const *views, int n, int n_pixels, float *middle, float *spread)
{
  float values[SCI_VIEWS_MOST];

  for (int i = 0; i < n_pixels; i++)
    {
      for (int k = 0; k < n; k++)
        values[k] = views[k][i];
      middle[i] = (float) sci_median (values, n);
      for (int k = 0; k < n; k++)
        values[k] = fabsf (values[k] - middle[i]);
      spread[i] = (float) (MAD_TO_DEVIATION * sci_median (values, n));
    }
}
