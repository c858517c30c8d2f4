#include "config.h"

#include <glib.h>
#include <math.h>

#include "sci-random.h"

#define N 100000

/* Mean, variance and neighbours of a uniform sample; limits are five standard
 * errors, so that a sound generator fails about once in a million streams. */
static void
test_uniform (void)
{
  for (uint64_t stream = 0; stream < 8; stream++)
    {
      double sum = 0, squares = 0, products = 0, before = 0.5;

      for (uint64_t i = 0; i < N; i++)
        {
          double u = sci_random_uniform (42, stream, i);

          g_assert_true (u >= 0 && u < 1);
          sum += u;
          squares += (u - 0.5) * (u - 0.5);
          products += (u - 0.5) * (before - 0.5);
          before = u;
        }
      g_assert_cmpfloat (fabs (sum / N - 0.5), <, 5 * sqrt (1.0 / 12 / N));
      g_assert_cmpfloat (fabs (squares / N - 1.0 / 12), <, 5 * sqrt (1.0 / 180 / N));
      g_assert_cmpfloat (fabs (products / N), <, 5 * 1.0 / 12 / sqrt (N));
    }
}

/* Places that differ in one part only differ in about half of their bits. */
static void
test_spread (void)
{
  for (uint64_t i = 0; i < 1000; i++)
    {
      uint64_t here = sci_random_bits (i, i, i);

      g_assert_cmpint (__builtin_popcountll (here ^ sci_random_bits (i + 1, i, i)), >, 10);
      g_assert_cmpint (__builtin_popcountll (here ^ sci_random_bits (i, i + 1, i)), >, 10);
      g_assert_cmpint (__builtin_popcountll (here ^ sci_random_bits (i, i, i + 1)), >, 10);
      g_assert_true (here == sci_random_bits (i, i, i));
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/random/uniform", test_uniform);
  g_test_add_func ("/random/spread", test_spread);
  return g_test_run ();
}
