#include "config.h"

#include <adwaita.h>

#include "tpt-chart-map.h"
#include "tpt-strip.h"
#include "tpt-style.h"
#include "tpt-table-view.h"
#include "form-helpers.h"

#define N_ROWS 4 /* the station, its effort, two detections */

static TptFigureTable *
make_table (void)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("UTC", NULL);
  const TptRange range = { 0, 10 * TPT_DAY };
  g_autoptr (TptFigure) figure = tpt_strip_new (range, zone);

  tpt_strip_add_row (figure, "Alder ford", "ALDER", NAN);
  tpt_strip_add_effort (figure, 0, range);
  tpt_strip_add_detection (figure, 0, 2 * TPT_DAY, "Roe deer", 1);
  tpt_strip_add_detection (figure, 0, 5 * TPT_DAY, "Badger", 2);
  return tpt_figure_table (figure);
}

/* (transfer none): of the list inside the column view. */
static GtkWidget *
get_row (GtkWidget *view, guint position)
{
  GtkWidget *row = gtk_widget_get_first_child (gtk_widget_get_last_child (find_inside (view, GTK_TYPE_COLUMN_VIEW)));

  while (position-- > 0)
    row = gtk_widget_get_next_sibling (row);
  return row;
}

static void
test_rows (void)
{
  GtkWidget *window = gtk_window_new (), *view = tpt_table_view_new ();
  TptFigureTable *table = make_table ();
  guint n = tpt_figure_table_get_n_columns (table);

  gtk_window_set_child (GTK_WINDOW (window), view);
  gtk_window_set_default_size (GTK_WINDOW (window), 800, 300);
  gtk_window_present (GTK_WINDOW (window));
  tpt_table_view_take_table (TPT_TABLE_VIEW (view), table);
  ui_settle ();
  g_assert_cmpuint (tpt_figure_table_get_n_rows (table), ==, N_ROWS);
  for (guint i = 0; i < N_ROWS; i++)
    {
      g_autoptr (GString) words = g_string_new (NULL);

      for (guint k = 0; k < n; k++)
        {
          g_autofree char *name = g_strdelimit (g_strdup (tpt_figure_table_get_column (table, k)), "_", ' ');

          g_string_append_printf (words, "%s%s: %s", k > 0 ? "; " : "", name, tpt_figure_table_get_cell (table, i, k));
        }
      gtk_test_accessible_assert_property (get_row (view, i), GTK_ACCESSIBLE_PROPERTY_LABEL, words->str);
    }
  gtk_window_destroy (GTK_WINDOW (window));
}

/* The table of a map, on the screen and copied, does not say where a station stands. What is shown
 * is short, what is copied is whole. */
static void
test_places (void)
{
  const TptMapStation station = { "Alder ford", NULL, { 2.41183, 113.02741 }, 3, 684.5573511342593 };
  GtkWidget *window = gtk_window_new (), *view = tpt_table_view_new ();
  g_autoptr (TptFigure) figure = tpt_chart_map_new (TPT_MAP_COUNT, TPT_MAP_EXACT);
  g_autofree char *copied = NULL;

  tpt_chart_map_add_station (figure, &station);
  gtk_window_set_child (GTK_WINDOW (window), view);
  gtk_window_set_default_size (GTK_WINDOW (window), 800, 300);
  gtk_window_present (GTK_WINDOW (window));
  tpt_table_view_take_table (TPT_TABLE_VIEW (view), tpt_figure_table (figure));
  ui_settle ();
  gtk_test_accessible_assert_property (get_row (view, 0), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "station: Alder ford; state: seen; detections: 3; trap nights: 684.56; "
                                       "per 100 nights: 0.43824");
  copied = tpt_table_view_copy (TPT_TABLE_VIEW (view));
  g_assert_true (g_str_has_prefix (copied, "station\tstate\tdetections\ttrap_nights\tper_100_nights\nAlder ford\tseen\t3\t684.5573511"));
  g_assert_null (strstr (copied, "2.41"));
  g_assert_null (strstr (copied, "113.0"));
  gtk_window_destroy (GTK_WINDOW (window));
}

/* All of it, or the rows that are chosen; always with the names of the columns. */
static void
test_copy (void)
{
  static const struct {
    int chosen; /* -1 for none */
    guint lines;
    const char *has, *has_not;
  } cases[] = { { -1, N_ROWS + 1, "Roe deer", NULL }, { 2, 2, "Roe deer", "Badger" }, { 3, 2, "Badger", "Roe deer" } };
  GtkWidget *view = g_object_ref_sink (tpt_table_view_new ());
  GtkColumnView *columns = GTK_COLUMN_VIEW (find_inside (view, GTK_TYPE_COLUMN_VIEW));
  g_autofree char *none = tpt_table_view_copy (TPT_TABLE_VIEW (view));

  g_assert_cmpstr (none, ==, "");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = NULL;
      g_auto (GStrv) lines = NULL;

      tpt_table_view_take_table (TPT_TABLE_VIEW (view), make_table ());
      if (cases[i].chosen >= 0)
        gtk_selection_model_select_item (gtk_column_view_get_model (columns), (guint) cases[i].chosen, TRUE);
      text = tpt_table_view_copy (TPT_TABLE_VIEW (view));
      lines = g_strsplit (text, "\n", -1);
      g_assert_cmpuint (g_strv_length (lines), ==, cases[i].lines + 1); /* and after the last */
      g_assert_nonnull (strstr (text, cases[i].has));
      g_assert_true (cases[i].has_not == NULL || strstr (text, cases[i].has_not) == NULL);
      for (guint k = 1; k < cases[i].lines; k++)
        {
          g_auto (GStrv) header = g_strsplit (lines[0], "\t", -1), cells = g_strsplit (lines[k], "\t", -1);

          g_assert_cmpuint (g_strv_length (cells), ==, g_strv_length (header));
        }
    }
  tpt_table_view_take_table (TPT_TABLE_VIEW (view), NULL);
  g_object_unref (view);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  adw_init ();
  tpt_style_install ();
  g_test_add_func ("/table-view/rows", test_rows);
  g_test_add_func ("/table-view/places", test_places);
  g_test_add_func ("/table-view/copy", test_copy);
  return g_test_run ();
}
