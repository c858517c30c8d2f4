#include "config.h"

#include <glib.h>
#include <math.h>

#include "tpt-due-curve-private.h"

/* Chances whose integrals are known in closed form: elementary calculus. */
static double
rise_slowly (double day, gpointer data)
{
  return 1 - exp (-day / 20);
}

static double
rise_slowly_lost (double day)
{
  return day - 20 * (1 - exp (-day / 20));
}

/* Steep around day 17.3: half of the rise within two days. */
static double
rise_fast (double day, gpointer data)
{
  return 0.5 * erfc (-(day - 17.3) / 2);
}

static double
rise_fast_lost (double day)
{
  double z = (day - 17.3) / 2;

  return (day - 17.3) * 0.5 * erfc (-z) + exp (-z * z) / sqrt (G_PI);
}

static double
always (double day, gpointer data)
{
  return 1;
}

static double
same (double day)
{
  return day;
}

static void
test_lost (void)
{
  static const struct {
    const char *what;
    TptChanceFunc chance;
    double (*lost) (double day);
    double steps[3]; /* further days, where it is steep; 0: none */
    double within;
  } cases[] = {
    { "slow", rise_slowly, rise_slowly_lost, { 0 }, 1e-4 },
    { "down already", always, same, { 0 }, 1e-9 },
    { "fast, its tenths known", rise_fast, rise_fast_lost, { 15.49, 17.3, 19.11 }, 0.02 },
    /* half of the rise within two days, seen only every four: what is claimed
     * holds where the steep part has days of its own, as above */
    { "fast between the days", rise_fast, rise_fast_lost, { 0 }, 0.1 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GArray) days = g_array_new (FALSE, FALSE, sizeof (double));
      g_autoptr (TptDueCurve) curve = NULL;

      for (guint d = 0; d <= 56; d += 4)
        g_array_append_vals (days, &(double){ d }, 1);
      for (guint s = 0; s < 3 && cases[i].steps[s] > 0; s++)
        g_array_append_val (days, cases[i].steps[s]);
      curve = tpt_due_curve_new (days, TRUE, cases[i].chance, NULL);
      for (double day = 0; day <= 56; day += 0.25)
        {
          double lost = tpt_due_curve_get_lost (curve, day);

          if (fabs (lost - cases[i].lost (day)) > cases[i].within)
            g_error ("%s, day %g: %.17g, not %.17g", cases[i].what, day, lost, cases[i].lost (day));
        }
    }
}

/* Exact at the days worked out, straight between, held beyond. */
static void
test_chance (void)
{
  static const struct {
    double day, chance;
  } cases[] = { { 0, 0 }, { 10, 0.39346934028736658 }, { 5, 0.19673467014368329 }, { 20, 0.63212055882855767 }, { 30, 0.63212055882855767 } };
  g_autoptr (GArray) days = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (TptDueCurve) curve = NULL;

  for (int d = 2; d >= 0; d--) /* in any order */
    g_array_append_vals (days, &(double){ 10 * d }, 1);
  g_array_append_vals (days, &(double){ 10 }, 1); /* twice */
  curve = tpt_due_curve_new (days, FALSE, rise_slowly, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpfloat_with_epsilon (tpt_due_curve_get_chance (curve, cases[i].day), cases[i].chance, 1e-12);
  g_assert_true (isnan (tpt_due_curve_get_lost (curve, 15))); /* was not asked for */
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/due-curve/lost", test_lost);
  g_test_add_func ("/due-curve/chance", test_chance);
  return g_test_run ();
}
