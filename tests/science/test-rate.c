#include "sci-rate.h"

#include "check.h"
#include "sci-special.h"

static const SciSeason seasons[] = { { 0, 0 }, { 0.45, 0 }, { -0.3, 0.6 }, { 0.1, -0.97 } };

/* Against the plain sum over tenths of a day. */
static void
test_season (void)
{
  static const double from[] = { 0, 100.3, 800 };
  static const double days[] = { 0, 0.01, 5, 60, 364, 366, 1000, 3652.5 };

  for (gsize s = 0; s < G_N_ELEMENTS (seasons); s++)
    for (gsize i = 0; i < G_N_ELEMENTS (from); i++)
      for (gsize k = 0; k < G_N_ELEMENTS (days); k++)
        {
          int steps = 1 + (int) (days[k] * 10);
          double step = days[k] / steps, total = 0;

          for (int n = 0; n < steps; n++)
            {
              double w = 2 * G_PI * (from[i] + (n + 0.5) * step) / 365.25;
              total += step * exp (seasons[s].cosine * cos (w) + seasons[s].sine * sin (w));
            }
          check_rel ("season", sci_season_days (&seasons[s], from[i], days[k]), total, 2e-6);
        }
}

/* Gelman et al., Bayesian Data Analysis, ch. 2: without clumping, drift and
 * season the count is the gamma-Poisson's own, to the last digit. */
static void
test_plain (void)
{
  SciRate rate = sci_rate_posterior (1, 0.1, 40, 14);
  double size, odds;

  check_abs ("shape", rate.a, 41, 0);
  check_abs ("days", rate.b, 14.1, 1e-15);
  sci_rate_count (&rate, 60, &size, &odds);
  check_abs ("size", size, 41, 0);
  check_abs ("odds", odds, 60 / 14.1, 0);
  check_rel ("mean", sci_rate_mean (&rate, 60), 174.46809, 1e-7);
  check_rel ("variance", size * odds * (1 + odds), 916.88547, 1e-7);
}

/* The share of the long run's variance in the mean of an Ornstein-Uhlenbeck
 * process over t memories, its start being known: the double sum of its
 * covariance exp (-|u - v|) - exp (-u - v). */
static double
share_plainly (double t)
{
  const int n = 1500;
  double total = 0;

  for (int i = 0; i < n; i++)
    for (int k = 0; k < n; k++)
      {
        double u = (i + 0.5) * t / n, v = (k + 0.5) * t / n;
        total += exp (-fabs (u - v)) - exp (-u - v);
      }
  return total / n / n;
}

static void
test_moments (void)
{
  static const double days[] = { 0.01, 3, 28, 45, 90, 400 };

  for (gsize s = 0; s < G_N_ELEMENTS (seasons); s++)
    for (gsize i = 0; i < G_N_ELEMENTS (days); i++)
      {
        SciRate rate = { .a = 12, .b = 3, .clump = 2.5, .drift = 0.08, .drift_days = 45, .season = seasons[s], .day = 77 };
        double size, odds, mean = sci_rate_mean (&rate, days[i]);

        sci_rate_count (&rate, days[i], &size, &odds);
        check_rel ("mean", size * odds, mean, 1e-12);
        /* The double sum is good to four digits. */
        check_rel ("variance", size * odds * (1 + odds),
                   3.5 * mean + mean * mean * (1 / 12.0 + 0.08 * share_plainly (days[i] / 45)), 1e-3);
      }
}

/* More time never makes a full card less likely, where it matters. */
static void
test_growing (void)
{
  for (gsize s = 0; s < G_N_ELEMENTS (seasons); s++)
    for (double clump = 0; clump < 12; clump += 3)
      {
        SciRate rate = { .a = 30, .b = 5, .clump = clump, .drift = 0.1, .drift_days = 45, .season = seasons[s] };
        double before = 0;

        for (double t = 0; t < 300; t += 1.3)
          {
            double size, odds, chance;

            sci_rate_count (&rate, t, &size, &odds);
            chance = sci_negbin_at_least (400, size, odds);
            g_assert_cmpfloat (chance, >=, before - 1e-6);
            before = chance;
          }
        g_assert_cmpfloat (before, >, 0.9);
      }
}

static void
test_no_time (void)
{
  SciRate rate = { .a = 2, .b = 1, .clump = 3, .drift = 0.1, .drift_days = 45 };
  double size, odds;

  sci_rate_count (&rate, 0, &size, &odds);
  check_abs ("nothing yet", sci_negbin_at_least (1, size, odds), 0, 0);
  g_assert_cmpfloat (size, >, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/rate/season", test_season);
  g_test_add_func ("/rate/plain", test_plain);
  g_test_add_func ("/rate/moments", test_moments);
  g_test_add_func ("/rate/growing", test_growing);
  g_test_add_func ("/rate/no-time", test_no_time);
  return g_test_run ();
}
