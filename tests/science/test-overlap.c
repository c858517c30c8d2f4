#include "sci-overlap.h"

#include "check.h"
#include "hours.h"
#include "sci-activity.h"
#include "sci-random.h"

/* CHECKS D4: numpy, equal steps with 131072 points, c = 1; both bandwidth rules. Tolerance as there. */
static const struct {
  const char *a, *b;
  double nu_a, nu_b, d1, d4;
} cases[] = {
  { "crepuscular", "nocturnal", NAN, NAN, 0.41114122028657446, 0.37527254908465024 },
  { "nocturnal", "diurnal", NAN, NAN, 0.3411540199521865, 0.32468274667285524 },
  { "crepuscular", "diurnal", NAN, NAN, 0.3708299823322779, 0.3386632039507484 },
  { "nearly_uniform", "diurnal", NAN, NAN, 0.5948392706846795, 0.5838329013114802 },
  { "tied_quarter_hours", "nocturnal", NAN, NAN, 0.7176346037091325, 0.7059844987138119 },
  { "crepuscular", "nocturnal", 0.2187279243371568, 2.7336865709133296, 0.775316396615167, 0.7910220522774944 },
  { "nocturnal", "diurnal", 2.7336865709133296, 8.985777170514865, 0.3686280414494843, 0.3346165829845935 },
  { "crepuscular", "diurnal", 0.2187279243371568, 8.985777170514865, 0.5751303972580349, 0.6028273791203562 },
  { "nearly_uniform", "diurnal", 0.1862898774319515, 8.985777170514865, 0.578385798426043, 0.5905675586545284 },
  { "tied_quarter_hours", "nocturnal", 1.0558992360414494, 2.7336865709133296, 0.7910484059522828, 0.779377421234402 },
};

static SciActivity *
read_activity (const char *set, double nu)
{
  Hours hours;

  read_hours (set, &hours);
  return sci_activity_new (hours.hours, hours.n, nu);
}

static void
test_samples (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciActivity *a = read_activity (cases[i].a, cases[i].nu_a), *b = read_activity (cases[i].b, cases[i].nu_b);

      check_abs ("D1", sci_overlap (a, b, SCI_OVERLAP_D1), cases[i].d1, 1e-4);
      check_abs ("D4", sci_overlap (a, b, SCI_OVERLAP_D4), cases[i].d4, 1e-4);
      check_abs ("D1, the other way round", sci_overlap (b, a, SCI_OVERLAP_D1), cases[i].d1, 1e-4);
      check_abs ("D4, the other way round", sci_overlap (b, a, SCI_OVERLAP_D4), cases[i].d4, 1e-4);
      check_abs ("the same", sci_overlap (a, a, SCI_OVERLAP_D1), 1, 1e-9);
      check_abs ("the same", sci_overlap (a, a, SCI_OVERLAP_D4), 1, 1e-9);
      sci_activity_free (a);
      sci_activity_free (b);
    }
}

/* CHECKS D4: overlap of two von Mises densities, which are the curves of one record each. */
static void
test_known (void)
{
  static const double hours[] = { 6, 18, 12, 14 };
  SciActivity *six = sci_activity_new (hours, 1, 2), *eighteen = sci_activity_new (hours + 1, 1, 2);
  SciActivity *twelve = sci_activity_new (hours + 2, 1, 1.5), *fourteen = sci_activity_new (hours + 3, 1, 4);

  check_abs ("opposite", sci_overlap (six, eighteen, SCI_OVERLAP_D1), 0.1500937666127641, 1e-6);
  check_abs ("two hours apart", sci_overlap (twelve, fourteen, SCI_OVERLAP_D1), 0.6218820747461643, 1e-6);
  sci_activity_free (six);
  sci_activity_free (eighteen);
  sci_activity_free (twelve);
  sci_activity_free (fourteen);
}

static void
test_choice (void)
{
  g_assert_cmpint (sci_overlap_choose (49, 1000), ==, SCI_OVERLAP_D1);
  g_assert_cmpint (sci_overlap_choose (1000, 49), ==, SCI_OVERLAP_D1);
  g_assert_cmpint (sci_overlap_choose (50, 50), ==, SCI_OVERLAP_D4);
}

/* The same number gives the same, another another; they lie about the overlap itself, a little off as the header
 * says. */
static void
test_resample (void)
{
  enum { DRAWS = 500 };
  SciActivity *a = read_activity ("nocturnal", NAN), *b = read_activity ("diurnal", NAN);

  for (int estimator = SCI_OVERLAP_D1; estimator <= SCI_OVERLAP_D4; estimator++)
    {
      double drawn[DRAWS], overlap = sci_overlap (a, b, estimator), sum = 0;
      SciInterval interval;

      for (int i = 0; i < DRAWS; i++)
        {
          drawn[i] = sci_overlap_resample (a, b, estimator, 1, i);
          g_assert_true (drawn[i] > 0 && drawn[i] < 1);
          sum += drawn[i] / DRAWS;
        }
      check_abs ("again", sci_overlap_resample (a, b, estimator, 1, 17), drawn[17], 0);
      g_assert_cmpfloat (sci_overlap_resample (a, b, estimator, 2, 17), !=, drawn[17]);
      check_abs ("mean", sum, overlap, 0.06);
      interval = sci_overlap_interval (overlap, drawn, DRAWS, 0.95);
      check_abs ("estimate", interval.estimate, overlap, 0);
      g_assert_cmpfloat (interval.lower, <, overlap);
      g_assert_cmpfloat (interval.upper, >, overlap);
      g_assert_cmpfloat (interval.upper - interval.lower, >, 0.05);
      g_assert_cmpfloat (interval.upper - interval.lower, <, 0.4);
    }
  sci_activity_free (a);
  sci_activity_free (b);
}

/* Of many records no resampling; the standard error is that of repeated samples. */
static void
test_normal (void)
{
  enum { N = 6000, SAMPLES = 60 };
  g_autofree double *x = g_new (double, N), *y = g_new (double, N);
  double sum = 0, squares = 0, width = 0, spread;

  for (int s = 0; s < SAMPLES; s++)
    {
      SciActivity *a, *b;
      SciInterval interval;

      for (int i = 0; i < N; i++)
        {
          x[i] = 4 * (sci_random_uniform (s, 0, i) + sci_random_uniform (s, 1, i) + sci_random_uniform (s, 2, i));
          y[i] = 3 + 4 * (sci_random_uniform (s, 3, i) + sci_random_uniform (s, 4, i) + sci_random_uniform (s, 5, i));
        }
      a = sci_activity_new (x, N, NAN);
      b = sci_activity_new (y, N, NAN);
      interval = sci_overlap_normal (a, b, s % 2 == 0 ? SCI_OVERLAP_D4 : SCI_OVERLAP_D1, 0.95);
      sum += interval.estimate;
      squares += interval.estimate * interval.estimate;
      width += (interval.upper - interval.lower) / SAMPLES;
      g_assert_true (isnan (sci_overlap_resample (a, b, SCI_OVERLAP_D4, 1, 1)));
      sci_activity_free (a);
      sci_activity_free (b);
    }
  spread = sqrt ((squares - sum * sum / SAMPLES) / (SAMPLES - 1));
  check_rel ("width", width, 2 * 1.96 * spread, 0.3); /* the spread of 60 is known to 9 % */
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/overlap/samples", test_samples);
  g_test_add_func ("/overlap/known", test_known);
  g_test_add_func ("/overlap/choice", test_choice);
  g_test_add_func ("/overlap/resample", test_resample);
  g_test_add_func ("/overlap/normal", test_normal);
  return g_test_run ();
}
