#include "figure-samples.h"
#include "figure-texts.h"
#include "tpt-rate-marks-private.h"

#include <string.h>

static const TptFigureStyle plain = TPT_FIGURE_STYLE_INIT;

#define HEIGHT 260

static void
test_csv (void)
{
  g_autoptr (TptFigure) figure = sample_months (2);
  g_autofree char *csv = tpt_figure_csv (figure);

  g_assert_true (g_str_has_prefix (csv,
                                   "series,from,to,trap_nights,detections,per_100_nights,low,high,trend\r\n"
                                   "Sun bear,2025-11-01T00:00:00+08:00,2025-12-01T00:00:00+08:00,200,4,2,0.54,5.12,1.5\r\n"
                                   "Sun bear,2025-12-01T00:00:00+08:00,2026-01-01T00:00:00+08:00,0,0,,,,\r\n"
                                   "Sun bear,2026-01-01T00:00:00+08:00,2026-02-01T00:00:00+08:00,5,1,20,0.51,111.4,1\r\n"
                                   "Sun bear,2026-02-01T00:00:00+08:00,2026-03-01T00:00:00+08:00,160.25,0,0,0,2.298,0.75\r\n"
                                   "\"Civet, \"\"banded\"\" & <small>\",2025-11-01T00:00:00+08:00,"));
}

/* The scale ends 6 % above the upper limit of November: the highest rate on enough effort. */
#define TOP (1.06 * 5.12)

static void
test_hits (void)
{
  static const struct {
    const char *what;
    const char *at;
    double rate; /* how high; below nought on a bar */
    int item;
    const char *text;
  } cases[] = {
    { "a mark", "2025-11-16", 2, 0, "November 2025: 4 detections in 200 trap nights: 2.00 per 100 (0.54 to 5.12); trend 1.50" },
    { "its interval", "2025-11-16", 4.5, 0, "November 2025: 4 detections in 200 trap nights: 2.00 per 100 (0.54 to 5.12); trend 1.50" },
    { "its bar", "2025-11-16", -1, 0, "November 2025: 4 detections in 200 trap nights: 2.00 per 100 (0.54 to 5.12); trend 1.50" },
    { "beside them", "2025-11-04", 5, 0, "November 2025: 4 detections in 200 trap nights: 2.00 per 100 (0.54 to 5.12); trend 1.50" },
    { "no effort", "2025-12-16T12:00", 1, 1, "December 2025: no camera was at work" },
    { "above the scale", "2026-01-16T12:00", TOP, 2, "January 2026: 1 detection in 5 trap nights: 20.0 per 100 (0.51 to 111); trend 1.00" },
    { "at nought", "2026-02-15", 0, 3, "February 2026: 0 detections in 160 trap nights: 0.00 per 100 (0.00 to 2.30); trend 0.75" },
  };
  static const double widths[] = { 320, 640, 1920 };
  g_autoptr (TptFigure) figure = sample_months (1);

  for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
      {
        TptFigureRect plot = tpt_figure_plot_rect (figure, widths[w], HEIGHT, &plain);
        double x = tpt_figure_position_of (figure, sample_instant (cases[i].at), widths[w], HEIGHT, &plain);
        double y = plot.y + plot.height * (1 - MAX (cases[i].rate, 0) / TOP) + (cases[i].rate < 0 ? 12 : 0);
        g_auto (TptHit) hit = TPT_HIT_INIT;

        g_test_message ("%s at %g", cases[i].what, widths[w]);
        g_assert_true (tpt_figure_hit (figure, x, y, widths[w], HEIGHT, &plain, &hit));
        g_assert_cmpint (hit.kind, ==, TPT_HIT_MONTH);
        g_assert_cmpint (hit.row, ==, 0);
        g_assert_cmpint (hit.item, ==, cases[i].item);
        g_assert_cmpstr (hit.key, ==, "bear");
        g_assert_cmpstr (hit.text, ==, cases[i].text);
        g_assert_true (hit.when.from <= sample_instant (cases[i].at) && sample_instant (cases[i].at) < hit.when.to);
      }
}

/* Two series stand side by side, the first at the left, and each tells its own name. */
static void
test_two_series (void)
{
  g_autoptr (TptFigure) figure = sample_months (2);
  TptFigureRect plot = tpt_figure_plot_rect (figure, 640, HEIGHT, &plain);
  double middle = tpt_figure_position_of (figure, sample_instant ("2025-11-16"), 640, HEIGHT, &plain);
  double y = plot.y + plot.height * (1 - 2 / TOP);

  for (int s = 0; s < 2; s++)
    {
      g_auto (TptHit) hit = TPT_HIT_INIT;

      g_assert_true (tpt_figure_hit (figure, middle + (s == 0 ? -25 : 25), y, 640, HEIGHT, &plain, &hit));
      g_assert_cmpint (hit.row, ==, s);
      g_assert_cmpstr (hit.key, ==, s == 0 ? "bear" : NULL);
      g_assert_true (g_str_has_prefix (hit.text, s == 0 ? "Sun bear, November 2025: 4" : "Civet, \"banded\" & <small>, November 2025: 4"));
    }
  g_assert_cmpuint (count_color (figure, 640, HEIGHT, &plain, TPT_COLOR_SERIES_1), >, 30);
  g_assert_cmpuint (count_color (figure, 640, HEIGHT, &plain, TPT_COLOR_SERIES_2), >, 30);
}

/* Set against another year: it lies where it is drawn and tells of what it is. A month that is
 * not whole is told by its days. */
static void
test_shifted (void)
{
  g_autoptr (TptZone) zone = sample_zone ();
  g_autoptr (TptFigure) figure =
    tpt_months_new ((TptRange) { sample_instant ("2026-01-01"), sample_instant ("2026-03-01") }, zone);
  TptMonth month = { { sample_instant ("2026-01-01"), sample_instant ("2026-02-01") },
                     { sample_instant ("2025-01-01"), sample_instant ("2025-01-16") }, 40, 2, 5, 0.6, 18, NAN };
  g_auto (TptHit) hit = TPT_HIT_INIT;
  double x;

  tpt_months_add_month (figure, tpt_months_add_series (figure, "2025", NULL), &month);
  x = tpt_figure_position_of (figure, sample_instant ("2026-01-16T12:00"), 640, HEIGHT, &plain);
  g_assert_true (tpt_figure_hit (figure, x, 100, 640, HEIGHT, &plain, &hit));
  g_assert_cmpint (hit.when.from, ==, sample_instant ("2025-01-01"));
  g_assert_cmpint (hit.when.to, ==, sample_instant ("2025-01-16"));
  g_assert_true (g_str_has_prefix (hit.text, "2025, 1 January 2025 to 15 January 2025: 2 detections"));
}

/* What a reader points at is what a brush is set to, at the ends and in between. */
static void
test_brush (void)
{
  static const double widths[] = { 320, 640, 1920 };
  g_autoptr (TptFigure) figure = sample_months (1);

  for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
    {
      TptFigureRect plot = tpt_figure_plot_rect (figure, widths[w], HEIGHT, &plain);
      TptFigureStyle chosen = plain;
      TptInstant instant;
      guint before, after;

      g_assert_true (tpt_figure_value_at (figure, plot.x, widths[w], HEIGHT, &plain, &instant));
      g_assert_cmpint (instant, ==, sample_instant ("2025-11-01"));
      g_assert_true (tpt_figure_value_at (figure, plot.x + plot.width + 50, widths[w], HEIGHT, &plain, &instant));
      g_assert_cmpint (instant, ==, sample_instant ("2026-03-01"));
      g_assert_true (tpt_figure_value_at (figure, plot.x + plot.width / 2, widths[w], HEIGHT, &plain, &instant));
      g_assert_cmpint (instant, ==, sample_instant ("2025-12-31")); /* 60 of 120 days */

      chosen.brush = (TptRange) { sample_instant ("2025-12-01"), TPT_NO_INSTANT };
      before = count_color (figure, (int) widths[w], HEIGHT, &plain, TPT_COLOR_ACCENT);
      after = count_color (figure, (int) widths[w], HEIGHT, &chosen, TPT_COLOR_ACCENT);
      /* two lines of two units beside what is drawn in the same colour */
      g_assert_cmpuint (after - before, >, 2 * plot.height);
    }
}

/* No effort is no mark and no bar: with it gone nothing of its colour is left. */
static void
test_idle_is_nothing (void)
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptRange range = { sample_instant ("2026-01-01"), sample_instant ("2026-03-01") };
  guint counts[2];

  for (guint idle = 0; idle < 2; idle++)
    {
      g_autoptr (TptFigure) figure = tpt_months_new (range, zone);
      TptRange first = { range.from, sample_instant ("2026-02-01") }, second = { first.to, range.to };
      TptMonth worked = { first, first, 100, 2, 2, 0.24, 7.2, NAN };
      TptMonth other = { second, second, idle ? 0 : 100, 2, idle ? NAN : 2, idle ? NAN : 0.24, idle ? NAN : 7.2, NAN };

      tpt_months_add_series (figure, NULL, NULL);
      tpt_months_add_month (figure, 0, &worked);
      tpt_months_add_month (figure, 0, &other);
      counts[idle] = count_color (figure, 640, HEIGHT, &plain, TPT_COLOR_SERIES_1);
    }
  g_assert_cmpuint (counts[0], ==, 2 * counts[1]);
}

static void
test_words (void)
{
  g_autoptr (TptFigure) figure = sample_months (1), both = sample_months (2);
  g_autofree char *words = tpt_figure_describe (figure), *more = tpt_figure_describe (both);

  g_assert_true (g_str_has_suffix (words,
                                   "Detections per 100 trap nights, month by month, 1 November 2025 to 28 February 2026. "
                                   "5 detections in 365 trap nights. "
                                   "The highest rate was that of November 2025: 4 detections in 200 trap nights: 2.00 per 100 "
                                   "(0.54 to 5.12). 1 month without a camera at work. "
                                   "Above the scale, on little effort: January 2026: 1 detection in 5 trap nights: 20.0 per 100 "
                                   "(0.51 to 111)."));
  g_assert_nonnull (strstr (more, " Sun bear: 5 detections in 365 trap nights. "));
}

/* The last days of a long month have no place in a short one of another year: they stand at
 * its end, on the figure. */
static void
test_no_place (void)
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptRange range = { sample_instant ("2026-02-01"), sample_instant ("2026-03-01") };
  g_autoptr (TptFigure) figure = tpt_months_new (range, zone);
  TptMonth month = { { range.to, range.to }, { sample_instant ("2026-01-30"), sample_instant ("2026-02-01") },
                     20, 2, 10, 1.2, 36.1, NAN };
  g_auto (TptHit) hit = TPT_HIT_INIT;
  TptFigureRect plot;

  tpt_months_add_month (figure, tpt_months_add_series (figure, NULL, NULL), &month);
  plot = tpt_figure_plot_rect (figure, 640, HEIGHT, &plain);
  g_assert_true (tpt_figure_hit (figure, plot.x + plot.width, plot.y + plot.height * (1 - 10 / (1.06 * 36.1)), 640, HEIGHT,
                                 &plain, &hit));
  g_assert_true (g_str_has_prefix (hit.text, "30 January 2026 to 31 January 2026: 2 detections"));
  g_assert_cmpfloat (hit.rect.x + hit.rect.width, <=, 640);
}

static void
test_nothing (void)
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptRange range = { sample_instant ("2026-01-01"), sample_instant ("2026-03-01") };
  TptMonth month = { range, range, 0, 0, NAN, NAN, NAN, NAN };

  for (guint n = 0; n < 2; n++)
    {
      g_autoptr (TptFigure) figure = tpt_months_new (range, zone);
      g_autoptr (TptFigureTable) table = NULL;
      g_auto (TptHit) hit = TPT_HIT_INIT;

      if (n > 0)
        tpt_months_add_month (figure, tpt_months_add_series (figure, NULL, NULL), &month);
      table = tpt_figure_table (figure);
      g_assert_cmpuint (tpt_figure_table_get_n_rows (table), ==, n);
      g_assert_cmpuint (assert_texts_apart (figure, 320, HEIGHT, &plain), >, 0);
      g_assert_false (tpt_figure_hit (figure, 160, 100, 320, HEIGHT, &plain, &hit));
    }
}

static TptInstant
start_of_month (TptZone *zone, guint i)
{
  return tpt_zone_day_from_number (zone, tpt_days_from_civil (2025 + (int) i / 12, (int) i % 12 + 1, 1));
}

static TptFigure *
make_long (guint n_months, guint n_series)
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptFigure *figure = tpt_months_new ((TptRange) { start_of_month (zone, 10), start_of_month (zone, 10 + n_months) }, zone);

  for (guint s = 0; s < n_series; s++)
    {
      tpt_months_add_series (figure, s == 0 ? "Sun bear" : "A very long name of a species that no line has room for", NULL);
      for (guint i = 0; i < n_months; i++)
        {
          TptRange when = { start_of_month (zone, 10 + i), start_of_month (zone, 11 + i) };
          TptMonth month = { when, when, 100 + i % 7, i % 5, 100.0 * (i % 5) / (100 + i % 7), 0, 9, NAN };

          tpt_months_add_month (figure, (int) s, &month);
        }
    }
  return figure;
}

/* From one month to twenty years, on every size and palette: words on the figure and apart,
 * the same bytes twice, the plot on the figure. */
static void
test_sizes (void)
{
  static const double widths[] = { 320, 640, 1920 };
  static const guint lengths[] = { 1, 2, 14, 15, 60, 240 };

  for (guint n = 0; n < G_N_ELEMENTS (lengths); n++)
    for (guint series = 1; series <= 2; series++)
      for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
        for (guint framed = 0; framed < 2; framed++)
          {
            g_autoptr (TptFigure) figure = make_long (lengths[n], series);
            TptFigureStyle style = plain;
            TptFigureRect plot;
            double height;

            style.framed = framed;
            style.palette = (n + series + w) % TPT_N_PALETTES;
            height = tpt_figure_preferred_height (figure, widths[w], &style);
            plot = tpt_figure_plot_rect (figure, widths[w], height, &style);
            g_test_message ("%u months of %u at %g by %g", lengths[n], series, widths[w], height);
            g_assert_cmpuint (assert_texts_apart (figure, widths[w], height, &style), >, 5);
            g_assert_cmpfloat (plot.x + plot.width, <=, widths[w]);
            g_assert_cmpfloat (plot.height, >, 100);
          }
}

/* Fifteen months that begin in November: the rest of a year gives way to the year. */
static void
test_years (void)
{
  g_autoptr (TptFigure) figure = make_long (15, 1);
  g_autofree char *first = figure_svg (figure, 640, HEIGHT, &plain);
  g_autofree char *second = figure_svg (figure, 640, HEIGHT, &plain);

  g_assert_cmpstr (first, ==, second);
  /* rate ticks and nights apart, 15 months and the years 2025, 2026 and 2027 have words */
  g_assert_cmpuint (assert_texts_apart (figure, 1920, HEIGHT, &plain) - assert_texts_apart (figure, 320, HEIGHT, &plain), >=, 7);
}

/* However low the pane, there is a number beside nought to read the marks by. */
static void
test_ticks (void)
{
  static const double tops[] = { 0.011, 0.9, 1.1, 2.6, 4.4, 9.7, 19, 51 };
  static const double heights[] = { 70, 100, 130, 300 };
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;
  TptCanvas canvas;

  tpt_canvas_begin_blank (&canvas, &style);
  for (gsize i = 0; i < G_N_ELEMENTS (tops); i++)
    for (gsize k = 0; k < G_N_ELEMENTS (heights); k++)
      {
        const TptRateMark mark = { .nights = 30, .detections = 3, .rate = tops[i] / 2, .low = 0, .high = tops[i] };
        TptFigureRect area = { 0, 0, 400, heights[k] };
        TptRateScale scale;

        tpt_rate_scale_set (&scale, &mark, 1);
        tpt_rate_scale_lay_out (&scale, &canvas, &area);
        g_test_message ("%g in %g", tops[i], heights[k]);
        g_assert_cmpuint (tpt_value_axis_count (&scale.rates), >=, 2);
        g_assert_cmpfloat (scale.rates.step, <=, scale.top);
      }
  tpt_canvas_end (&canvas);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/months/csv", test_csv);
  g_test_add_func ("/figures/months/hits", test_hits);
  g_test_add_func ("/figures/months/two-series", test_two_series);
  g_test_add_func ("/figures/months/shifted", test_shifted);
  g_test_add_func ("/figures/months/brush", test_brush);
  g_test_add_func ("/figures/months/idle-is-nothing", test_idle_is_nothing);
  g_test_add_func ("/figures/months/words", test_words);
  g_test_add_func ("/figures/months/no-place", test_no_place);
  g_test_add_func ("/figures/months/nothing", test_nothing);
  g_test_add_func ("/figures/months/sizes", test_sizes);
  g_test_add_func ("/figures/months/years", test_years);
  g_test_add_func ("/figures/months/ticks", test_ticks);
  return g_test_run ();
}
