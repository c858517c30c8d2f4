#include "figure-samples.h"
#include "figure-texts.h"

#include <string.h>

static const TptFigureStyle plain = TPT_FIGURE_STYLE_INIT;

static const double widths[] = { 320, 640, 1920 };

#define HEIGHT 240

static void
test_csv (void)
{
  g_autoptr (TptFigure) figure = sample_accumulation ();
  g_autofree char *csv = tpt_figure_csv (figure);

  /* 4.5 - 1.96 * 2.5 would be less than no species at all */
  g_assert_cmpstr (csv, ==,
                   "item,stations,species,low,high\r\n"
                   "curve,1,4.5,0,9.4\r\n"
                   "curve,2,7.25,5.29,9.21\r\n"
                   "curve,3,8,8,8\r\n"
                   "\"Chao2, \"\"corrected\"\"\",,9.5,8.25,21\r\n"
                   "Jackknife & <more>,,10,,\r\n");
}

/* The scale ends 3 % above 1.6 times the highest estimate, which is less than 21. */
#define TOP (1.03 * 16)

static void
test_hits (void)
{
  static const struct {
    const char *what;
    double share; /* of the plot across */
    double species;
    int row, item;
    const char *text;
  } cases[] = {
    { "the first", 0, 4.5, 0, 0, "1 station: 4.50 species on average (0 to 9.40)" },
    { "in the band", 0.5, 6, 0, 1, "2 stations: 7.25 species on average (5.29 to 9.21)" },
    { "near the second", 0.45, 7.25, 0, 1, "2 stations: 7.25 species on average (5.29 to 9.21)" },
    { "the last", 1, 8, 0, 2, "All 3 stations: 8 species seen" },
    { "far above", 0.5, 14, -1, -1, NULL },
  };
  g_autoptr (TptFigure) figure = sample_accumulation ();

  for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
      {
        TptFigureRect plot = tpt_figure_plot_rect (figure, widths[w], HEIGHT, &plain);
        g_auto (TptHit) hit = TPT_HIT_INIT;

        g_test_message ("%s at %g", cases[i].what, widths[w]);
        g_assert_cmpint (tpt_figure_hit (figure, plot.x + plot.width * cases[i].share,
                                         plot.y + plot.height * (1 - cases[i].species / TOP), widths[w], HEIGHT, &plain, &hit),
                         ==, cases[i].text != NULL);
        g_assert_cmpint (hit.kind, ==, cases[i].text != NULL ? TPT_HIT_CURVE : TPT_HIT_NOTHING);
        g_assert_cmpint (hit.row, ==, cases[i].row);
        g_assert_cmpint (hit.item, ==, cases[i].item);
        g_assert_cmpstr (hit.text, ==, cases[i].text);
      }
}

/* Marks of levels stand side by side behind the curve, at their heights; words at the right
 * are told like what they name. */
static void
test_levels (void)
{
  static const struct {
    double aside, species; /* behind the plot, in em */
    int row;
    const char *text;
  } cases[] = {
    { 1.05, 9.5, 1, "Chao2, \"corrected\": 9.50 species (8.25 to 21)" },
    { 1.05, 15, 1, "Chao2, \"corrected\": 9.50 species (8.25 to 21)" },
    { 1.95, 10, 2, "Jackknife & <more>: 10 species" },
  };
  g_autoptr (TptFigure) figure = sample_accumulation ();

  for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
    {
      TptFigureRect plot = tpt_figure_plot_rect (figure, widths[w], HEIGHT, &plain);
      gboolean told[3] = { FALSE, FALSE, FALSE };

      for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
        {
          g_auto (TptHit) hit = TPT_HIT_INIT;

          g_assert_true (tpt_figure_hit (figure, plot.x + plot.width + 11 * cases[i].aside,
                                         plot.y + plot.height * (1 - cases[i].species / TOP), widths[w], HEIGHT, &plain, &hit));
          g_assert_cmpint (hit.row, ==, cases[i].row);
          g_assert_cmpstr (hit.text, ==, cases[i].text);
        }
      for (double y = 0; y < HEIGHT; y += 2)
        {
          g_auto (TptHit) hit = TPT_HIT_INIT;

          if (tpt_figure_hit (figure, widths[w] - 30, y, widths[w], HEIGHT, &plain, &hit))
            told[hit.row] = TRUE;
        }
      g_assert_true (told[0] && told[1] && told[2]);
    }
}

static TptFigure *
make_curve (guint n, guint n_levels)
{
  TptFigure *figure = tpt_accumulation_new ();
  double seen = n < 3 ? 4 * n : 40;

  for (guint i = 1; i <= n; i++)
    tpt_accumulation_add (figure, i, i == n ? seen : seen * (1 - exp (-3.0 * i / n)), 2 * sqrt ((n - i) / (double) n));
  for (guint i = 0; i < n_levels; i++)
    {
      g_autofree char *label = g_strdup_printf ("Estimate of all species %u", i);

      tpt_accumulation_add_level (figure, label, seen * 1.1, seen, i % 2 == 0 ? NAN : seen * 1.2);
    }
  return figure;
}

/* From one station to three hundred, without a level and with more than there is room for. */
static void
test_sizes (void)
{
  static const guint lengths[] = { 1, 2, 15, 300 }, levels[] = { 0, 2, 12 };

  for (guint n = 0; n < G_N_ELEMENTS (lengths); n++)
    for (guint l = 0; l < G_N_ELEMENTS (levels); l++)
      for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
        for (guint low = 0; low < 2; low++)
          for (guint framed = 0; framed < 2; framed++)
            {
              g_autoptr (TptFigure) figure = make_curve (lengths[n], levels[l]);
              TptFigureStyle style = plain;
              TptFigureRect plot;
              double height;

              style.framed = framed;
              style.palette = (n + l + w) % TPT_N_PALETTES;
              height = tpt_figure_preferred_height (figure, widths[w], &style) - (low ? 70 : 0);
              plot = tpt_figure_plot_rect (figure, widths[w], height, &style);
              g_test_message ("%u stations, %u levels at %g by %g", lengths[n], levels[l], widths[w], height);
              g_assert_cmpuint (assert_texts_apart (figure, widths[w], height, &style), >, 5);
              g_assert_cmpfloat (plot.x + plot.width, <, widths[w]);
              g_assert_cmpfloat (plot.width, >, 0.2 * widths[w]);
              g_assert_cmpfloat (plot.y + plot.height, <, height);
            }
}

/* Each of three hundred numbers of stations is told at its place. */
static void
test_every_step (void)
{
  enum { N = 300 };
  g_autoptr (TptFigure) figure = make_curve (N, 1);
  TptFigureRect plot = tpt_figure_plot_rect (figure, 1920, HEIGHT, &plain);

  for (int i = 0; i < N - 1; i += 23)
    {
      double mean = 40 * (1 - exp (-3.0 * (i + 1) / N)), x = plot.x + plot.width * i / (N - 1);
      gboolean found = FALSE;

      /* somewhere on the height of the curve, whatever the scale */
      for (double y = plot.y; y < plot.y + plot.height && !found; y += 1)
        {
          g_autofree char *start = g_strdup_printf ("%d station", i + 1), *middle = g_strdup_printf ("%.1f species", mean);
          g_auto (TptHit) hit = TPT_HIT_INIT;

          found = tpt_figure_hit (figure, x, y, 1920, HEIGHT, &plain, &hit) && hit.item == i;
          g_assert_true (!found || g_str_has_prefix (hit.text, start));
          g_assert_true (!found || mean < 10 || strstr (hit.text, middle) != NULL);
        }
      g_assert_true (found);
    }
}

static void
test_words (void)
{
  static const struct {
    guint n;
    const char *text;
  } cases[] = {
    { 0, "How many species a number of stations has seen." },
    { 1, "How many species a number of stations has seen. 1 station: 4 species seen." },
    { 2, "How many species a number of stations has seen. 1 station: 6.21 species on average (3.44 to 8.99). "
         "All 2 stations: 8 species seen." },
  };
  g_autoptr (TptFigure) sample = sample_accumulation ();
  g_autofree char *words = tpt_figure_describe (sample);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFigure) figure = make_curve (cases[i].n, 0);
      g_autofree char *text = tpt_figure_describe (figure);

      g_assert_cmpstr (text, ==, cases[i].text);
    }
  g_assert_true (g_str_has_suffix (words, " 1 station: 4.50 species on average (0 to 9.40). All 3 stations: 8 species seen. "
                                          "Chao2, \"corrected\": 9.50 species (8.25 to 21). Jackknife & <more>: 10 species."));
}

static void
test_nothing (void)
{
  g_autoptr (TptFigure) figure = make_curve (0, 2);

  for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
    {
      g_auto (TptHit) hit = TPT_HIT_INIT;
      TptInstant instant;

      g_assert_cmpuint (assert_texts_apart (figure, widths[w], HEIGHT, &plain), >, 0);
      g_assert_false (tpt_figure_hit (figure, widths[w] / 2, HEIGHT / 2, widths[w], HEIGHT, &plain, &hit));
      g_assert_false (tpt_figure_value_at (figure, 100, widths[w], HEIGHT, &plain, &instant));
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/accumulation/csv", test_csv);
  g_test_add_func ("/figures/accumulation/hits", test_hits);
  g_test_add_func ("/figures/accumulation/levels", test_levels);
  g_test_add_func ("/figures/accumulation/sizes", test_sizes);
  g_test_add_func ("/figures/accumulation/every-step", test_every_step);
  g_test_add_func ("/figures/accumulation/words", test_words);
  g_test_add_func ("/figures/accumulation/nothing", test_nothing);
  return g_test_run ();
}
