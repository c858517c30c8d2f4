#include "sci-circular.h"

#include "check.h"
#include "hours.h"
#include "sci-random.h"

/* CHECKS D1: the formulas in Python; R circular 0.4-95 agrees to 1e-6. Tolerance as there. */
static void
test_summary (void)
{
  static const struct {
    const char *set;
    gsize n;
    double mean, r, sd, z, p_zar, kappa[3];
  } cases[] = {
    { "crepuscular", 40, 18.815243095815937, 0.11289433933733228, 7.978189807710071, 0.5098052741765092,
      0.6034535872086848, { 0.22724300132403202, 7.917647022518348, 2.91934361036814 } },
    { "nocturnal", 65, 23.759835577885728, 0.4506073939112777, 4.82301713661511, 13.198056524088368,
      9.885483616134879e-07, { 1.0119471893288001, 1.3630687189478083, 2.631967908298634 } },
    { "diurnal", 120, 12.897595324485595, 0.6941288780416129, 3.264005482429313, 57.817787919757, 9.283511184158082e-30,
      { 1.9780026856489583, 1.5962147258706156, 1.347160780356529 } },
    { "nearly_uniform", 25, 8.405523642242297, 0.11483265896332304, 7.94699663339642, 0.32966348911467136,
      0.7230838140396391, { 0.23119641428707033, 1.4498027347262272, 2.7670804344395554 } },
    { "tied_quarter_hours", 30, 19.344112475595093, 0.3146714377866055, 5.808550662579415, 2.970543412760686,
      0.05001712058053786, { 0.6633406838335179, 1.2820190560763256, 1.9492879062872457 } },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Hours set;
      SciCircular circular;

      read_hours (cases[i].set, &set);
      circular = sci_circular_summary (set.hours, set.n);
      g_assert_cmpuint (circular.n, ==, cases[i].n);
      check_rel ("mean", circular.mean_hour, cases[i].mean, 1e-6);
      check_rel ("r", circular.r, cases[i].r, 1e-6);
      check_rel ("sd", circular.sd_hours, cases[i].sd, 1e-6);
      check_rel ("z", circular.z, cases[i].z, 1e-6);
      check_rel ("p", circular.p, cases[i].p_zar, 1e-6);
      for (int j = 1; j <= 3; j++)
        {
          double length = sci_circular_moment (set.hours, set.n, j);

          check_rel ("kappa", sci_von_mises_kappa (length, j), cases[i].kappa[j - 1], 1e-6);
        }
    }
}

static void
test_rayleigh (void)
{
  static const struct {
    gsize n;
    double z, p, tolerance;
  } cases[] = {
    /* Zar's critical value (from memory), by 2 million draws 0.04998; within the 1 % by which the forms differ */
    { 10, 2.919, 0.05003, 5e-4 },
    { 10, 9, 6e-6, 1e-6 },        /* where the series in 1/n turns negative: CHECKS D1 */
    { 1, 1, 0.4658312, 1e-6 },    /* exp (sqrt (5) - 3), by hand */
    { 50, 0, 1, 0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double r = sqrt (cases[i].z / (double) cases[i].n);

      check_abs ("Rayleigh", sci_rayleigh_p (cases[i].n, r), cases[i].p, cases[i].tolerance);
    }
  check_abs ("none", sci_rayleigh_p (0, 0.5), NAN, 0);
  check_abs ("no length", sci_rayleigh_p (5, 1.5), NAN, 0);
}

/* What is known of the inverse: it gives back the length, and its ends. */
static void
test_kappa (void)
{
  static const struct {
    double length;
    int j;
    double kappa;
  } cases[] = {
    { 0, 1, 0 }, { 1, 1, INFINITY }, { 1, 3, INFINITY },
    { -0.1, 1, NAN }, { 1.1, 1, NAN }, { NAN, 1, NAN }, { 0.5, 0, NAN },
    /* I_1 / I_0 at 0.5, 2 and 10 (Mardia & Jupp 2000, appendix 2.1, to the five digits there; from memory) */
    { 0.24250, 1, 0.5 }, { 0.69777, 1, 2 }, { 0.94860, 1, 10 },
    /* 1 - j^2 / 2k + j^2 (j^2 - 2) / 8k^2 at 1e6 (Abramowitz & Stegun 1964, 9.7.1) */
    { 1 - 0.5e-6 - 0.125e-12, 1, 1e6 }, { 1 - 4.5e-6 + 7.875e-12, 3, 1e6 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    check_rel ("kappa", sci_von_mises_kappa (cases[i].length, cases[i].j), cases[i].kappa, 1e-4);
}

static void
test_edges (void)
{
  static const double same[] = { 5.25, 5.25, 5.25 }, opposite[] = { 3, 15 }, midnight[] = { 23, 1, 25 - 24, 47 };
  static const double missing[] = { 3, NAN, 4 }, endless[] = { 3, INFINITY };
  SciCircular circular = sci_circular_summary (same, 0);

  check_abs ("none", circular.r, NAN, 0);
  circular = sci_circular_summary (same, 1);
  check_abs ("one", circular.mean_hour, 5.25, 1e-12);
  check_abs ("one", circular.r, 1, 1e-15);
  circular = sci_circular_summary (same, 3);
  check_abs ("alike", circular.mean_hour, 5.25, 1e-12);
  check_abs ("alike", circular.sd_hours, 0, 1e-6);
  circular = sci_circular_summary (opposite, 2);
  check_abs ("opposite", circular.mean_hour, NAN, 0);
  check_abs ("opposite", circular.r, 0, 1e-15);
  circular = sci_circular_summary (midnight, 4);
  check_abs ("round midnight", fmin (circular.mean_hour, 24 - circular.mean_hour), 0, 1e-12);
  check_abs ("round midnight", circular.r, cos (G_PI / 12), 1e-15);
  check_abs ("NaN", sci_circular_summary (missing, 3).r, NAN, 0);
  check_abs ("endless", sci_circular_summary (endless, 2).r, NAN, 0);
}

static void
test_wrap (void)
{
  static const double cases[][2] = { { 0, 0 },      { 24, 0 },    { -1, 23 },       { 49.5, 1.5 },
                                     { -1e-18, 0 }, { NAN, NAN }, { INFINITY, NAN } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    check_abs ("wrapped", sci_hour_wrap (cases[i][0]), cases[i][1], 1e-12);
}

static void
test_span (void)
{
  static const struct {
    gsize n;
    double hours[4], span, begin;
  } cases[] = {
    { 0, { 0 }, NAN, -1 },
    { 1, { 7 }, 0, 7 },
    { 3, { 7, 7.5, 8 }, 1, 7 },
    { 3, { 0.25, 0.5, 23.5 }, 1, 23.5 },
    { 4, { 0, 6, 12, 18 }, 18, 0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double begin = -1;

      check_abs ("span", sci_circular_span (cases[i].hours, cases[i].n, &begin), cases[i].span, 1e-12);
      check_abs ("begin", begin, cases[i].begin, 0);
    }
}

/* None before a larger one, and none lost; level, clumped, equal and in order already. */
static void
test_sort (void)
{
  for (int kind = 0; kind < 5; kind++)
    for (gsize n = 0; n < 400; n = n < 3 ? n + 1 : n * 3)
      {
        double hours[400], sum = 0, again = 0;

        for (gsize i = 0; i < n; i++)
          {
            double u = sci_random_uniform (9, n, i);

            hours[i] = kind == 0   ? 24 * u
                       : kind == 1 ? 12 + u / 1000
                       : kind == 2 ? 7
                       : kind == 3 ? (double) i * 24 / (double) n
                                   : floor (8 * u) * 3;
            sum += hours[i] * hours[i];
          }
        sci_hours_sort (hours, n);
        for (gsize i = 0; i < n; i++)
          {
            g_assert_true (i == 0 || hours[i - 1] <= hours[i]);
            again += hours[i] * hours[i];
          }
        check_rel ("the same hours", again, sum, 1e-12);
      }
}

/* CHECKS D5: the tie-aware form in Python; without ties R circular agrees. Tolerance as there. */
static void
test_watson (void)
{
  static const struct {
    const char *a, *b;
    double u2, p;
  } cases[] = {
    { "crepuscular", "nocturnal", 0.6899658119658117, 2.433373362677363e-06 },
    { "nocturnal", "diurnal", 2.26148717948718, 8.206129713867915e-20 },
    { "crepuscular", "diurnal", 1.6005208333333325, 3.805028803042786e-14 },
    { "nearly_uniform", "diurnal", 0.4644229885057467, 0.00020878716751874748 },
    { "tied_quarter_hours", "nocturnal", 0.242277135412578, 0.01675242305745824 }, /* with ties */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Hours a, b;
      SciWatson watson;

      read_hours (cases[i].a, &a);
      read_hours (cases[i].b, &b);
      watson = sci_watson_two (a.hours, a.n, b.hours, b.n);
      check_abs ("U2", watson.u2, cases[i].u2, 1e-6);
      check_rel ("p", watson.p, cases[i].p, 1e-6);
      watson = sci_watson_two (b.hours, b.n, a.hours, a.n);
      check_abs ("the other way round", watson.u2, cases[i].u2, 1e-12);
      for (gsize k = 0; k < a.n; k++)
        a.hours[k] += 7.3;
      for (gsize k = 0; k < b.n; k++)
        b.hours[k] += 7.3;
      check_abs ("another midnight", sci_watson_two (a.hours, a.n, b.hours, b.n).u2, cases[i].u2, 1e-12);
    }
}

/* The tabled 10, 5, 1 and 0.1 % points (Mardia & Jupp 2000; from memory), reached by two samples whose U2 comes
 * near enough: p must lie between those of the points around. */
static void
test_watson_points (void)
{
  static const struct {
    double u2, p;
  } points[] = { { 0.152, 0.09953 }, { 0.187, 0.04988 }, { 0.268, 0.01008 }, { 0.385, 0.001001 } };
  guint n_between = 0;

  for (int shift = 0; shift < 800; shift++)
    {
      double a[40], b[40];
      SciWatson watson;

      for (int i = 0; i < 40; i++)
        {
          a[i] = 12 * (i + 0.5) / 40;
          b[i] = 12 * (i + 0.25) / 40 + shift * 0.005;
        }
      watson = sci_watson_two (a, 40, b, 40);
      for (gsize i = 0; i + 1 < G_N_ELEMENTS (points); i++)
        if (watson.u2 >= points[i].u2 && watson.u2 <= points[i + 1].u2)
          {
            g_assert_cmpfloat (watson.p, <=, points[i].p * 1.001);
            g_assert_cmpfloat (watson.p, >=, points[i + 1].p * 0.999);
            n_between++;
          }
    }
  g_assert_cmpuint (n_between, >, 20);
}

static void
test_watson_edges (void)
{
  static const double a[] = { 3, 4, 5, 5 }, missing[] = { 3, NAN };
  SciWatson watson = sci_watson_two (a, 4, a, 4);

  check_abs ("the same", watson.u2, 0, 1e-15);
  check_abs ("the same", watson.p, 1, 0);
  check_abs ("none", sci_watson_two (a, 0, a, 4).u2, NAN, 0);
  check_abs ("none", sci_watson_two (a, 4, a, 0).p, NAN, 0);
  check_abs ("NaN", sci_watson_two (a, 4, missing, 2).u2, NAN, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/circular/summary", test_summary);
  g_test_add_func ("/circular/rayleigh", test_rayleigh);
  g_test_add_func ("/circular/kappa", test_kappa);
  g_test_add_func ("/circular/edges", test_edges);
  g_test_add_func ("/circular/wrap", test_wrap);
  g_test_add_func ("/circular/span", test_span);
  g_test_add_func ("/circular/sort", test_sort);
  g_test_add_func ("/circular/watson", test_watson);
  g_test_add_func ("/circular/watson-points", test_watson_points);
  g_test_add_func ("/circular/watson-edges", test_watson_edges);
  return g_test_run ();
}
