#include "figure-samples.h"
#include "figure-texts.h"

#include "tpt-chart-view-private.h"

#include <string.h>

static const TptFigureStyle style = TPT_FIGURE_STYLE_INIT;

static void
test_csv (void)
{
  g_autoptr (TptFigure) exact = sample_map (TPT_MAP_EXACT);
  g_autoptr (TptFigure) grid = sample_map (2);
  g_autofree char *exact_csv = tpt_figure_csv (exact);
  g_autofree char *grid_csv = tpt_figure_csv (grid);

  g_assert_cmpstr (exact_csv, ==,
                   "station,latitude,longitude,state,detections,trap_nights,per_100_nights\r\n"
                   "Otter bank,2.4118,113.0274,seen,14,200,7\r\n"
                   "Ridge saddle,2.4337,113.0512,not-seen,0,100,0\r\n"
                   "Salt lick,2.4152,113.0266,seen,3,50,6\r\n"
                   "Fig bend,2.4281,113.0401,not-worked,0,0,\r\n");
  /* Otter bank and Salt lick share a cell: 17 detections in 250 nights are 6.8 per 100 */
  g_assert_cmpstr (grid_csv, ==,
                   "cell_south,cell_west,cell_degrees,state,detections,trap_nights,per_100_nights\r\n"
                   "2.41,113.02,0.01,seen,17,250,6.8\r\n"
                   "2.43,113.05,0.01,not-seen,0,100,0\r\n"
                   "2.42,113.04,0.01,not-worked,0,0,\r\n");
}

/* Everything the figure can be asked for. */
static char *
collect (TptFigure *figure)
{
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), "map.svg", NULL);
  g_autofree char *svg = NULL;
  g_autofree char *csv = tpt_figure_csv (figure);
  g_autofree char *words = tpt_figure_describe (figure);
  TptFigureSize size = TPT_FIGURE_SIZE_INIT;
  TptFigureStyle framed = TPT_FIGURE_STYLE_INIT;
  GString *text = g_string_new (NULL);

  framed.framed = TRUE;
  g_assert_true (tpt_figure_export (figure, path, &size, &framed, NULL));
  g_assert_true (g_file_get_contents (path, &svg, NULL, NULL));
  g_string_append_printf (text, "%s\n%s\n%s\n", svg, csv, words);
  for (double y = 2; y < 300; y += 7)
    for (double x = 2; x < 400; x += 7)
      {
        g_auto (TptHit) hit = { 0 };

        if (tpt_figure_hit (figure, x, y, 400, 300, &style, &hit))
          g_string_append_printf (text, "%s %s\n", hit.text, hit.key != NULL ? hit.key : "");
      }

  return g_string_free (text, FALSE);
}

/* Two projects whose stations lie elsewhere in the same cells, with other
 * names, keys and trails, give the same figure to the last byte. */
static void
test_grid_gives_nothing_away (void)
{
  const TptMapStation here[] = { { "Secret den", "k1", { 2.4118, 113.0274 }, 14, 200 },
                                 { "Old burrow", "k2", { 2.4337, 113.0512 }, 0, 100 } };
  const TptMapStation there[] = { { "Elsewhere", "k3", { 2.4199, 113.0201 }, 14, 200 },
                                  { NULL, NULL, { 2.4300, 113.0599 }, 0, 100 } };
  const TptPlace trail[] = { { 2.411, 113.027 }, { 2.434, 113.051 } };
  g_autoptr (TptFigure) first = tpt_chart_map_new (TPT_MAP_COUNT, 2);
  g_autoptr (TptFigure) second = tpt_chart_map_new (TPT_MAP_COUNT, 2);
  g_autofree char *first_text = NULL;
  g_autofree char *second_text = NULL;

  for (int i = 0; i < 2; i++)
    {
      tpt_chart_map_add_station (first, &here[i]);
      tpt_chart_map_add_station (second, &there[i]);
    }
  tpt_chart_map_add_track (first, TPT_TRACK_TRAIL, "Way to the den", trail, 2);

  first_text = collect (first);
  second_text = collect (second);
  g_assert_cmpstr (first_text, ==, second_text);
  g_assert_null (strstr (first_text, "Secret"));
  g_assert_null (strstr (first_text, "2.4118"));
  g_assert_nonnull (strstr (first_text, "Places shown on a grid of 0.01 degree"));
}

static void
test_exact_says_so (void)
{
  g_autoptr (TptFigure) figure = sample_map (TPT_MAP_EXACT);
  g_autofree char *words = tpt_figure_describe (figure);

  g_assert_nonnull (strstr (words, "Exact locations"));
  g_assert_nonnull (strstr (words, "Map: seen at 2 of 3 stations that were at work."));
  g_assert_nonnull (strstr (words, "Ridge saddle: not seen in 100 trap nights."));
  g_assert_nonnull (strstr (words, "Fig bend: not at work in this period."));
}

/* Where the middle of @row is drawn; %FALSE when nothing of it can be hit. */
static gboolean
find_station (TptFigure *figure,
              double width,
              double height,
              int row,
              TptFigureRect *rect)
{
  for (double y = 1; y < height; y += 3)
    for (double x = 1; x < width; x += 3)
      {
        g_auto (TptHit) hit = { 0 };

        if (tpt_figure_hit (figure, x, y, width, height, &style, &hit) && hit.row == row)
          {
            *rect = hit.rect;
            return TRUE;
          }
      }

  return FALSE;
}

static void
test_hits (void)
{
  g_autoptr (TptFigure) figure = sample_map (TPT_MAP_EXACT);
  TptFigureRect otter, ridge;
  g_auto (TptHit) hit = { 0 };

  g_assert_true (find_station (figure, 500, 400, 0, &otter));
  g_assert_true (find_station (figure, 500, 400, 1, &ridge));
  /* the ridge lies north-east of the bank */
  g_assert_cmpfloat (ridge.x, >, otter.x);
  g_assert_cmpfloat (ridge.y, <, otter.y);

  g_assert_true (tpt_figure_hit (figure, ridge.x + ridge.width / 2, ridge.y + ridge.height / 2, 500, 400, &style, &hit));
  g_assert_cmpint (hit.kind, ==, TPT_HIT_STATION);
  g_assert_cmpstr (hit.key, ==, "st-2");
  g_assert_cmpstr (hit.text, ==, "Ridge saddle: not seen in 100 trap nights");
}

/* Four times the detections, four times the area: twice the diameter. */
static void
test_area_is_proportional (void)
{
  const TptMapStation stations[] = { { "A", NULL, { 2.40, 113.00 }, 100, 10 }, { "B", NULL, { 2.45, 113.05 }, 25, 10 } };
  g_autoptr (TptFigure) figure = tpt_chart_map_new (TPT_MAP_COUNT, TPT_MAP_EXACT);
  TptFigureRect large, small;

  tpt_chart_map_add_station (figure, &stations[0]);
  tpt_chart_map_add_station (figure, &stations[1]);
  g_assert_true (find_station (figure, 600, 500, 0, &large));
  g_assert_true (find_station (figure, 600, 500, 1, &small));
  g_assert_cmpfloat_with_epsilon (large.width, 2 * small.width, 1e-6);
}

/* Stations on both sides of the date line are neighbours, not a world apart. */
static void
test_antimeridian (void)
{
  const TptMapStation stations[] = { { "West", NULL, { -16.8, 179.95 }, 3, 10 }, { "East", NULL, { -16.9, -179.95 }, 5, 10 },
                                     { "Turn", NULL, { -16.85, 180.02 }, 5, 10 } };
  const TptPlace river[] = { { -16.8, 179.9 }, { -16.85, -179.99 }, { -16.9, -179.9 } };

  for (int decimals = TPT_MAP_EXACT; decimals <= 2; decimals++)
    {
      g_autoptr (TptFigure) figure = tpt_chart_map_new (TPT_MAP_COUNT, decimals);
      g_autofree char *everything = NULL;
      TptFigureRect west, east;

      for (guint i = 0; i < G_N_ELEMENTS (stations); i++)
        g_assert_cmpint (tpt_chart_map_add_station (figure, &stations[i]), >=, 0);
      tpt_chart_map_add_track (figure, TPT_TRACK_RIVER, "River", river, 3);
      g_assert_true (find_station (figure, 600, 400, 0, &west));
      g_assert_true (find_station (figure, 600, 400, 1, &east));
      g_assert_cmpfloat (west.x, <, east.x);
      g_assert_cmpfloat (east.x - west.x, >, 50);
      everything = collect (figure);
      g_assert_cmpuint (strlen (everything), >, 1000);
    }
}

static void
test_refuses_places_off_the_globe (void)
{
  static const TptPlace places[] = { { 91, 0 }, { NAN, 0 }, { 0, NAN }, { 0, INFINITY }, { -90.01, 5 } };
  g_autoptr (TptFigure) figure = tpt_chart_map_new (TPT_MAP_COUNT, TPT_MAP_EXACT);
  g_autoptr (TptFigureTable) table = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    {
      TptMapStation station = { "Nowhere", NULL, places[i], 1, 1 };

      g_assert_cmpint (tpt_chart_map_add_station (figure, &station), ==, -1);
    }
  table = tpt_figure_table (figure);
  g_assert_cmpuint (tpt_figure_table_get_n_rows (table), ==, 0);
}

/* None, one, three hundred, huge counts, a pole: all are drawn, whole and finite. */
static void
test_extremes (void)
{
  static const struct {
    int n;
    double detections;
    double latitude;
  } cases[] = { { 0, 0, 0 }, { 1, 1, 2.4 }, { 1, 0, 2.4 }, { 300, 7, 2.4 }, { 3, 1e12, 2.4 }, { 2, 5, 89.99 }, { 2, 5, -90 } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    for (int decimals = TPT_MAP_EXACT; decimals <= 3; decimals++)
      {
        TptMapMeasure measure = (TptMapMeasure) (i % 3);
        g_autoptr (TptFigure) figure = tpt_chart_map_new (measure, decimals);
        g_autofree char *everything = NULL;

        for (int j = 0; j < cases[i].n; j++)
          {
            TptMapStation station = { "Station", NULL, { cases[i].latitude, 113 + 0.001 * j }, cases[i].detections * j, 100 };

            tpt_chart_map_add_station (figure, &station);
          }
        everything = collect (figure);
        g_assert_null (strstr (everything, "nan"));
        g_assert_null (strstr (everything, "inf"));
      }
}

/* The bar is as long as its words say: metres per unit against the length of
 * a degree at 60 north, 55.80 km: Snyder 1987, USGS PP 1395, table 3 (from
 * memory), to a tenth of a percent. */
static void
test_scale (void)
{
  const TptPlace places[] = { { 59.99, 10 }, { 60.01, 11 } };
  TptFigureRect rect = { 0, 0, 1000, 800 };
  TptChartView view = tpt_chart_view_fit (places, 2, &rect, 50, 1000);
  double x0, y0, x1, y1;

  tpt_chart_view_project (&view, places[0], &x0, &y0);
  tpt_chart_view_project (&view, places[1], &x1, &y1);
  g_assert_cmpfloat_with_epsilon ((x1 - x0) * tpt_chart_view_metres (&view), 55800, 56);
}

static void
test_view_goes_both_ways (void)
{
  const TptPlace places[] = { { 2.40, 179.9 }, { 2.45, -179.9 } };
  TptFigureRect rect = { 20, 30, 500, 400 };
  TptChartView view = tpt_chart_view_fit (places, 2, &rect, 40, 1000);

  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    {
      TptPlace back;
      double x, y;

      tpt_chart_view_project (&view, places[i], &x, &y);
      g_assert_true (x >= 20 + 39 && x <= 520 - 39 && y >= 30 + 39 && y <= 430 - 39);
      back = tpt_chart_view_place (&view, x, y);
      g_assert_cmpfloat_with_epsilon (back.latitude, places[i].latitude, 1e-9);
      g_assert_cmpfloat_with_epsilon (tpt_chart_nearest_turn (back.longitude, places[i].longitude), places[i].longitude, 1e-9);
    }
}

/* Stations that are not chosen are weaker, not gone; a cell of a grid has no key to choose it by. */
static void
test_chosen_keys (void)
{
  static const char *const one[] = { "st-1", NULL }, *const none[] = { "elsewhere", NULL };
  TptFigureStyle plain = TPT_FIGURE_STYLE_INIT, chosen = TPT_FIGURE_STYLE_INIT, receded = TPT_FIGURE_STYLE_INIT;
  g_autoptr (TptFigure) map = sample_map (TPT_MAP_EXACT), grid = sample_map (2);

  chosen.chosen_keys = one;
  receded.chosen_keys = none;
  for (guint palette = 0; palette < TPT_N_PALETTES; palette++)
    {
      guint all, some, few;

      plain.palette = chosen.palette = receded.palette = palette;
      all = count_color (map, 640, 460, &plain, TPT_COLOR_ACCENT);
      some = count_color (map, 640, 460, &chosen, TPT_COLOR_ACCENT);
      few = count_color (map, 640, 460, &receded, TPT_COLOR_ACCENT);
      g_assert_cmpuint (some, <, all);
      g_assert_cmpuint (few, <, some);
      /* the legend stays as it is */
      g_assert_cmpuint (few, >, 0);
      g_assert_cmpuint (count_color (grid, 640, 460, &receded, TPT_COLOR_ACCENT), ==,
                        count_color (grid, 640, 460, &plain, TPT_COLOR_ACCENT));
    }
}

/* What recedes can still be pointed at, and the drawing is the same every time. */
static void
test_chosen_hits (void)
{
  static const char *const one[] = { "st-1", NULL };
  TptFigureStyle plain = TPT_FIGURE_STYLE_INIT, chosen = TPT_FIGURE_STYLE_INIT;
  g_autoptr (TptFigure) map = sample_map (TPT_MAP_EXACT);
  g_autofree char *first = NULL, *second = NULL;
  guint n_found = 0;

  chosen.chosen_keys = one;
  for (double y = 5; y < 460; y += 18)
    for (double x = 5; x < 640; x += 18)
      {
        g_auto (TptHit) before = TPT_HIT_INIT, after = TPT_HIT_INIT;

        tpt_figure_hit (map, x, y, 640, 460, &plain, &before);
        tpt_figure_hit (map, x, y, 640, 460, &chosen, &after);
        g_assert_cmpstr (before.text, ==, after.text);
        n_found += after.row > 0;
      }
  g_assert_cmpuint (n_found, >, 0);

  first = figure_svg (map, 640, 460, &chosen);
  second = figure_svg (map, 640, 460, &chosen);
  g_assert_cmpstr (first, ==, second);
}

int
main (int argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/chart-map/csv", test_csv);
  g_test_add_func ("/figures/chart-map/grid-gives-nothing-away", test_grid_gives_nothing_away);
  g_test_add_func ("/figures/chart-map/exact-says-so", test_exact_says_so);
  g_test_add_func ("/figures/chart-map/hits", test_hits);
  g_test_add_func ("/figures/chart-map/area", test_area_is_proportional);
  g_test_add_func ("/figures/chart-map/antimeridian", test_antimeridian);
  g_test_add_func ("/figures/chart-map/off-the-globe", test_refuses_places_off_the_globe);
  g_test_add_func ("/figures/chart-map/extremes", test_extremes);
  g_test_add_func ("/figures/chart-map/scale", test_scale);
  g_test_add_func ("/figures/chart-map/view", test_view_goes_both_ways);
  g_test_add_func ("/figures/chart-map/chosen-keys", test_chosen_keys);
  g_test_add_func ("/figures/chart-map/chosen-hits", test_chosen_hits);
  return g_test_run ();
}
