#include "sci-rate-ratio.h"

#include "check.h"

/* The first three are CHECKS C2; all from R 4.2, poisson.test (c (n1, n2), c (t1, t2)), whose p
 * sums the outcomes that are no more likely. */
static void
test_published (void)
{
  static const struct {
    gint64 n1;
    double t1;
    gint64 n2;
    double t2, ratio, lower, upper, p;
  } cases[] = {
    { 11, 800, 23, 3011, 1.80005434783, 0.792205085833, 3.84386274039, 0.136634447064 },
    { 4, 200, 15, 310, 0.413333333333, 0.0998568214019, 1.29744883903, 0.1567593143 },
    { 0, 120, 6, 150, 0, 0, 1.06163899287, 0.0371085407411 },
    { 6, 150, 0, 120, INFINITY, 0.941939780579, INFINITY, 0.0371085407411 },
    { 1, 100, 0, 50, INFINITY, 0.0128205128205, INFINITY, 1 },
    { 1, 10, 0, 1000, INFINITY, 2.5641025641, INFINITY, 0.00990099009901 },
    { 0, 1000, 2, 10, 0, 0, 0.0532455532034, 9.80296049407e-05 },
    { 300, 4218, 240, 3990, 1.18243243243, 0.994502182634, 1.40708535387, 0.052831814127 },
    { 20000, 1e5, 20300, 1e5, 0.985221674877, 0.966121453085, 1.00469879766, 0.136374478388 },
    { 40, 1000, 20, 500, 1, 0.570955802405, 1.80553455332, 1 }, /* the likeliest outcome of all */
    { 5, 100, 5, 100, 1, 0.230142468938, 4.34513457952, 1 },
    { 30, 10, 0, 200, INFINITY, 152.855904531, INFINITY, 2.1548704119e-40 }, /* far from 1 */
    /* by hand: no events say nothing at all */
    { 0, 100, 0, 200, NAN, 0, INFINITY, 1 },
    /* outside the ranges */
    { 3, 0, 4, 100, NAN, NAN, NAN, NAN },
    { 3, 100, 4, 0, NAN, NAN, NAN, NAN },
    { -1, 100, 4, 100, NAN, NAN, NAN, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciRateRatio got = sci_rate_ratio (cases[i].n1, cases[i].t1, cases[i].n2, cases[i].t2, 0.95);

      check_rel ("ratio", got.ratio, cases[i].ratio, 1e-9);
      check_rel ("lower", got.lower, cases[i].lower, 1e-9);
      check_rel ("upper", got.upper, cases[i].upper, 1e-9);
      check_rel ("p", got.p, cases[i].p, 1e-9);
    }
}

/* Which of two comes first must not matter. */
static void
test_mirrored (void)
{
  for (gint64 n1 = 0; n1 < 12; n1++)
    for (gint64 n2 = n1 == 0; n2 < 12; n2++)
      {
        SciRateRatio one = sci_rate_ratio (n1, 310, n2, 720, 0.9), other = sci_rate_ratio (n2, 720, n1, 310, 0.9);

        check_rel ("ratio", 1 / other.ratio, one.ratio, 1e-12);
        check_rel ("lower", 1 / other.upper, one.lower, 1e-9);
        check_rel ("upper", 1 / other.lower, one.upper, 1e-9);
        check_rel ("p", other.p, one.p, 1e-9);
        g_assert_true (one.p > 0 && one.p <= 1);
        g_assert_true (one.lower < 1 || one.p < 0.1 + 1e-12); /* a limit past 1 goes with a small p */
      }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/rate-ratio/published", test_published);
  g_test_add_func ("/science/rate-ratio/mirrored", test_mirrored);
  return g_test_run ();
}
