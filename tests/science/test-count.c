/* Against the plain sum over every count, and against closed forms. */
#include "sci-count.h"

#include "check.h"
#include "sci-special.h"

/* A fall like that of a unit: chance that a lognormal of @median and @sd
 * exceeds n. */
typedef struct {
  double median;
  double sd;
} Fall;

static double
fall_value (const void *data, double n)
{
  const Fall *fall = data;

  return sci_normal_cdf (-log (n / fall->median) / fall->sd);
}

static double
fall_reach (const void *data, double n, int direction)
{
  const Fall *fall = data;
  double low = fall->median * exp (-6 * fall->sd), high = fall->median * exp (6 * fall->sd);

  if (direction > 0)
    return n >= high ? INFINITY : n < low ? low - n : 3 * fall->sd * n;
  return n <= low ? INFINITY : n > high ? n - high : 3 * fall->sd * n / (1 + 3 * fall->sd);
}

static double
flat_value (const void *data, double n)
{
  return 1;
}

static double
flat_reach (const void *data, double n, int direction)
{
  return INFINITY;
}

static double
sum_plainly (double size, double odds, const SciCountFunc *func, double below)
{
  double mean = size * odds, sd = sqrt (mean * (1 + odds)), sum = 0;

  for (double n = 0; n < fmin (below, mean + 40 * sd + 100); n++)
    sum += exp (sci_negbin_log_mass (n, size, odds)) * func->value (func->data, n);
  return sum;
}

static void
test_plain_sum (void)
{
  static const double sizes[] = { 0.3, 1, 7.5, 300, 1e6 };
  static const double means[] = { 0.1, 20, 300, 2000, 20000 };
  static const Fall falls[] = { { 0.9, 0.3 }, { 1.1, 0.02 }, { 1, 0.0005 }, { 3, 1.2 } };

  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    for (gsize j = 0; j < G_N_ELEMENTS (means); j++)
      for (gsize k = 0; k < G_N_ELEMENTS (falls); k++)
        {
          const Fall fall = { falls[k].median * means[j], falls[k].sd };
          const SciCountFunc func = { fall_value, fall_reach, &fall };
          double odds = means[j] / sizes[i];
          double below = k % 2 == 0 ? INFINITY : floor (means[j] * 1.05);

          check_abs ("sum", sci_count_expect (sizes[i], odds, &func, below),
                     sum_plainly (sizes[i], odds, &func, below), 1e-7);
        }
}

/* With a flat function the sum is the distribution function itself. */
static void
test_cdf (void)
{
  static const double sizes[] = { 0.5, 3, 80, 1e5 };
  static const double means[] = { 0.5, 40, 3000, 1e5 };
  static const double below[] = { 0.5, 0.9, 1, 1.3 };
  const SciCountFunc func = { flat_value, flat_reach, NULL };

  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    for (gsize j = 0; j < G_N_ELEMENTS (means); j++)
      for (gsize k = 0; k < G_N_ELEMENTS (below); k++)
        {
          double limit = ceil (below[k] * means[j]), odds = means[j] / sizes[i];

          check_abs ("cdf", sci_count_expect (sizes[i], odds, &func, limit),
                     sci_negbin_cdf (limit - 1, sizes[i], odds), 1e-7);
        }
}

static void
test_edges (void)
{
  const SciCountFunc func = { flat_value, flat_reach, NULL };

  check_abs ("nothing below 0", sci_count_expect (3, 2, &func, 0), 0, 0);
  /* The tails are left off below 1e-8, see the header. */
  check_abs ("everything", sci_count_expect (3, 2, &func, INFINITY), 1, 1e-8);
  check_abs ("no time, no triggers", sci_count_expect (3, 0, &func, 1), 1, 1e-15);
  check_abs ("zero triggers", sci_count_expect (3, 2, &func, 1), 1.0 / 27, 1e-15);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/count/plain-sum", test_plain_sum);
  g_test_add_func ("/science/count/cdf", test_cdf);
  g_test_add_func ("/science/count/edges", test_edges);
  return g_test_run ();
}
