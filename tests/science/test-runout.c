#include "sci-runout.h"

#include "check.h"
#include "sci-special.h"

static const SciRate busy = { 41, 14.1 };
static const SciRate quiet = { 3.5, 30.001 };
static const SciUnit rig[] = {
  { 2500, 0.25, 0.25, 2160 }, /* camera */
  { 1900, 0.3, 1.2, 20 },     /* trigger */
  { 2100, 0.4, 0.05, 1500 },  /* flash */
};
static const SciCard card = { 1000, 3 };
static const double times[] = { 0, 1, 7, 28, 60, 90, 150, 365, 2000 };

static void
test_posterior (void)
{
  SciRate rate = sci_rate_posterior (1, 0.1, 40, 14);

  check_abs ("a", rate.a, 41, 0);
  check_abs ("b", rate.b, 14.1, 1e-15);
}

/* Gelman et al., Bayesian Data Analysis, ch. 2; values from scipy nbinom, R
 * pnbinom and mpmath, which agree. */
static void
test_card (void)
{
  static const struct {
    double a, b, n, days;
    SciCard card;
    double until, p_full;
  } cases[] = {
    { 1, 0.1, 40, 14, { 1000, 3 }, 60, 8.311905429685741e-06 },
    { 0.5, 0.001, 3, 30, { 36, 3 }, 90, 0.37049425953318976 },
    { 2, 1, 250, 21, { 8000, 10 }, 45, 1.3367975707757773e-10 },
    { 1, 1, 0, 0, { 0, 3 }, 0, 1 },          /* full already */
    { 1, 1, 0, 0, { 100, 0 }, 1000, 0 },     /* nothing written */
    { 1, 1, 0, 0, { 100, 3 }, 0, 0 },        /* no time */
    { 1, 1, 0, 0, { NAN, 3 }, 10, NAN },
    { 1, 1, 0, 0, { 100, NAN }, 10, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciRate rate = sci_rate_posterior (cases[i].a, cases[i].b, cases[i].n, cases[i].days);

      check_rel ("full", sci_card_p_full (&rate, &cases[i].card, cases[i].until), cases[i].p_full, 1e-9);
    }
  check_abs ("no card", sci_card_p_full (&busy, NULL, 10), NAN, 0);
}

/* Without triggers a lognormal charge lasts a lognormal time, by hand. */
static void
test_sleeping (void)
{
  const SciUnit unit = { 2400, 0.2, 1, 0 }; /* 100 days at the median */
  static const double deviations[] = { -3, -1, 0, 0.5, 2 };

  for (gsize i = 0; i < G_N_ELEMENTS (deviations); i++)
    check_abs ("asleep", sci_unit_p_out (&busy, &unit, 100 * exp (0.2 * deviations[i])),
               sci_normal_cdf (deviations[i]), 1e-14);
}

static void
test_certain (void)
{
  static const struct {
    const char *what;
    SciUnit unit;
    double days, p;
  } cases[] = {
    { "draws nothing", { 2000, 0.3, 0, 0 }, 3000, 0 },
    { "no time", { 2000, 0.3, 1, 100 }, 0, 0 },
    { "empty at once", { 0, 0.3, 1, 100 }, 0, 1 },
    { "empty at once, exactly known", { 0, 0, 1, 100 }, 0, 1 },
    { "less than empty", { -5, 0.3, 0, 0 }, 1, 1 },
    { "known charge, just before", { 2400, 0, 1, 0 }, 99.999, 0 },
    { "known charge, just after", { 2400, 0, 1, 0 }, 100.001, 1 },
    { "unknown charge", { NAN, 0.3, 1, 100 }, 10, NAN },
    { "unknown draw", { 2000, 0.3, NAN, 100 }, 10, NAN },
    { "time runs backwards", { 2000, 0.3, 1, 100 }, -1, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    check_abs (cases[i].what, sci_unit_p_out (&busy, &cases[i].unit, cases[i].days), cases[i].p, 1e-12);
}

/* Exactly known charge and triggers only: a count, in closed form. 100 mA s
 * per trigger from 10 mAh: the 360th trigger empties it. */
static void
test_counting (void)
{
  const SciUnit unit = { 10, 0, 0, 100 };

  check_rel ("360th trigger", sci_unit_p_out (&busy, &unit, 120),
             sci_negbin_at_least (360, busy.a, 120 / busy.b), 1e-12);
}

static double
sum_plainly (const SciRate *rate, const SciUnit *units, gsize n_units, const SciCard *of, double days)
{
  double odds = days / rate->b, mean = rate->a * odds, sd = sqrt (mean * (1 + odds)), up = 0;

  for (double n = 0; n < mean + 40 * sd + 100 && (of == NULL || n * of->frames_per_trigger < of->frames_left); n++)
    {
      double term = exp (sci_negbin_log_mass (n, rate->a, odds));

      for (gsize i = 0; i < n_units; i++)
        {
          double drain = 24 * days * units[i].sleep_ma + n * units[i].mas_per_trigger / 3600;

          term *= sci_normal_cdf (-log (drain / units[i].charge_mah) / units[i].charge_log_sd);
        }
      up += term;
    }
  return 1 - up;
}

static void
test_plain_sum (void)
{
  const SciRate rates[] = { busy, quiet, { 0.5, 0.5 }, { 900, 4 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rates); i++)
    for (gsize j = 1; j < G_N_ELEMENTS (times); j++)
      {
        check_abs ("station", sci_station_p_down (&rates[i], rig, G_N_ELEMENTS (rig), &card, times[j]),
                   sum_plainly (&rates[i], rig, G_N_ELEMENTS (rig), &card, times[j]), 1e-7);
        check_abs ("unit", sci_unit_p_out (&rates[i], &rig[0], times[j]),
                   sum_plainly (&rates[i], rig, 1, NULL, times[j]), 1e-7);
      }
}

/* At least each part's chance, at most their sum, never falling. */
static void
test_bounds (void)
{
  double before = 0;

  for (double days = 0; days < 300; days += 1.7)
    {
      double down = sci_station_p_down (&busy, rig, G_N_ELEMENTS (rig), &card, days);
      double greatest = sci_card_p_full (&busy, &card, days), sum = greatest;

      for (gsize i = 0; i < G_N_ELEMENTS (rig); i++)
        {
          double out = sci_unit_p_out (&busy, &rig[i], days);

          greatest = fmax (greatest, out);
          sum += out;
        }
      /* Twice the stated error of each chance. */
      g_assert_cmpfloat (down, >=, greatest - 2e-7);
      g_assert_cmpfloat (down, <=, fmin (1, sum + 1e-6));
      g_assert_cmpfloat (down, >=, before - 2e-7);
      before = down;
    }
  g_assert_cmpfloat (before, >, 0.99);
}

/* Parts that share their triggers fail together more often than strangers. */
static void
test_shared_triggers (void)
{
  const SciUnit twins[] = { { 100, 0.05, 0, 1000 }, { 100, 0.05, 0, 1000 } };
  const SciRate vague = { 2, 0.1 };
  double one = sci_unit_p_out (&vague, &twins[0], 18);
  double both = sci_station_p_down (&vague, twins, 2, NULL, 18);

  g_assert_cmpfloat (one, >, 0.3);
  g_assert_cmpfloat (both, <, one + 0.1 * (1 - (1 - one) * (1 - one) - one));
}

static void
test_unknown_parts (void)
{
  const SciUnit units[] = { rig[0], { NAN, 0.3, 1, 1 } };
  const SciCard unknown = { NAN, NAN };

  check_abs ("passed over", sci_station_p_down (&busy, units, 2, &unknown, 60), sci_unit_p_out (&busy, &rig[0], 60), 0);
  check_abs ("all unknown", sci_station_p_down (&busy, &units[1], 1, &unknown, 60), NAN, 0);
  check_abs ("no parts", sci_station_p_down (&busy, NULL, 0, NULL, 60), NAN, 0);
}

/* Huge charges: only the card is left. */
static void
test_card_only (void)
{
  const SciUnit units[] = { { 1e12, 0.3, 0.1, 100 }, { 1e12, 0.1, 1, 10 } };

  for (gsize i = 0; i < G_N_ELEMENTS (times); i++)
    check_abs ("card", sci_station_p_down (&busy, units, 2, &card, times[i]), sci_card_p_full (&busy, &card, times[i]), 1e-7);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/runout/posterior", test_posterior);
  g_test_add_func ("/science/runout/card", test_card);
  g_test_add_func ("/science/runout/sleeping", test_sleeping);
  g_test_add_func ("/science/runout/certain", test_certain);
  g_test_add_func ("/science/runout/counting", test_counting);
  g_test_add_func ("/science/runout/plain-sum", test_plain_sum);
  g_test_add_func ("/science/runout/bounds", test_bounds);
  g_test_add_func ("/science/runout/shared-triggers", test_shared_triggers);
  g_test_add_func ("/science/runout/unknown-parts", test_unknown_parts);
  g_test_add_func ("/science/runout/card-only", test_card_only);
  return g_test_run ();
}
