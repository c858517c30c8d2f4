/* Unless a row says otherwise, values were computed with 40 digits by mpmath. */
#include "sci-special.h"

#include "check.h"

static void
test_gamma (void)
{
  static const struct {
    double a, x, p, q;
  } cases[] = {
    { 0.5, 0.5, 0.6826894921370859, 0.3173105078629141 }, /* one normal deviation */
    { 1, 2, 0.86466471676338731, 0.13533528323661269 },   /* exponential: exp (-2) */
    { 3.7, 1.2, 0.050597398498562509, 0.94940260150143749 },
    { 10, 25, 0.99977852336175122, 0.00022147663824878358 },
    { 250, 230, 0.10043419856707392, 0.89956580143292608 },
    { 2500, 2600, 0.97618100197925935, 0.023818998020740655 },
    { 3, 0, 0, 1 },
    { 3, INFINITY, 1, 0 },
    { 0, 1, NAN, NAN },
    { 1, -1, NAN, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      check_rel ("P", sci_gamma_p (cases[i].a, cases[i].x), cases[i].p, 1e-13);
      check_rel ("Q", sci_gamma_q (cases[i].a, cases[i].x), cases[i].q, 1e-13);
    }
}

static void
test_gamma_inverse (void)
{
  static const double shapes[] = { 0.1, 0.5, 1, 3.5, 50, 1e4, 1e6 };
  static const double chances[] = { 1e-9, 0.001, 0.025, 0.5, 0.9, 0.999 };

  for (gsize i = 0; i < G_N_ELEMENTS (shapes); i++)
    for (gsize j = 0; j < G_N_ELEMENTS (chances); j++)
      check_rel ("there and back",
                 sci_gamma_p (shapes[i], sci_gamma_p_inverse (shapes[i], chances[j])), chances[j], 1e-12);
  check_abs ("at 0", sci_gamma_p_inverse (2, 0), 0, 0);
  check_abs ("at 1", sci_gamma_p_inverse (2, 1), INFINITY, 0);
  check_abs ("beyond 1", sci_gamma_p_inverse (2, 1.1), NAN, 0);
  /* Two degrees of freedom: -2 ln (1 - p), in closed form. */
  check_rel ("chi-square", sci_chi_square_quantile (2, 0.95), -2 * log (0.05), 1e-14);
}

static void
test_beta (void)
{
  static const struct {
    double a, b, x, p;
  } cases[] = {
    { 0.5, 0.5, 0.25, 1.0 / 3 },   /* arcsine law */
    { 1, 3, 0.2, 0.488 },          /* 1 - 0.8^3 */
    { 12, 5, 0.5, 0.0384063720703125 },
    { 334, 41, 0.8, 1.0230387951748428e-6 },
    { 2.5, 900, 0.004, 0.79524512487592786 },
    { 2, 2, 0, 0 },
    { 2, 2, 1, 1 },
    { 2, 2, 1.5, NAN },
    { 0, 2, 0.5, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    check_rel ("I", sci_beta_i (cases[i].a, cases[i].b, cases[i].x), cases[i].p, 1e-13);
}

static void
test_beta_inverse (void)
{
  static const double shapes[] = { 0.5, 1, 3, 50, 1000 };
  static const double chances[] = { 1e-9, 0.001, 0.5, 0.9 };

  for (gsize i = 0; i < G_N_ELEMENTS (shapes); i++)
    for (gsize j = 0; j < G_N_ELEMENTS (shapes); j++)
      for (gsize k = 0; k < G_N_ELEMENTS (chances); k++)
        {
          double x = sci_beta_i_inverse (shapes[i], shapes[j], chances[k]);

          /* Where x is near 1, doubles are too coarse for more. */
          check_rel ("there and back", sci_beta_i (shapes[i], shapes[j], x), chances[k], 1e-11);
        }
  check_abs ("at 1", sci_beta_i_inverse (2, 3, 1), 1, 0);
}

static void
test_normal (void)
{
  static const struct {
    double p, z;
  } cases[] = {
    { 1.0e-300, -37.047096299361199 },
    { 1e-20, -9.2623400897984076 },
    { 0.025, -1.9599639845400542 },
    { 0.3, -0.52440051270804082 },
    { 0.9, 1.2815515655446006 },
    { 0.999999, 4.7534243088170878 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      check_rel ("quantile", sci_normal_quantile (cases[i].p), cases[i].z, 1e-14);
      check_rel ("cdf", sci_normal_cdf (cases[i].z), cases[i].p, 5e-13);
    }
  check_abs ("median", sci_normal_quantile (0.5), 0, 1e-16);
  check_abs ("at 0", sci_normal_quantile (0), -INFINITY, 0);
  check_abs ("beyond 1", sci_normal_quantile (2), NAN, 0);
}

static void
test_negbin_mass (void)
{
  static const struct {
    double n, size, odds, log_mass;
  } cases[] = {
    { 0, 0.5, 2, -0.54930614433405485 },
    { 3, 0.5, 100, -3.5005620607858148 },
    { 174, 41, 4.25, -4.329157163203925 },
    { 12.5, 3, 4, -3.0339169744189559 }, /* between whole counts */
    { 800, 1e12, 8e-10, -4.2613485640998777 },
    { 0, 1e12, 1e-12, -0.99999999999949998 },
    { 20000, 2.5, 8000, -10.397506089938503 },
    { 3, 2, 0, -INFINITY },
    { -1, 2, 1, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    check_rel ("log mass", sci_negbin_log_mass (cases[i].n, cases[i].size, cases[i].odds), cases[i].log_mass, 1e-12);
}

static void
test_negbin_sums (void)
{
  static const struct {
    double size, odds;
    int n;
  } cases[] = { { 0.5, 3, 4 }, { 41, 60 / 14.1, 173 }, { 3.5, 0.02, 1 } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double sum = 0;

      for (int n = 0; n <= cases[i].n; n++)
        sum += exp (sci_negbin_log_mass (n, cases[i].size, cases[i].odds));
      check_rel ("cdf", sci_negbin_cdf (cases[i].n, cases[i].size, cases[i].odds), sum, 1e-12);
      check_abs ("both tails",
                 sci_negbin_cdf (cases[i].n, cases[i].size, cases[i].odds)
                 + sci_negbin_at_least (cases[i].n + 1, cases[i].size, cases[i].odds), 1, 1e-13);
    }
}

/* Gelman et al., Bayesian Data Analysis, ch. 2: the predictive count of a gamma
 * posterior; values from scipy nbinom, R pnbinom and mpmath, which agree. */
static void
test_predictive (void)
{
  static const struct {
    double size, odds;
    int q05, q50, q95;
    double limit, p_full, tolerance;
  } cases[] = {
    { 41, 60 / 14.1, 128, 173, 227, 334, 8.311905429685741e-06, 1e-10 },
    { 3.5, 90 / 30.001, 2, 9, 23, 12, 0.37049425953318976, 1e-10 },
    { 252, 45 / 22.0, 452, 515, 582, 800, 1.3367975707757773e-10, 1e-10 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const double chances[] = { 0.05, 0.5, 0.95 };
      const int counts[] = { cases[i].q05, cases[i].q50, cases[i].q95 };

      for (int j = 0; j < 3; j++)
        {
          g_assert_cmpfloat (sci_negbin_cdf (counts[j], cases[i].size, cases[i].odds), >=, chances[j]);
          g_assert_cmpfloat (sci_negbin_cdf (counts[j] - 1, cases[i].size, cases[i].odds), <, chances[j]);
        }
      check_rel ("full", sci_negbin_at_least (cases[i].limit, cases[i].size, cases[i].odds), cases[i].p_full, cases[i].tolerance);
    }
}

/* Percentiles of Student's t: Abramowitz & Stegun 1964, table 26.10. */
static void
test_student (void)
{
  static const struct {
    double p, df, t;
  } rows[] = { { 0.05, 1, 12.706 }, { 0.05, 5, 2.571 }, { 0.05, 30, 2.042 }, { 0.01, 10, 3.169 }, { 0.1, 20, 1.725 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      check_abs ("t", sci_student_quantile_two_sided (rows[i].p, rows[i].df), rows[i].t, 5.1e-4);
      check_abs ("p", sci_student_two_sided (-rows[i].t, rows[i].df), rows[i].p, 1e-4);
    }
  check_abs ("far out", sci_student_two_sided (INFINITY, 3), 0, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/special/gamma", test_gamma);
  g_test_add_func ("/science/special/gamma-inverse", test_gamma_inverse);
  g_test_add_func ("/science/special/beta", test_beta);
  g_test_add_func ("/science/special/beta-inverse", test_beta_inverse);
  g_test_add_func ("/science/special/normal", test_normal);
  g_test_add_func ("/science/special/negbin-mass", test_negbin_mass);
  g_test_add_func ("/science/special/negbin-sums", test_negbin_sums);
  g_test_add_func ("/science/special/predictive", test_predictive);
  g_test_add_func ("/science/special/student", test_student);
  return g_test_run ();
}
