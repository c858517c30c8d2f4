#include "figure-samples.h"

#include <string.h>

static const TptFigureStyle style = TPT_FIGURE_STYLE_INIT;

/* The middle of a row, from the top of the plot. */
static double
get_row_y (TptFigure *figure,
           double width,
           double height,
           int row,
           int n_rows)
{
  TptFigureRect plot = tpt_figure_plot_rect (figure, width, height, &style);

  return plot.y + (row + 0.5) * plot.height / n_rows;
}

static void
test_csv (void)
{
  g_autoptr (TptFigure) figure = sample_strip ();
  g_autofree char *csv = tpt_figure_csv (figure);

  /* 20.5 and 11 nights are the bars inside March and April; the second row has
   * its nights from the caller */
  g_assert_cmpstr (csv, ==,
                   "station,item,from,to,what,count,trap_nights\r\n"
                   "Otter bank,row,,,,2,31.5\r\n"
                   "Otter bank,effort,2026-03-02T00:00:00+08:00,2026-03-22T12:00:00+08:00,,,20.5\r\n"
                   "Otter bank,effort,2026-04-20T00:00:00+08:00,2026-05-01T00:00:00+08:00,,,11\r\n"
                   "Otter bank,gap,2026-03-22T12:00:00+08:00,2026-04-20T00:00:00+08:00,found dead,,\r\n"
                   "Otter bank,detection,2026-03-14T21:04:00+08:00,,sun bear,2,\r\n"
                   "Otter bank,detection,2026-04-25T05:30:15+08:00,,banded civet,,\r\n"
                   "\"Ridge, \"\"upper\"\"\",row,,,,0,30.5\r\n"
                   "\"Ridge, \"\"upper\"\"\",effort,2026-03-01T00:00:00+08:00,2026-03-31T00:00:00+08:00,,,30\r\n");
}

static void
test_hits (void)
{
  static const struct {
    const char *at; /* NULL for the row's label */
    int row;
    double aside; /* units beside it */
    TptHitKind kind;
    int item;
    const char *text;
  } cases[] = {
    { "2026-03-14T21:04", 0, 0, TPT_HIT_DETECTION, 0, "Otter bank: sun bear, 2, 14 March 2026 21:04" },
    { "2026-03-14T21:04", 0, 5, TPT_HIT_DETECTION, 0, "Otter bank: sun bear, 2, 14 March 2026 21:04" },
    { "2026-04-25T05:30", 0, -3, TPT_HIT_DETECTION, 1, "Otter bank: banded civet, 25 April 2026 05:30" },
    { "2026-03-14T21:04", 0, 20, TPT_HIT_EFFORT, 0, "Otter bank: at work 2 March 2026 to 22 March 2026" },
    { "2026-04-29", 0, 0, TPT_HIT_EFFORT, 1, "Otter bank: at work 20 April 2026 to 30 April 2026" },
    { "2026-04-05", 0, 0, TPT_HIT_GAP, 0, "Otter bank: found dead, 22 March 2026 to 19 April 2026" },
    { "2026-04-05", 1, 0, TPT_HIT_ROW, -1, "Ridge, \"upper\": 0 detections in 30.5 trap nights" },
    { "2026-03-14T21:04", 1, 0, TPT_HIT_EFFORT, 0, "Ridge, \"upper\": at work 1 March 2026 to 30 March 2026" },
    { NULL, 1, 0, TPT_HIT_ROW, -1, "Ridge, \"upper\": 0 detections in 30.5 trap nights" },
  };
  static const double widths[] = { 320, 800, 1920 };
  g_autoptr (TptFigure) figure = sample_strip ();

  for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
      {
        const double height = 160;
        double x = cases[i].at != NULL ? tpt_figure_position_of (figure, sample_instant (cases[i].at), widths[w], height, &style)
                                       : 12;
        double y = get_row_y (figure, widths[w], height, cases[i].row, 2);
        g_auto (TptHit) hit = { 0 };

        /* in a narrow figure twenty units aside are another bar */
        if (widths[w] < 500 && cases[i].aside == 20)
          continue;
        g_assert_true (tpt_figure_hit (figure, x + cases[i].aside, y, widths[w], height, &style, &hit));
        g_assert_cmpstr (hit.text, ==, cases[i].text);
        g_assert_cmpint (hit.kind, ==, cases[i].kind);
        g_assert_cmpint (hit.row, ==, cases[i].row);
        g_assert_cmpint (hit.item, ==, cases[i].item);
        g_assert_cmpstr (hit.key, ==, cases[i].row == 0 ? "st-1" : NULL);
      }
}

static void
test_nothing_hit (void)
{
  g_autoptr (TptFigure) figure = sample_strip ();
  g_auto (TptHit) hit = { 0 };

  g_assert_false (tpt_figure_hit (figure, 300, 155, 800, 160, &style, &hit));
  g_assert_cmpint (hit.kind, ==, TPT_HIT_NOTHING);
  g_assert_null (hit.text);
}

/* How many pixels of a drawing have @role's colour exactly. */
static guint
count_pixels (TptFigure *figure,
              int width,
              int height,
              TptColorRole role)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);
  TptColor color = tpt_palette_color (TPT_PALETTE_LIGHT, role);
  guint32 wanted = (guint32) (color.red * 255 + 0.5) << 16 | (guint32) (color.green * 255 + 0.5) << 8 |
    (guint32) (color.blue * 255 + 0.5);
  guint found = 0;

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  tpt_figure_draw (figure, cr, width, height, &style);
  cairo_surface_flush (surface);
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      {
        const guint8 *row = cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface);

        found += (((const guint32 *) (gconstpointer) row)[x] & 0xffffff) == wanted;
      }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return found;
}

static TptFigure *
make_row (gboolean worked,
          guint n_detections)
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptFigure *figure = tpt_strip_new ((TptRange) { sample_instant ("2026-01-01"), sample_instant ("2027-01-01") }, zone);
  int row = tpt_strip_add_row (figure, "Old landing", NULL, NAN);

  if (worked)
    tpt_strip_add_effort (figure, row, (TptRange) { TPT_NO_INSTANT, TPT_NO_INSTANT });
  for (guint i = 0; i < n_detections; i++)
    tpt_strip_add_detection (figure, row, sample_instant ("2026-01-01") + i * (364 * TPT_DAY / n_detections), "pig", 1);
  return figure;
}

/* Worked and nothing seen is a bar; not worked is nothing at all. */
static void
test_worked_is_seen (void)
{
  g_autoptr (TptFigure) idle = make_row (FALSE, 0);
  g_autoptr (TptFigure) worked = make_row (TRUE, 0);
  g_autoptr (TptFigure) seen = make_row (TRUE, 5);

  g_assert_cmpuint (count_pixels (idle, 600, 80, TPT_COLOR_ACCENT_SOFT), ==, 0);
  g_assert_cmpuint (count_pixels (worked, 600, 80, TPT_COLOR_ACCENT_SOFT), >, 1000);
  g_assert_cmpuint (count_pixels (worked, 600, 80, TPT_COLOR_ACCENT), ==, 0);
  g_assert_cmpuint (count_pixels (seen, 600, 80, TPT_COLOR_ACCENT), >, 5 * 2 * 10);
}

static gsize
get_svg_length (TptFigure *figure)
{
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), "strip.svg", NULL);
  g_autofree char *svg = NULL;
  TptFigureSize size = { 600, 80, 96, TPT_NO_INSTANT };
  gsize length;

  g_assert_true (tpt_figure_export (figure, path, &size, &style, NULL));
  g_assert_true (g_file_get_contents (path, &svg, &length, NULL));
  return length;
}

/* Ticks on the same unit are one: a hundred thousand cost no more than fill the row. */
static void
test_many_ticks (void)
{
  g_autoptr (TptFigure) some = make_row (TRUE, 2000);
  g_autoptr (TptFigure) many = make_row (TRUE, 100000);

  g_assert_cmpuint (get_svg_length (many), <=, get_svg_length (some) + 20000);
}

static TptFigure *
make_rows (int n_rows)
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptFigure *figure = tpt_strip_new ((TptRange) { sample_instant ("2026-01-01"), sample_instant ("2027-01-01") }, zone);

  for (int i = 0; i < n_rows; i++)
    {
      g_autofree char *label = g_strdup_printf ("Station with a name that is long %d", i);
      int row = tpt_strip_add_row (figure, label, NULL, NAN);

      tpt_strip_add_effort (figure, row, (TptRange) { TPT_NO_INSTANT, TPT_NO_INSTANT });
    }

  return figure;
}

static void
test_heights (void)
{
  static const int n_rows[] = { 0, 1, 8, 300 };
  double last = 0;

  for (guint i = 0; i < G_N_ELEMENTS (n_rows); i++)
    {
      g_autoptr (TptFigure) figure = make_rows (n_rows[i]);
      double height = tpt_figure_preferred_height (figure, 640, &style);
      TptFigureRect plot = tpt_figure_plot_rect (figure, 640, height, &style);

      g_assert_cmpfloat (height, >=, last);
      if (n_rows[i] > 0)
        g_assert_cmpfloat (plot.height / n_rows[i], >=, 16);
      g_assert_cmpfloat (plot.y + plot.height, <, height);
      last = height;
    }
}

/* Where 300 rows have no room, every row drawn stays on the figure, and the
 * last one drawn can still be pointed at. */
static void
test_too_many_rows (void)
{
  g_autoptr (TptFigure) figure = make_rows (300);
  TptFigureRect plot = tpt_figure_plot_rect (figure, 640, 400, &style);
  g_auto (TptHit) hit = { 0 };

  g_assert_cmpfloat (plot.y + plot.height, <=, 400);
  g_assert_true (tpt_figure_hit (figure, plot.x + 50, plot.y + plot.height - 2, 640, 400, &style, &hit));
  g_assert_cmpint (hit.row, >, 80);
  g_assert_cmpint (hit.row, <, 300);
}

static void
test_words (void)
{
  g_autoptr (TptFigure) figure = sample_strip ();
  g_autoptr (TptFigure) empty = make_rows (0);
  g_autofree char *words = tpt_figure_describe (figure);
  g_autofree char *none = tpt_figure_describe (empty);

  g_assert_nonnull (strstr (words, "Stations through time, 1 March 2026 to 30 April 2026: 2 detections in 62 trap nights at 2 stations."));
  g_assert_nonnull (strstr (words, "Otter bank: 2 detections in 31.5 trap nights."));
  g_assert_nonnull (strstr (none, "0 detections in 0 trap nights at 0 stations."));
}

int
main (int argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/strip/csv", test_csv);
  g_test_add_func ("/figures/strip/hits", test_hits);
  g_test_add_func ("/figures/strip/nothing-hit", test_nothing_hit);
  g_test_add_func ("/figures/strip/worked-is-seen", test_worked_is_seen);
  g_test_add_func ("/figures/strip/many-ticks", test_many_ticks);
  g_test_add_func ("/figures/strip/heights", test_heights);
  g_test_add_func ("/figures/strip/too-many-rows", test_too_many_rows);
  g_test_add_func ("/figures/strip/words", test_words);
  return g_test_run ();
}
