#include "sci-bessel.h"

#include "check.h"

/* exp (-x) I_n (x): the power series (Abramowitz & Stegun 1964, 9.6.10) in 70-digit decimals. */
static const struct {
  int order;
  double x, value;
} cases[] = {
  { 0, 0, 1 },
  { 3, 0, 0 },
  { 0, 0.1, 0.90710092578230106 },
  { 1, 0.1, 0.045298446808809324 },
  { 50, 0.5, 1.5751087262311318e-95 },
  { 0, 1, 0.46575960759364043 },
  { 1, 1, 0.20791041534970844 },
  { 2, 1, 0.04993877689422354 },
  { 3, 2.5, 0.038938694351763357 },
  { 0, 20, 0.08978031188482602 },
  { 0, 29, 0.07440746822222559 },
  { 10, 29, 0.013102839350116567 },
  { 40, 29, 1.1415340067327875e-12 },
  { 2, 58, 0.050703107454352657 },
  { 0, 500, 0.017845706500153168 }, /* where exp (x) is still a number but its square is not */
  { 1, 500, 0.017827851852898056 },
  { 100, 500, 8.2913917023616277e-07 },
  { 2, 1000, 0.0125920185953774 },
  { 0, 13131, 0.003481491182303936 },
  { 200, 13131, 0.00075905496048580135 },
  { 2, 40000, 0.0019946179009328832 },
  { 0, 100000, 0.0012615678379767768 },
  /* out of range */
  { 0, -1, NAN },
  { -1, 1, NAN },
  { 0, 1.1e5, NAN },
  { 0, NAN, NAN },
};

static void
test_scaled (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    check_rel ("scaled", sci_bessel_i_scaled (cases[i].order, cases[i].x), cases[i].value, 1e-12);
}

static void
test_ratios (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree double *ratios = g_new (double, MAX (cases[i].order, 0) + 1);

      if (cases[i].order < 0)
        continue;
      sci_bessel_ratios (cases[i].x, cases[i].order, ratios);
      check_rel ("ratio", ratios[cases[i].order], cases[i].value / sci_bessel_i_scaled (0, cases[i].x), 1e-12);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/bessel/scaled", test_scaled);
  g_test_add_func ("/bessel/ratios", test_ratios);
  return g_test_run ();
}
