#include "sci-runout.h"
#include "sci-special.h"

#include "check.h"

static const SciRate busy = { 41, 14.1 };
static const SciUnit rig[] = {
  { 2500, 0.25, 0.25, 2160 }, /* camera */
  { 1900, 0.3, 1.2, 20 },     /* trigger */
  { 2100, 0.4, 0.05, 1500 },  /* flash */
};
static const SciCard card = { 1000, 3 };

/* Days at which the chance of a full card is 5 and 50 %: scipy, solved on the
 * smooth continuation in T; the chance there by three libraries. */
static void
test_card (void)
{
  static const struct {
    SciRate rate;
    SciCard card;
    double p, days;
  } cases[] = {
    { { 41, 14.1 }, { 1000, 3 }, 0.05, 88.86352294023072 },
    { { 41, 14.1 }, { 1000, 3 }, 0.5, 115.68791592034677 },
    { { 3.5, 30.001 }, { 36, 3 }, 0.05, 42.458251 },
    { { 3.5, 30.001 }, { 36, 3 }, 0.5, 110.31188796299427 },
    { { 252, 22 }, { 8000, 10 }, 0.05, 62.143695901175526 },
    { { 252, 22 }, { 8000, 10 }, 0.5, 69.90461432821668 },
    { { 3.5, 30.001 }, { 0, 3 }, 0.5, 0 },
    { { 3.5, 30.001 }, { 36, 0 }, 0.5, INFINITY },
    { { 3.5, 30.001 }, { 1e6, 3 }, 0.5, INFINITY },  /* past ten years */
    { { 3.5, 30.001 }, { NAN, 3 }, 0.5, NAN },
    { { 3.5, 30.001 }, { 36, 3 }, 1, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      check_rel ("closed form", sci_card_quantile (&cases[i].rate, &cases[i].card, cases[i].p), cases[i].days, 1e-7);
      check_rel ("solved", sci_station_quantile (&cases[i].rate, NULL, 0, &cases[i].card, cases[i].p), cases[i].days, 1e-6);
    }
}

/* Energy budget, checked by hand: days = charge / (24 sleep + triggers x charge
 * each). The rate is known to one part in 10^4 and the charge exactly; what is
 * left is the Poisson scatter of the count, turned into days by the drain. */
static void
test_energy_budget (void)
{
  static const struct {
    double charge_mah, mas_per_trigger, days;
  } cases[] = {
    { 2500, 0.6 * 3600, 138.888889 },
    { 5000, 0.6 * 3600, 277.777778 },
    { 1900, (0.6 + 0.6 * 0.9) * 3600, 65.9722222 }, /* 60 % of triggers by flash */
  };
  const SciRate rate = { 1e8, 5e6 };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const SciUnit unit = { cases[i].charge_mah, 0, 0.25, cases[i].mas_per_trigger };
      double scatter = sqrt (20 * cases[i].days) * unit.mas_per_trigger / 3600 / (cases[i].charge_mah / cases[i].days);

      /* The count is whole: half a trigger is worth 0.03 days. */
      check_abs ("median", sci_unit_quantile (&rate, &unit, 0.5), cases[i].days, 0.05);
      /* Whole forecasts are solved to 2e-5 in the chance, not to 1e-7: see the header. */
      check_abs ("10 %", sci_unit_quantile (&rate, &unit, 0.1), cases[i].days - 1.2816 * scatter, 0.05);
      check_abs ("90 %", sci_unit_quantile (&rate, &unit, 0.9), cases[i].days + 1.2816 * scatter, 0.05);
    }
}

/* Without triggers: charge / sleep, a lognormal of which 10 % lie below
 * exp (-1.28 sd) of the median. */
static void
test_sleeping (void)
{
  static const struct {
    SciUnit unit;
    double p, days;
  } cases[] = {
    { { 2400, 0.2, 1, 0 }, 0.5, 100 },
    { { 2400, 0.2, 1, 0 }, 0.1, 77.39017796 },
    { { 2400, 0, 1, 0 }, 0.1, 100 },           /* a jump */
    { { 2400, 0.2, 0.001, 0 }, 0.5, INFINITY }, /* 274 years */
    { { 2400, 0.2, 0, 0 }, 0.5, INFINITY },
    { { 0, 0.2, 1, 0 }, 0.5, 0 },
    { { NAN, 0.2, 1, 0 }, 0.5, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    check_rel ("days", sci_unit_quantile (&busy, &cases[i].unit, cases[i].p), cases[i].days, 1e-6);
}

static void
test_inverse (void)
{
  static const double chances[] = { 0.001, 0.1, 0.37, 0.5, 0.9, 0.99 };
  const SciRate rates[] = { busy, { 0.5, 0.1 }, { 3, 40 }, { 1e5, 800 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rates); i++)
    for (gsize j = 0; j < G_N_ELEMENTS (chances); j++)
      {
        double days = sci_station_quantile (&rates[i], rig, G_N_ELEMENTS (rig), &card, chances[j]);

        if (isfinite (days))
          check_abs ("station", sci_station_p_down (&rates[i], rig, G_N_ELEMENTS (rig), &card, days), chances[j], 1e-7);
        else
          g_assert_cmpfloat (sci_station_p_down (&rates[i], rig, G_N_ELEMENTS (rig), &card, SCI_RUNOUT_HORIZON), <, chances[j]);
        for (gsize k = 0; k < G_N_ELEMENTS (rig); k++)
          {
            days = sci_unit_quantile (&rates[i], &rig[k], chances[j]);
            if (isfinite (days))
              check_abs ("unit", sci_unit_p_out (&rates[i], &rig[k], days), chances[j], 1e-7);
            else
              g_assert_cmpfloat (sci_unit_p_out (&rates[i], &rig[k], SCI_RUNOUT_HORIZON), <, chances[j]);
          }
      }
}

/* Midpoint rule with 4000 steps, whose error is far below the tolerance. */
static double
integrate_plainly (const SciRate *rate, const SciUnit *units, gsize n_units, const SciCard *of, double days)
{
  double sum = 0;

  for (int i = 0; i < 4000; i++)
    sum += sci_station_p_down (rate, units, n_units, of, days * (i + 0.5) / 4000);
  return days * sum / 4000;
}

/* A unit that only sleeps is out by t with the chance Phi (ln (t / m) / s), m its
 * median; its integral is elementary. Times about that at which the two rules of
 * the quadrature agree by chance: a quarter of the time at a chance of 3/4. */
static void
test_lost_asleep (void)
{
  const SciRate rate = { 5, 1, 0, 0, 0, { 0, 0 }, 0 };
  const double sds[] = { 0.05, 0.2, 0.3, 0.5 };

  for (size_t i = 0; i < G_N_ELEMENTS (sds); i++)
    for (double share = 0.5; share < 1.5; share += 0.01)
      {
        const SciUnit unit = { 240, sds[i], 1, 0 };
        double m = 10, s = sds[i], days = share * 4 * m * exp (0.6745 * s), z = log (days / m) / s;
        double exact = days * sci_normal_cdf (z) - m * exp (s * s / 2) * sci_normal_cdf (z - s);

        check_abs ("asleep", sci_station_lost_nights (&rate, &unit, 1, NULL, days), exact, fmax (1e-3, 1e-4 * days));
      }
}

static void
test_lost_nights (void)
{
  static const double times[] = { 0, 7, 28, 60, 120, 400 };
  const SciUnit sharp = { 2400, 0, 1, 0 };

  for (gsize i = 0; i < G_N_ELEMENTS (times); i++)
    {
      double tolerance = fmax (1e-3, 1e-4 * times[i]);

      check_abs ("rig", sci_station_lost_nights (&busy, rig, G_N_ELEMENTS (rig), &card, times[i]),
                 integrate_plainly (&busy, rig, G_N_ELEMENTS (rig), &card, times[i]), tolerance);
      /* Dies for certain on day 100. */
      check_abs ("sharp", sci_station_lost_nights (&busy, &sharp, 1, NULL, times[i]), fmax (0, times[i] - 100), tolerance);
    }
  check_abs ("unknown", sci_station_lost_nights (&busy, NULL, 0, NULL, 28), NAN, 0);
}

static void
test_forecast (void)
{
  SciForecast forecast;
  SciRunout runouts[G_N_ELEMENTS (rig)];

  sci_runout_forecast (&busy, rig, G_N_ELEMENTS (rig), &card, 60, &forecast, runouts);
  check_rel ("rate", forecast.triggers_per_day, 41 / 14.1, 1e-15);
  check_abs ("down", forecast.station.p_out, sci_station_p_down (&busy, rig, G_N_ELEMENTS (rig), &card, 60), 0);
  check_abs ("lost", forecast.lost_nights, sci_station_lost_nights (&busy, rig, G_N_ELEMENTS (rig), &card, 60), 0);
  check_abs ("full", forecast.card.p_out, sci_card_p_full (&busy, &card, 60), 0);
  check_abs ("card", forecast.card.days.p50, sci_card_quantile (&busy, &card, 0.5), 0);
  for (gsize i = 0; i < G_N_ELEMENTS (rig); i++)
    {
      const SciRunoutDays days = runouts[i].days;

      check_abs ("out", runouts[i].p_out, sci_unit_p_out (&busy, &rig[i], 60), 0);
      /* Whole forecasts are solved to 2e-5 in the chance, not to 1e-7: see the header. */
      check_abs ("10 %", sci_unit_p_out (&busy, &rig[i], days.p10), 0.1, 2e-5);
      check_abs ("50 %", sci_unit_p_out (&busy, &rig[i], days.p50), 0.5, 2e-5);
      check_abs ("90 %", sci_unit_p_out (&busy, &rig[i], days.p90), 0.9, 2e-5);
      g_assert_cmpfloat (forecast.station.days.p50, <=, days.p50);
    }
}

/* Rig: which part is named. */
static void
test_limiting (void)
{
  static const struct {
    const char *what;
    SciUnit units[2];
    SciCard card;
    int limiting;
  } cases[] = {
    { "weaker second unit", { { 4000, 0.2, 1, 10 }, { 1000, 0.2, 1, 10 } }, { 1e6, 1 }, 1 },
    { "card", { { 4000, 0.2, 0.1, 10 }, { 4000, 0.2, 0.1, 10 } }, { 50, 3 }, SCI_LIMITING_CARD },
    { "alike: the first", { { 4000, 0.2, 1, 10 }, { 4000, 0.2, 1, 10 } }, { 1e6, 1 }, 0 },
    { "unknown unit passed over", { { NAN, 0.2, 1, 10 }, { 4000, 0.2, 1, 10 } }, { NAN, NAN }, 1 },
    { "empty already", { { 4000, 0.2, 1, 10 }, { 0, 0.2, 1, 10 } }, { 1e6, 1 }, 1 },
    { "nothing known", { { NAN, 0, 0, 0 }, { NAN, 0, 0, 0 } }, { NAN, NAN }, SCI_LIMITING_NONE },
    { "nothing drawn", { { 100, 0.1, 0, 0 }, { 100, 0.1, 0, 0 } }, { 100, 0 }, SCI_LIMITING_NONE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciForecast forecast;

      g_test_message ("%s", cases[i].what);
      sci_runout_forecast (&busy, cases[i].units, 2, &cases[i].card, 28, &forecast, NULL);
      g_assert_cmpint (forecast.limiting, ==, cases[i].limiting);
    }
}

/* A new project's weak prior: the rate may be next to nothing, so the 90 %
 * date may lie past the horizon. */
static void
test_weak_prior (void)
{
  const SciRate vague = { 0.5, 0.1 };
  SciForecast forecast;

  sci_runout_forecast (&vague, NULL, 0, &card, 28, &forecast, NULL);
  g_assert_cmpfloat (forecast.station.days.p10, >, 0);
  g_assert_cmpfloat (forecast.station.days.p10, <, forecast.station.days.p50);
  check_abs ("90 %", forecast.station.days.p90, INFINITY, 0);
}

/* 300 stations of five units and a card; a third of a second is the aim, and
 * slow machines and checkers get ten times that. */
static void
test_speed (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  double seconds;

  g_test_timer_start ();
  for (int i = 0; i < 300; i++)
    {
      double per_day = exp (g_rand_double_range (rand, -1, 5)), days = g_rand_double_range (rand, 0, 40);
      SciRate rate = sci_rate_posterior (0.8, 0.8 / per_day, floor (per_day * days), days);
      SciUnit units[5];
      SciForecast forecast;
      SciRunout runouts[5];

      for (int j = 0; j < 5; j++)
        units[j] = (SciUnit) {
          g_rand_double_range (rand, 1500, 9000), g_rand_double_range (rand, 0.05, 0.5),
          g_rand_double_range (rand, 0.05, 1), g_rand_double_range (rand, 0, 300),
        };
      sci_runout_forecast (&rate, units, 5, &card, 28, &forecast, runouts);
      g_assert_cmpfloat (forecast.station.p_out, >=, 0);
    }
  seconds = g_test_timer_elapsed ();
  g_test_minimized_result (seconds, "300 stations: %.3f s", seconds);
  g_assert_cmpfloat (seconds, <, 3);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/runout-days/card", test_card);
  g_test_add_func ("/science/runout-days/energy-budget", test_energy_budget);
  g_test_add_func ("/science/runout-days/sleeping", test_sleeping);
  g_test_add_func ("/science/runout-days/inverse", test_inverse);
  g_test_add_func ("/science/runout-days/lost-nights", test_lost_nights);
  g_test_add_func ("/science/runout-days/lost-asleep", test_lost_asleep);
  g_test_add_func ("/science/runout-days/forecast", test_forecast);
  g_test_add_func ("/science/runout-days/limiting", test_limiting);
  g_test_add_func ("/science/runout-days/weak-prior", test_weak_prior);
  g_test_add_func ("/science/runout-days/speed", test_speed);
  return g_test_run ();
}
