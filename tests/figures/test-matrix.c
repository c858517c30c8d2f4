#include "figure-samples.h"
#include "figure-texts.h"

#include <string.h>

static const TptFigureStyle plain = TPT_FIGURE_STYLE_INIT;

static const double widths[] = { 320, 640, 1920 };

static void
test_csv (void)
{
  g_autoptr (TptFigure) figure = sample_matrix (TPT_MATRIX_COUNT);
  g_autofree char *csv = tpt_figure_csv (figure);

  /* a station that did not work and saw nothing has no row */
  g_assert_cmpstr (csv, ==,
                   "species,station,detections,trap_nights,per_100_nights\r\n"
                   "Sun bear,Salt lick,11,703,1.5647226173541964\r\n"
                   "Sun bear,\"Ridge, \"\"upper\"\"\",0,50,0\r\n"
                   "Sun bear,Hide,2,0,\r\n"
                   "Civet & <small>,Salt lick,0,703,0\r\n"
                   "Civet & <small>,\"Ridge, \"\"upper\"\"\",1,50,2\r\n");
}

/* The middle of a cell, or of a name before the rows or below the columns where it is -1. */
static void
place (TptFigure *figure, double width, double height, int row, int column, guint n_rows, guint n_columns, double *x, double *y)
{
  TptFigureRect plot = tpt_figure_plot_rect (figure, width, height, &plain);

  *x = column < 0 ? plot.x - 15 : plot.x + plot.width * (column + 0.5) / n_columns;
  *y = row < 0 ? plot.y + plot.height + 8 : plot.y + plot.height * (row + 0.5) / n_rows;
}

static void
test_hits (void)
{
  static const struct {
    int row, column;
    TptHitKind kind;
    const char *key, *item_key, *text;
  } cases[] = {
    { 0, 0, TPT_HIT_CELL, "bear", "st-1", "Sun bear at Salt lick: 11 detections in 703 trap nights: 1.56 per 100" },
    { 0, 1, TPT_HIT_CELL, "bear", "st-2", "Sun bear at Fig bend: no camera was at work" },
    { 0, 2, TPT_HIT_CELL, "bear", NULL, "Sun bear at Ridge, \"upper\": 0 detections in 50 trap nights" },
    { 0, 3, TPT_HIT_CELL, "bear", "st-4", "Sun bear at Hide: 2 detections while no camera is on record as at work" },
    { 1, 2, TPT_HIT_CELL, NULL, NULL, "Civet & <small> at Ridge, \"upper\": 1 detection in 50 trap nights: 2.00 per 100" },
    { 0, -1, TPT_HIT_ROW, "bear", NULL, "Sun bear: 13 detections at 2 stations" },
    { 1, -1, TPT_HIT_ROW, NULL, NULL, "Civet & <small>: 1 detection at 1 station" },
    { -1, 0, TPT_HIT_STATION, NULL, "st-1", "Salt lick: 11 detections of 1 species in 703 trap nights" },
    { -1, 1, TPT_HIT_STATION, NULL, "st-2", "Fig bend: not at work in this period" },
    { -1, 3, TPT_HIT_STATION, NULL, "st-4", "Hide: 2 detections of 1 species while no camera is on record as at work" },
  };

  for (int measure = TPT_MATRIX_COUNT; measure <= TPT_MATRIX_PRESENCE; measure++)
    for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
      for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
        {
          g_autoptr (TptFigure) figure = sample_matrix (measure);
          double height = tpt_figure_preferred_height (figure, widths[w], &plain), x, y;
          g_auto (TptHit) hit = TPT_HIT_INIT;

          place (figure, widths[w], height, cases[i].row, cases[i].column, 2, 4, &x, &y);
          g_test_message ("row %d, column %d at %g", cases[i].row, cases[i].column, widths[w]);
          g_assert_true (tpt_figure_hit (figure, x, y, widths[w], height, &plain, &hit));
          g_assert_cmpint (hit.kind, ==, cases[i].kind);
          g_assert_cmpint (hit.row, ==, cases[i].row);
          g_assert_cmpint (hit.item, ==, cases[i].column);
          g_assert_cmpstr (hit.key, ==, cases[i].key);
          g_assert_cmpstr (hit.item_key, ==, cases[i].item_key);
          g_assert_cmpstr (hit.text, ==, cases[i].text);
        }
}

static TptFigure *
make_grid (guint n_species, guint n_stations, TptMatrixMeasure measure)
{
  TptFigure *figure = tpt_matrix_new (measure);

  for (guint j = 0; j < n_stations; j++)
    {
      g_autofree char *label = g_strdup_printf ("Station with a name %u", j), *key = g_strdup_printf ("st-%u", j);

      tpt_matrix_add_station (figure, label, key, j % 9 == 4 ? 0 : 100 + j);
    }
  for (guint i = 0; i < n_species; i++)
    {
      g_autofree char *label = g_strdup_printf ("Species with a long name %u", i), *key = g_strdup_printf ("sp-%u", i);

      tpt_matrix_add_species (figure, label, key);
      for (guint j = 0; j < n_stations; j++)
        tpt_matrix_set (figure, (int) i, (int) j, j % 9 == 4 ? 0 : (i * j) % 7 * 30);
    }
  return figure;
}

/* A cell can be pointed at wherever it is drawn, and is what it says. */
static void
test_cells (void)
{
  enum { SPECIES = 40, STATIONS = 60 };
  g_autoptr (TptFigure) figure = make_grid (SPECIES, STATIONS, TPT_MATRIX_COUNT);

  for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
    {
      double height = tpt_figure_preferred_height (figure, widths[w], &plain);

      for (int i = 0; i < SPECIES; i += 3)
        for (int j = 0; j < STATIONS; j += 11)
          {
            g_auto (TptHit) hit = TPT_HIT_INIT;
            double x, y;

            place (figure, widths[w], height, i, j, SPECIES, STATIONS, &x, &y);
            g_assert_true (tpt_figure_hit (figure, x, y, widths[w], height, &plain, &hit));
            g_assert_cmpint (hit.kind, ==, TPT_HIT_CELL);
            g_assert_cmpint (hit.row, ==, i);
            g_assert_cmpint (hit.item, ==, j);
          }
    }
}

/* From one cell to more than there is room for, wide and narrow, high and low, on every
 * palette: words on the figure and apart, cells on the figure. */
static void
test_sizes (void)
{
  static const struct {
    guint species, stations;
  } sizes[] = { { 1, 1 }, { 2, 4 }, { 11, 15 }, { 40, 60 }, { 60, 300 } };

  for (guint s = 0; s < G_N_ELEMENTS (sizes); s++)
    for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
      for (guint low = 0; low < 2; low++)
        for (guint framed = 0; framed < 2; framed++)
          {
            g_autoptr (TptFigure) figure = make_grid (sizes[s].species, sizes[s].stations, s % 3);
            TptFigureStyle style = plain;
            TptFigureRect plot;
            double height;

            style.framed = framed;
            style.palette = (s + w + low) % TPT_N_PALETTES;
            height = tpt_figure_preferred_height (figure, widths[w], &style);
            if (low)
              height = MIN (height, framed ? 340 : 220);
            plot = tpt_figure_plot_rect (figure, widths[w], height, &style);
            g_test_message ("%u by %u at %g by %g", sizes[s].species, sizes[s].stations, widths[w], height);
            g_assert_cmpuint (assert_texts_apart (figure, widths[w], height, &style), >, 3);
            g_assert_cmpfloat (plot.x + plot.width, <=, widths[w]);
            g_assert_cmpfloat (plot.y + plot.height, <, height);
            g_assert_cmpfloat (plot.width / sizes[s].stations, >, 0.5);
          }
}

/* At its own height every row has its name and its number. */
static void
test_height (void)
{
  for (guint n = 1; n <= 40; n += 13)
    {
      g_autoptr (TptFigure) figure = make_grid (n, 60, TPT_MATRIX_COUNT);
      double height = tpt_figure_preferred_height (figure, 640, &plain);
      TptFigureRect plot = tpt_figure_plot_rect (figure, 640, height, &plain);

      g_assert_cmpfloat (plot.height / n, >=, 1.3 * 11);
      g_assert_cmpuint (assert_texts_apart (figure, 640, height, &plain), >=, 2 * n);
    }
}

/* Nine times the detections is nine times the area of the disc. */
static void
test_area (void)
{
  static const guint counts[] = { 9, 1 };
  guint pixels[2], alone = 0;

  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (TptFigure) figure = tpt_matrix_new (TPT_MATRIX_COUNT);
      TptFigureStyle large = plain;

      large.font_scale = 20;
      tpt_matrix_add_station (figure, "A", NULL, 100);
      tpt_matrix_add_species (figure, "B", NULL);
      tpt_matrix_add_species (figure, "C", NULL);
      tpt_matrix_set (figure, 0, 0, 9);
      if (i == 0)
        alone = count_color (figure, 3000, 3000, &large, TPT_COLOR_ACCENT);
      tpt_matrix_set (figure, 1, 0, counts[i]);
      pixels[i] = count_color (figure, 3000, 3000, &large, TPT_COLOR_ACCENT) - alone;
    }
  /* the edges of discs are not counted: fewer of the larger one, for its size */
  g_assert_cmpfloat_with_epsilon (pixels[0] / (double) pixels[1], 9, 0.3);
}

/* Worked and not seen is a square; not at work is nothing. */
static void
test_worked_is_seen (void)
{
  guint pixels[2];

  for (guint worked = 0; worked < 2; worked++)
    {
      g_autoptr (TptFigure) figure = tpt_matrix_new (TPT_MATRIX_COUNT);

      tpt_matrix_add_station (figure, "A", NULL, 100);
      tpt_matrix_add_station (figure, "B", NULL, worked ? 100 : 0);
      tpt_matrix_add_species (figure, "C", NULL);
      tpt_matrix_set (figure, 0, 0, 3);
      pixels[worked] = count_color (figure, 640, 200, &plain, TPT_COLOR_FAINT);
    }
  /* the one in the legend and the rest of one behind a disc are there in both; a cell is 25 by 17 or more */
  g_assert_cmpuint (pixels[0], >, 100);
  g_assert_cmpuint (pixels[1], >, pixels[0] + 400);
}

/* What is chosen keeps its colour, the rest of it goes. */
static void
test_chosen (void)
{
  static const char *const bear[] = { "sp-1", NULL }, *const both[] = { "sp-1", "st-1", "else", NULL };
  static const char *const others[] = { "else", NULL };
  static const struct {
    const char *const *keys;
    guint cells; /* that keep it */
  } cases[] = { { NULL, 9 }, { others, 9 }, { bear, 3 }, { both, 1 } };
  guint pixels[G_N_ELEMENTS (cases)];

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFigure) figure = tpt_matrix_new (TPT_MATRIX_PRESENCE);
      TptFigureStyle style = plain;

      for (guint j = 0; j < 3; j++)
        {
          g_autofree char *species = g_strdup_printf ("sp-%u", j), *station = g_strdup_printf ("st-%u", j);

          tpt_matrix_add_station (figure, "Station", station, 10);
          tpt_matrix_add_species (figure, "Species", species);
        }
      for (int j = 0; j < 9; j++)
        tpt_matrix_set (figure, j / 3, j % 3, 1);
      style.chosen_keys = cases[i].keys;
      pixels[i] = count_color (figure, 640, 300, &style, TPT_COLOR_ACCENT);
    }
  /* the disc of the legend is one more of them; 5 % for discs that fall on pixels differently */
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpfloat_with_epsilon (pixels[i] / (double) pixels[0], (cases[i].cells + 1) / 10.0, 0.05);
}

/* A rate on next to no effort does not shrink all others. */
static void
test_little_effort (void)
{
  g_autoptr (TptFigure) figure = tpt_matrix_new (TPT_MATRIX_RATE);
  guint before, after;

  tpt_matrix_add_station (figure, "A", NULL, 100);
  tpt_matrix_add_station (figure, "B", NULL, 2);
  tpt_matrix_add_species (figure, "C", NULL);
  tpt_matrix_set (figure, 0, 0, 4);
  before = count_color (figure, 640, 200, &plain, TPT_COLOR_ACCENT);
  tpt_matrix_set (figure, 0, 1, 1);
  after = count_color (figure, 640, 200, &plain, TPT_COLOR_ACCENT);
  g_assert_cmpuint (after, >=, before);
}

static void
test_words (void)
{
  g_autoptr (TptFigure) figure = sample_matrix (TPT_MATRIX_COUNT), empty = tpt_matrix_new (TPT_MATRIX_RATE);
  g_autoptr (TptFigure) unseen = tpt_matrix_new (TPT_MATRIX_RATE);
  g_autofree char *words = tpt_figure_describe (figure), *none = tpt_figure_describe (empty), *nothing = NULL;

  tpt_matrix_add_station (unseen, "Salt lick", NULL, 20);
  nothing = tpt_figure_describe (unseen);
  g_assert_true (g_str_has_suffix (words, "2 species at 2 stations at work. Sun bear: 13 detections at 2 stations. "
                                          "Civet & <small>: 1 detection at 1 station."));
  g_assert_cmpstr (none, ==, "No station was at work in this period.");
  g_assert_cmpstr (nothing, ==, "Nothing was seen in this period.");
}

static void
test_nothing (void)
{
  g_autoptr (TptFigure) empty = tpt_matrix_new (TPT_MATRIX_RATE), unseen = tpt_matrix_new (TPT_MATRIX_COUNT);
  TptFigure *figures[] = { empty, unseen };

  tpt_matrix_add_station (unseen, "Salt lick", NULL, 20);
  for (guint i = 0; i < G_N_ELEMENTS (figures); i++)
    for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
      {
        double height = tpt_figure_preferred_height (figures[i], widths[w], &plain);
        g_autoptr (TptFigureTable) table = tpt_figure_table (figures[i]);
        g_auto (TptHit) hit = TPT_HIT_INIT;

        g_assert_cmpuint (assert_texts_apart (figures[i], widths[w], height, &plain), >, 0);
        g_assert_false (tpt_figure_hit (figures[i], widths[w] / 2, height / 2, widths[w], height, &plain, &hit));
        g_assert_cmpuint (tpt_figure_table_get_n_rows (table), ==, 0);
      }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/matrix/csv", test_csv);
  g_test_add_func ("/figures/matrix/hits", test_hits);
  g_test_add_func ("/figures/matrix/cells", test_cells);
  g_test_add_func ("/figures/matrix/sizes", test_sizes);
  g_test_add_func ("/figures/matrix/height", test_height);
  g_test_add_func ("/figures/matrix/area", test_area);
  g_test_add_func ("/figures/matrix/worked-is-seen", test_worked_is_seen);
  g_test_add_func ("/figures/matrix/chosen", test_chosen);
  g_test_add_func ("/figures/matrix/little-effort", test_little_effort);
  g_test_add_func ("/figures/matrix/words", test_words);
  g_test_add_func ("/figures/matrix/nothing", test_nothing);
  return g_test_run ();
}
