#include "sci-trend.h"

#include "check.h"
#include "sci-random.h"
#include "sci-special.h"

#define MONTHS_MOST 60

typedef struct {
  const char *what;
  guint n;
  guint of_year; /* months worked in each year, from January on */
  double effort[36]; /* as often as it takes; 0 ends */
  gint64 counts[36];
  gboolean seasonal;
  double per_year, lower, upper, p, dispersion, error_even, error_own;
  double rate; /* at 2.5 years */
} Case;

/* From R 4.2, with t = year + (month + 0.5) / 12 from 0:
 *   m <- glm (n ~ t + cos (2*pi*t) + sin (2*pi*t), family = quasipoisson, offset = log (e),
 *             control = list (epsilon = 1e-14, maxit = 100)), without the waves for "campaigns";
 *   d <- summary (m)$dispersion; V <- summary (m)$cov.unscaled; X <- model.matrix (m)
 *   even <- sqrt (V["t", "t"] * max (1, d))
 *   own <- sqrt ((V %*% crossprod (X * (n - fitted (m)) / (1 - hatvalues (m))) %*% V)["t", "t"])
 *   se <- max (even, own), interval and p with qt and pt, df = m$df.residual. */
static const Case cases[] = {
  { "season", 36, 12,
    { 0 }, /* 150 + 37 * (7 i mod 11) */
    { 4, 7, 2, 0, 1, 0, 0, 2, 1, 5, 9, 3, 6, 3, 8, 1, 0, 0, 1, 0, 4, 7, 12, 9, 5, 14, 6, 3, 1, 2, 0, 1, 3, 6, 8, 15 },
    TRUE, 1.279549748, 0.9852725972, 1.661720382, 0.06364034154, 1.430307763, 0.1206073458, 0.1283032579, 0.002941708568 },
  { "calm", 36, 12, /* less scatter than Poisson's: the dispersion counts as 1 */
    { 200 },
    { 4, 4, 3, 2, 2, 1, 1, 2, 2, 3, 4, 4, 4, 4, 3, 3, 2, 1, 2, 2, 3, 3, 4, 5, 4, 4, 4, 3, 2, 2, 2, 2, 3, 4, 4, 5 },
    TRUE, 1.106606947, 0.8753610663, 1.398941513, 0.3853042689, 0.0545014692, 0.1150834712, 0.02505153647, 0.00935065642 },
  { "campaigns", 15, 3, /* the same three months each year: no wave */
    { 310, 280, 190, 300, 305, 260, 120, 290, 301, 330, 322, 240, 299, 310, 305 },
    { 12, 4, 7, 9, 15, 3, 2, 8, 5, 6, 3, 5, 1, 6, 2 },
    FALSE, 0.764017611, 0.6117748812, 0.9541465787, 0.02132034333, 1.405398255, 0.09133490808, 0.1028650668, 0.01808661506 },
};

static void
fill_months (const Case *c, SciTrendMonth *months)
{
  for (guint i = 0; i < c->n; i++)
    {
      guint year = i / c->of_year, month = i % c->of_year;

      months[i].years = year + (month + 0.5) / 12;
      months[i].effort = c->effort[0] == 0 ? 150 + 37 * (7 * i % 11) : c->effort[1] == 0 ? c->effort[0] : c->effort[i];
      months[i].n = c->counts[i];
    }
}

static void
test_reference (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const Case *c = &cases[i];
      SciTrendMonth months[36];
      SciTrend got;

      fill_months (c, months);
      got = sci_trend (months, c->n, 0.95);
      g_assert_cmpint (got.state, ==, SCI_TREND_FOUND);
      g_assert_cmpint (got.seasonal, ==, c->seasonal);
      check_rel ("factor", got.per_year, c->per_year, 1e-8);
      check_rel ("lower", got.lower, c->lower, 1e-8);
      check_rel ("upper", got.upper, c->upper, 1e-8);
      check_rel ("p", got.p, c->p, 1e-8);
      check_rel ("dispersion", got.dispersion, c->dispersion, 1e-8);
      check_rel ("even error", got.error_even, c->error_even, 1e-8);
      check_rel ("own error", got.error_own, c->error_own, 1e-8);
      check_rel ("rate", sci_trend_rate (&got, 2.5), c->rate, 1e-8);
    }
}

/* Neither the order of months, nor months without effort, nor the unit of effort, nor the year
 * counted from makes a difference. */
static void
test_indifferent (void)
{
  SciTrendMonth months[36], other[72];
  SciTrend want, got;

  fill_months (&cases[0], months);
  want = sci_trend (months, 36, 0.95);
  for (guint i = 0; i < 36; i++)
    {
      other[2 * i] = months[35 - i];
      other[2 * i].years += 50;
      other[2 * i].effort *= 24;
      other[2 * i + 1] = (SciTrendMonth) { 40 + i / 12.0, 0, 0 };
    }
  got = sci_trend (other, 72, 0.95);
  check_rel ("factor", got.per_year, want.per_year, 1e-9);
  check_rel ("p", got.p, want.p, 1e-9);
  check_rel ("rate", sci_trend_rate (&got, 51.3) * 24, sci_trend_rate (&want, 1.3), 1e-9);
  g_assert_cmpuint (got.months, ==, 36);
}

/* A rate that grows as the model says is found without error. */
static void
test_exact (void)
{
  SciTrendMonth months[48];
  SciTrend got;

  for (guint i = 0; i < 48; i++)
    {
      months[i].years = 2020 + (i + 0.5) / 12;
      months[i].effort = 1e9;
      months[i].n = llround (1e9 * exp (-6 + 0.2 * (months[i].years - 2020) + 0.7 * sin (2 * M_PI * months[i].years)));
    }
  got = sci_trend (months, 48, 0.95);
  check_rel ("factor", got.per_year, exp (0.2), 1e-6); /* counts are rounded */
  check_rel ("rate", sci_trend_rate (&got, 2021.25), exp (-6 + 0.25 + 0.7), 1e-6);
}

/* What carries no trend. */
static void
test_refused (void)
{
  static const struct {
    const char *what;
    guint n, every; /* months, and one with effort of so many */
    gint64 n_each;
    guint seen_from, seen_to, seen_every;
    SciTrendState state;
  } refused[] = {
    { "no effort", 0, 1, 1, 0, 99, 1, SCI_TREND_FEW_MONTHS },
    { "eleven months", 11, 1, 5, 0, 99, 1, SCI_TREND_FEW_MONTHS },
    { "a year and a half", 18, 1, 5, 0, 99, 1, SCI_TREND_SHORT },
    { "twenty-three months", 23, 1, 5, 0, 99, 1, SCI_TREND_SHORT },
    { "two years", 24, 1, 5, 0, 99, 1, SCI_TREND_FOUND },
    { "every third month", 36, 3, 5, 0, 99, 1, SCI_TREND_FOUND },
    { "nothing seen", 36, 1, 0, 0, 99, 1, SCI_TREND_NO_EVENTS },
    { "seen nine times", 36, 1, 1, 0, 9, 1, SCI_TREND_FEW_EVENTS },
    { "all in one month", 36, 1, 40, 20, 21, 1, SCI_TREND_FEW_MONTHS_SEEN },
    { "all in the last month", 36, 1, 40, 35, 36, 1, SCI_TREND_FEW_MONTHS_SEEN },
    { "in five months", 36, 1, 4, 3, 8, 1, SCI_TREND_FEW_MONTHS_SEEN },
    { "in the last six", 36, 1, 4, 30, 36, 1, SCI_TREND_FOUND },
    { "each January", 60, 1, 4, 0, 60, 12, SCI_TREND_FEW_MONTHS_SEEN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      SciTrendMonth months[MONTHS_MOST];
      SciTrend got;

      for (guint k = 0; k < refused[i].n; k++)
        {
          gboolean seen = k >= refused[i].seen_from && k < refused[i].seen_to && (k - refused[i].seen_from) % refused[i].seen_every == 0;

          months[k] = (SciTrendMonth) { 30 + (k + 0.5) / 12, k % refused[i].every == 0 ? 250 : 0, seen ? refused[i].n_each : 0 };
          months[k].n = months[k].effort > 0 ? months[k].n : 0;
        }
      got = sci_trend (months, refused[i].n, 0.95);
      if (got.state != refused[i].state)
        g_error ("%s: state %d, want %d", refused[i].what, (int) got.state, (int) refused[i].state);
      g_assert_cmpint (isnan (got.per_year), ==, got.state != SCI_TREND_FOUND);
      g_assert_cmpint (isnan (sci_trend_rate (&got, 31)), ==, got.state != SCI_TREND_FOUND);
      g_assert_true (got.state != SCI_TREND_FOUND || (got.lower < got.per_year && got.per_year < got.upper && got.p <= 1));
    }
}

/* A count whose chance of being reached is u. */
static gint64
draw_count (double mean, double size, double u)
{
  double sum = 0;

  for (gint64 n = 0;; n++)
    {
      sum += exp (sci_negbin_log_mass ((double) n, size, mean / size));
      if (sum >= u || n > 10000)
        return n;
    }
}

typedef struct {
  guint months;
  double mean, size, swing, season_at;
  guint work_of_12; /* months of each twelve with effort */
} World;

/* Whether the test of no change rejects at 5 %, in a world where there is none; -1 without a trend. */
static int
try_one (const World *world, guint stream, guint run)
{
  SciTrendMonth months[MONTHS_MOST];
  SciTrend got;

  for (guint i = 0; i < world->months; i++)
    {
      double effort = 100 + 300 * sci_random_uniform (run, 2 * stream, i), u = sci_random_uniform (run, 2 * stream + 1, i);
      double years = 20 + (i + 0.5) / 12, swing = exp (world->swing * cos (2 * M_PI * (years - world->season_at)));

      months[i] = (SciTrendMonth) { years, i % 12 < world->work_of_12 ? effort : 0, 0 };
      if (months[i].effort > 0)
        months[i].n = draw_count (world->mean * swing * effort / 250, world->size, u);
    }
  got = sci_trend (months, world->months, 0.95);
  return got.state == SCI_TREND_FOUND ? got.p < 0.05 : -1;
}

/* The level holds for counts more clumped than Poisson's, with a season as strong as e to 1 and back: of 1,000
 * true hypotheses tested at 5 %, 50 give or take 7 would be rejected by a perfect test; bounds of
 * 4 such deviations, widened below since the test is meant to be careful. The plain quasi-Poisson
 * error fails the second and third of these with 100 to 130. */
static void
test_level (void)
{
  static const World worlds[] = {
    { 36, 3, 3, 0, 0, 12 },
    { 36, 10, 1, 1, 0, 12 },
    { 60, 10, 3, 1, 0.25, 12 },
    { 24, 10, 1, 1, 0.25, 12 },
    { 60, 3, 1, 1, 0, 3 },
  };

  for (guint w = 0; w < G_N_ELEMENTS (worlds); w++)
    {
      int rejected = 0, given = 0;

      for (guint run = 0; run < 1000; run++)
        {
          int one = try_one (&worlds[w], w, run);

          given += one >= 0;
          rejected += one > 0;
        }
      g_test_message ("world %u: %d of %d rejected", w, rejected, given);
      g_assert_cmpint (given, >, 950);
      g_assert_cmpint (rejected, <, 78);
      g_assert_cmpint (rejected, >, 12);
    }
}

/* And a change is found: a rate that halves each year, of some 150 events in three years. */
static void
test_power (void)
{
  int found = 0;

  for (guint run = 0; run < 200; run++)
    {
      SciTrendMonth months[36];
      SciTrend got;

      for (guint i = 0; i < 36; i++)
        {
          double years = 20 + (i + 0.5) / 12;

          months[i] = (SciTrendMonth) { years, 250, draw_count (9 * pow (0.5, years - 20), 3, sci_random_uniform (run, 77, i)) };
        }
      got = sci_trend (months, 36, 0.95);
      found += got.p < 0.05 && got.upper < 1;
    }
  g_test_message ("%d of 200 found", found);
  g_assert_cmpint (found, >, 170);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/trend/reference", test_reference);
  g_test_add_func ("/science/trend/indifferent", test_indifferent);
  g_test_add_func ("/science/trend/exact", test_exact);
  g_test_add_func ("/science/trend/refused", test_refused);
  g_test_add_func ("/science/trend/level", test_level);
  g_test_add_func ("/science/trend/power", test_power);
  return g_test_run ();
}
