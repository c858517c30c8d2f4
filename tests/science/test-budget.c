#include "sci-budget.h"

#include "check.h"

/* Series adds volts, parallel adds charge, twice the strings last twice as
 * long: common practice. The sums were done by hand. */
static void
test_rows (void)
{
  static const struct {
    SciBudget budget;
    double volts, mah, per_day, days;
  } cases[] = {
    { { 1.5, 2500, 4, 1, 1, 0.25, 20, 0.6, 0, 0 }, 6, 2500, 18, 138.88888888888889 },
    { { 1.5, 2500, 4, 2, 1, 0.25, 20, 0.6, 0, 0 }, 6, 5000, 18, 277.77777777777777 },
    { { 1.5, 2500, 4, 2, 0.5, 0.25, 20, 0.6, 0, 0 }, 6, 2500, 18, 138.88888888888889 },
    { { 1.5, 2500, 8, 1, 1, 0.25, 20, 0.6, 0, 0 }, 12, 2500, 18, 138.88888888888889 },
    { { 1.2, 1900, 4, 1, 1, 0.25, 20, 0.6, 0.6, 0.9 }, 4.8, 1900, 28.8, 65.972222222222229 },
    { { 1.5, 2500, 4, 1, 1, 0, 0, 0.6, 0.6, 0.9 }, 6, 2500, 0, INFINITY }, /* draws nothing */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciBudgetResult got = sci_budget (&cases[i].budget);

      check_rel ("volts", got.pack_volts, cases[i].volts, 1e-9);
      check_rel ("mAh", got.pack_mah, cases[i].mah, 1e-9);
      check_rel ("per day", got.mah_per_day, cases[i].per_day, 1e-9);
      check_rel ("days", got.days, cases[i].days, 1e-9);
    }
}

static void
test_refused (void)
{
  static const SciBudget cases[] = {
    { 0, 2500, 4, 1, 1, 0.25, 20, 0.6, 0, 0 },
    { 1.5, NAN, 4, 1, 1, 0.25, 20, 0.6, 0, 0 },
    { 1.5, 2500, 0, 1, 1, 0.25, 20, 0.6, 0, 0 },
    { 1.5, 2500, 4, -1, 1, 0.25, 20, 0.6, 0, 0 },
    { 1.5, 2500, 4, 1, 1.1, 0.25, 20, 0.6, 0, 0 },
    { 1.5, 2500, 4, 1, 0, 0.25, 20, 0.6, 0, 0 },
    { 1.5, 2500, 4, 1, 1, -0.25, 20, 0.6, 0, 0 },
    { 1.5, 2500, 4, 1, 1, 0.25, NAN, 0.6, 0, 0 },
    { 1.5, 2500, 4, 1, 1, 0.25, 20, -0.6, 0, 0 },
    { 1.5, 2500, 4, 1, 1, 0.25, 20, 0.6, 1.5, 0.9 },
    { 1.5, 2500, 4, 1, 1, 0.25, 20, 0.6, 0.5, -1 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    check_abs ("days", sci_budget (&cases[i]).days, NAN, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/budget/rows", test_rows);
  g_test_add_func ("/science/budget/refused", test_refused);
  return g_test_run ();
}
