#include "sci-effort.h"

#include <string.h>

#include "check.h"

#define HOUR G_GINT64_CONSTANT (3600000)
#define DAY (24 * HOUR)
#define ALWAYS { G_MININT64, G_MAXINT64 }
#define MAX_SPANS 4

/* Common practice, checked by hand: 24-h days of elapsed time less outages.
 * Days are counted from 1 March 2024 at 00:00, for case three from 28 February. */
static void
test_days (void)
{
  static const struct {
    SciSpan deployment;
    SciSpan outages[1];
    gsize n;
    double days;
  } cases[] = {
    /* 1 March 10:00 to 31 March 10:00 */
    { { 10 * HOUR, 30 * DAY + 10 * HOUR }, { { 0, 0 } }, 0, 30 },
    /* ... to 16:00, dead from 5 March 12:00 to 8 March 09:00 */
    { { 10 * HOUR, 30 * DAY + 16 * HOUR }, { { 4 * DAY + 12 * HOUR, 7 * DAY + 9 * HOUR } }, 1, 27.375 },
    /* 28 February 18:30 to 1 March 06:00 of a leap year */
    { { 18 * HOUR + HOUR / 2, 2 * DAY + 6 * HOUR }, { { 0, 0 } }, 0, 1.4791666666666667 },
    /* within one day */
    { { 8 * HOUR, 20 * HOUR }, { { 0, 0 } }, 0, 0.5 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciSpan working[2];
      gsize n = sci_effort_working (cases[i].deployment, (SciSpan) ALWAYS, cases[i].outages, cases[i].n, working);

      check_abs ("days", sci_nights (sci_spans_total (working, n)), cases[i].days, 1e-12);
    }
}

static void
assert_spans (const SciSpan *got, gsize n, const SciSpan *want, gsize n_want)
{
  g_assert_cmpuint (n, ==, n_want);
  for (gsize i = 0; i < n; i++)
    {
      g_assert_cmpint (got[i].from, ==, want[i].from);
      g_assert_cmpint (got[i].to, ==, want[i].to);
    }
}

static void
test_unite (void)
{
  static const struct {
    SciSpan spans[MAX_SPANS];
    gsize n;
    SciSpan united[MAX_SPANS];
    gsize n_united;
  } cases[] = {
    { { { 5, 9 }, { 1, 3 } }, 2, { { 1, 3 }, { 5, 9 } }, 2 },           /* sorted */
    { { { 1, 5 }, { 3, 9 }, { 4, 6 } }, 3, { { 1, 9 } }, 1 },           /* overlapping, one inside */
    { { { 1, 3 }, { 3, 5 } }, 2, { { 1, 5 } }, 1 },                     /* touching */
    { { { 4, 4 }, { 9, 2 }, { 1, 2 } }, 3, { { 1, 2 } }, 1 },           /* empty and reversed */
    { { { G_MININT64, 0 }, { -5, G_MAXINT64 } }, 2, { ALWAYS }, 1 },    /* open ends */
    { { { 0, 0 } }, 0, { { 0, 0 } }, 0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciSpan spans[MAX_SPANS];

      memcpy (spans, cases[i].spans, sizeof spans);
      assert_spans (spans, sci_spans_unite (spans, cases[i].n), cases[i].united, cases[i].n_united);
    }
}

static void
test_working_and_gaps (void)
{
  static const struct {
    SciSpan deployment, period;
    SciSpan outages[MAX_SPANS];
    gsize n;
    SciSpan working[MAX_SPANS + 1];
    gsize n_working;
    SciSpan gaps[MAX_SPANS];
    gsize n_gaps;
  } cases[] = {
    /* sticking out at both ends, one inside */
    { { 10, 100 }, ALWAYS, { { 0, 20 }, { 40, 50 }, { 90, 200 } }, 3,
      { { 20, 40 }, { 50, 90 } }, 2, { { 10, 20 }, { 40, 50 }, { 90, 100 } }, 3 },
    /* outside altogether */
    { { 10, 100 }, ALWAYS, { { 0, 10 }, { 100, 120 } }, 2, { { 10, 100 } }, 1, { { 0, 0 } }, 0 },
    /* covering everything */
    { { 10, 100 }, ALWAYS, { { 0, 200 } }, 1, { { 0, 0 } }, 0, { { 10, 100 } }, 1 },
    /* period cuts both */
    { { 10, 100 }, { 30, 45 }, { { 0, 20 }, { 40, 50 } }, 2, { { 30, 40 } }, 1, { { 40, 45 } }, 1 },
    /* period elsewhere */
    { { 10, 100 }, { 100, 200 }, { { 40, 50 } }, 1, { { 0, 0 } }, 0, { { 0, 0 } }, 0 },
    /* deployment that runs on, cut by the period */
    { { 10, G_MAXINT64 }, { 0, 60 }, { { 20, 30 } }, 1, { { 10, 20 }, { 30, 60 } }, 2, { { 20, 30 } }, 1 },
    /* ends before it starts */
    { { 100, 10 }, ALWAYS, { { 40, 50 } }, 1, { { 0, 0 } }, 0, { { 0, 0 } }, 0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciSpan spans[MAX_SPANS + 1];

      assert_spans (spans, sci_effort_working (cases[i].deployment, cases[i].period, cases[i].outages, cases[i].n, spans),
                    cases[i].working, cases[i].n_working);
      assert_spans (spans, sci_effort_gaps (cases[i].deployment, cases[i].period, cases[i].outages, cases[i].n, spans),
                    cases[i].gaps, cases[i].n_gaps);
    }
}

static gint64
working_ms (SciSpan deployment, const SciSpan *outages, gsize n)
{
  SciSpan working[MAX_SPANS + 1];

  return sci_spans_total (working, sci_effort_working (deployment, (SciSpan) ALWAYS, outages, n, working));
}

/* Property: cutting a deployment in two at any moment changes no trap night. */
static void
test_cutting (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20240301);

  for (int i = 0; i < 2000; i++)
    {
      SciSpan whole = { g_rand_int_range (rand, 0, 1000000), g_rand_int_range (rand, 1000000, 100000000) };
      gint64 cut = g_rand_int_range (rand, (gint32) whole.from, (gint32) whole.to);
      SciSpan outages[MAX_SPANS];
      gsize n;

      for (gsize j = 0; j < MAX_SPANS; j++)
        {
          outages[j].from = g_rand_int_range (rand, -1000000, 100000000);
          outages[j].to = outages[j].from + g_rand_int_range (rand, -1000, 30000000);
        }
      n = sci_spans_unite (outages, MAX_SPANS);
      g_assert_cmpint (working_ms (whole, outages, n), ==,
                       working_ms ((SciSpan) { whole.from, cut }, outages, n)
                       + working_ms ((SciSpan) { cut, whole.to }, outages, n));
    }
}

static void
test_bins (void)
{
  static const gint64 edges[] = { 0, 10, 30, 60 };
  static const struct {
    SciSpan spans[2];
    gsize n;
    gint64 ms[3];
  } cases[] = {
    { { { 5, 35 } }, 1, { 5, 20, 5 } },                 /* across all edges */
    { { { 10, 30 } }, 1, { 0, 20, 0 } },                /* exactly one bin */
    { { { -50, 3 }, { 55, 99 } }, 2, { 3, 0, 5 } },     /* sticking out */
    { { { 60, 99 }, { -9, 0 } }, 2, { 0, 0, 0 } },      /* outside */
    { { { 50, 58 }, { 2, 4 } }, 2, { 2, 0, 8 } },       /* in any order */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      gint64 ms[3] = { 0 };

      sci_spans_add_to_bins (cases[i].spans, cases[i].n, edges, G_N_ELEMENTS (edges), ms);
      g_assert_cmpmem (ms, sizeof ms, cases[i].ms, sizeof ms);
      /* a second deployment adds to the first */
      sci_spans_add_to_bins (cases[i].spans, cases[i].n, edges, G_N_ELEMENTS (edges), ms);
      g_assert_cmpint (ms[0], ==, 2 * cases[i].ms[0]);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/effort/days", test_days);
  g_test_add_func ("/science/effort/unite", test_unite);
  g_test_add_func ("/science/effort/working-and-gaps", test_working_and_gaps);
  g_test_add_func ("/science/effort/cutting", test_cutting);
  g_test_add_func ("/science/effort/bins", test_bins);
  return g_test_run ();
}
