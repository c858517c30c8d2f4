#include "figure-samples.h"
#include "figure-texts.h"
#include "tpt-hours-private.h"

#include <string.h>

static const TptFigureStyle plain = TPT_FIGURE_STYLE_INIT;
static const TptHoursSun sun = { 6, 7, 18, 19, 0.5 };

/* Two peaks, at 6 and at 18, the second half as high; eight points of three hours, 1 in all. */
static const double density[8] = { 0.01, 0.03, 0.12, 0.03, 0.01, 0.03, 0.06, 0.13 / 3 };
static const double low[8] = { 0.005, 0.02, 0.1, 0.02, 0.005, 0.02, 0.04, 0.03 };
static const double high[8] = { 0.02, 0.05, 0.16, 0.05, 0.02, 0.05, 0.09, 0.06 };
static const double records[] = { 18.5, 6.25, 6.75, 23.99, 0, 6 };

static TptFigure *
make_hours (TptHoursClock clock,
            guint n_series)
{
  TptFigure *figure = tpt_hours_new (clock);
  const TptHoursSeries series[] = {
    { n_series > 1 ? "Sun bear" : NULL, "bear", records, G_N_ELEMENTS (records), density, low, high, 8, NULL },
    { "Pig, \"bearded\"", NULL, records, 2, NULL, NULL, NULL, 0, "2 detections are too few for a curve; 10 are needed." },
  };

  for (guint i = 0; i < n_series; i++)
    tpt_hours_add_series (figure, &series[i]);
  tpt_hours_set_sun (figure, &sun);
  return figure;
}

static double
get_x (TptFigure *figure,
       double width,
       double height,
       double hour)
{
  TptFigureRect plot = tpt_figure_plot_rect (figure, width, height, &plain);

  return plot.x + plot.width * hour / 24;
}

/* Every count, point, record and change of the light, and nothing else. */
static void
test_table (void)
{
  g_autoptr (TptFigure) figure = make_hours (TPT_HOURS_CLOCK, 1);
  g_autoptr (TptFigureTable) table = tpt_figure_table (figure);
  g_autofree char *csv = tpt_figure_csv (figure);
  static const char *const lines[] = {
    "series,item,from_hour,to_hour,records,percent_per_hour,low,high\r\n,hour,0,1,1,16.666666666666668,,\r\n,hour,1,2,0,0,,\r\n",
    "\r\n,hour,6,7,3,50,,\r\n",
    "\r\n,hour,23,24,1,16.666666666666668,,\r\n,curve,0,,,1,0.5,2\r\n",
    "\r\n,curve,6,,,12,10,16\r\n",
    "\r\n,record,0,,1,,,\r\n,record,6,,1,,,\r\n,record,6.25,,1,,,\r\n,record,6.75,,1,,,\r\n,record,18.5,,1,,,\r\n,record,23.99,,1,,,\r\n",
    ",dawn,5.5,6.5,,,,\r\n,sunrise,6,7,,,,\r\n,sunset,18,19,,,,\r\n,dusk,18.5,19.5,,,,\r\n",
  };

  g_assert_cmpuint (tpt_figure_table_get_n_rows (table), ==, 24 + 8 + 6 + 4);
  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      g_test_message ("%s", lines[i]);
      g_assert_nonnull (strstr (csv, lines[i]));
    }
}

/* The same records in another order: the same figure to the byte. */
static void
test_order (void)
{
  double turned[G_N_ELEMENTS (records)];
  const TptHoursSeries series = { NULL, "bear", turned, G_N_ELEMENTS (records), density, low, high, 8, NULL };
  g_autoptr (TptFigure) figure = make_hours (TPT_HOURS_CLOCK, 1), other = tpt_hours_new (TPT_HOURS_CLOCK);
  g_autofree char *csv = tpt_figure_csv (figure), *svg = figure_svg (figure, 640, 300, &plain);
  g_autofree char *other_csv = NULL, *other_svg = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (records); i++)
    turned[i] = records[G_N_ELEMENTS (records) - 1 - i];
  tpt_hours_add_series (other, &series);
  tpt_hours_set_sun (other, &sun);
  other_csv = tpt_figure_csv (other);
  other_svg = figure_svg (other, 640, 300, &plain);
  g_assert_cmpstr (other_csv, ==, csv);
  g_assert_cmpstr (other_svg, ==, svg);
}

/* Beside another there are no bars, and without a curve no points. */
static void
test_table_of_two (void)
{
  g_autoptr (TptFigure) figure = make_hours (TPT_HOURS_SUN, 2);
  g_autoptr (TptFigureTable) table = tpt_figure_table (figure);
  g_autofree char *csv = tpt_figure_csv (figure);

  g_assert_cmpuint (tpt_figure_table_get_n_rows (table), ==, 24 + 8 + 6 + 24 + 2 + 4);
  g_assert_nonnull (strstr (csv, "\r\nSun bear,hour,6,7,3,,,\r\n"));
  g_assert_nonnull (strstr (csv, "\r\n\"Pig, \"\"bearded\"\"\",hour,18,19,1,,,\r\n"));
}

static void
test_hits (void)
{
  static const struct {
    guint n_series;
    double hour;
    double down; /* share of the plot from its top */
    int row;
    const char *text;
  } cases[] = {
    /* at 6.5 the curve is a sixth of the way from 12 to 3 % */
    { 1, 6.5, 0.5, 0, "06:00 to 07:00: 3 of 6 detections; the curve gives 10.5 % an hour (8.7 to 14.2)" },
    { 1, 6.01, 0.01, 0, "06:00 to 07:00: 3 of 6 detections; the curve gives 10.5 % an hour (8.7 to 14.2)" },
    { 1, 0, 0.9, 0, "00:00 to 01:00: 1 of 6 detections; the curve gives 1.3 % an hour (0.8 to 2.5)" },
    { 1, 24, 0.9, 0, "23:00 to 24:00: 1 of 6 detections; the curve gives 1.6 % an hour (0.9 to 2.7)" },
    { 2, 6.5, 0.3, 0, "Sun bear, 06:00 to 07:00: 3 of 6 detections; the curve gives 10.5 % an hour (8.7 to 14.2)" },
    /* the second lane of ticks */
    { 2, 18.5, 1.0, 1, "Pig, \"bearded\", 18:00 to 19:00: 1 of 2 detections" },
  };
  static const double widths[] = { 320, 640, 1920 };

  for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
      {
        const double height = 300;
        g_autoptr (TptFigure) figure = make_hours (TPT_HOURS_CLOCK, cases[i].n_series);
        TptFigureRect plot = tpt_figure_plot_rect (figure, widths[w], height, &plain);
        g_auto (TptHit) hit = TPT_HIT_INIT;

        g_assert_true (tpt_figure_hit (figure, get_x (figure, widths[w], height, cases[i].hour),
                                       plot.y + plot.height * cases[i].down + (cases[i].row == 1 ? 14 : 0), widths[w], height, &plain, &hit));
        g_assert_cmpint (hit.kind, ==, TPT_HIT_HOUR);
        g_assert_cmpint (hit.row, ==, cases[i].row);
        g_assert_cmpint (hit.item, ==, MIN ((int) cases[i].hour, 23));
        g_assert_cmpfloat (hit.hour_from, ==, hit.item);
        g_assert_cmpfloat (hit.hour_to, ==, hit.item + 1);
        g_assert_true (hit.when.from == TPT_NO_INSTANT && hit.when.to == TPT_NO_INSTANT);
        g_assert_cmpstr (hit.text, ==, cases[i].text);
        g_assert_cmpstr (hit.key, ==, cases[i].row == 0 ? "bear" : NULL);
      }
}

/* Beside the plot, and where nothing is shown at all. */
static void
test_nothing_hit (void)
{
  g_autoptr (TptFigure) figure = make_hours (TPT_HOURS_CLOCK, 1), empty = make_hours (TPT_HOURS_CLOCK, 0);
  g_auto (TptHit) hit = TPT_HIT_INIT;

  g_assert_false (tpt_figure_hit (figure, 5, 150, 640, 300, &plain, &hit));
  g_assert_false (tpt_figure_hit (figure, 300, 298, 640, 300, &plain, &hit));
  g_assert_false (tpt_figure_hit (empty, 300, 150, 640, 300, &plain, &hit));
}

static void
test_hour_at (void)
{
  static const double widths[] = { 320, 640, 1920 };

  for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
    for (guint framed = 0; framed < 2; framed++)
      {
        g_autoptr (TptFigure) figure = make_hours (TPT_HOURS_CLOCK, 1 + framed);
        TptFigureStyle style = plain;
        TptFigureRect plot;

        style.framed = framed;
        plot = tpt_figure_plot_rect (figure, widths[w], 300, &style);
        for (double hour = 0; hour <= 24; hour += 0.75)
          g_assert_cmpfloat_with_epsilon (
            tpt_figure_hour_at (figure, plot.x + plot.width * hour / 24, widths[w], 300, &style), hour, 1e-9);
        g_assert_cmpfloat (tpt_figure_hour_at (figure, -50, widths[w], 300, &style), ==, 0);
        g_assert_cmpfloat (tpt_figure_hour_at (figure, 5000, widths[w], 300, &style), ==, 24);
      }
}

/* Whether the pixel at the foot of @hour is not that of a figure without the brush. */
static gboolean
is_brushed (double from,
            double to,
            double hour)
{
  g_autoptr (TptFigure) figure = make_hours (TPT_HOURS_CLOCK, 1);
  TptFigureRect plot = tpt_figure_plot_rect (figure, 640, 300, &plain);
  guint32 pixels[2];

  for (guint i = 0; i < 2; i++)
    {
      cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 640, 300);
      cairo_t *cr = cairo_create (surface);
      TptFigureStyle style = plain;

      style.hour_from = i == 0 ? NAN : from;
      style.hour_to = i == 0 ? NAN : to;
      tpt_figure_draw (figure, cr, 640, 300, &style);
      cairo_surface_flush (surface);
      pixels[i] = ((guint32 *) (gpointer) (cairo_image_surface_get_data (surface) +
                                           (int) (plot.y + 2) * cairo_image_surface_get_stride (surface)))
        [(int) get_x (figure, 640, 300, hour)];
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
    }
  return pixels[0] != pixels[1];
}

static void
test_brush (void)
{
  static const struct {
    const char *what;
    double from, to, hour;
    gboolean brushed;
  } cases[] = {
    { "inside", 8, 12, 9, TRUE },
    { "before", 8, 12, 7, FALSE },
    { "after", 8, 12, 13, FALSE },
    { "over midnight, in the evening", 20, 4, 22, TRUE },
    { "over midnight, in the morning", 20, 4, 2, TRUE },
    { "over midnight, at noon", 20, 4, 12, FALSE },
    { "of no length", 8, 8, 9, FALSE },
    { "until midnight", 20, 24, 23, TRUE },
    { "one end only", 8, NAN, 9, FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("%s", cases[i].what);
      g_assert_true (is_brushed (cases[i].from, cases[i].to, cases[i].hour) == cases[i].brushed);
    }
}

/* Two thousand records at random places, without the library's random numbers. */
static TptFigure *
make_many (void)
{
  TptFigure *figure = tpt_hours_new (TPT_HOURS_SUN);
  g_autofree double *hours = g_new (double, 2000);
  TptHoursSeries series = { "A species whose name is so long that no legend has room for it, not even this one", NULL, hours, 2000,
                            density, low, high, 8, NULL };

  for (guint i = 0; i < 2000; i++)
    hours[i] = fmod (i * 7.31, 24);
  for (guint i = 0; i < 5; i++)
    tpt_hours_add_series (figure, &series);
  tpt_hours_set_sun (figure, &(TptHoursSun) { 6, 6, 18, 18, 0.4 });
  return figure;
}

/* On every size and palette: words on the figure, none over another, and the same bytes twice. */
static void
test_sizes (void)
{
  static const double widths[] = { 320, 640, 1920 };
  TptFigure *figures[] = {
    make_hours (TPT_HOURS_CLOCK, 0), make_hours (TPT_HOURS_CLOCK, 1), make_hours (TPT_HOURS_SUN, 2), make_many (),
  };

  for (guint f = 0; f < G_N_ELEMENTS (figures); f++)
    {
      for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
        for (guint palette = 0; palette < TPT_N_PALETTES; palette++)
          for (guint framed = 0; framed < 2; framed++)
            {
              TptFigureStyle style = plain;
              double height;
              g_autofree char *first = NULL, *second = NULL;

              style.palette = palette;
              style.framed = framed;
              height = tpt_figure_preferred_height (figures[f], widths[w], &style);
              g_test_message ("figure %u at %g by %g", f, widths[w], height);
              g_assert_cmpuint (assert_texts_apart (figures[f], widths[w], height, &style), >, 3);
              first = figure_svg (figures[f], widths[w], height, &style);
              second = figure_svg (figures[f], widths[w], height, &style);
              g_assert_cmpstr (first, ==, second);
            }
      tpt_figure_unref (figures[f]);
    }
}

/* With little room the legend and the reason go first; words never leave the figure. */
static void
test_low (void)
{
  g_autoptr (TptFigure) figure = make_hours (TPT_HOURS_CLOCK, 2);

  for (double height = 400; height > 90; height /= 1.2)
    {
      TptFigureRect plot = tpt_figure_plot_rect (figure, 320, height, &plain);

      assert_texts_apart (figure, 320, height, &plain);
      g_assert_cmpfloat (plot.height, >, 20);
      g_assert_cmpfloat (plot.y + plot.height, <, height);
    }
}

/* Each line has its own colour on each palette, and each series its own ticks. */
static void
test_palettes (void)
{
  g_autoptr (TptFigure) figure = tpt_hours_new (TPT_HOURS_CLOCK);

  for (guint i = 0; i < 2; i++)
    {
      double flat[4] = { 0.02 + 0.04 * i, 0.02 + 0.04 * i, 0.02 + 0.04 * i, 0.02 + 0.04 * i };
      TptHoursSeries series = { "Series", NULL, records, G_N_ELEMENTS (records), flat, NULL, NULL, 4, NULL };

      tpt_hours_add_series (figure, &series);
    }
  for (guint palette = 0; palette < TPT_N_PALETTES; palette++)
    {
      TptFigureStyle style = plain;

      style.palette = palette;
      g_assert_cmpuint (count_color (figure, 640, 300, &style, TPT_COLOR_SERIES_1), >, 500);
      g_assert_cmpuint (count_color (figure, 640, 300, &style, TPT_COLOR_SERIES_2), >, 200);
      g_assert_cmpuint (count_color (figure, 640, 300, &style, TPT_COLOR_SERIES_2), <,
                        count_color (figure, 640, 300, &style, TPT_COLOR_SERIES_1));
      g_assert_cmpuint (count_color (figure, 640, 300, &style, TPT_COLOR_SERIES_3), ==, 0);
    }
}

/* The light at an hour: what the season leaves open is shared evenly. By hand. */
static void
test_light (void)
{
  static const struct {
    TptHoursSun sun;
    double hour, night, twilight;
  } cases[] = {
    { { 6, 7, 18, 19, 0.5 }, 0, 1, 0 },
    { { 6, 7, 18, 19, 0.5 }, 6, 0.5, 0.5 },
    { { 6, 7, 18, 19, 0.5 }, 6.5, 0, 0.5 },
    { { 6, 7, 18, 19, 0.5 }, 12, 0, 0 },
    { { 6, 7, 18, 19, 0.5 }, 18.75, 0.25, 0.5 },
    { { 6, 7, 18, 19, 0.5 }, 19.5, 1, 0 },
    { { 6, 6, 18, 18, 0.4 }, 5.59, 1, 0 },
    { { 6, 6, 18, 18, 0.4 }, 5.61, 0, 1 },
    { { 6, 6, 18, 18, 0.4 }, 18.39, 0, 1 },
    { { 6, 6, 18, 18, 0.4 }, 18.41, 1, 0 },
    /* a northern summer: dusk after midnight */
    { { 3, 3, 23, 23, 1.5 }, 0.25, 0, 1 },
    { { 3, 3, 23, 23, 1.5 }, 1, 1, 0 },
    { { 3, 3, 23, 23, 1.5 }, 22, 0, 0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("case %u at %g", i, cases[i].hour);
      g_assert_cmpfloat_with_epsilon (tpt_hours_get_night (&cases[i].sun, cases[i].hour), cases[i].night, 1e-9);
      g_assert_cmpfloat_with_epsilon (tpt_hours_get_twilight (&cases[i].sun, cases[i].hour), cases[i].twilight, 1e-9);
    }
}

static void
test_words (void)
{
  g_autoptr (TptFigure) one = make_hours (TPT_HOURS_CLOCK, 1), two = make_hours (TPT_HOURS_SUN, 2);
  g_autoptr (TptFigure) empty = tpt_hours_new (TPT_HOURS_CLOCK);
  g_autofree char *of_one = tpt_figure_describe (one), *of_two = tpt_figure_describe (two), *of_none = tpt_figure_describe (empty);

  g_assert_cmpstr (of_one, ==,
                   "When in the day detections fall, by the clock. 6 detections; most at 06:00 (12.0 % an hour) and 18:00 (6.0 % an hour), "
                   "least at 00:00 (1.0 % an hour). Sunrise from 06:00 to 07:00, sunset from 18:00 to 19:00.");
  g_assert_cmpstr (of_two, ==,
                   "When in the sun’s day detections fall, between sunrise at 06:00 and sunset at 18:00. Sun bear: 6 detections; "
                   "most at 06:00 (12.0 % an hour) and 18:00 (6.0 % an hour), least at 00:00 (1.0 % an hour). "
                   "Pig, \"bearded\": 2 detections; no curve. "
                   "Pig, \"bearded\": 2 detections are too few for a curve; 10 are needed.");
  g_assert_cmpstr (of_none, ==, "When in the day detections fall, by the clock. Nothing was seen.");
}

/* What counts as a peak: a valley of a fifth towards every higher one. */
static void
test_peaks (void)
{
  static const struct {
    double percent[8];
    const char *words;
  } cases[] = {
    { { 4, 4, 4, 4, 4, 4, 4, 4 }, "much the same at every hour" },
    { { 4, 4, 4.5, 4, 4, 4, 4, 4 }, "much the same at every hour" },
    { { 1, 2, 9, 2, 1, 1, 1, 1 }, "most at 06:00 (9.0 % an hour), least at 00:00 (1.0 % an hour)" },
    { { 1, 9, 8, 8.5, 1, 1, 1, 1 }, "most at 03:00 (9.0 % an hour), least at 00:00 (1.0 % an hour)" },
    { { 1, 9, 6, 8.5, 1, 1, 1, 0.5 }, "most at 03:00 (9.0 % an hour) and 09:00 (8.5 % an hour), least at 21:00 (0.5 % an hour)" },
    { { 5, 1, 4, 1, 3, 1, 2, 1 },
      "most at 00:00 (5.0 % an hour), 06:00 (4.0 % an hour) and 12:00 (3.0 % an hour), least at 03:00 (1.0 % an hour)" },
    /* over midnight, and a top of two points */
    { { 9, 3, 1, 1, 1, 1, 3, 9 }, "most at 21:00 (9.0 % an hour), least at 06:00 (1.0 % an hour)" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptHoursRow row = { .density = (double *) cases[i].percent, .points = 8 };
      g_autofree char *words = tpt_hours_say_peaks (&row);

      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

int
main (int argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/hours/table", test_table);
  g_test_add_func ("/figures/hours/order", test_order);
  g_test_add_func ("/figures/hours/table-of-two", test_table_of_two);
  g_test_add_func ("/figures/hours/hits", test_hits);
  g_test_add_func ("/figures/hours/nothing-hit", test_nothing_hit);
  g_test_add_func ("/figures/hours/hour-at", test_hour_at);
  g_test_add_func ("/figures/hours/brush", test_brush);
  g_test_add_func ("/figures/hours/sizes", test_sizes);
  g_test_add_func ("/figures/hours/low", test_low);
  g_test_add_func ("/figures/hours/palettes", test_palettes);
  g_test_add_func ("/figures/hours/light", test_light);
  g_test_add_func ("/figures/hours/words", test_words);
  g_test_add_func ("/figures/hours/peaks", test_peaks);
  return g_test_run ();
}
