#include "sci-poisson.h"

#include "check.h"

/* Garwood 1936, Biometrika 28:437-442; values from R poisson.test and scipy
 * chi2.ppf, which agree to 1e-15. */
static void
test_garwood (void)
{
  static const struct {
    gint64 n;
    double effort, level, rate, lower, upper;
  } cases[] = {
    { 0, 100, 0.95, 0, 0, 3.688879454113936 },
    { 1, 100, 0.95, 1, 0.0253178079842899, 5.571643390938898 },
    { 2, 350, 0.95, 0.5714285714285714, 0.06920265101256144, 2.06419647649256 },
    { 5, 1240, 0.95, 0.4032258064516129, 0.13092632178374364, 0.9409945225260218 },
    { 10, 612.5, 0.95, 1.6326530612244898, 0.7829206034501932, 3.0025071089008617 },
    { 30, 2000, 0.9, 1.5, 1.0796989613497443, 2.0345253797224774 },
    { 100, 8035, 0.95, 1.2445550715619167, 1.012619679538558, 1.5137124305217968 },
    { 3, 0, 0.95, NAN, NAN, NAN },  /* no effort */
    { -1, 10, 0.95, NAN, NAN, NAN },
    { 3, 10, 1, NAN, NAN, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciInterval got = sci_poisson_rate (cases[i].n, cases[i].effort, 100, cases[i].level);

      check_rel ("rate", got.estimate, cases[i].rate, 1e-12);
      check_rel ("lower", got.lower, cases[i].lower, 1e-12);
      check_rel ("upper", got.upper, cases[i].upper, 1e-12);
    }
}

/* Wilson 1927, J. Am. Stat. Assoc. 22:209-212. The first four are the worked
 * cases of Newcombe 1998, Stat. Med. 17:857-872 (from memory); values from R
 * prop.test without correction, to seven decimals. */
static void
test_wilson (void)
{
  static const struct {
    gint64 x, n;
    double share, lower, upper;
  } cases[] = {
    { 81, 263, 0.3079848, 0.2552885, 0.3662096 },
    { 15, 148, 0.1013514, 0.0623864, 0.1604872 },
    { 0, 20, 0, 0, 0.1611252 },
    { 1, 29, 0.0344828, 0.0061132, 0.1717552 },
    { 20, 20, 1, 0.8388748, 1 },
    { 412, 1530, 0.2692810, 0.2476522, 0.2920655 },
    { 0, 0, NAN, NAN, NAN },
    { 3, 2, NAN, NAN, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciInterval got = sci_wilson (cases[i].x, cases[i].n, 0.95);

      check_abs ("share", got.estimate, cases[i].share, 6e-8);
      check_abs ("lower", got.lower, cases[i].lower, 6e-8);
      check_abs ("upper", got.upper, cases[i].upper, 6e-8);
    }
}

/* Newcombe 1998, Stat. Med. 17:873-890: the cases of its table (from memory);
 * values from statsmodels, confint_proportions_2indep with method "newcomb". */
static void
test_newcombe (void)
{
  static const struct {
    gint64 x1, n1, x2, n2;
    double difference, lower, upper;
  } cases[] = {
    { 56, 70, 48, 80, 0.2, 0.0524315, 0.3338727 },
    { 9, 10, 3, 10, 0.6, 0.1705227, 0.8090180 },
    { 6, 7, 2, 7, 0.5714286, 0.0582279, 0.8062496 },
    { 5, 56, 0, 29, 0.0892857, -0.0381371, 0.1925600 },
    { 0, 10, 0, 20, 0, -0.1611252, 0.2775328 },
    { 0, 10, 0, 10, 0, -0.2775328, 0.2775328 },
    { 10, 10, 0, 20, 1, 0.6790860, 1 },
    { 10, 10, 0, 10, 1, 0.6075094, 1 },
    { 1, 2, 0, 0, NAN, NAN, NAN },
    { 3, 2, 1, 2, NAN, NAN, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciInterval got = sci_newcombe (cases[i].x1, cases[i].n1, cases[i].x2, cases[i].n2, 0.95);
      SciInterval other = sci_newcombe (cases[i].x2, cases[i].n2, cases[i].x1, cases[i].n1, 0.95);

      check_abs ("difference", got.estimate, cases[i].difference, 6e-8);
      check_abs ("lower", got.lower, cases[i].lower, 6e-8);
      check_abs ("upper", got.upper, cases[i].upper, 6e-8);
      /* the other way round it is the mirror image */
      check_abs ("mirrored lower", -other.upper, got.lower, 1e-15);
      check_abs ("mirrored upper", -other.lower, got.upper, 1e-15);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/poisson/garwood", test_garwood);
  g_test_add_func ("/science/poisson/wilson", test_wilson);
  g_test_add_func ("/science/poisson/newcombe", test_newcombe);
  return g_test_run ();
}
