#include "sci-drain.h"

#include "check.h"
#include "sci-special.h"

static const SciFactor plain = { 0, 0.3 };

#define SHARE(cells, expected, share, sd) { SCI_LOOK_SHARE, cells, expected, 0, share, sd }
#define ALIVE(cells, expected) { SCI_LOOK_ALIVE, cells, expected, 0, NAN, NAN }
#define OUT(cells, expected) { SCI_LOOK_OUT, cells, expected, 0, NAN, NAN }

static double
density (double z)
{
  return exp (-z * z / 2) / sqrt (2 * G_PI);
}

/* The model in the header's words, written out again. */
static double
likelihood (const SciLook *look, double factor)
{
  double used = factor * look->expected, rel = fmax (look->expected_rel, 0.05);
  double sd = hypot (look->share_sd, fmin (used, 1) * rel);

  if (look->kind == SCI_LOOK_SHARE)
    return 0.995 * density ((look->share - fmax (0, 1 - used)) / sd) / sd + 0.005;
  if (look->kind == SCI_LOOK_ALIVE)
    return 0.005 + 0.995 * sci_normal_cdf (-log (used) / rel);
  return 0.1 + 0.9 * sci_normal_cdf (log (used) / rel);
}

static double
prior_of (SciFactor factor, double x)
{
  double z = (x - factor.log_mean) / (0.89 * factor.log_sd);

  return 0.9 * density (z) + 0.1 / 3 * density (z / 3);
}

/* One set's likelihood of the unit's factor: the cells' own integrated out. */
static double
integrate_set (const SciLook *looks, gsize n, double x)
{
  double total = 0, weight = 0;

  for (double g = -0.6; g <= 0.6; g += 0.01)
    {
      double w = density (g / SCI_CELLS_LOG_SD), product = 1;

      for (gsize i = 0; i < n; i++)
        product *= likelihood (&looks[i], exp (x + g));
      total += w * (0.95 * product + 0.05);
      weight += w;
    }
  return total / weight;
}

static void
test_learn (void)
{
  static const struct {
    const char *what;
    SciLook looks[4];
    gsize n, per_set;
  } cases[] = {
    { "as the sheet says", { SHARE (0, 0.5, 0.5, 0.08) }, 1, 1 },
    { "twice as fast", { SHARE (0, 0.4, 0.2, 0.08), SHARE (1, 0.3, 0.4, 0.08) }, 2, 1 },
    { "hardly moved", { SHARE (0, 0.02, 0.9, 0.08) }, 1, 1 },
    { "flat cells", { SHARE (0, 0.5, 0.6, 0.28) }, 1, 1 },
    { "still alive past its time", { ALIVE (0, 1.6), ALIVE (1, 1.7) }, 2, 1 },
    { "out too soon", { OUT (0, 0.6), OUT (1, 0.7), OUT (2, 0.65) }, 3, 1 },
    { "seen twice on one set", { SHARE (0, 0.3, 0.6, 0.08), SHARE (0, 0.6, 0.3, 0.08), SHARE (1, 0.3, 0.6, 0.08), SHARE (1, 0.5, 0.4, 0.08) }, 4, 2 },
  };

  for (gsize c = 0; c < G_N_ELEMENTS (cases); c++)
    {
      double total = 0, mean = 0, spread = 0;
      SciDrain drain;
      SciFactor factor;

      for (double x = -2.7; x <= 2.7; x += 0.01)
        {
          double weight = prior_of (plain, x);

          for (gsize i = 0; i < cases[c].n; i += cases[c].per_set)
            weight *= integrate_set (cases[c].looks + i, cases[c].per_set, x);
          total += weight;
          mean += weight * x;
          spread += weight * x * x;
        }
      mean /= total;
      spread = sqrt (spread / total - mean * mean);
      sci_drain_look (cases[c].looks, cases[c].n, &drain);
      factor = sci_drain_factor (plain, &drain);
      g_test_message ("%s: %.3f %.3f", cases[c].what, factor.log_mean, factor.log_sd);
      /* As the header states: the grid is coarse on purpose. */
      check_abs ("mean", factor.log_mean, mean, 0.01);
      check_abs ("deviation", factor.log_sd, spread, 0.01);
    }
}

static void
test_nothing_seen (void)
{
  SciDrain drain;
  SciFactor factor;
  SciCharge charge;

  sci_drain_look (NULL, 0, &drain);
  factor = sci_drain_factor (plain, &drain);
  check_abs ("prior", factor.log_mean, plain.log_mean, 0);
  check_abs ("prior", factor.log_sd, plain.log_sd, 0);
  charge = sci_drain_left (plain, NULL, 0, 0);
  check_abs ("whole charge", charge.median, 1, 0.01);
  /* The middle 80 % stay those of a lognormal; the grid blurs them a little. */
  check_abs ("its deviation", charge.log_sd, hypot (plain.log_sd, SCI_CELLS_LOG_SD), 0.02);
}

/* What is left, in words: between what the sheet and what the pace says, and
 * never a confident number from a poor look. */
static void
test_left (void)
{
  static const struct {
    const char *what;
    SciLook looks[2];
    gsize n;
    double expected;
    double low, high;     /* of the median */
    double least, most;   /* of the deviation */
  } cases[] = {
    { "half used by the sheet, half left", { SHARE (0, 0.5, 0.5, 0.05) }, 1, 0.5, 0.45, 0.55, 0.05, 0.35 },
    { "a fifth used by the sheet, half left", { SHARE (0, 0.2, 0.5, 0.08) }, 1, 0.2, 0.2, 0.5, 0.2, 1 },
    { "a tenth used by the sheet, next to nothing left", { SHARE (0, 0.1, 0.05, 0.08) }, 1, 0.1, 0.005, 0.2, 0.3, 2 },
    { "volts of a flat cell", { SHARE (0, 0.3, 0.5, 0.28) }, 1, 0.3, 0.4, 0.75, 0.3, 1 },
    { "alive, long past its time", { ALIVE (0, 1.5) }, 1, 1.5, 0.02, 0.6, 0.5, 3 },
    { "the last reading is the one that counts", { SHARE (0, 0.3, 0.7, 0.05), SHARE (0, 0.6, 0.38, 0.05) }, 2, 0.6, 0.3, 0.45, 0.05, 0.3 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciCharge charge = sci_drain_left (plain, cases[i].looks, cases[i].n, cases[i].expected);

      g_test_message ("%s: %.3f %.3f", cases[i].what, charge.median, charge.log_sd);
      g_assert_cmpfloat (charge.median, >=, cases[i].low);
      g_assert_cmpfloat (charge.median, <=, cases[i].high);
      g_assert_cmpfloat (charge.log_sd, >=, cases[i].least);
      g_assert_cmpfloat (charge.log_sd, <=, cases[i].most);
    }
}

/* The lower the reading, the less is left; to within the bins, which are a
 * fortieth wide and blur the median by some of that. Above four fifths, where
 * the sheet has two fifths used, the two contradict each other and neither is
 * believed whole. */
static void
test_growing (void)
{
  double before = 0;

  for (double share = 0; share <= 0.8; share += 0.02)
    {
      SciLook look = SHARE (0, 0.4, share, 0.08);
      double median = sci_drain_left (plain, &look, 1, 0.4).median;

      g_assert_cmpfloat (median, >=, before * 0.99);
      before = median;
    }
}

/* Thirty units whose true factors are known: quantiles of a lognormal, each
 * seen without error but for its own deviation. */
static void
test_kind (void)
{
  static const struct {
    double mean, sd, own;
  } cases[] = { { 0.3, 0.15, 0.1 }, { -0.2, 0.05, 0.1 }, { 0, 0.4, 0.05 } };

  for (gsize c = 0; c < G_N_ELEMENTS (cases); c++)
    {
      SciFactor units[30], kind;
      double precision = 1 / (cases[c].own * cases[c].own), given = 1 / (plain.log_sd * plain.log_sd);

      for (int i = 0; i < 30; i++)
        {
          double truth = cases[c].mean + hypot (cases[c].sd, cases[c].own) * sci_normal_quantile ((i + 0.5) / 30);

          units[i] = (SciFactor) { truth * precision / (precision + given), 1 / sqrt (precision + given) };
        }
      kind = sci_drain_kind (units, 30, plain);
      g_test_message ("%.3f %.3f", kind.log_mean, kind.log_sd);
      check_abs ("mean", kind.log_mean, cases[c].mean, 0.02);
      /* Drawn to the prior's 0.3 as if four of 34 units had told it. */
      check_abs ("deviation", kind.log_sd, sqrt ((30 * cases[c].sd * cases[c].sd + 4 * 0.09) / 34), 0.02);
    }
  {
    SciFactor one = { 0.5, 0.1 };

    check_abs ("one unit is no kind", sci_drain_kind (&one, 1, plain).log_mean, 0, 0);
    check_abs ("nor is none", sci_drain_kind (NULL, 0, plain).log_sd, 0.3, 0);
  }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/drain/learn", test_learn);
  g_test_add_func ("/drain/nothing-seen", test_nothing_seen);
  g_test_add_func ("/drain/left", test_left);
  g_test_add_func ("/drain/growing", test_growing);
  g_test_add_func ("/drain/kind", test_kind);
  return g_test_run ();
}
