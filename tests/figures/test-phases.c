#include "figure-samples.h"
#include "figure-texts.h"
#include "tpt-phases-private.h"

#include <string.h>

static const TptFigureStyle plain = TPT_FIGURE_STYLE_INIT;

static const char *const names[] = {
  "new", "waxing crescent", "first quarter", "waxing gibbous", "full", "waning gibbous", "last quarter", "waning crescent",
};

/* Two detections in 100 nights each; at the full moon none, in the waning half no work. */
static TptFigure *
make_phases (guint n)
{
  TptFigure *figure = tpt_phases_new ();

  for (guint i = 0; i < n; i++)
    {
      TptPhase phase = { names[i], (1 - cos (2 * G_PI * i / 8)) / 2, i < 4, 100, 2, 2, 0.242, 7.22 };

      if (i == 4)
        phase = (TptPhase) { names[i], 1, FALSE, 120.25, 0, 0, 0, 3.06 };
      else if (i > 4)
        phase = (TptPhase) { names[i], phase.lit, FALSE, 0, 0, NAN, NAN, NAN };
      tpt_phases_add (figure, &phase);
    }
  return figure;
}

static void
test_csv (void)
{
  g_autoptr (TptFigure) figure = make_phases (8);
  g_autoptr (TptFigureTable) table = tpt_figure_table (figure);
  g_autofree char *csv = tpt_figure_csv (figure);

  g_assert_cmpuint (tpt_figure_table_get_n_rows (table), ==, 8);
  g_assert_true (g_str_has_prefix (csv, "phase,lit_share,waxing,trap_nights,detections,per_100_nights,low,high\r\n"
                                        "new,0,yes,100,2,2,0.242,7.22\r\n"));
  g_assert_nonnull (strstr (csv, "\r\nfull,1,no,120.25,0,0,0,3.06\r\nwaning gibbous,"));
  g_assert_nonnull (strstr (csv, ",no,0,0,,,\r\n"));
}

/* A column from the marks down to its name, its bar and its mark are one thing. */
static void
test_hits (void)
{
  static const struct {
    const char *what;
    double column; /* from 0 to 8 */
    double rate;   /* how high, or NAN for on the moon */
    int item;
    const char *text;
  } cases[] = {
    { "a mark", 0.5, 2, 0, "new moon: 2 detections in 100 trap nights: 2.00 per 100 (0.24 to 7.22)" },
    { "beside a mark", 1.1, 7, 1, "waxing crescent moon: 2 detections in 100 trap nights: 2.00 per 100 (0.24 to 7.22)" },
    { "a moon", 3.5, NAN, 3, "waxing gibbous moon: 2 detections in 100 trap nights: 2.00 per 100 (0.24 to 7.22)" },
    { "at nought", 4.5, 0, 4, "full moon: 0 detections in 120 trap nights: 0.00 per 100 (0.00 to 3.06)" },
    { "not at work", 6.5, 1, 6, "last quarter moon: no camera was at work" },
  };
  static const double widths[] = { 320, 640, 1920 };
  g_autoptr (TptFigure) figure = make_phases (8);

  for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
      {
        const double height = 260;
        TptFigureRect plot = tpt_figure_plot_rect (figure, widths[w], height, &plain);
        double x = plot.x + plot.width * cases[i].column / 8;
        double y = isnan (cases[i].rate) ? height - 30 : plot.y + plot.height * (1 - cases[i].rate / 7.7);
        g_auto (TptHit) hit = TPT_HIT_INIT;

        g_test_message ("%s at %g", cases[i].what, widths[w]);
        g_assert_true (tpt_figure_hit (figure, x, y, widths[w], height, &plain, &hit));
        g_assert_cmpint (hit.kind, ==, TPT_HIT_PHASE);
        g_assert_cmpint (hit.item, ==, cases[i].item);
        g_assert_cmpint (hit.row, ==, -1);
        g_assert_cmpstr (hit.text, ==, cases[i].text);
      }
}

static void
test_nothing (void)
{
  g_autoptr (TptFigure) empty = tpt_phases_new (), idle = tpt_phases_new ();
  TptPhase phase = { "new", 0, TRUE, 0, 0, NAN, NAN, NAN };
  g_autofree char *words = NULL;
  g_auto (TptHit) hit = TPT_HIT_INIT;

  tpt_phases_add (idle, &phase);
  words = tpt_figure_describe (idle);
  g_assert_cmpstr (words, ==, "Detections in the dark per 100 trap nights, by the phase of the moon. No camera was at work.");
  g_assert_false (tpt_figure_hit (idle, 160, 100, 320, 200, &plain, &hit));
  g_assert_false (tpt_figure_hit (empty, 160, 100, 320, 200, &plain, &hit));
  g_assert_cmpuint (assert_texts_apart (idle, 320, 200, &plain), >, 0);
  g_assert_cmpuint (assert_texts_apart (empty, 320, 200, &plain), >, 0);
  g_assert_true (isnan (tpt_figure_hour_at (idle, 160, 320, 200, &plain)));
}

static void
test_words (void)
{
  g_autoptr (TptFigure) figure = make_phases (5);
  TptPhase little = { "last quarter", 0.5, FALSE, 3, 2, 66.7, 8.1, 241 };
  g_autofree char *words = NULL, *more = NULL;

  words = tpt_figure_describe (figure);
  g_assert_true (g_str_has_prefix (words, "Detections in the dark per 100 trap nights, by the phase of the moon. "
                                          "new moon: 2 detections in 100 trap nights: 2.00 per 100 (0.24 to 7.22). waxing"));
  g_assert_null (strstr (words, "Above the scale"));

  tpt_phases_add (figure, &little);
  more = tpt_figure_describe (figure);
  g_assert_true (g_str_has_suffix (more, " Above the scale, on little effort: last quarter moon: 2 detections in 3 trap nights: "
                                         "66.7 per 100 (8.10 to 241)."));
}

/* With few phases and all, on every size and palette: words on the figure and apart, the same bytes twice. */
static void
test_sizes (void)
{
  static const double widths[] = { 320, 640, 1920 };

  for (guint n = 1; n <= 8; n += 7)
    for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
      for (guint palette = 0; palette < TPT_N_PALETTES; palette++)
        for (guint framed = 0; framed < 2; framed++)
          {
            g_autoptr (TptFigure) figure = make_phases (n);
            TptFigureStyle style = plain;
            double height;
            g_autofree char *first = NULL, *second = NULL;

            style.palette = palette;
            style.framed = framed;
            height = tpt_figure_preferred_height (figure, widths[w], &style);
            g_test_message ("%u phases at %g by %g", n, widths[w], height);
            g_assert_cmpuint (assert_texts_apart (figure, widths[w], height, &style), >, 4);
            first = figure_svg (figure, widths[w], height, &style);
            second = figure_svg (figure, widths[w], height, &style);
            g_assert_cmpstr (first, ==, second);
          }
}

/* Where there is no room for every name the quarters keep theirs: fewer words, none cut. */
static void
test_names_thin_out (void)
{
  g_autoptr (TptFigure) figure = make_phases (8);
  guint narrow = assert_texts_apart (figure, 320, 260, &plain), wide = assert_texts_apart (figure, 640, 260, &plain);

  /* four of eight names go, and of the four that went each was on two lines */
  g_assert_cmpuint (wide - narrow, >=, 4);
}

/* The light of a moon covers its share of the disc, on its side. */
static void
test_moon (void)
{
  static const struct {
    double lit;
    gboolean waxing;
  } cases[] = { { 0, TRUE }, { 0.1, TRUE }, { 0.146, FALSE }, { 0.5, TRUE }, { 0.5, FALSE }, { 0.854, TRUE }, { 0.9, FALSE }, { 1, FALSE } };
  enum { SIZE = 400, RADIUS = 180 };

  for (guint palette = 0; palette < TPT_N_PALETTES; palette++)
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
      {
        cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, SIZE, SIZE);
        cairo_t *cr = cairo_create (surface);
        TptFigureStyle style = plain;
        TptCanvas canvas;
        double sum[2] = { 0, 0 };

        style.palette = palette;
        tpt_canvas_begin (&canvas, cr, &style);
        tpt_moon_draw (&canvas, SIZE / 2, SIZE / 2, RADIUS, cases[i].lit, cases[i].waxing);
        tpt_canvas_end (&canvas);
        cairo_surface_flush (surface);
        for (int y = 0; y < SIZE; y++)
          for (int x = 0; x < SIZE; x++)
            if (hypot (x + 0.5 - SIZE / 2, y + 0.5 - SIZE / 2) < RADIUS - 1)
              {
                const guint8 *row = cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface);

                /* half way between light and dark */
                sum[x >= SIZE / 2] += row[4 * x + 1] > 128;
              }
        g_test_message ("lit %g", cases[i].lit);
        /* the rim of one unit is left out, which is 1.1 % of the area */
        g_assert_cmpfloat_with_epsilon ((sum[0] + sum[1]) / (G_PI * (RADIUS - 1) * (RADIUS - 1)), cases[i].lit, 0.012);
        if (cases[i].lit > 0 && cases[i].lit < 1)
          g_assert_true (cases[i].waxing ? sum[1] > sum[0] : sum[0] > sum[1]);
        cairo_destroy (cr);
        cairo_surface_destroy (surface);
      }
}

int
main (int argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/phases/csv", test_csv);
  g_test_add_func ("/figures/phases/hits", test_hits);
  g_test_add_func ("/figures/phases/nothing", test_nothing);
  g_test_add_func ("/figures/phases/words", test_words);
  g_test_add_func ("/figures/phases/sizes", test_sizes);
  g_test_add_func ("/figures/phases/names-thin-out", test_names_thin_out);
  g_test_add_func ("/figures/phases/moon", test_moon);
  return g_test_run ();
}
