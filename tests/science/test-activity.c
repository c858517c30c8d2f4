#include "sci-activity.h"

#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "hours.h"
#include "sci-bessel.h"
#include "sci-circular.h"
#include "sci-random.h"

#define PER_RADIAN (24 / (2 * G_PI))

/* CHECKS D2: numpy and R circular::bw.nrd.circular (kappa.est = "trigmoments", P = 3). Tolerance as there. */
static void
test_bandwidth (void)
{
  static const struct {
    const char *set;
    double nu;
  } cases[] = {
    { "crepuscular", 28.994923617974525 },       { "nocturnal", 10.125534748712193 },
    { "diurnal", 8.985777170514865 },            { "nearly_uniform", 7.347859792189023 },
    { "tied_quarter_hours", 5.062274912542905 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Hours set;
      SciActivity *activity;

      read_hours (cases[i].set, &set);
      check_rel ("bandwidth", sci_activity_bandwidth (set.hours, set.n), cases[i].nu, 1e-6);
      activity = sci_activity_new (set.hours, set.n, NAN);
      check_rel ("of the curve", sci_activity_get_bandwidth (activity), cases[i].nu, 1e-6);
      g_assert_cmpuint (sci_activity_get_n (activity), ==, set.n);
      sci_activity_free (activity);
    }
}

/* Hours a few minutes around one, so that kappa is about 500: exp (2 kappa) is no number any more.
 * For large kappa the rule is (3 n / 4)^(2/5) kappa, from the asymptotic series of I. */
static void
test_narrow (void)
{
  enum { N = 24 };
  double hours[N], kappa, nu;

  for (int i = 0; i < N; i++)
    hours[i] = 12 + (i - 11.5) * 0.0245;
  kappa = sci_von_mises_kappa (sci_circular_moment (hours, N, 1), 1);
  check_rel ("kappa", kappa, 500, 0.1);
  nu = sci_activity_bandwidth (hours, N);
  check_rel ("bandwidth", nu, pow (0.75 * N, 0.4) * kappa, 0.01);
  for (int i = 0; i < N; i++)
    hours[i] = 12;
  check_abs ("alike", sci_activity_bandwidth (hours, N), SCI_ACTIVITY_NU_MOST, 0);
  check_abs ("one", sci_activity_bandwidth (hours, 1), SCI_ACTIVITY_NU_MOST, 0);
  check_abs ("none", sci_activity_bandwidth (hours, 0), NAN, 0);
}

/* CHECKS D3: numpy and R circular's density. By definition and by waves. Tolerance as there. */
static void
check_density (char **cells)
{
  Hours set;
  double nu = row_real (cells[2]), hour = row_real (cells[3]), want = row_real (cells[4]) / PER_RADIAN;
  double density, curve[240];
  SciActivity *activity;

  read_hours (cells[0], &set);
  sci_activity_kernels (set.hours, set.n, nu, &hour, 1, &density);
  check_rel ("by kernels", density, want, 1e-5);
  activity = sci_activity_new (set.hours, set.n, nu);
  sci_activity_curve (activity, 240, curve);
  check_rel ("by waves", curve[(int) round (hour * 10)], want, 1e-5);
  sci_activity_free (activity);
}

static void
test_density (void)
{
  each_row ("activity_kde.csv", 5, 135, check_density);
}

/* CHECKS D3: top of the curve, by scipy's minimiser. */
static void
test_peak (void)
{
  static const struct {
    const char *set;
    double nu, top, hour, level;
  } cases[] = {
    { "crepuscular", 28.994923617974525, 0.6181334426607108, 18.481528051290763, 0.2574766743032449 },
    { "crepuscular", 0.2187279243371568, 0.16451261257564895, 18.679568252764163, 0.967433077623213 },
    { "nocturnal", 10.125534748712193, 0.37259140766578425, 0.11845043199956608, 0.4271567723178895 },
    { "diurnal", 8.985777170514865, 0.44458867174199695, 12.6281698604473, 0.3579824525629297 },
    { "nearly_uniform", 7.347859792189023, 0.25328848828377154, 8.81400166332834, 0.6283544276737372 },
    { "tied_quarter_hours", 10, 0.3366689004664704, 21.36909224197479, 0.47273431811307415 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Hours set;
      SciActivity *activity;
      SciActivityPeak peak;

      read_hours (cases[i].set, &set);
      activity = sci_activity_new (set.hours, set.n, cases[i].nu);
      peak = sci_activity_peak (activity);
      check_rel ("top", peak.density * PER_RADIAN, cases[i].top, 1e-9);
      check_abs ("hour", peak.hour, cases[i].hour, 1e-4); /* the minimiser's own: a top is flat */
      check_rel ("level", peak.level, cases[i].level, 1e-9);
      sci_activity_free (activity);
    }
}

/* Any day, of three peaks. */
static void
make_hours (double *hours, gsize n, guint64 seed)
{
  for (gsize i = 0; i < n; i++)
    {
      double u = sci_random_uniform (seed, 0, i) + sci_random_uniform (seed, 1, i) + sci_random_uniform (seed, 2, i);

      hours[i] = fmod (u * 4 + 7 * (double) (i % 3), 24);
    }
}

/* Waves against kernels at every bandwidth and number of records, and the whole against 1. */
static void
test_waves (void)
{
  static const struct {
    gsize n;
    double nu, tolerance;
  } cases[] = {
    { 1, 0, 1e-11 }, { 1, 3, 1e-11 }, { 1, 500, 1e-11 }, { 2, SCI_ACTIVITY_NU_MOST, 1e-11 },
    { 30, 0.2, 1e-11 }, { 300, 40, 1e-11 }, { 1000, 500, 1e-11 },
    /* moments off a grid */
    { 1001, 0.2, 1e-7 }, { 1001, 40, 1e-7 }, { 6000, 900, 1e-7 }, { 6000, SCI_ACTIVITY_NU_MOST, 1e-7 },
  };

  for (gsize c = 0; c < G_N_ELEMENTS (cases); c++)
    {
      enum { POINTS = 1000 };
      g_autofree double *hours = g_new (double, cases[c].n);
      double curve[POINTS], kernels[POINTS], at[POINTS], top = 0, sum = 0;
      SciActivity *activity;

      make_hours (hours, cases[c].n, c);
      activity = sci_activity_new (hours, cases[c].n, cases[c].nu);
      for (int i = 0; i < POINTS; i++)
        at[i] = 24.0 * i / POINTS;
      sci_activity_kernels (hours, cases[c].n, cases[c].nu, at, POINTS, kernels);
      sci_activity_curve (activity, POINTS, curve);
      for (int i = 0; i < POINTS; i++)
        {
          top = fmax (top, kernels[i]);
          sum += curve[i] * 24 / POINTS;
        }
      for (int i = 0; i < POINTS; i++)
        check_abs ("curve", curve[i], kernels[i], cases[c].tolerance * top);
      check_abs ("whole", sum, 1, 1e-9);
      sci_activity_free (activity);
    }
}

/* Neither the order of the records nor a midnight among them matters; the first to the last bit. */
static void
test_order (void)
{
  enum { N = 80, POINTS = 96 };
  double hours[N], other[N], curve[POINTS], again[POINTS], turned[POINTS];
  SciActivity *a, *b, *c;

  make_hours (hours, N, 5);
  for (int i = 0; i < N; i++)
    other[(i * 37 + 11) % N] = hours[i];
  a = sci_activity_new (hours, N, NAN);
  b = sci_activity_new (other, N, NAN);
  for (int i = 0; i < N; i++)
    other[i] = hours[i] + 6 - 48;
  c = sci_activity_new (other, N, NAN);
  sci_activity_curve (a, POINTS, curve);
  sci_activity_curve (b, POINTS, again);
  sci_activity_curve (c, POINTS, turned);
  g_assert_cmpmem (curve, sizeof curve, again, sizeof again);
  for (int i = 0; i < POINTS; i++)
    check_abs ("turned", turned[(i + POINTS / 4) % POINTS], curve[i], 1e-12);
  g_assert_true (sci_activity_resample (a, 1, 2, POINTS, curve));
  g_assert_true (sci_activity_resample (b, 1, 2, POINTS, again));
  g_assert_cmpmem (curve, sizeof curve, again, sizeof again);
  sci_activity_free (a);
  sci_activity_free (b);
  sci_activity_free (c);
}

static void
test_refused (void)
{
  static const double good[] = { 1, 2, 3 }, missing[] = { 1, NAN, 3 }, endless[] = { 1, 2, INFINITY };

  g_assert_null (sci_activity_new (good, 0, NAN));
  g_assert_null (sci_activity_new (missing, 3, NAN));
  g_assert_null (sci_activity_new (endless, 3, NAN));
  g_assert_null (sci_activity_new (good, 3, -1));
  g_assert_null (sci_activity_new (good, 3, SCI_ACTIVITY_NU_MOST * 1.01));
  check_abs ("NaN", sci_activity_bandwidth (missing, 3), NAN, 0);
}

/* Without waves a curve is level: no peak, and active all day. */
static void
test_level (void)
{
  static const double one[] = { 13 };
  SciActivity *activity = sci_activity_new (one, 1, 0);
  SciActivityPeak peak = sci_activity_peak (activity);

  check_abs ("hour", peak.hour, NAN, 0);
  check_abs ("density", peak.density, 1.0 / 24, 1e-12);
  check_abs ("level", peak.level, 1, 1e-12);
  sci_activity_free (activity);
}

/* Resamples are curves too, differ from each other, are the same for the same number, and their mean and spread are
 * those of the curve smoothed once more: twice the kernel, and the variance of a mean of kernels. The bandwidth is
 * found anew, by which they differ a little: 0.15 of the top and 0.3 of the spread, where chance in 2000 draws is
 * 0.02. */
static void
test_resample (void)
{
  enum { N = 400, DRAWS = 2000, POINTS = 48 };
  double hours[N], curve[POINTS], drawn[POINTS], again[POINTS], sum[POINTS] = { 0 }, squares[POINTS] = { 0 };
  double low[POINTS], high[POINTS], top = 0;
  SciActivity *activity;

  make_hours (hours, N, 9);
  activity = sci_activity_new (hours, N, NAN);
  sci_activity_curve (activity, POINTS, curve);
  g_assert_true (sci_activity_band (activity, POINTS, 0.6826895, low, high));
  for (int b = 0; b < DRAWS; b++)
    {
      double whole = 0;

      g_assert_true (sci_activity_resample (activity, 7, (guint64) b, POINTS, drawn));
      for (int i = 0; i < POINTS; i++)
        {
          sum[i] += drawn[i];
          squares[i] += drawn[i] * drawn[i];
          whole += drawn[i] * 24 / POINTS;
        }
      check_abs ("whole", whole, 1, 1e-4); /* read off by cubics */
    }
  g_assert_true (sci_activity_resample (activity, 7, DRAWS - 1, POINTS, again));
  g_assert_cmpmem (drawn, sizeof drawn, again, sizeof again);
  g_assert_true (sci_activity_resample (activity, 8, DRAWS - 1, POINTS, again));
  g_assert_true (memcmp (drawn, again, sizeof drawn) != 0);
  for (int i = 0; i < POINTS; i++)
    top = fmax (top, curve[i]);
  for (int i = 0; i < POINTS; i++)
    {
      double mean = sum[i] / DRAWS, spread = sqrt (squares[i] / DRAWS - mean * mean);

      check_abs ("mean", mean, curve[i], 0.15 * top);
      if (curve[i] > top / 4)
        check_rel ("spread", spread, (high[i] - low[i]) / 2, 0.3);
    }
  sci_activity_free (activity);
}

/* The variance of a mean of kernels, against the plain sum over the records; limits about it as of a count. */
static void
test_band (void)
{
  enum { N = 5200, POINTS = 24 };
  g_autofree double *hours = g_new (double, N);
  double curve[POINTS], low[POINTS], high[POINTS];
  SciActivity *activity;

  make_hours (hours, N, 3);
  activity = sci_activity_new (hours, N, 60);
  sci_activity_curve (activity, POINTS, curve);
  g_assert_true (sci_activity_band (activity, POINTS, 0.95, low, high));
  for (int i = 0; i < POINTS; i++)
    {
      double squares = 0, error;

      for (int k = 0; k < N; k++)
        {
          double kernel = exp (60 * (cos (2 * G_PI / 24 * (i - hours[k])) - 1)) / (24 * sci_bessel_i_scaled (0, 60));
          squares += kernel * kernel / N;
        }
      error = sqrt ((squares - curve[i] * curve[i]) / N);
      g_assert_cmpfloat (low[i], >=, 0);
      g_assert_cmpfloat (low[i], <, curve[i]);
      g_assert_cmpfloat (high[i], >, curve[i]);
      if (curve[i] > 0.02) /* hundreds of records within reach: near the normal limits */
        check_rel ("width", high[i] - low[i], 2 * 1.959964 * error, 0.05);
    }
  g_assert_false (sci_activity_resample (activity, 1, 1, POINTS, low));
  sci_activity_free (activity);
}

static int
compare_values (const void *pa, const void *pb)
{
  double a = *(const double *) pa, b = *(const double *) pb;

  return (a > b) - (a < b);
}

/* Against sorting them all; with ties, in order and backwards. */
static void
test_percentiles (void)
{
  for (int n = 1; n < 300; n += n < 30 ? 1 : 37)
    for (int kind = 0; kind < 5; kind++)
      {
        double values[300], sorted[300], low, high;

        for (int i = 0; i < n; i++)
          values[i] = sorted[i] = kind == 0   ? sci_random_uniform (4, n, i)
                                  : kind == 1 ? i
                                  : kind == 2 ? n - i
                                  : kind == 3 ? i % 3
                                              : 1;
        qsort (sorted, n, sizeof *sorted, compare_values);
        sci_percentiles (values, n, 0.9, &low, &high);
        for (int end = 0; end < 2; end++)
          {
            double place = (end == 0 ? 0.05 : 0.95) * (n - 1);
            int k = (int) place;
            double want = k + 1 < n ? sorted[k] + (place - k) * (sorted[k + 1] - sorted[k]) : sorted[k];

            check_abs ("quantile", end == 0 ? low : high, want, 1e-12);
          }
      }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/activity/bandwidth", test_bandwidth);
  g_test_add_func ("/activity/narrow", test_narrow);
  g_test_add_func ("/activity/density", test_density);
  g_test_add_func ("/activity/peak", test_peak);
  g_test_add_func ("/activity/waves", test_waves);
  g_test_add_func ("/activity/order", test_order);
  g_test_add_func ("/activity/refused", test_refused);
  g_test_add_func ("/activity/level", test_level);
  g_test_add_func ("/activity/resample", test_resample);
  g_test_add_func ("/activity/band", test_band);
  g_test_add_func ("/activity/percentiles", test_percentiles);
  return g_test_run ();
}
