#include "sci-community.h"

#include <glib.h>
#include <string.h>

#include "check.h"
#include "rows.h"
#include "sci-random.h"

#define MAX_UNITS 64

/* Rows of units, '1' found, '0' not, species by column. */
static void
read_tally (const char *rows, SciTally *tally)
{
  g_auto (GStrv) words = g_strsplit (rows, " ", -1);
  gsize units = *rows != '\0' ? g_strv_length (words) : 0;
  SciPresence presence;

  g_assert_true (sci_presence_init (&presence, units, units > 0 ? strlen (words[0]) : 0));
  for (gsize u = 0; u < units; u++)
    for (gsize s = 0; s < presence.species; s++)
      if (words[u][s] == '1')
        sci_presence_set (&presence, s, u);
  g_assert_true (sci_tally_init (tally, &presence));
  sci_presence_clear (&presence);
}

static SciTally bci;
static SciPresence generated;
static gsize row;

static void
take_bci (char **cells)
{
  bci.absent[row] = row_real (cells[1]);
  bci.pairs[row] = row_real (cells[2]);
  if (row < bci.units)
    bci.single[row] = row_real (cells[3]);
  row++;
}

static void
take_generated (char **cells)
{
  for (gsize s = 0; s < generated.species; s++)
    if (row_real (cells[s]) > 0)
      sci_presence_set (&generated, s, row);
  row++;
}

/* The 50 hectares of Barro Colorado Island as R vegan 2.6-4 has them, as numbers of
 * species and of pairs missing from so many of them. */
static void
get_bci (SciTally *tally)
{
  SciPresence empty;

  g_assert_true (sci_presence_init (&empty, 50, 0));
  g_assert_true (sci_tally_init (&bci, &empty));
  sci_presence_clear (&empty);
  row = 0;
  each_row ("tally_BCI.csv", 4, 51, take_bci);
  *tally = bci;
}

static void
get_generated (SciTally *tally)
{
  g_assert_true (sci_presence_init (&generated, 24, 18));
  row = 0;
  each_row ("community_generated.csv", 18, 24, take_generated);
  g_assert_true (sci_tally_init (tally, &generated));
  sci_presence_clear (&generated);
}

static void
get_no_duplicates (SciTally *tally)
{
  read_tally ("11100 11010 11001", tally);
}

/* CHECKS F1: specpool and the formulas in Python. The error of jack1 is that of leaving
 * out one unit at a time. */
typedef struct {
  const char *set;
  void (*get) (SciTally *tally);
  SciRichness want;
} Case;

static const Case cases[] = {
  { "BCI", get_bci, { 50, 225, 4539, 21, 19, 236.37315789473683, 6.543610380588571, 235.29, 245.57999999999998,
                      4.867894822199839, 247.8722448979592, 235.68616753251362, 3.4688883571225446, 0.9955382003269385,
                      { 225, 157.60017472108467, 136.0647813653685 } } },
  { "generated", get_generated, { 24, 15, 131, 2, 1, 16.916666666666668, 3.59687364248454, 15.479166666666666,
                                  16.916666666666668, 1.3254978100489054, 17.8731884057971, 15.864069509900165,
                                  0.763958017039511, 0.9853689567430025, { 15, 12.013403851231967, 10.77275580665411 } } },
  { "no duplicates", get_no_duplicates, { 3, 5, 9, 3, 0, 7, 3.0079260375911914, 7, 7, 0, 8, 5.888888888888889,
                                          0.5665577237325313, 0.6666666666666667,
                                          { 5, 4.326748710922226, 3.857142857142857 } } },
};

static void
check_richness (const SciRichness *got, const SciRichness *want, double tolerance)
{
  g_assert_cmpuint (got->units, ==, want->units);
  g_assert_cmpuint (got->species, ==, want->species);
  g_assert_cmpuint (got->incidences, ==, want->incidences);
  g_assert_cmpuint (got->uniques, ==, want->uniques);
  g_assert_cmpuint (got->duplicates, ==, want->duplicates);
  check_rel ("chao2", got->chao2, want->chao2, tolerance);
  check_rel ("chao2_error", got->chao2_error, want->chao2_error, tolerance);
  check_rel ("chao2_corrected", got->chao2_corrected, want->chao2_corrected, tolerance);
  check_rel ("jack1", got->jack1, want->jack1, tolerance);
  check_abs ("jack1_error", got->jack1_error, want->jack1_error, fmax (want->jack1_error * tolerance, 1e-7));
  check_rel ("jack2", got->jack2, want->jack2, tolerance);
  check_rel ("boot", got->boot, want->boot, tolerance);
  check_rel ("boot_error", got->boot_error, want->boot_error, tolerance);
  check_rel ("coverage", got->coverage, want->coverage, tolerance);
  for (gsize q = 0; q < 3; q++)
    check_rel ("hill", got->hill[q], want->hill[q], tolerance);
}

static void
test_richness (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciTally tally;
      SciRichness got;

      g_test_message ("%s", cases[i].set);
      cases[i].get (&tally);
      got = sci_richness (&tally);
      check_richness (&got, &cases[i].want, 1e-6);
      sci_tally_clear (&tally);
    }
}

static double means[MAX_UNITS], sds[MAX_UNITS];

static void
check_curve (char **cells)
{
  check_rel ("mean", means[row], row_real (cells[1]), 1e-6);
  check_abs ("sd", sds[row], row_real (cells[2]), 1e-5);
  row++;
}

/* CHECKS F1: the mean as in specaccum, method exact; the deviation from pairs of species in
 * Python, and for BCI from 20,000 random orders: 7.219, 5.766, 4.661, 3.830, 2.182 at 2, 5,
 * 10, 20 and 40 units, within 1 % of the exact ones. */
static void
test_curves (void)
{
  static const struct {
    gsize n;
    double sd;
  } drawn[] = { { 2, 7.219 }, { 5, 5.766 }, { 10, 4.661 }, { 20, 3.830 }, { 40, 2.182 } };
  SciTally tally;

  get_generated (&tally);
  sci_accumulation (&tally, means, sds);
  row = 0;
  each_row ("accumulation_generated.csv", 3, 24, check_curve);
  sci_tally_clear (&tally);

  get_bci (&tally);
  sci_accumulation (&tally, means, sds);
  row = 0;
  each_row ("accumulation_BCI.csv", 3, 50, check_curve);
  for (gsize i = 0; i < G_N_ELEMENTS (drawn); i++)
    check_rel ("sd of random orders", sds[drawn[i].n - 1], drawn[i].sd, 0.01);
  sci_tally_clear (&tally);

  get_no_duplicates (&tally);
  sci_accumulation (&tally, means, sds);
  for (gsize k = 0; k < 3; k++)
    {
      check_abs ("mean", means[k], (double) k + 3, 1e-12);
      check_abs ("sd", sds[k], 0, 1e-5);
    }
  sci_accumulation (&tally, means, NULL); /* without a deviation */
  sci_tally_clear (&tally);
}

static void
draw_presence (guint64 seed, gsize units, gsize species, SciPresence *presence)
{
  g_assert_true (sci_presence_init (presence, units, species));
  for (gsize s = 0; s < species; s++)
    for (gsize u = 0; u < units; u++)
      if (sci_random_uniform (seed, s, u) < sci_random_uniform (seed, s, 1000))
        sci_presence_set (presence, s, u);
}

static gboolean
has (const SciPresence *presence, gsize species, gsize unit)
{
  return presence->bits[species * presence->words + unit / 64] >> unit % 64 & 1;
}

static guint
count_in_subset (const SciPresence *presence, guint subset)
{
  guint n = 0;

  for (gsize s = 0; s < presence->species; s++)
    for (gsize u = 0; u < presence->units; u++)
      if (subset >> u & 1 && has (presence, s, u))
        {
          n++;
          break;
        }
  return n;
}

/* Property: mean and deviation are those of all subsets, looked at one by one. */
static void
test_all_subsets (void)
{
  for (guint64 seed = 0; seed < 40; seed++)
    {
      gsize units = 1 + seed % 9;
      double n[10] = { 0 }, sum[10] = { 0 }, squares[10] = { 0 }, mean[10], sd[10];
      SciPresence presence;
      SciTally tally;

      draw_presence (seed, units, seed % 13, &presence);
      for (guint subset = 1; subset < 1u << units; subset++)
        {
          guint size = (guint) __builtin_popcount (subset);
          double found = count_in_subset (&presence, subset);

          n[size]++;
          sum[size] += found;
          squares[size] += found * found;
        }
      g_assert_true (sci_tally_init (&tally, &presence));
      sci_accumulation (&tally, mean, sd);
      for (gsize k = 1; k <= units; k++)
        {
          double want = sum[k] / n[k];

          check_abs ("mean", mean[k - 1], want, 1e-10);
          check_abs ("variance", sd[k - 1] * sd[k - 1], squares[k] / n[k] - want * want, 1e-9);
        }
      sci_tally_clear (&tally);
      sci_presence_clear (&presence);
    }
}

/* Property: the deviations of the jackknife and of the bootstrap from what they are made of: a
 * unit left out at a time, and units drawn with replacement. */
static void
test_resampled (void)
{
  SciPresence presence;
  SciTally tally;
  SciRichness got;
  double sum = 0, squares = 0, left[12], mean = 0, variance = 0;
  const int rounds = 20000;

  draw_presence (3, 12, 30, &presence);
  g_assert_true (sci_tally_init (&tally, &presence));
  got = sci_richness (&tally);
  for (guint u = 0; u < 12; u++)
    {
      left[u] = count_in_subset (&presence, 0xfffu & ~(1u << u));
      mean += left[u] / 12;
    }
  for (guint u = 0; u < 12; u++)
    variance += 11 / 12.0 * (left[u] - mean) * (left[u] - mean);
  check_rel ("jack1", got.jack1, 12 * (double) got.species - 11 * mean, 1e-12);
  check_rel ("jack1_error", got.jack1_error, sqrt (variance), 1e-12);
  for (int i = 0; i < rounds; i++)
    {
      guint subset = 0;
      double found;

      for (guint u = 0; u < 12; u++)
        subset |= 1u << (guint) (12 * sci_random_uniform (17, (guint64) i, u));
      found = count_in_subset (&presence, subset);
      sum += found;
      squares += found * found;
    }
  /* the estimate goes up by what such draws miss; 20,000 of them tell a deviation within 2 % */
  check_abs ("boot", got.boot, 2 * (double) got.species - sum / rounds, 0.05);
  check_rel ("boot_error", got.boot_error, sqrt (squares / rounds - sum / rounds * (sum / rounds)), 0.02);
  sci_tally_clear (&tally);
  sci_presence_clear (&presence);
}

/* By hand. NaN is 'not known'. */
static void
test_edges (void)
{
  static const struct {
    const char *what;
    const char *rows;
    SciRichness want;
  } edges[] = {
    { "nothing", "", { 0, 0, 0, 0, 0, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, { NAN, NAN, NAN } } },
    { "units without a species", "00 00", { 2, 0, 0, 0, 0, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, { NAN, NAN, NAN } } },
    { "one unit", "1101", { 1, 3, 3, 3, 0, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, { 3, 3, 3 } } },
    { "one species everywhere", "1 1", { 2, 1, 2, 0, 1, 1, 0, 1, 1, 0, 1, 1, 0, 1, { 1, 1, 1 } } },
    /* all uniques, none twice: A = 1/2; chao2 2 + 1/2, variance (1 + 1/2 (2 9 / 4 - 16 / (4 2.5))) / 2 = 1.225,
     * jack1 2 + 2 / 2, u = 1, 1 gives no deviation, jack2 2 + 2 / 2, boot 2 + 2 / 4, pairs (0 + 0 + 1/4 + 1/4)
     * less (1/2)^2 */
    { "all uniques", "10 01", { 2, 2, 2, 2, 0, 2.5, sqrt (1.225), 2.5, 3, 0, 3, 2.5, 0.5, 0, { 2, 2, 2 } } },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (edges); i++)
    {
      SciTally tally;
      SciRichness got;

      g_test_message ("%s", edges[i].what);
      read_tally (edges[i].rows, &tally);
      got = sci_richness (&tally);
      check_richness (&got, &edges[i].want, 1e-12);
      sci_tally_clear (&tally);
    }
}

/* By hand, from sets of CHECKS F1. Generated: T = 16.9167 - 15, error 3.59687: ln (1 + (error / T)^2) =
 * 1.509, K = exp (1.96 1.2284) = 11.11. More units for 95 %: rate 2 / (23 2 + 2) = 1 / 24;
 * ln (1 - (16.0708 - 15) / 1.9167) / ln (23 / 24) = ln 0.44131 / ln 0.95833 = 19.2. */
static void
test_ahead (void)
{
  SciTally tally;
  SciRichness richness;
  SciInterval limits;

  get_generated (&tally);
  richness = sci_richness (&tally);
  limits = sci_richness_limits (&richness, 0.95);
  check_abs ("chao2", limits.estimate, richness.chao2, 0);
  check_abs ("lower", limits.lower, 15 + 1.9167 / 11.11, 1e-3);
  check_abs ("upper", limits.upper, 15 + 1.9167 * 11.11, 1e-2);
  check_abs ("more", sci_richness_more_units (&richness, 0.95), 19.2, 0.05);
  check_abs ("found already", sci_richness_more_units (&richness, 0.8), 0, 0);
  check_abs ("no share", sci_richness_more_units (&richness, 1), NAN, 0);
  sci_tally_clear (&tally);

  get_no_duplicates (&tally);
  richness = sci_richness (&tally);
  check_abs ("no duplicates", sci_richness_more_units (&richness, 0.95), NAN, 0);
  sci_tally_clear (&tally);

  read_tally ("11 11 11", &tally);
  richness = sci_richness (&tally);
  limits = sci_richness_limits (&richness, 0.95);
  check_abs ("all found, lower", limits.lower, 2, 0);
  check_abs ("all found, upper", limits.upper, 2, 0);
  sci_tally_clear (&tally);

  read_tally ("1", &tally);
  richness = sci_richness (&tally);
  check_abs ("one unit", sci_richness_limits (&richness, 0.95).upper, NAN, 0);
  sci_tally_clear (&tally);
}

/* Property: neither the order of units nor that of species changes anything at all, species
 * found nowhere do not count, and units beyond a word of bits do. */
static void
test_order (void)
{
  for (guint64 seed = 0; seed < 20; seed++)
    {
      gsize units = 60 + seed, species = 25;
      double mean[2][80], sd[2][80];
      SciPresence presence, turned;
      SciTally tally[2];
      SciRichness got[2];

      draw_presence (seed, units, species, &presence);
      g_assert_true (sci_presence_init (&turned, units, species + 3));
      for (gsize s = 0; s < species; s++)
        for (gsize u = 0; u < units; u++)
          if (has (&presence, s, u))
            sci_presence_set (&turned, species + 1 - s, units - 1 - u);
      g_assert_true (sci_tally_init (&tally[0], &presence));
      g_assert_true (sci_tally_init (&tally[1], &turned));
      for (gsize i = 0; i < 2; i++)
        {
          sci_accumulation (&tally[i], mean[i], sd[i]);
          got[i] = sci_richness (&tally[i]);
          sci_tally_clear (&tally[i]);
        }
      check_richness (&got[1], &got[0], 0);
      for (gsize k = 0; k < units; k++)
        {
          check_abs ("mean", mean[1][k], mean[0][k], 0);
          check_abs ("sd", sd[1][k], sd[0][k], 0);
        }
      check_abs ("mean of all", mean[0][units - 1], (double) got[0].species, 1e-10);
      sci_presence_clear (&presence);
      sci_presence_clear (&turned);
    }
}

/* Property: species that are all in the same units make a curve without a deviation where
 * there is nothing to choose; 300 units, 200 species. */
static void
test_large (void)
{
  static double mean[300], sd[300];
  SciPresence presence;
  SciTally tally;

  g_assert_true (sci_presence_init (&presence, 300, 200));
  for (gsize s = 0; s < 200; s++)
    for (gsize u = 0; u < 300; u++)
      if (u % 200 == s) /* 1 or 2 of the units, one species each */
        sci_presence_set (&presence, s, u);
  g_assert_true (sci_tally_init (&tally, &presence));
  sci_accumulation (&tally, mean, sd);
  check_rel ("mean of one", mean[0], 1, 1e-12);
  check_abs ("sd of one", sd[0], 0, 1e-6);
  /* two units show one species with a chance of 100 / C(300, 2), else two */
  check_rel ("mean of two", mean[1], 2 - 100 / 44850.0, 1e-12);
  check_rel ("sd of two", sd[1], sqrt (100 / 44850.0 * (1 - 100 / 44850.0)), 1e-9);
  check_rel ("mean of all", mean[299], 200, 1e-12);
  check_abs ("sd of all", sd[299], 0, 0);
  sci_tally_clear (&tally);
  sci_presence_clear (&presence);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/community/richness", test_richness);
  g_test_add_func ("/science/community/curves", test_curves);
  g_test_add_func ("/science/community/all-subsets", test_all_subsets);
  g_test_add_func ("/science/community/resampled", test_resampled);
  g_test_add_func ("/science/community/edges", test_edges);
  g_test_add_func ("/science/community/ahead", test_ahead);
  g_test_add_func ("/science/community/order", test_order);
  g_test_add_func ("/science/community/large", test_large);
  return g_test_run ();
}
