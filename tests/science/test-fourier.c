#include "sci-fourier.h"

#include "check.h"
#include "sci-random.h"

#define MOST 256

/* Against the sum itself. */
static void
test_sum (void)
{
  for (gsize n = 2; n <= MOST; n *= 2)
    {
      SciFourier *fourier = sci_fourier_new (n);
      double x[MOST], y[MOST], re[MOST], im[MOST];

      g_assert_cmpuint (sci_fourier_get_length (fourier), ==, n);
      for (gsize m = 0; m < n; m++)
        {
          re[m] = x[m] = sci_random_uniform (1, n, 2 * m) - 0.5;
          im[m] = y[m] = sci_random_uniform (1, n, 2 * m + 1) - 0.5;
        }
      sci_fourier_transform (fourier, re, im);
      for (gsize k = 0; k < n; k++)
        {
          double along = 0, across = 0;

          for (gsize m = 0; m < n; m++)
            {
              double angle = 2 * G_PI * (double) (k * m % n) / (double) n;

              along += x[m] * cos (angle) - y[m] * sin (angle);
              across += x[m] * sin (angle) + y[m] * cos (angle);
            }
          check_abs ("real part", re[k], along, 1e-15 * (double) n);
          check_abs ("imaginary part", im[k], across, 1e-15 * (double) n);
        }
      sci_fourier_free (fourier);
    }
}

/* One wave alone stays one, also of many points. */
static void
test_wave (void)
{
  const gsize n = 16384;
  SciFourier *fourier = sci_fourier_new (n);
  g_autofree double *re = g_new (double, n), *im = g_new (double, n);

  for (gsize m = 0; m < n; m++)
    {
      re[m] = cos (2 * G_PI * (double) (m * 5 % n) / (double) n);
      im[m] = -sin (2 * G_PI * (double) (m * 5 % n) / (double) n);
    }
  sci_fourier_transform (fourier, re, im);
  for (gsize k = 0; k < n; k++)
    {
      check_abs ("wave", re[k], k == 5 ? (double) n : 0, 1e-15 * (double) n);
      check_abs ("wave", im[k], 0, 1e-15 * (double) n);
    }
  sci_fourier_free (fourier);
}

static void
test_lengths (void)
{
  static const gsize wrong[] = { 0, 1, 3, 12, 1023, (gsize) 1 << 25 };

  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    g_assert_null (sci_fourier_new (wrong[i]));
}

/* Cubics come out exactly: t^3 - 2 t + 1 at -1, 0, 1, 2. */
static void
test_cubic (void)
{
  for (double t = 0; t <= 1; t += 0.125)
    {
      double weights[4];

      sci_cubic_weights (t, weights);
      check_abs ("sum", weights[0] + weights[1] + weights[2] + weights[3], 1, 1e-15);
      check_abs ("cubic", 2 * weights[0] + weights[1] + 0 * weights[2] + 5 * weights[3], t * t * t - 2 * t + 1, 1e-14);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fourier/sum", test_sum);
  g_test_add_func ("/fourier/wave", test_wave);
  g_test_add_func ("/fourier/lengths", test_lengths);
  g_test_add_func ("/fourier/cubic", test_cubic);
  return g_test_run ();
}
