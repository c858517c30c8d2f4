#include "figure-samples.h"
#include "figure-texts.h"

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

  g_assert_cmpuint (count_color (idle, 600, 80, &style, TPT_COLOR_ACCENT_SOFT), ==, 0);
  g_assert_cmpuint (count_color (worked, 600, 80, &style, TPT_COLOR_ACCENT_SOFT), >, 1000);
  g_assert_cmpuint (count_color (worked, 600, 80, &style, TPT_COLOR_ACCENT), ==, 0);
  g_assert_cmpuint (count_color (seen, 600, 80, &style, TPT_COLOR_ACCENT), >, 5 * 2 * 10);
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

static guint
count_words_above (TptFigure *figure, double width, double height, const TptFigureStyle *sized)
{
  g_autoptr (GArray) texts = figure_texts (figure, width, height, sized);
  TptFigureRect plot = tpt_figure_plot_rect (figure, width, height, sized);
  guint n = 0;

  for (guint i = 0; i < texts->len; i++)
    {
      const TptFigureRect *words = &g_array_index (texts, TptFigureRect, i);

      n += words->y + words->height <= plot.y && words->x >= plot.x - 20 && words->x < plot.x + plot.width;
    }
  return n;
}

/* Many rows on the screen have the time above them too: the axis below may be out of sight. */
static void
test_time_above (void)
{
  static const struct {
    int n_rows;
    gboolean above;
  } cases[] = { { 4, FALSE }, { 8, TRUE }, { 15, TRUE } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFigure) figure = make_rows (cases[i].n_rows);
      double height = tpt_figure_preferred_height (figure, 900, &style);
      guint above = count_words_above (figure, 900, height, &style);

      assert_texts_apart (figure, 900, height, &style);
      g_assert_true (cases[i].above ? above >= 3 : above == 0);
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

/* Two species at two stations, and with @own the effort of a year before moved onto the axis. */
static TptFigure *
make_pair (gboolean own)
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptRange range = { sample_instant ("2026-03-01"), sample_instant ("2026-05-01") };
  TptFigure *figure = tpt_strip_new_pair (range, zone, "sun bear", "pig, \"bearded\"");
  TptInstant first = sample_instant ("2026-03-14T21:04"), second = sample_instant ("2026-04-02T06:00");
  TptInstant before = sample_instant ("2025-04-02T06:00");
  const TptStripSighting sightings[] = {
    { first, { first, first + 90001 }, "sun bear", "sp-1", 2, FALSE },
    { second, { before, before + 1 }, "pig", NULL, 0, TRUE },
    { range.to, { range.to, range.to + 1 }, "too late", NULL, 0, TRUE },
  };
  int otter = tpt_strip_add_row (figure, "Otter bank", "st-1", NAN);
  int ridge = tpt_strip_add_row (figure, "Ridge", "st-2", 12.5);

  for (guint i = 0; i < G_N_ELEMENTS (sightings); i++)
    tpt_strip_add_sighting (figure, otter, &sightings[i]);
  tpt_strip_add_effort (figure, otter, (TptRange) { sample_instant ("2026-03-02"), sample_instant ("2026-03-22") });
  tpt_strip_add_effort (figure, ridge, (TptRange) { sample_instant ("2026-03-01"), sample_instant ("2026-03-13T12:00") });
  if (own)
    tpt_strip_add_second_effort (figure, otter, (TptRange) { sample_instant ("2026-02-20"), sample_instant ("2026-04-05") },
                                 (TptRange) { sample_instant ("2025-02-20"), sample_instant ("2025-04-05") });
  return figure;
}

/* What the second set is of has a column; its effort is told as it was, as far as the axis shows it. */
static void
test_pair_csv (void)
{
  g_autoptr (TptFigure) shared = make_pair (FALSE), own = make_pair (TRUE);
  g_autofree char *csv = tpt_figure_csv (shared), *own_csv = tpt_figure_csv (own);

  g_assert_cmpstr (csv, ==,
                   "series,station,item,from,to,what,count,trap_nights\r\n"
                   "sun bear,Otter bank,row,,,,1,20\r\n"
                   "sun bear,Otter bank,effort,2026-03-02T00:00:00+08:00,2026-03-22T00:00:00+08:00,,,20\r\n"
                   "sun bear,Otter bank,detection,2026-03-14T21:04:00+08:00,,sun bear,2,\r\n"
                   "\"pig, \"\"bearded\"\"\",Otter bank,row,,,,1,20\r\n"
                   "\"pig, \"\"bearded\"\"\",Otter bank,detection,2025-04-02T06:00:00+08:00,,pig,,\r\n"
                   "sun bear,Ridge,row,,,,0,12.5\r\n"
                   "sun bear,Ridge,effort,2026-03-01T00:00:00+08:00,2026-03-13T12:00:00+08:00,,,12.5\r\n"
                   "\"pig, \"\"bearded\"\"\",Ridge,row,,,,0,12.5\r\n");
  g_assert_nonnull (strstr (own_csv, "Otter bank,row,,,,1,35\r\n\"pig, \"\"bearded\"\"\",Otter bank,effort,"
                                     "2025-03-01T00:00:00+08:00,2025-04-05T00:00:00+08:00,,,35\r\n"));
  g_assert_nonnull (strstr (own_csv, "sun bear,Otter bank,row,,,,1,20\r\n"));
  g_assert_nonnull (strstr (own_csv, "Ridge,row,,,,0,0\r\n"));
}

/* Ticks above and below the middle, and what each hit tells besides its words. */
static void
test_pair_hits (void)
{
  static const struct {
    const char *what;
    gboolean own;
    const char *at;
    double down; /* of the row's height from its middle */
    TptHitKind kind;
    const char *text, *item_key, *from, *to;
  } cases[] = {
    { "a tick above", FALSE, "2026-03-14T21:04", -0.3, TPT_HIT_DETECTION, "Otter bank: sun bear, 2, 14 March 2026 21:04", "sp-1",
      "2026-03-14T21:04", "2026-03-14T21:05:30.001" },
    { "a tick below, of the year before", FALSE, "2026-04-02T06:00", 0.3, TPT_HIT_DETECTION,
      "Otter bank: pig, 2 April 2025 06:00", NULL, "2025-04-02T06:00", "2025-04-02T06:00:00.001" },
    { "effort of both", FALSE, "2026-03-05", 0, TPT_HIT_EFFORT, "Otter bank: at work 2 March 2026 to 21 March 2026", NULL,
      "2026-03-02", "2026-03-22" },
    { "effort of the first", TRUE, "2026-03-05", -0.1, TPT_HIT_EFFORT, "Otter bank: at work 2 March 2026 to 21 March 2026", NULL,
      "2026-03-02", "2026-03-22" },
    { "effort of the second, as it was", TRUE, "2026-03-05", 0.1, TPT_HIT_EFFORT,
      "Otter bank: at work 1 March 2025 to 4 April 2025", NULL, "2025-03-01", "2025-04-05" },
    { "a row", TRUE, "2026-04-20", 0, TPT_HIT_ROW,
      "Otter bank: sun bear, 1 detection in 20 trap nights; pig, \"bearded\", 1 detection in 35 trap nights", NULL, NULL, NULL },
  };
  static const double widths[] = { 320, 800, 1920 };

  for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
      {
        g_autoptr (TptFigure) figure = make_pair (cases[i].own);
        TptFigureRect plot = tpt_figure_plot_rect (figure, widths[w], 140, &style);
        double x = tpt_figure_position_of (figure, sample_instant (cases[i].at), widths[w], 140, &style);
        g_auto (TptHit) hit = TPT_HIT_INIT;

        g_test_message ("%s at %g", cases[i].what, widths[w]);
        g_assert_true (tpt_figure_hit (figure, x, plot.y + plot.height * (0.25 + 0.5 * cases[i].down), widths[w], 140, &style, &hit));
        g_assert_cmpstr (hit.text, ==, cases[i].text);
        g_assert_cmpint (hit.kind, ==, cases[i].kind);
        g_assert_cmpstr (hit.key, ==, "st-1");
        g_assert_cmpstr (hit.item_key, ==, cases[i].item_key);
        g_assert_cmpint (hit.when.from, ==, cases[i].from != NULL ? sample_instant (cases[i].from) : TPT_NO_INSTANT);
        g_assert_cmpint (hit.when.to, ==, cases[i].to != NULL ? sample_instant (cases[i].to) : TPT_NO_INSTANT);
        g_assert_true (isnan (hit.hour_from) && isnan (hit.hour_to));
      }
}

/* A gap tells when, too. */
static void
test_gap_tells (void)
{
  g_autoptr (TptFigure) figure = sample_strip ();
  double x = tpt_figure_position_of (figure, sample_instant ("2026-04-05"), 800, 160, &style);
  g_auto (TptHit) hit = TPT_HIT_INIT;

  g_assert_true (tpt_figure_hit (figure, x, get_row_y (figure, 800, 160, 0, 2), 800, 160, &style, &hit));
  g_assert_cmpint (hit.kind, ==, TPT_HIT_GAP);
  g_assert_cmpint (hit.when.from, ==, sample_instant ("2026-03-22T12:00"));
  g_assert_cmpint (hit.when.to, ==, sample_instant ("2026-04-20"));
}

static void
test_pair_words (void)
{
  g_autoptr (TptFigure) figure = make_pair (TRUE);
  g_autofree char *words = tpt_figure_describe (figure);

  g_assert_true (g_str_has_prefix (words, "Stations through time, 1 March 2026 to 30 April 2026: sun bear, 1 detection in 33 trap nights; "
                                          "pig, \"bearded\", 1 detection in 35 trap nights at 2 stations. Otter bank: sun bear, 1"));
}

/* The second set has its own colour on every palette. */
static void
test_pair_drawn (void)
{
  g_autoptr (TptFigure) figure = make_pair (FALSE), single = sample_strip ();

  for (guint palette = 0; palette < TPT_N_PALETTES; palette++)
    {
      TptFigureStyle colored = style;

      colored.palette = palette;
      g_assert_cmpuint (count_color (figure, 640, 120, &colored, TPT_COLOR_SERIES_2), >, 20);
      g_assert_cmpuint (count_color (single, 640, 120, &colored, TPT_COLOR_SERIES_2), ==, 0);
    }
}

/* Rows that are not chosen are weaker, not gone, and lie where they lay. */
static void
test_chosen_keys (void)
{
  static const char *const one[] = { "st-1", NULL }, *const none[] = { "elsewhere", NULL };
  g_autoptr (TptFigure) figure = sample_strip ();
  TptFigureStyle chosen = style, receded = style;
  TptFigureRect before = tpt_figure_plot_rect (figure, 640, 120, &style), after;
  guint all = count_color (figure, 640, 120, &style, TPT_COLOR_ACCENT_SOFT), some;
  g_auto (TptHit) hit = TPT_HIT_INIT;

  chosen.chosen_keys = one;
  receded.chosen_keys = none;
  some = count_color (figure, 640, 120, &chosen, TPT_COLOR_ACCENT_SOFT);
  g_assert_cmpuint (some, >, 0);
  g_assert_cmpuint (some, <, all);
  g_assert_cmpuint (count_color (figure, 640, 120, &receded, TPT_COLOR_ACCENT_SOFT), ==, 0);
  g_assert_cmpuint (count_color (figure, 640, 120, &chosen, TPT_COLOR_ACCENT), ==, count_color (figure, 640, 120, &style, TPT_COLOR_ACCENT));

  after = tpt_figure_plot_rect (figure, 640, 120, &chosen);
  g_assert_cmpfloat (after.x, ==, before.x);
  g_assert_cmpfloat (after.width, ==, before.width);
  g_assert_true (tpt_figure_hit (figure, 20, get_row_y (figure, 640, 120, 1, 2), 640, 120, &chosen, &hit));
  g_assert_cmpint (hit.row, ==, 1);
}

static void
test_sizes (void)
{
  static const double widths[] = { 320, 640, 1920 };

  for (guint f = 0; f < 3; f++)
    for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
      for (guint framed = 0; framed < 2; framed++)
        {
          g_autoptr (TptFigure) figure = f == 0 ? sample_strip () : make_pair (f == 2);
          TptFigureStyle sized = style;
          double height;
          g_autofree char *first = NULL, *second = NULL;

          sized.framed = framed;
          height = tpt_figure_preferred_height (figure, widths[w], &sized);
          g_assert_cmpuint (assert_texts_apart (figure, widths[w], height, &sized), >, 3);
          first = figure_svg (figure, widths[w], height, &sized);
          second = figure_svg (figure, widths[w], height, &sized);
          g_assert_cmpstr (first, ==, second);
        }
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
  g_test_add_func ("/figures/strip/time-above", test_time_above);
  g_test_add_func ("/figures/strip/too-many-rows", test_too_many_rows);
  g_test_add_func ("/figures/strip/words", test_words);
  g_test_add_func ("/figures/strip/pair-csv", test_pair_csv);
  g_test_add_func ("/figures/strip/pair-hits", test_pair_hits);
  g_test_add_func ("/figures/strip/gap-tells", test_gap_tells);
  g_test_add_func ("/figures/strip/pair-words", test_pair_words);
  g_test_add_func ("/figures/strip/pair-drawn", test_pair_drawn);
  g_test_add_func ("/figures/strip/chosen-keys", test_chosen_keys);
  g_test_add_func ("/figures/strip/sizes", test_sizes);
  return g_test_run ();
}
