#include "sci-diversity.h"

#include <glib.h>

#include "check.h"
#include "rows.h"

#define MAX_SPECIES 256

static guint64 counts[MAX_SPECIES];
static gsize n_counts;

static void
add_counts (const char *individuals, const char *species)
{
  for (int i = 0; i < atoi (species); i++)
    counts[n_counts++] = g_ascii_strtoull (individuals, NULL, 10);
}

static void
take_total (char **cells)
{
  add_counts (cells[0], cells[1]);
}

static void
take_plot (char **cells)
{
  add_counts (cells[0], cells[2]);
}

/* The trees of 50 hectares of Barro Colorado Island as R vegan 2.6-4 has them: how many
 * species have so many individuals, in all of them and in the first. */
static void
get_bci (void)
{
  each_row ("abundance_BCI.csv", 3, 110, take_total);
}

static void
get_bci_plot (void)
{
  each_row ("abundance_BCI.csv", 3, 110, take_plot);
}

static void
get_generated (void)
{
  static const guint64 made_up[] = { 11, 51, 65, 21, 18, 4, 28, 0, 1, 13, 1, 30, 0, 0, 8, 27, 2, 5 };

  for (gsize i = 0; i < G_N_ELEMENTS (made_up); i++)
    counts[n_counts++] = made_up[i];
}

static void
check_diversity (const SciDiversity *got, const SciDiversity *want, double tolerance)
{
  g_assert_cmpuint (got->individuals, ==, want->individuals);
  g_assert_cmpuint (got->species, ==, want->species);
  g_assert_cmpuint (got->singletons, ==, want->singletons);
  g_assert_cmpuint (got->doubletons, ==, want->doubletons);
  check_rel ("shannon", got->shannon, want->shannon, tolerance);
  check_rel ("simpson", got->simpson, want->simpson, tolerance);
  check_rel ("simpson_unbiased", got->simpson_unbiased, want->simpson_unbiased, tolerance);
  check_rel ("evenness", got->evenness, want->evenness, tolerance);
  for (gsize q = 0; q < 3; q++)
    check_rel ("hill", got->hill[q], want->hill[q], tolerance);
  check_rel ("chao1", got->chao1, want->chao1, tolerance);
  check_rel ("chao1_corrected", got->chao1_corrected, want->chao1_corrected, tolerance);
  check_rel ("coverage", got->coverage, want->coverage, tolerance);
}

/* CHECKS F2: vegan's diversity, renyi, rarefy, estimateR, simpson.unb, and the formulas in
 * Python. */
static void
test_published (void)
{
  static const struct {
    const char *set;
    void (*get) (void);
    SciDiversity want;
    struct {
      guint64 m;
      double species;
    } rarefied[4];
  } cases[] = {
    { "BCI", get_bci, { 21457, 225, 19, 13, 4.270408762194361, 0.9736755386585368, 0.9737209187638062, 0.7884655831816285,
                        { 225, 71.55087693590444, 37.987481948013084 }, 238.8839682943705, 237.21428571428572,
                        0.9991145645572528 },
      { { 10, 8.963745429488467 }, { 100, 50.65405243359543 }, { 1000, 138.18229777322168 }, { 5000, 191.9912030116633 } } },
    { "BCI, first plot", get_bci_plot, { 448, 93, 31, 18, 4.018411662232359, 0.9746293048469388, 0.9768096836049857,
                                         0.886557850148109, { 93, 55.61270388137104, 39.41555380989789 }, 119.63485863095238,
                                         117.47368421052632, 0.9309828754974242 },
      { { 10, 9.04468526849529 }, { 50, 32.03214014845209 }, { 200, 67.80286093409947 } } },
    { "generated", get_generated, { 285, 15, 2, 1, 2.271855604435816, 0.8718990458602647, 0.8749691129231529,
                                    0.8389266947529785, { 15, 9.697378627856441, 7.806343104276791 }, 16.99298245614035, 15.5,
                                    0.993007079101262 },
      { { 5, 3.9346192831723332 }, { 50, 11.380356326449062 }, { 200, 14.30555339538183 } } },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciDiversity got;

      g_test_message ("%s", cases[i].set);
      n_counts = 0;
      cases[i].get ();
      got = sci_diversity (counts, n_counts);
      check_diversity (&got, &cases[i].want, 1e-6);
      for (gsize r = 0; r < 4 && cases[i].rarefied[r].m > 0; r++)
        check_rel ("rarefied", sci_rarefy (counts, n_counts, cases[i].rarefied[r].m), cases[i].rarefied[r].species, 1e-6);
      check_rel ("all drawn", sci_rarefy (counts, n_counts, got.individuals), (double) got.species, 1e-9);
      check_rel ("one drawn", sci_rarefy (counts, n_counts, 1), 1, 1e-9);
      check_rel ("two drawn", sci_rarefy (counts, n_counts, 2), 1 + got.simpson_unbiased, 1e-9);
      check_abs ("too many drawn", sci_rarefy (counts, n_counts, got.individuals + 1), NAN, 0);
    }
}

/* By hand. NaN is 'not defined'. */
static void
test_edges (void)
{
  static const struct {
    const char *what;
    guint64 counts[3];
    SciDiversity want;
  } edges[] = {
    { "nothing", { 0, 0, 0 }, { 0, 0, 0, 0, NAN, NAN, NAN, NAN, { NAN, NAN, NAN }, NAN, NAN, NAN } },
    { "one animal", { 0, 1, 0 }, { 1, 1, 1, 0, 0, 0, NAN, NAN, { 1, 1, 1 }, NAN, NAN, NAN } },
    { "one species", { 7, 0, 0 }, { 7, 1, 0, 0, 0, 0, 0, NAN, { 1, 1, 1 }, 1, 1, 1 } },
    { "as many of each", { 3, 3, 3 }, { 9, 3, 0, 0, log (3), 2 / 3.0, 0.75, 1, { 3, 3, 3 }, 3, 3, 1 } },
    /* A = 2/3: chao1 3 + 2/3 3 2 / 2 = 5; corrected 3 + 3 2 / 2 = 6; nothing covered */
    { "each once", { 1, 1, 1 }, { 3, 3, 3, 0, log (3), 2 / 3.0, 1, 1, { 3, 3, 3 }, 5, 6, 0 } },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (edges); i++)
    {
      SciDiversity got = sci_diversity (edges[i].counts, 3);

      g_test_message ("%s", edges[i].what);
      check_diversity (&got, &edges[i].want, 1e-12);
    }
  check_abs ("nothing drawn", sci_rarefy (edges[3].counts, 3, 0), 0, 1e-12);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/diversity/published", test_published);
  g_test_add_func ("/science/diversity/edges", test_edges);
  return g_test_run ();
}
