/* What curves of the day cost, and how often their bands and intervals hold the truth. Run by hand:
 *
 *   cc -O2 -o bench-activity tests/bench/bench-activity.c -Isrc/science BUILD/src/science/libtapetum-science.a -lm
 *   ./bench-activity time FILE POINTS RESAMPLES   hours, one a line: seconds for the curve and its band, in one thread
 *   ./bench-activity large                        the same by the standard error, for more and more records
 *   ./bench-activity band [REPEATS]               of 100 hours, at how many the band holds the truth
 *   ./bench-activity overlap [REPEATS]            of 100 intervals, how many hold the overlap
 *
 * bench-activity.py compares the first with R and numpy. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "sci-activity.h"
#include "sci-bessel.h"
#include "sci-overlap.h"
#include "sci-random.h"

#define LEVEL 0.95
#define MOST_RECORDS 200000

static double
read_seconds (void)
{
  struct timespec now;

  clock_gettime (CLOCK_MONOTONIC, &now);
  return (double) now.tv_sec + 1e-9 * (double) now.tv_nsec;
}

/* The shapes of day that truth is known of: mixtures of von Mises densities. */
typedef struct {
  const char *name;
  int n;
  double weight[2], hour[2], kappa[2];
} Day;

static const Day days[] = {
  { "one peak", 1, { 1 }, { 12 }, { 2 } },
  { "two peaks", 2, { 0.5, 0.5 }, { 6, 18 }, { 8, 8 } },
  { "level base", 2, { 0.5, 0.5 }, { 0, 20 }, { 0, 3 } },
};

#define N_DAYS (sizeof days / sizeof *days)
#define CELLS 4096

static double
find_truth (const Day *day, double hour)
{
  double sum = 0;

  for (int i = 0; i < day->n; i++)
    sum += day->weight[i] * exp (day->kappa[i] * (cos (2 * M_PI / 24 * (hour - day->hour[i])) - 1)) /
           (24 * sci_bessel_i_scaled (0, day->kappa[i]));
  return sum;
}

/* By the inverse of the distribution function, in small cells. */
static void
draw_hours (const Day *day, uint64_t seed, double shift, double *hours, size_t n)
{
  static double sums[N_DAYS][CELLS + 1];
  double *sum = sums[day - days];

  for (int i = 0; i < CELLS && sum[CELLS] == 0; i++)
    sum[i + 1] = sum[i] + find_truth (day, 24 * (i + 0.5) / CELLS);
  for (size_t i = 0; i < n; i++)
    {
      double u = sci_random_uniform (seed, 77, i) * sum[CELLS];
      int low = 0, high = CELLS;

      while (high - low > 1)
        {
          int middle = (low + high) / 2;

          if (sum[middle] <= u)
            low = middle;
          else
            high = middle;
        }
      hours[i] = 24.0 * (low + (u - sum[low]) / (sum[low + 1] - sum[low])) / CELLS + shift;
    }
}

/* Curve, band and peak, as the job makes them: seconds, the best of three. */
static double
time_curve (const double *hours, size_t n, size_t points, size_t boot)
{
  double *values = malloc ((boot * points + 3 * points + boot) * sizeof *values), *column = values + boot * points;
  double *density = column + boot, *low = density + points, *high = low + points, best = INFINITY;

  for (int turn = 0; turn < 3; turn++)
    {
      double before = read_seconds (), after;
      SciActivity *activity = sci_activity_new (hours, n, NAN);

      sci_activity_curve (activity, points, density);
      sci_activity_peak (activity);
      for (size_t b = 0; b < boot; b++)
        sci_activity_resample (activity, 1, b, points, values + b * points);
      for (size_t i = 0; i < points && boot > 0; i++)
        {
          for (size_t b = 0; b < boot; b++)
            column[b] = values[b * points + i];
          sci_percentiles (column, boot, LEVEL, &low[i], &high[i]);
        }
      if (boot == 0)
        sci_activity_band (activity, points, LEVEL, low, high);
      sci_activity_free (activity);
      after = read_seconds ();
      best = fmin (best, after - before);
    }
  free (values);
  return best;
}

static int
run_time (const char *path, size_t points, size_t boot)
{
  double *hours = malloc (MOST_RECORDS * sizeof *hours);
  FILE *file = fopen (path, "r");
  size_t n = 0;

  if (file == NULL)
    return 1;
  while (n < MOST_RECORDS && fscanf (file, "%lf", &hours[n]) == 1)
    n++;
  fclose (file);
  printf ("%zu %.6f\n", n, time_curve (hours, n, points, boot));
  free (hours);
  return 0;
}

static int
run_large (void)
{
  static const size_t sizes[] = { 1000, 5000, 10000, 20000, 50000, 100000, 200000 };
  double *hours = malloc (MOST_RECORDS * sizeof *hours);

  for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++)
    {
      draw_hours (&days[1], i, 0, hours, sizes[i]);
      printf ("%7zu records: curve and band by the standard error %7.2f ms\n", sizes[i],
              1e3 * time_curve (hours, sizes[i], 288, 0));
    }
  free (hours);
  return 0;
}

#define POINTS 96
#define BOOT 400

/* How a sample fares: shares of the hours at which the two bands hold the truth, and of its curve in the right place. */
static void
try_band (const Day *day, size_t n, uint64_t seed, double *held_resampled, double *held_exact, double *right)
{
  static double values[BOOT * POINTS];
  double *hours = malloc (n * sizeof *hours), curve[POINTS], low[POINTS], high[POINTS], column[BOOT];
  SciActivity *activity;

  draw_hours (day, seed, 0, hours, n);
  activity = sci_activity_new (hours, n, NAN);
  sci_activity_curve (activity, POINTS, curve);
  sci_activity_band (activity, POINTS, LEVEL, low, high);
  for (size_t b = 0; b < BOOT && n <= SCI_ACTIVITY_RESAMPLED_MOST; b++)
    sci_activity_resample (activity, seed, b, POINTS, values + b * POINTS);
  for (int i = 0; i < POINTS; i++)
    {
      double truth = find_truth (day, 24.0 * i / POINTS), from, to;

      for (int b = 0; b < BOOT; b++)
        column[b] = values[b * POINTS + i];
      sci_percentiles (column, BOOT, LEVEL, &from, &to);
      *held_resampled += (from <= truth && truth <= to) / (double) POINTS;
      *held_exact += (low[i] <= truth && truth <= high[i]) / (double) POINTS;
      *right += fmin (curve[i], truth) * 24 / POINTS;
    }
  sci_activity_free (activity);
  free (hours);
}

static int
run_band (int repeats)
{
  static const size_t sizes[] = { 10, 15, 20, 30, 50, 100, 300, 1000, 6000 };

  for (size_t d = 0; d < N_DAYS; d++)
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++)
      {
        double resampled = 0, exact = 0, right = 0;

        for (int r = 0; r < repeats; r++)
          try_band (&days[d], sizes[i], (uint64_t) r, &resampled, &exact, &right);
        printf ("%-10s %5zu records: of 100 hours the band holds ", days[d].name, sizes[i]);
        if (sizes[i] <= SCI_ACTIVITY_RESAMPLED_MOST)
          printf ("%5.1f by resampling, ", 100 * resampled / repeats);
        printf ("%5.1f by the standard error; %4.1f %% of the curve in its place\n", 100 * exact / repeats,
                100 * right / repeats);
      }
  return 0;
}

static int
holds (SciInterval interval, double truth)
{
  return interval.lower <= truth && truth <= interval.upper;
}

static void
try_overlap (const Day *const pair[2], double shift, size_t n, uint64_t seed, double truth, int held[3])
{
  double *hours = malloc (2 * n * sizeof *hours), drawn[BOOT], overlap;
  SciOverlapEstimator estimator = sci_overlap_choose (n, n);
  SciInterval plain = { 0 };
  SciActivity *a, *b;

  draw_hours (pair[0], 2 * seed, 0, hours, n);
  draw_hours (pair[1], 2 * seed + 1, shift, hours + n, n);
  a = sci_activity_new (hours, n, NAN);
  b = sci_activity_new (hours + n, n, NAN);
  overlap = sci_overlap (a, b, estimator);
  for (int i = 0; i < BOOT; i++)
    drawn[i] = sci_overlap_resample (a, b, estimator, seed, (uint64_t) i);
  sci_percentiles (drawn, BOOT, LEVEL, &plain.lower, &plain.upper);
  held[0] += holds (sci_overlap_interval (overlap, drawn, BOOT, LEVEL), truth);
  held[1] += holds (sci_overlap_normal (a, b, estimator, LEVEL), truth);
  held[2] += holds (plain, truth);
  sci_activity_free (a);
  sci_activity_free (b);
  free (hours);
}

static int
run_overlap (int repeats)
{
  static const struct {
    int a, b;
    double shift;
  } pairs[] = { { 0, 1, 0 }, { 0, 0, 9 }, { 2, 1, 0 }, { 0, 0, 2 }, { 0, 0, 0.5 }, { 0, 0, 0 }, { 1, 1, 0 } };
  static const size_t sizes[] = { 15, 20, 30, 60, 300, 1000 };

  for (size_t p = 0; p < sizeof pairs / sizeof *pairs; p++)
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++)
      {
        const Day *const pair[] = { &days[pairs[p].a], &days[pairs[p].b] };
        double truth = 0;
        int held[3] = { 0 };

        for (int k = 0; k < CELLS; k++)
          truth += fmin (find_truth (pair[0], 24.0 * k / CELLS), find_truth (pair[1], 24.0 * k / CELLS - pairs[p].shift)) *
                   24 / CELLS;
        for (int r = 0; r < repeats; r++)
          try_overlap (pair, pairs[p].shift, sizes[i], (uint64_t) r, truth, held);
        printf ("overlap %.3f, %4zu records each: of 100 intervals %5.1f hold it by resampling, %5.1f by the standard "
                "error; percentiles would in %5.1f\n",
                truth, sizes[i], 100.0 * held[0] / repeats, 100.0 * held[1] / repeats, 100.0 * held[2] / repeats);
      }
  return 0;
}

int
main (int argc, char *argv[])
{
  const char *what = argc > 1 ? argv[1] : "";
  int repeats = argc > 2 ? atoi (argv[2]) : 200;

  if (strcmp (what, "time") == 0 && argc == 5)
    return run_time (argv[2], (size_t) atol (argv[3]), (size_t) atol (argv[4]));
  if (strcmp (what, "large") == 0)
    return run_large ();
  if (strcmp (what, "band") == 0)
    return run_band (repeats);
  if (strcmp (what, "overlap") == 0)
    return run_overlap (repeats);
  fprintf (stderr, "bench-activity time FILE POINTS RESAMPLES | large | band [REPEATS] | overlap [REPEATS]\n");
  return 2;
}
