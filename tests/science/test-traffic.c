#include "sci-traffic.h"

#include "check.h"
#include "sci-random.h"
#include "sci-special.h"

/* A fleet made of known parts: levels at the quantiles of a gamma, counts at
 * those of a negative binomial, in an order that looks random. */
typedef struct {
  const char *what;
  double a, mean, clump, drift, cosine, sine;
  guint groups, watches;
  double days; /* of a watch */
} Fleet;

static double
uniform (guint group, guint watch, guint what)
{
  return fmin (0.9999, fmax (0.0001, sci_random_uniform (5, what * 1000 + group, watch)));
}

/* The count whose chance of being reached is u, by walking up. */
static double
draw_count (double mean, double variance, double u)
{
  double odds = fmax (variance / mean - 1, 1e-6), size = mean / odds, n = fmax (0, floor (mean - 6 * sqrt (variance)));

  while (sci_negbin_cdf (n, size, odds) < u)
    n += fmax (1, floor (sqrt (variance) / 50));
  return n;
}

static GArray *
make_watches (const Fleet *fleet)
{
  GArray *watches = g_array_new (FALSE, FALSE, sizeof (SciWatch));
  const SciSeason season = { fleet->cosine, fleet->sine };

  for (guint g = 0; g < fleet->groups; g++)
    {
      double level = sci_gamma_p_inverse (fleet->a, (g + 0.5) / fleet->groups) * fleet->mean / fleet->a;

      for (guint w = 0; w < fleet->watches; w++)
        {
          double from = 3 * g % 17 + w * fleet->days;
          double mean = level * sci_season_days (&season, from, fleet->days);
          double variance = mean * (1 + fleet->clump) + fleet->drift * mean * mean;
          SciWatch watch = { g, from, fleet->days, draw_count (mean, variance, uniform (g, w, 1)) };

          g_array_append_val (watches, watch);
        }
    }
  return watches;
}

static void
test_recovered (void)
{
  static const Fleet fleets[] = {
    { "quiet and alike", 8, 3, 0, 0.05, 0, 0, 40, 12, 7 },
    { "busy, very different", 1.2, 12, 4, 0.1, 0, 0, 60, 20, 7 },
    { "clumped, no drift to speak of", 2, 5, 8, 0.02, 0, 0, 60, 30, 7 },
    { "two years with a season", 2, 8, 2, 0.06, -0.45, 0.2, 40, 26, 28 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (fleets); i++)
    {
      const Fleet *fleet = &fleets[i];
      g_autoptr (GArray) watches = make_watches (fleet);
      gboolean long_enough = fleet->watches * fleet->days > 300;
      SciTraffic traffic;

      sci_traffic_learn ((const SciWatch *) (gpointer) watches->data, watches->len, fleet->groups, &traffic);
      g_test_message ("%s: shape %.2f mean %.2f clump %.2f drift %.3f season %.2f %.2f", fleet->what, traffic.prior_a,
                      traffic.prior_a / traffic.prior_b, traffic.clump, traffic.drift, traffic.season.cosine, traffic.season.sine);
      /* What so many draws leave open: a sixth of the mean, a half of the rest. */
      check_rel ("mean", traffic.prior_a / traffic.prior_b, fleet->mean, 0.17);
      check_rel ("shape", traffic.prior_a, fleet->a, 0.5);
      check_abs ("clump", traffic.clump, fleet->clump, 0.5 * fleet->clump + 0.7);
      check_abs ("drift", traffic.drift - (long_enough ? 0 : 0.1), fleet->drift, 0.5 * fleet->drift + 0.02);
      check_abs ("cosine", traffic.season.cosine, fleet->cosine, 0.1);
      check_abs ("sine", traffic.season.sine, fleet->sine, 0.1);
    }
}

/* A new project keeps the weak values, wider by the season nobody saw. */
static void
test_weak (void)
{
  static const SciWatch few[] = { { 0, 0, 10, 40 }, { 1, 0, 10, 5 }, { 2, 5, 3, 0 } };
  SciTraffic traffic;

  sci_traffic_learn (NULL, 0, 0, &traffic);
  check_abs ("shape", traffic.prior_a, sci_traffic_weak.prior_a, 0);
  check_abs ("drift", traffic.drift, sci_traffic_weak.drift + 0.1, 1e-15);
  sci_traffic_learn (few, G_N_ELEMENTS (few), 3, &traffic);
  check_abs ("shape", traffic.prior_a, sci_traffic_weak.prior_a, 0);
  check_abs ("days", traffic.prior_b, sci_traffic_weak.prior_b, 0);
}

/* Whatever is counted, what comes out can be reckoned with. */
static void
test_odd (void)
{
  static const struct {
    const char *what;
    SciWatch watches[6];
  } cases[] = {
    { "nothing ever", { { 0, 0, 30, 0 }, { 1, 0, 30, 0 }, { 2, 0, 30, 0 }, { 3, 0, 30, 0 }, { 4, 0, 30, 0 }, { 4, 30, 30, 0 } } },
    { "one storm", { { 0, 0, 30, 0 }, { 1, 0, 30, 0 }, { 2, 0, 30, 9000 }, { 3, 0, 30, 0 }, { 4, 0, 30, 1 }, { 4, 30, 400, 0 } } },
    { "all alike", { { 0, 0, 30, 60 }, { 1, 0, 30, 60 }, { 2, 0, 30, 60 }, { 3, 0, 30, 60 }, { 4, 0, 30, 60 }, { 4, 30, 30, 60 } } },
    { "no length", { { 0, 0, 0, 5 }, { 1, 0, 0, 0 }, { 2, 0, 0, 3 }, { 3, 0, 0, 1 }, { 4, 0, 0, 0 }, { 4, 30, 0, 0 } } },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciTraffic traffic;
      SciRate rate;
      double size, odds;

      sci_traffic_learn (cases[i].watches, 6, 5, &traffic);
      rate = sci_traffic_rate (&traffic, cases[i].watches + 4, 2, 500);
      sci_rate_count (&rate, 28, &size, &odds);
      g_test_message ("%s: %g per day", cases[i].what, rate.a / rate.b);
      g_assert_true (isfinite (size) && size > 0 && isfinite (odds) && odds >= 0);
      g_assert_cmpfloat (traffic.clump, >=, 0);
      g_assert_cmpfloat (traffic.drift, >=, 0.02);
    }
}

static void
test_order (void)
{
  static const Fleet fleet = { "any", 2, 5, 2, 0.05, 0.3, 0, 10, 20, 20 };
  g_autoptr (GArray) watches = make_watches (&fleet);
  SciTraffic straight, reversed;

  sci_traffic_learn ((const SciWatch *) (gpointer) watches->data, watches->len, fleet.groups, &straight);
  for (guint i = 0; i < watches->len / 2; i++)
    {
      SciWatch *a = &g_array_index (watches, SciWatch, i), *b = &g_array_index (watches, SciWatch, watches->len - 1 - i), c = *a;
      *a = *b;
      *b = c;
    }
  sci_traffic_learn ((const SciWatch *) (gpointer) watches->data, watches->len, fleet.groups, &reversed);
  check_rel ("clump", reversed.clump, straight.clump, 1e-9);
  check_rel ("drift", reversed.drift, straight.drift, 1e-9);
  check_rel ("season", reversed.season.cosine, straight.season.cosine, 1e-9);
  check_rel ("shape", reversed.prior_a, straight.prior_a, 1e-9);
}

/* One station's rate. Without clumping, drift and season it is the gamma's own
 * (Gelman et al., ch. 2); with drift, old counts fade. */
static void
test_rate (void)
{
  const SciTraffic plain = { .prior_a = 1, .prior_b = 0.1, .clump = 0, .drift = 0, .drift_days = 45 };
  const SciTraffic drifting = { .prior_a = 1, .prior_b = 0.1, .clump = 1, .drift = 0.1, .drift_days = 45 };
  static const SciWatch same[] = { { 0, 0, 7, 20 }, { 0, 7, 7, 20 } };
  static const SciWatch rising[] = { { 0, 0, 60, 60 }, { 0, 200, 60, 600 } };
  SciRate rate = sci_traffic_rate (&plain, same, 2, 14), late;

  check_abs ("shape", rate.a, 41, 1e-9);
  check_abs ("days", rate.b, 14.1, 1e-9);
  check_abs ("no watch", sci_traffic_rate (&plain, NULL, 0, 14).a, 1, 1e-12);
  rate = sci_traffic_rate (&drifting, rising, 2, 260);
  g_assert_cmpfloat (rate.a / rate.b, >, 7); /* ten a day lately, one a day half a year ago: 5.5 in all */
  late = sci_traffic_rate (&drifting, rising, 2, 400);
  check_rel ("the mean stays", late.a / late.b, rate.a / rate.b, 1e-12);
  g_assert_cmpfloat (late.a, <, rate.a);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/traffic/recovered", test_recovered);
  g_test_add_func ("/traffic/weak", test_weak);
  g_test_add_func ("/traffic/odd", test_odd);
  g_test_add_func ("/traffic/order", test_order);
  g_test_add_func ("/traffic/rate", test_rate);
  return g_test_run ();
}
