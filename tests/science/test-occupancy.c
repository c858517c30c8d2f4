#include "sci-occupancy.h"

#include <glib.h>
#include <string.h>

#include "check.h"
#include "sci-random.h"
#include "sci-special.h"

#define MAX_SITES 64

/* Histories: sites apart, '1' detected, '0' not, '.' no visit. */
static gsize
read_sites (const char *histories, SciOccupancySite *sites)
{
  g_auto (GStrv) words = g_strsplit (histories, " ", -1);
  gsize n = *histories != '\0' ? g_strv_length (words) : 0;

  g_assert_cmpuint (n, <=, MAX_SITES);
  for (gsize i = 0; i < n; i++)
    {
      sites[i] = (SciOccupancySite) { 0, 0 };
      for (const char *c = words[i]; *c != '\0'; c++)
        {
          sites[i].visits += *c != '.';
          sites[i].detections += *c == '1';
        }
    }
  return n;
}

/* CHECKS E, each computed by Nelder-Mead with differences in Python and by nlm, optimHess
 * and uniroot in R. The first has the totals of the Blue Ridge salamanders of MacKenzie et
 * al. 2006, p. 99 (from memory: psi 0.595, SE 0.12, p 0.259, -2 lnL 161.76, AIC 165.76); the
 * histories are made up to have these totals. The others are by a seeded generator. */
#define SALAMANDERS \
  "00001 00100 01000 00100 00010 10000 01000 01000 00010 00100 01010 10001 00101 01100 01010 11100 11100 01111 " \
  "00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 " \
  "00000 00000 00000"
#define WITH_MISSING \
  "0.00.0 .00000 .00000 000000 0110.0 10.0.0 00.000 010..0 10.010 000000 000101 000000 110000 000010 00..01 " \
  "00.0.0 011110 000000 0.00.0 000011 100000 00000. 000..0 000000 .00100 000000 010000 1100.0 10.100 ......"
#define NO_MISSING \
  "0000 1000 0010 0000 1100 0000 1000 0000 0000 0000 0000 0000 0000 0000 0001 0010 0000 0000 0000 0000 0001 0101 " \
  "0000 0000 0000 0000 0000 0001 1001 0100 0000 0011 1010 0000 0001 0000 0100 1100 0000 0000 1010 0000 0110 0000 " \
  "0010 0000 0000 0000 0000 0000"
#define ALL_ONCE "100 010 001 100 010 000 001 100"

typedef struct {
  const char *what;
  const char *histories;
  SciOccupancyState state;
  gsize sites, detected, detections, visits;
  double psi, psi_error, psi_low, psi_high;
  double p, p_error, p_low, p_high;
  double covariance;
  double log_likelihood, aic, aic_corrected;
  double logit_error_psi, logit_error_p;
  gsize most_visits;
  double missed, needed;
} Case;

static const Case cases[] = {
  { "salamanders", SALAMANDERS, SCI_OCCUPANCY_INSIDE, 39, 18, 30, 195,
    0.594622561693916, 0.12259854232753434, 0.38542036998392476, 0.90214790437685,
    0.2587290907513083, 0.05770193725960575, 0.15520477400462404, 0.3769648981690472,
    -0.0038506449879470144, -80.87929473005366, 165.75858946010732, 166.09192279344066,
    0.5086093625598193, 0.3008625791727441, 5, 0.24715618393934888, 11 },
  { "with missing visits", WITH_MISSING, SCI_OCCUPANCY_INSIDE, 29, 15, 25, 151,
    0.6813540746945435, 0.1481478740275882, 0.4286474383112414, 1,
    0.24303062199586406, 0.05982217285390866, 0.13737849442640548, 0.36683351822124527,
    -0.005070825881061992, -66.3052631206681, 136.6105262413362, 137.07206470287466,
    0.6823610091732709, 0.32517928644724814, 6, 0.286878445336389, 11 },
  { "no missing visits", NO_MISSING, SCI_OCCUPANCY_INSIDE, 50, 19, 27, 200,
    0.5842379742291822, 0.15033806530239782, 0.3561493355134463, 1,
    0.2310702262143019, 0.06554479365790453, 0.1184373531066241, 0.36821391470244524,
    -0.00701766108765218, -77.46153422842767, 158.92306845685533, 159.1783876057915,
    0.6189197699318069, 0.3688990459314036, 4, 0.3294160863961432, 12 },
};

/* Tolerances of CHECKS E; an end of exactly 1 must be exact. */
static void
check_limit (const char *what, double got, double want)
{
  check_abs (what, got, want, want == 1 ? 0 : 1e-4);
}

static void
test_published (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const Case *c = &cases[i];
      SciOccupancySite sites[MAX_SITES];
      gsize n = read_sites (c->histories, sites);
      SciOccupancy fit = sci_occupancy_fit (sites, n, 0.95);

      g_test_message ("%s", c->what);
      g_assert_cmpint (fit.state, ==, c->state);
      g_assert_cmpuint (fit.sites, ==, c->sites);
      g_assert_cmpuint (fit.sites_detected, ==, c->detected);
      g_assert_cmpuint (fit.detections, ==, c->detections);
      g_assert_cmpuint (fit.visits, ==, c->visits);
      check_rel ("naive", fit.naive, (double) c->detected / (double) c->sites, 1e-15);
      check_abs ("psi", fit.psi.estimate, c->psi, 1e-5);
      check_abs ("p", fit.p.estimate, c->p, 1e-5);
      check_abs ("psi_error", fit.psi_error, c->psi_error, 1e-4);
      check_abs ("p_error", fit.p_error, c->p_error, 1e-4);
      check_abs ("covariance", fit.covariance, c->covariance, 1e-4);
      check_abs ("log_likelihood", fit.log_likelihood, c->log_likelihood, 1e-6);
      check_abs ("aic", fit.aic, c->aic, 2e-6);
      check_abs ("aic_corrected", fit.aic_corrected, c->aic_corrected, 2e-6);
      check_limit ("psi, lower", fit.psi.lower, c->psi_low);
      check_limit ("psi, upper", fit.psi.upper, c->psi_high);
      check_limit ("p, lower", fit.p.lower, c->p_low);
      check_limit ("p, upper", fit.p.upper, c->p_high);
      check_abs ("error of logit psi", fit.psi_error / (fit.psi.estimate * (1 - fit.psi.estimate)), c->logit_error_psi, 1e-3);
      check_abs ("error of logit p", fit.p_error / (fit.p.estimate * (1 - fit.p.estimate)), c->logit_error_p, 1e-3);
      check_abs ("missed", sci_occupancy_missed (fit.psi.estimate, fit.p.estimate, (double) c->most_visits), c->missed, 1e-5);
      check_abs ("needed", sci_occupancy_visits_needed (fit.p.estimate, 0.95), c->needed, 0);
    }
}

/* psi at 1: CHECKS E, last set. p is 7/24, lnL 7 ln (7/24) + 17 ln (17/24). */
static void
test_boundary (void)
{
  SciOccupancySite sites[MAX_SITES];
  gsize n = read_sites (ALL_ONCE, sites);
  SciOccupancy fit = sci_occupancy_fit (sites, n, 0.95);

  g_assert_cmpint (fit.state, ==, SCI_OCCUPANCY_PSI_ONE);
  check_abs ("psi", fit.psi.estimate, 1, 0);
  check_abs ("p", fit.p.estimate, 7 / 24.0, 1e-15);
  check_abs ("log_likelihood", fit.log_likelihood, -14.487294036007828, 1e-9);
  check_abs ("log_likelihood", fit.log_likelihood, 7 * log (7 / 24.0) + 17 * log (17 / 24.0), 1e-12);
  check_abs ("psi_error", fit.psi_error, NAN, 0);
  check_abs ("p_error", fit.p_error, NAN, 0);
  check_abs ("psi, upper", fit.psi.upper, 1, 0);
  g_assert_true (fit.psi.lower > 0 && fit.psi.lower < 7 / 8.0);
  g_assert_true (fit.p.lower < 7 / 24.0 && fit.p.upper > 7 / 24.0);
}

/* By hand: where psi or p have a closed form, or none. NaN is 'not known'. */
static void
test_edges (void)
{
  static const double fall = 1.9207294103470194; /* half the 95 % quantile of chi-square(1), R qchisq */
  const struct {
    const char *what;
    const char *histories;
    SciOccupancyState state;
    double naive, psi, p, log_likelihood, psi_low, psi_high;
  } edges[] = {
    { "no site", "", SCI_OCCUPANCY_UNSEEN, NAN, NAN, NAN, NAN, NAN, NAN },
    { "no visit", ".. ..", SCI_OCCUPANCY_UNSEEN, NAN, NAN, NAN, NAN, NAN, NAN },
    { "nothing detected", "000 00. 000", SCI_OCCUPANCY_UNSEEN, 0, NAN, NAN, NAN, NAN, NAN },
    { "one visit each", "1 0 0 1", SCI_OCCUPANCY_ONCE, 0.5, NAN, NAN, NAN, NAN, NAN },
    { "one visit each, the others missed", "1.. .0. ..1", SCI_OCCUPANCY_ONCE, 2 / 3.0, NAN, NAN, NAN, NAN, NAN },
    /* lnL = n ln psi: the lower limit is exp (-fall / n) */
    { "everything, everywhere", "111 111 111 111", SCI_OCCUPANCY_PSI_ONE, 1, 1, 1, 0, exp (-fall / 4), 1 },
    { "one site", "01", SCI_OCCUPANCY_PSI_ONE, 1, 1, 0.5, -2 * log (2), exp (-fall), 1 },
    { "at every site", "011 010 001 100", SCI_OCCUPANCY_PSI_ONE, 1, 1, 5 / 12.0, 5 * log (5 / 12.0) + 7 * log (7 / 12.0),
      exp (-fall / 4), 1 },
    /* Every visit where it is finds it: psi is binomial. Its profile has p = 1 all along near
     * the top; limits not checked by hand. */
    { "always seen where it is", "11 00 111 000", SCI_OCCUPANCY_P_ONE, 0.5, 0.5, 1, -4 * log (2), NAN, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (edges); i++)
    {
      SciOccupancySite sites[MAX_SITES];
      gsize n = read_sites (edges[i].histories, sites);
      SciOccupancy fit = sci_occupancy_fit (sites, n, 0.95);

      g_test_message ("%s", edges[i].what);
      g_assert_cmpint (fit.state, ==, edges[i].state);
      check_abs ("naive", fit.naive, edges[i].naive, 1e-15);
      check_abs ("psi", fit.psi.estimate, edges[i].psi, 1e-12);
      check_abs ("p", fit.p.estimate, edges[i].p, 1e-12);
      check_abs ("log_likelihood", fit.log_likelihood, edges[i].log_likelihood, 1e-12);
      check_abs ("psi_error", fit.psi_error, NAN, 0);
      if (edges[i].state == SCI_OCCUPANCY_P_ONE)
        {
          g_assert_true (fit.psi.lower > 0 && fit.psi.lower < 0.5 && fit.psi.upper > 0.5);
          check_abs ("p, upper", fit.p.upper, 1, 0);
          continue;
        }
      check_abs ("psi, lower", fit.psi.lower, edges[i].psi_low, 1e-9);
      check_abs ("psi, upper", fit.psi.upper, edges[i].psi_high, 0);
    }
}

static gsize
draw_sites (guint64 seed, SciOccupancySite *sites)
{
  gsize n = 3 + (gsize) (sci_random_uniform (seed, 0, 0) * 50);
  double psi = sci_random_uniform (seed, 0, 1), p = 0.02 + 0.9 * sci_random_uniform (seed, 0, 2);

  for (gsize i = 0; i < n; i++)
    {
      gboolean there = sci_random_uniform (seed, 1, i) < psi;

      sites[i] = (SciOccupancySite) { (gsize) (sci_random_uniform (seed, 2, i) * 9), 0 };
      for (gsize v = 0; v < sites[i].visits; v++)
        sites[i].detections += there && sci_random_uniform (seed, 3 + i, v) < p;
    }
  return n;
}

/* The greatest lnL on a fine grid of the one parameter, the other given. */
static double
scan (const SciOccupancySite *sites, gsize n, double psi, double p)
{
  double best = -INFINITY;

  for (int i = 1; i <= 4000; i++)
    best = fmax (best, sci_occupancy_log_likelihood (sites, n, isnan (psi) ? i / 4000.0 : psi, isnan (p) ? i / 4000.0 : p));
  return best;
}

/* Property: nowhere is lnL greater, and at each limit the profile has fallen by what it
 * should, found without the fit's own search. */
static void
test_greatest (void)
{
  double fall = sci_chi_square_quantile (1, 0.95) / 2;
  int fitted = 0;

  for (guint64 seed = 0; seed < 150; seed++)
    {
      SciOccupancySite sites[MAX_SITES];
      gsize n = draw_sites (seed, sites);
      SciOccupancy fit = sci_occupancy_fit (sites, n, 0.95);

      if (fit.state == SCI_OCCUPANCY_UNSEEN || fit.state == SCI_OCCUPANCY_ONCE)
        continue;
      fitted++;
      g_test_message ("seed %d: psi %g, p %g", (int) seed, fit.psi.estimate, fit.p.estimate);
      check_abs ("lnL", sci_occupancy_log_likelihood (sites, n, fit.psi.estimate, fit.p.estimate), fit.log_likelihood, 1e-9);
      for (int a = 1; a <= 60; a++)
        for (int b = 1; b <= 60; b++)
          g_assert_cmpfloat (sci_occupancy_log_likelihood (sites, n, a / 60.0, b / 60.0), <=, fit.log_likelihood + 1e-9);
      /* the grid of 4,000 misses the top by less than this where the limits lie */
      check_abs ("psi, lower", scan (sites, n, fit.psi.lower, NAN), fit.log_likelihood - fall, 2e-3);
      check_abs ("p, lower", scan (sites, n, NAN, fit.p.lower), fit.log_likelihood - fall, 2e-3);
      if (fit.psi.upper < 1)
        check_abs ("psi, upper", scan (sites, n, fit.psi.upper, NAN), fit.log_likelihood - fall, 2e-3);
      else
        g_assert_cmpfloat (scan (sites, n, 1, NAN), >=, fit.log_likelihood - fall - 2e-3);
      if (fit.p.upper < 1)
        check_abs ("p, upper", scan (sites, n, NAN, fit.p.upper), fit.log_likelihood - fall, 2e-3);
    }
  g_assert_cmpint (fitted, >, 100);
}

/* Property: the order of the sites changes nothing at all; a site without a visit neither. */
static void
test_order (void)
{
  for (guint64 seed = 0; seed < 50; seed++)
    {
      SciOccupancySite sites[MAX_SITES], turned[MAX_SITES + 1];
      gsize n = draw_sites (seed, sites);
      SciOccupancy a, b;

      for (gsize i = 0; i < n; i++)
        turned[i] = sites[n - 1 - i];
      turned[n] = (SciOccupancySite) { 0, 0 };
      a = sci_occupancy_fit (sites, n, 0.95);
      b = sci_occupancy_fit (turned, n + 1, 0.95);
      g_assert_cmpint (a.state, ==, b.state);
      check_abs ("psi", b.psi.estimate, a.psi.estimate, 0);
      check_abs ("psi, lower", b.psi.lower, a.psi.lower, 0);
      check_abs ("psi, upper", b.psi.upper, a.psi.upper, 0);
      check_abs ("p", b.p.estimate, a.p.estimate, 0);
      check_abs ("log_likelihood", b.log_likelihood, a.log_likelihood, 0);
    }
}

/* Property: limits of a higher level enclose those of a lower one. */
static void
test_levels (void)
{
  static const double levels[] = { 0.5, 0.8, 0.9, 0.95, 0.99, 0.999 };
  SciOccupancySite sites[MAX_SITES];
  gsize n = read_sites (SALAMANDERS, sites);
  SciOccupancy before = sci_occupancy_fit (sites, n, levels[0]);

  for (gsize i = 1; i < G_N_ELEMENTS (levels); i++)
    {
      SciOccupancy fit = sci_occupancy_fit (sites, n, levels[i]);

      g_assert_cmpfloat (fit.psi.lower, <, before.psi.lower);
      g_assert_true (fit.psi.upper > before.psi.upper || fit.psi.upper == 1);
      g_assert_cmpfloat (fit.p.lower, <, before.p.lower);
      g_assert_cmpfloat (fit.p.upper, >, before.p.upper);
      before = fit;
    }
  g_assert_cmpint (sci_occupancy_fit (sites, n, 1).state, ==, SCI_OCCUPANCY_UNSEEN);
  check_abs ("psi", sci_occupancy_fit (sites, n, NAN).psi.estimate, NAN, 0);
}

static void
test_helpers (void)
{
  /* ln 0.05 / ln 0.5 = 4.3; (1 - 0.05) is reached exactly by no rounding here */
  check_abs ("needed", sci_occupancy_visits_needed (0.5, 0.95), 5, 0);
  check_abs ("needed", sci_occupancy_visits_needed (0.99, 0.95), 1, 0);
  check_abs ("needed", sci_occupancy_visits_needed (1, 0.95), 1, 0);
  check_abs ("needed", sci_occupancy_visits_needed (0, 0.95), NAN, 0);
  check_abs ("needed", sci_occupancy_visits_needed (0.5, 1), NAN, 0);
  check_abs ("missed", sci_occupancy_missed (0.5, 0.5, 0), 0.5, 1e-15);
  check_abs ("missed", sci_occupancy_missed (0.5, 0.5, 1), 1 / 3.0, 1e-15);
  check_abs ("missed", sci_occupancy_missed (1, 0.5, 3), 1, 0);
  check_abs ("missed", sci_occupancy_missed (0.5, 1, 3), 0, 0);
  check_abs ("missed", sci_occupancy_missed (1.5, 0.5, 3), NAN, 0);
  check_abs ("lnL", sci_occupancy_log_likelihood (NULL, 0, 0.5, 1.5), NAN, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/occupancy/published", test_published);
  g_test_add_func ("/science/occupancy/boundary", test_boundary);
  g_test_add_func ("/science/occupancy/edges", test_edges);
  g_test_add_func ("/science/occupancy/greatest", test_greatest);
  g_test_add_func ("/science/occupancy/order", test_order);
  g_test_add_func ("/science/occupancy/levels", test_levels);
  g_test_add_func ("/science/occupancy/helpers", test_helpers);
  return g_test_run ();
}
