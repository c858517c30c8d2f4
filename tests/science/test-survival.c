#include "sci-survival.h"

#include <glib.h>
#include <string.h>

#include "check.h"

/* Times and ends of published sets, and what R survival 3.5-3 and the formulas
 * in Python make of them; the two agreed to 1e-14. Freireich et al. 1963
 * (MASS::gehan), survival::aml, and one set drawn by a seeded generator. */
static const char *const sets[] = { "freireich_6-MP", "freireich_control", "aml_Maintained", "aml_Nonmaintained",
                                    "camera_units_generated" };

#define MAX_LIVES 64

/* Rows of numbers below a header; an empty cell is NaN. */
static gsize
read_table (const char *set, const char *ending, gsize n_columns, double *cells)
{
  g_autofree char *name = g_strdup_printf ("survival_%s%s.csv", set, ending);
  g_autofree char *path = g_build_filename (g_getenv ("TEST_DATA"), "science", name, NULL);
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  gsize n = 0;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  lines = g_strsplit (g_strchomp (text), "\n", -1);
  for (gsize i = 1; lines[i] != NULL; i++, n++)
    {
      g_auto (GStrv) row = g_strsplit (g_strchomp (lines[i]), ",", -1);

      g_assert_cmpuint (n, <, MAX_LIVES);
      g_assert_cmpuint (g_strv_length (row), ==, n_columns);
      for (gsize c = 0; c < n_columns; c++)
        cells[n * n_columns + c] = *row[c] != '\0' ? g_ascii_strtod (row[c], NULL) : NAN;
    }
  return n;
}

static gsize
read_lives (const char *set, SciLife *lives)
{
  double cells[2 * MAX_LIVES];
  gsize n = read_table (set, "", 2, cells);

  for (gsize i = 0; i < n; i++)
    lives[i] = (SciLife) { .time = cells[2 * i], .failed = cells[2 * i + 1] == 1 };
  return n;
}

static gsize
read_curve (const char *set, SciLimits limits, SciSurvivalStep *steps)
{
  SciLife lives[MAX_LIVES];
  gsize n = read_lives (set, lives);

  return sci_survival_curve (lives, n, limits, 0.95, steps);
}

static void
test_curves (void)
{
  for (gsize s = 0; s < G_N_ELEMENTS (sets); s++)
    {
      SciSurvivalStep steps[MAX_LIVES];
      double want[7 * MAX_LIVES];
      gsize n = read_curve (sets[s], SCI_LIMITS_LOG, steps);

      g_assert_cmpuint (n, ==, read_table (sets[s], "_km", 7, want));
      for (gsize i = 0; i < n; i++)
        {
          const double *row = want + 7 * i;

          g_test_message ("%s, %g", sets[s], row[0]);
          check_abs ("time", steps[i].time, row[0], 0);
          check_abs ("at risk", (double) steps[i].at_risk, row[1], 0);
          check_abs ("failures", (double) steps[i].failures, row[2], 0);
          /* the tables have ten digits */
          check_abs ("survival", steps[i].survival, row[3], 1e-9);
          check_abs ("error", steps[i].error, steps[i].survival > 0 ? row[4] : NAN, 1e-9);
          check_abs ("lower", steps[i].lower, row[5], 1e-9);
          check_abs ("upper", steps[i].upper, row[6], 1e-9);
        }
    }
}

/* Plain and log-log limits at the first, a middle and the last step of the
 * 6-MP set: R survfit with conf.type, as above. */
static void
test_limits (void)
{
  static const struct {
    gsize step;
    SciLimits limits;
    double lower, upper;
  } cases[] = {
    { 0, SCI_LIMITS_PLAIN, 0.7074793118252005, 1 },
    { 3, SCI_LIMITS_PLAIN, 0.48084309817318277, 0.8995490586895623 },
    { 6, SCI_LIMITS_PLAIN, 0.18438486384061287, 0.7119736795767542 },
    { 0, SCI_LIMITS_LOG_LOG, 0.6197179552659838, 0.9515517476469971 },
    { 3, SCI_LIMITS_LOG_LOG, 0.43161022248618397, 0.8490659633494508 },
    { 6, SCI_LIMITS_LOG_LOG, 0.18805200595923235, 0.6801426284952415 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciSurvivalStep steps[MAX_LIVES];

      read_curve ("freireich_6-MP", cases[i].limits, steps);
      check_rel ("lower", steps[cases[i].step].lower, cases[i].lower, 1e-6);
      check_rel ("upper", steps[cases[i].step].upper, cases[i].upper, 1e-6);
    }
}

/* print (survfit), summary (survfit, rmean): R as above; NaN is 'not reached'. */
static void
test_medians (void)
{
  static const struct {
    const char *set;
    double median, limits[3][2]; /* log, plain, log-log */
    double mean, error, to;
  } cases[] = {
    { "freireich_6-MP", 23, { { 16, NAN }, { 13, NAN }, { 13, NAN } }, 23.287394957983196, 2.8274676233714393, 35 },
    { "freireich_control", 8, { { 4, 12 }, { 4, 11 }, { 4, 11 } }, 8.666666666666668, 1.3773900412645488, 23 },
    { "aml_Maintained", 31, { { 18, NAN }, { 18, 48 }, { 13, NAN } }, 30.738636363636363, 4.114086240011467, 45 },
    { "aml_Nonmaintained", 23, { { 8, NAN }, { 8, 33 }, { 5, 33 } }, 22.708333333333336, 4.180941981033155, 45 },
    { "camera_units_generated", NAN, { { 153, NAN }, { 153, NAN }, { 124, NAN } }, 150.07333333333335, 10.04629401288381, 180 },
  };
  static const SciLimits limits[] = { SCI_LIMITS_LOG, SCI_LIMITS_PLAIN, SCI_LIMITS_LOG_LOG };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciSurvivalStep steps[MAX_LIVES];
      double error, mean;
      gsize n = 0;

      for (gsize l = 0; l < G_N_ELEMENTS (limits); l++)
        {
          SciInterval median;

          n = read_curve (cases[i].set, limits[l], steps);
          median = sci_survival_median (steps, n);
          check_abs ("median", median.estimate, cases[i].median, 0);
          check_abs ("lower", median.lower, cases[i].limits[l][0], 0);
          check_abs ("upper", median.upper, cases[i].limits[l][1], 0);
        }
      mean = sci_survival_mean (steps, n, cases[i].to, &error);
      check_rel ("mean", mean, cases[i].mean, 1e-6);
      check_rel ("error", error, cases[i].error, 1e-6);
    }
}

/* By hand: "f" is a failure, "c" a censoring, both with their times. */
static void
test_by_hand (void)
{
  static const struct {
    const char *what;
    const char *lives;
    double median, mean; /* up to 10 */
    const char *survival;
  } cases[] = {
    { "nothing at all", "", NAN, 10, "" },
    { "nothing failed", "c3 c8", NAN, 10, "" },
    { "all at once", "f4 f4", 4, 4, "4:0" },
    { "half of them until something fails again: the middle", "f2 f4 f6 f8", 5, 5, "2:0.75 4:0.5 6:0.25 8:0" },
    { "half of them for good: where it got there", "f2 c5", 2, 6, "2:0.5" },
    { "at one age the failure comes first", "c3 f3", 3, 6.5, "3:0.5" },
    { "withdrawn before: not at risk", "c2 f3", 3, 3, "3:0" },
    { "on the first day", "f0 c9", 0, 5, "0:0.5" },
    { "after the age looked at", "f12 f14", 13, 10, "12:0.5 14:0" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (GStrv) words = g_strsplit (cases[i].lives, " ", -1);
      g_autoptr (GString) got = g_string_new (NULL);
      SciLife lives[4];
      SciSurvivalStep steps[4];
      gsize n = g_strv_length (words);
      gsize n_steps;

      for (gsize w = 0; w < n; w++)
        lives[w] = (SciLife) { .time = g_ascii_strtod (words[w] + 1, NULL), .failed = *words[w] == 'f' };
      n_steps = sci_survival_curve (lives, n, SCI_LIMITS_LOG, 0.95, steps);
      for (gsize s = 0; s < n_steps; s++)
        g_string_append_printf (got, "%s%g:%g", s > 0 ? " " : "", steps[s].time, steps[s].survival);
      g_test_message ("%s", cases[i].what);
      g_assert_cmpstr (got->str, ==, cases[i].survival);
      check_abs ("median", sci_survival_median (steps, n_steps).estimate, cases[i].median, 1e-12);
      check_abs ("mean", sci_survival_mean (steps, n_steps, 10, NULL), cases[i].mean, 1e-12);
    }
}

/* Property: without censoring it is the share still alive, and the mean life. */
static void
test_uncensored (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1958);

  for (int round = 0; round < 200; round++)
    {
      SciLife lives[MAX_LIVES];
      SciSurvivalStep steps[MAX_LIVES];
      gsize n = (gsize) g_rand_int_range (rand, 1, MAX_LIVES), n_steps;
      double sum = 0;

      for (gsize i = 0; i < n; i++)
        {
          lives[i] = (SciLife) { .time = g_rand_int_range (rand, 0, 40), .failed = true };
          sum += lives[i].time;
        }
      n_steps = sci_survival_curve (lives, n, SCI_LIMITS_LOG, 0.95, steps);
      for (gsize s = 0; s < n_steps; s++)
        check_abs ("survival", steps[s].survival, (double) (steps[s].at_risk - steps[s].failures) / (double) n, 1e-12);
      check_abs ("mean", sci_survival_mean (steps, n_steps, 100, NULL), sum / (double) n, 1e-10);
    }
}

static gsize
read_groups (const char *first, const char *second, SciLife *lives)
{
  gsize n = read_lives (first, lives), all = n + read_lives (second, lives + n);

  for (gsize i = 0; i < all; i++)
    lives[i].group = i >= n;
  return all;
}

/* R survdiff, survival 3.5-3, and Python from the formulas. */
static void
test_log_rank (void)
{
  static const struct {
    const char *first, *second;
    double observed[2], expected[2], chi2, p;
  } cases[] = {
    { "freireich_6-MP", "freireich_control", { 9, 21 }, { 19.25050094803113, 10.74949905196887 }, 16.792940989216536,
      4.1688091093345355e-05 },
    { "aml_Maintained", "aml_Nonmaintained", { 7, 11 }, { 10.689336, 7.310664 }, 3.3963887, 0.06533932 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciLife lives[2 * MAX_LIVES];
      gsize n = read_groups (cases[i].first, cases[i].second, lives);
      double observed[2], expected[2];
      SciLogRank got = sci_log_rank (lives, n, 2, observed, expected);

      for (gsize g = 0; g < 2; g++)
        {
          check_abs ("observed", observed[g], cases[i].observed[g], 0);
          check_rel ("expected", expected[g], cases[i].expected[g], 1e-6);
        }
      check_rel ("chi2", got.chi2, cases[i].chi2, 1e-6);
      check_rel ("p", got.p, cases[i].p, 1e-6);
      g_assert_cmpint (got.df, ==, 1);
    }
}

/* Three groups by hand. Lives 1 to 6, all failed, groups 0 1 2 0 1 2: expected
 * 1/3 + 1/5 + 1/4 + 1/3 = 67/60; 1/3 + 2/5 + 1/4 + 1/3 + 1/2 = 109/60; the rest
 * 46/15. Variances and covariance of the first two are
 * 2/9 + 4/25 + 3/16 + 2/9 = 2851/3600; 2/9 + 6/25 + 3/16 + 2/9 + 1/4 = 4039/3600;
 * -1/9 - 2/25 - 1/16 - 1/9 = -1313/3600. */
static void
test_three_groups (void)
{
  SciLife lives[6];
  double expected[3], u0 = 2 - 67 / 60.0, u1 = 2 - 109 / 60.0;
  double v00 = 2851 / 3600.0, v11 = 4039 / 3600.0, v01 = -1313 / 3600.0;
  double chi2 = (u0 * u0 * v11 - 2 * u0 * u1 * v01 + u1 * u1 * v00) / (v00 * v11 - v01 * v01);
  SciLogRank got;

  for (gsize i = 0; i < 6; i++)
    lives[i] = (SciLife) { .time = (double) i + 1, .failed = true, .group = i % 3 };
  got = sci_log_rank (lives, 6, 3, NULL, expected);
  check_abs ("first", expected[0], 67 / 60.0, 1e-12);
  check_abs ("second", expected[1], 109 / 60.0, 1e-12);
  check_abs ("third", expected[2], 46 / 15.0, 1e-12);
  check_rel ("chi2", got.chi2, chi2, 1e-12);
  g_assert_cmpint (got.df, ==, 2);
  check_rel ("p", got.p, exp (-chi2 / 2), 1e-12); /* the law with two degrees of freedom */
}

/* Nothing to compare, and a group that was never at risk. */
static void
test_log_rank_edges (void)
{
  static const struct {
    const char *what;
    SciLife lives[4];
    gsize n, n_groups;
    int df; /* 0: nothing to compare */
  } cases[] = {
    { "no lives", { { 0 } }, 0, 2, 0 },
    { "no failure", { { 3, false, 0 }, { 4, false, 1 } }, 2, 2, 0 },
    { "one group", { { 3, true, 0 }, { 4, true, 0 } }, 2, 1, 0 },
    { "too many groups", { { 3, true, 0 }, { 4, true, 1 } }, 2, SCI_LOG_RANK_GROUPS + 1, 0 },
    { "one is gone before the other fails", { { 1, true, 0 }, { 1, false, 0 }, { 9, true, 1 }, { 9, false, 1 } }, 4, 2, 1 },
    { "all at one age", { { 2, true, 0 }, { 2, true, 1 } }, 2, 2, 0 },
    { "one withdrawn before", { { 3, true, 0 }, { 4, true, 1 }, { 1, false, 2 }, { 5, true, 0 } }, 4, 3, 1 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciLife lives[4];
      SciLogRank got;

      memcpy (lives, cases[i].lives, sizeof lives);
      got = sci_log_rank (lives, cases[i].n, cases[i].n_groups, NULL, NULL);
      g_test_message ("%s: %g, %d, %g", cases[i].what, got.chi2, got.df, got.p);
      g_assert_cmpint (got.df, ==, cases[i].df);
      g_assert_cmpint (isnan (got.p), ==, cases[i].df == 0);
    }
}

/* MIL-HDBK-338 and NIST handbook 8.4.5.1 (from memory); values from R qchisq
 * and poisson.test. */
static void
test_mtbf (void)
{
  static const struct {
    gint64 r;
    double total, level, mtbf, by_time[2], by_failure[2], at_least;
  } cases[] = {
    { 0, 1000, 0.95, NAN, { 271.0850306818169, INFINITY }, { NAN, NAN }, 333.8082006953342 },
    { 1, 1000, 0.95, 1000, { 179.4802592043649, 39497.89020520718 }, { 271.0850306818169, 39497.89020520718 }, 210.79860019679992 },
    { 4, 2450, 0.95, 612.5, { 239.22069882419174, 2247.984071507914 }, { 279.4483507597656, 2247.984071507914 }, 267.6566239574394 },
    { 12, 9000, 0.9, 750, { 462.90178254127557, 1299.7867963096526 }, { 494.30141182250185, 1299.7867963096526 },
      506.14159 /* to eight digits */ },
    { 3, 0, 0.95, NAN, { NAN, NAN }, { NAN, NAN }, NAN },
    { -1, 9, 0.95, NAN, { NAN, NAN }, { NAN, NAN }, NAN },
    { 3, 9, 1, NAN, { NAN, NAN }, { NAN, NAN }, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciInterval by_time = sci_mtbf (cases[i].r, cases[i].total, SCI_STOPPED_BY_TIME, cases[i].level);
      SciInterval by_failure = sci_mtbf (cases[i].r, cases[i].total, SCI_STOPPED_BY_FAILURE, cases[i].level);

      check_rel ("mtbf", by_time.estimate, cases[i].mtbf, 1e-12);
      check_rel ("by time, lower", by_time.lower, cases[i].by_time[0], 1e-6);
      check_rel ("by time, upper", by_time.upper, cases[i].by_time[1], 1e-6);
      check_rel ("by failure, lower", by_failure.lower, cases[i].by_failure[0], 1e-6);
      check_rel ("by failure, upper", by_failure.upper, cases[i].by_failure[1], 1e-6);
      check_rel ("at least", sci_mtbf_at_least (cases[i].r, cases[i].total, cases[i].level), cases[i].at_least, 1e-6);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/survival/curves", test_curves);
  g_test_add_func ("/science/survival/limits", test_limits);
  g_test_add_func ("/science/survival/medians", test_medians);
  g_test_add_func ("/science/survival/by-hand", test_by_hand);
  g_test_add_func ("/science/survival/uncensored", test_uncensored);
  g_test_add_func ("/science/survival/log-rank", test_log_rank);
  g_test_add_func ("/science/survival/three-groups", test_three_groups);
  g_test_add_func ("/science/survival/log-rank-edges", test_log_rank_edges);
  g_test_add_func ("/science/survival/mtbf", test_mtbf);
  return g_test_run ();
}
