#include "sci-blobs.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdlib.h>

#include "sci-background.h"

#define N_SIDES 6
#define REFERENCE_WIDTH 160.0

/* Sums of everything above and left of a place, and room for the rectangles'. */
typedef struct {
  int width, height;
  int first_row, end_row;
  double *running;
  float *sums;
} Table;

static void
fill_table (Table *table, const float *excess)
{
  size_t stride = (size_t) table->width + 1;

  for (size_t x = 0; x < stride; x++)
    table->running[x] = 0;
  for (int y = 0; y < table->height; y++)
    {
      double *row = table->running + ((size_t) y + 1) * stride, sum = 0;
      bool counts = y >= table->first_row && y < table->end_row;

      row[0] = 0;
      for (int x = 0; x < table->width; x++)
        {
          sum += counts ? (double) excess[y * table->width + x] : 0;
          row[x + 1] = row[x + 1 - (ptrdiff_t) stride] + sum;
        }
    }
}

static double
sum_rectangle (const Table *table, int x, int y, int wide, int high)
{
  const double *top = table->running + (size_t) y * ((size_t) table->width + 1) + (size_t) x;
  const double *foot = top + (size_t) high * ((size_t) table->width + 1);

  return foot[wide] - foot[0] - top[wide] + top[0];
}

static double
measure_size (Table *table, int wide, int high)
{
  int step = wide / 5 > 1 ? wide / 5 : 1, n = 0;
  double most = 0, scale = REFERENCE_WIDTH / table->width;

  for (int y = table->first_row; y + high <= table->end_row; y += step)
    for (int x = 0; x + wide <= table->width; x += step)
      {
        double sum = sum_rectangle (table, x, y, wide, high);

        table->sums[n++] = (float) sum;
        most = fmax (most, sum);
      }
  if (n == 0)
    return 0;
  return (most - sci_median (table->sums, n)) * scale / sqrt ((double) wide * high);
}

double
sci_blobs_measure (const float *excess, int width, int height)
{
  static const double sides[N_SIDES] = { 0.0375, 0.05625, 0.0875, 0.125, 0.1875, 0.275 };
  size_t n = (size_t) width * (size_t) height;
  Table table = { .width = width, .height = height, .first_row = (int) (height * SCI_HEAD_SHARE) };
  double most = 0;

  table.end_row = height - (int) (height * SCI_FOOT_SHARE);
  table.running = malloc ((n + (size_t) width + (size_t) height + 1) * sizeof *table.running);
  table.sums = malloc (n * sizeof *table.sums);
  if (table.running == NULL || table.sums == NULL)
    most = NAN;
  else
    {
      fill_table (&table, excess);
      for (int i = 0; i < N_SIDES; i++)
        {
          int side = (int) lround (sides[i] * width);

          most = fmax (most, measure_size (&table, side, side));
          most = fmax (most, measure_size (&table, (int) lround (1.4 * side), (int) lround (0.7 * side)));
        }
    }
  free (table.running);
  free (table.sums);
  return most;
}
