#include "config.h"

#include <adwaita.h>
#include <math.h>
#include <shumate/shumate.h>

#include "tpt-job-findings.h"
#include "tpt-map-frame.h"
#include "tpt-map-ground.h"
#include "tpt-map-mark.h"
#include "tpt-map-path.h"
#include "tpt-map-scale.h"
#include "tpt-map-view-private.h"
#include "tpt-station-item.h"
#include "tpt-style.h"
#include "ui-helpers.h"

/* --- where things lie -------------------------------------------------- */

static void
test_project (void)
{
  static const struct {
    double latitude, longitude, x, y;
  } cases[] = {
    { 0, 0, 0.5, 0.5 },
    { 0, -180, 0, 0.5 },
    /* The square ends at this latitude by the definition of its side: OGC
     * 17-083r2, annex D.1, "WebMercatorQuad", 85.0511287798. */
    { 85.0511287798066, 180, 1, 0 },
    { -85.0511287798066, 0, 0.5, 1 },
    /* Beyond it there is nothing to show. */
    { 90, 0, 0.5, 0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double x, y, latitude, longitude;

      tpt_map_project (cases[i].latitude, cases[i].longitude, &x, &y);
      g_assert_cmpfloat_with_epsilon (x, cases[i].x, 1e-12);
      g_assert_cmpfloat_with_epsilon (y, cases[i].y, 1e-12);
      tpt_map_unproject (x, y, &latitude, &longitude);
      g_assert_cmpfloat_with_epsilon (latitude, CLAMP (cases[i].latitude, -TPT_MAP_MAX_LATITUDE, TPT_MAP_MAX_LATITUDE), 1e-9);
      g_assert_cmpfloat_with_epsilon (longitude, cases[i].longitude, 1e-9);
    }
}

/* Our layers and the library must agree on every pixel, or clicks would miss. */
static void
test_agrees_with_library (void)
{
  static const struct {
    double latitude, longitude, zoom;
  } views[] = {
    { 2.41, 113.02, 14 },
    { 2.41, 113.02, 13.4 },
    { -47.5, -11.3, 9.75 },
    { 60, 24.9, 5 },
  };
  GtkWidget *window = gtk_window_new ();
  ShumateMap *map = shumate_map_new ();
  ShumateViewport *viewport = shumate_map_get_viewport (map);
  g_autoptr (ShumateMapSource) source = tpt_map_source_new ();

  shumate_viewport_set_reference_map_source (viewport, source);
  gtk_window_set_default_size (GTK_WINDOW (window), 640, 480);
  gtk_window_set_child (GTK_WINDOW (window), GTK_WIDGET (map));
  gtk_window_present (GTK_WINDOW (window));
  ui_settle ();

  for (gsize i = 0; i < G_N_ELEMENTS (views); i++)
    for (int step = -3; step <= 3; step++)
      {
        double latitude = views[i].latitude + step * 0.011, longitude = views[i].longitude + step * 0.017;
        double x, y, px, py, theirs_x, theirs_y;
        TptMapFrame frame;

        shumate_viewport_set_zoom_level (viewport, views[i].zoom);
        shumate_location_set_location (SHUMATE_LOCATION (viewport), views[i].latitude, views[i].longitude);
        frame = tpt_map_frame_of (viewport, gtk_widget_get_width (GTK_WIDGET (map)), gtk_widget_get_height (GTK_WIDGET (map)));
        tpt_map_project (latitude, longitude, &x, &y);
        tpt_map_frame_place (&frame, x, y, &px, &py);
        shumate_viewport_location_to_widget_coords (viewport, GTK_WIDGET (map), latitude, longitude, &theirs_x, &theirs_y);
        g_assert_cmpfloat_with_epsilon (px, theirs_x, 0.01);
        g_assert_cmpfloat_with_epsilon (py, theirs_y, 0.01);
      }
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_date_line (void)
{
  /* The world is 1024 pixels wide and the date line in the middle. */
  TptMapFrame frame = { .world = 1024, .left = 1024 - 200, .top = 300, .width = 400, .height = 400 };
  const double degrees[] = { 0, 179, 0, -179 };
  TptMapPath *path = tpt_map_path_new (degrees, 2);
  TptMapPoint least, most;
  double px, py, latitude, longitude;

  tpt_map_frame_place (&frame, 1.0 / 1024, 0.5, &px, &py);
  g_assert_cmpfloat_with_epsilon (px, 201, 1e-9);
  tpt_map_frame_location (&frame, 201, 212, &latitude, &longitude);
  g_assert_cmpfloat_with_epsilon (longitude, -180 + 360.0 / 1024, 1e-9);

  tpt_map_path_get_box (path, &least, &most);
  g_assert_cmpfloat_with_epsilon (most.x - least.x, 2.0 / 360, 1e-12);
  tpt_map_path_free (path);
}

static void
test_metres (void)
{
  static const struct {
    double latitude, degree_m, tolerance;
  } cases[] = {
    /* Length of one degree of longitude on WGS 84: at the equator pi a / 180
     * with a = 6 378 137 m (NIMA TR8350.2). */
    { 0, 111319.4908, 1e-3 },
    /* 78 847 m at 45 degrees and 55 800 m at 60: rounded to the metre and to
     * ten metres in tables of geography; from memory. */
    { 45, 78847, 1 },
    { 60, 55800, 10 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double world = 256 * 4096, x, y;
      TptMapFrame frame = { .world = world };

      tpt_map_project (cases[i].latitude, 0, &x, &y);
      frame.left = x * world;
      frame.top = y * world;
      g_assert_cmpfloat_with_epsilon (tpt_map_frame_metres_per_pixel (&frame) * world / 360, cases[i].degree_m,
                                      cases[i].tolerance);
    }
}

static void
test_zoom_for_world (void)
{
  static const struct {
    double world, zoom;
  } cases[] = {
    { 256 * 1024.0, 10 },
    { 256 * 1536.0, 10.5 }, /* the library grows tiles evenly between levels */
    { 1, TPT_MAP_MIN_ZOOM },
    { 1e12, TPT_MAP_MAX_ZOOM },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpfloat_with_epsilon (tpt_map_zoom_for_world (cases[i].world), cases[i].zoom, 1e-9);
}

/* --- scale and graticule ----------------------------------------------- */

static void
test_graticule (void)
{
  static const struct {
    double apart, step;
    int digits;
  } cases[] = {
    { 0.012, 0.02, 2 }, { 0.02, 0.02, 2 }, { 0.051, 0.1, 1 }, { 0.3, 0.5, 1 }, { 0.9, 1, 0 }, { 11, 20, 0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      int digits;

      g_assert_cmpfloat_with_epsilon (tpt_map_graticule_step (cases[i].apart, &digits), cases[i].step, 1e-9);
      g_assert_cmpint (digits, ==, cases[i].digits);
    }
}

static void
test_scale (void)
{
  static const struct {
    double each, most, metres;
    const char *name;
  } cases[] = {
    { 4.7, 120, 500, "500 m" },
    { 9.55, 120, 1000, "1 km" },
    { 0.003, 120, 0.2, "20 cm" },
    { 1, 200, 200, "200 m" },
    { 4000, 120, 200000, "200 km" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double metres = tpt_map_scale_length (cases[i].each, cases[i].most);
      g_autofree char *name = tpt_map_scale_name (metres);

      g_assert_cmpfloat_with_epsilon (metres, cases[i].metres, 1e-9 * cases[i].metres);
      g_assert_cmpstr (name, ==, cases[i].name);
    }
}

/* --- lines ------------------------------------------------------------- */

#define N_DENSE 10000

static void
test_thin (void)
{
  g_autofree double *degrees = g_new (double, 2 * N_DENSE);
  TptMapPath *path;
  const TptMapPoint *points;
  guint coarse, fine, n;

  /* One degree of longitude along the equator in ten thousand steps. */
  for (guint i = 0; i < N_DENSE; i++)
    {
      degrees[2 * i] = 0;
      degrees[2 * i + 1] = (double) i / (N_DENSE - 1);
    }
  path = tpt_map_path_new (degrees, N_DENSE);
  points = tpt_map_path_thin (path, 256 * 1024, &coarse);
  /* 728 pixels across, a point at least every half pixel. */
  g_assert_cmpuint (coarse, <=, 2 * 729 + 1);
  g_assert_cmpuint (coarse, >=, 700);
  g_assert_cmpfloat_with_epsilon (points[0].x, 0.5, 1e-12);
  g_assert_cmpfloat_with_epsilon (points[coarse - 1].x, 0.5 + 1.0 / 360, 1e-12);
  g_assert_true (tpt_map_path_thin (path, 256 * 1024, &n) == points);
  tpt_map_path_thin (path, 256 * exp2 (18), &fine);
  g_assert_cmpuint (fine, ==, N_DENSE);
  tpt_map_path_free (path);
}

static void
test_stretch (void)
{
  /* Runs eastwards, drawn from east to west: a name must not stand on its head. */
  const double degrees[] = { 0, 0.02, 0, 0.015, 0, 0.01, 0, 0.005, 0, 0 };
  TptMapPath *path = tpt_map_path_new (degrees, 5);
  double world = 256 * exp2 (14);
  TptMapFrame frame = { .world = world, .left = world / 2 - 50, .top = world / 2 - 100, .width = 400, .height = 200 };
  TptMapPoint middle;
  double angle;

  g_assert_true (tpt_map_path_find_stretch (path, &frame, 60, 0.5, &middle, &angle));
  g_assert_cmpfloat_with_epsilon (angle, 0, 1e-9);
  g_assert_cmpfloat_with_epsilon (middle.y, 100, 1e-6);
  g_assert_cmpfloat_with_epsilon (middle.x, 50 + 0.01 / 360 * world, 1e-6);
  g_assert_false (tpt_map_path_find_stretch (path, &frame, 300, 0.5, &middle, &angle));
  frame.top += 1000;
  g_assert_false (tpt_map_path_find_stretch (path, &frame, 60, 0.5, &middle, &angle));
  tpt_map_path_free (path);
}

/* --- marks ------------------------------------------------------------- */

static void
test_disc (void)
{
  double full = tpt_map_mark_diameter (100, 100);

  /* The area stands for the number, so a quarter has half the diameter. */
  g_assert_cmpfloat_with_epsilon (tpt_map_mark_diameter (25, 100), full / 2, 1e-9);
  g_assert_cmpfloat (tpt_map_mark_diameter (1, 1e6), >=, 6);
  g_assert_cmpfloat (tpt_map_mark_diameter (0, 0), >, 0);
}

static void
test_words (void)
{
  static const struct {
    gint64 detections;
    double nights, per_100, low, high;
    const char *words;
  } cases[] = {
    { 63, 4218, 1.4936, 1.1477, 1.9110, "63 detections in 4,218 trap nights, 1.49 per 100 (1.15 to 1.91)" },
    { 1, 50, 2, 0.0506, 11.14, "1 detection in 50 trap nights, 2 per 100 (0.05 to 11.1)" },
    { 0, 312.4, 0, 0, 1.18, "nothing seen in 312 trap nights" },
    { 0, 0, NAN, NAN, NAN, "not at work" },
    { 2, 0, NAN, NAN, NAN, "2 detections" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *words = tpt_map_mark_word_place (cases[i].detections, cases[i].nights, cases[i].per_100,
                                                        cases[i].low, cases[i].high);

      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

/* --- the view ---------------------------------------------------------- */

typedef struct {
  GtkWidget *window;
  TptMapView *view;
  GListStore *stations;
  GPtrArray *chosen; /* (element-type utf8) */
  guint picked;
  double latitude;
  double longitude;
} Fixture;

static void
add_station (GListStore *store, const char *code, const char *name, double latitude, double longitude)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_STATIONS);
  g_autoptr (TptStationItem) item = NULL;

  tpt_record_set_text (record, "station", code);
  tpt_record_set_text (record, "name", name);
  if (!isnan (latitude))
    {
      tpt_record_set_real (record, "latitude", latitude);
      tpt_record_set_real (record, "longitude", longitude);
    }
  item = tpt_station_item_new (record, NULL);
  g_list_store_append (store, item);
}

static void
selected_cb (TptMapView *view, const char *code, gpointer data)
{
  g_ptr_array_add (((Fixture *) data)->chosen, g_strdup (code));
}

static void
picked_cb (TptMapView *view, double latitude, double longitude, gpointer data)
{
  Fixture *fixture = data;

  fixture->picked++;
  fixture->latitude = latitude;
  fixture->longitude = longitude;
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  fixture->window = gtk_window_new ();
  fixture->view = TPT_MAP_VIEW (tpt_map_view_new ());
  fixture->stations = g_list_store_new (TPT_TYPE_STATION_ITEM);
  fixture->chosen = g_ptr_array_new_with_free_func (g_free);
  g_signal_connect (fixture->view, "station-selected", G_CALLBACK (selected_cb), fixture);
  g_signal_connect (fixture->view, "place-picked", G_CALLBACK (picked_cb), fixture);

  add_station (fixture->stations, "ALDER", "Alder ford", 47.51, -11.27);
  add_station (fixture->stations, "BIRCH", "Birch gate", NAN, NAN);
  add_station (fixture->stations, "CEDAR", "Cedar rise", 47.53, -11.24);
  add_station (fixture->stations, "ELDER", "Elder bank", 47.50, -11.22);

  gtk_window_set_default_size (GTK_WINDOW (fixture->window), 700, 500);
  gtk_window_set_child (GTK_WINDOW (fixture->window), GTK_WIDGET (fixture->view));
  gtk_window_present (GTK_WINDOW (fixture->window));
  ui_settle ();
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  g_object_unref (fixture->stations);
  g_ptr_array_unref (fixture->chosen);
}

static void
get_pixel (Fixture *fixture, const char *code, double *x, double *y)
{
  int position = tpt_map_marks_find (fixture->view->marks, code);

  g_assert_cmpint (position, >=, 0);
  tpt_map_marks_get_pixel (fixture->view->marks, (guint) position, x, y);
}

static void
assert_description (Fixture *fixture, const char *description)
{
  gtk_test_accessible_assert_property (fixture->view, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, description);
}

/* Presses a key of the view's own shortcuts. */
static void
press (GtkWidget *widget, const char *key)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);
  gboolean pressed = FALSE;

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      for (guint j = 0; GTK_IS_SHORTCUT_CONTROLLER (controller) && j < g_list_model_get_n_items (G_LIST_MODEL (controller)); j++)
        {
          g_autoptr (GtkShortcut) shortcut = g_list_model_get_item (G_LIST_MODEL (controller), j);
          g_autofree char *trigger = gtk_shortcut_trigger_to_string (gtk_shortcut_get_trigger (shortcut));

          if (g_strcmp0 (trigger, key) == 0)
            pressed = gtk_shortcut_action_activate (gtk_shortcut_get_action (shortcut), 0, widget,
                                                    gtk_shortcut_get_arguments (shortcut));
        }
    }
  g_assert_true (pressed);
}

static void
test_empty (Fixture *fixture, gconstpointer data)
{
  gtk_test_accessible_assert_property (fixture->view, GTK_ACCESSIBLE_PROPERTY_LABEL, "Map without stations");
  assert_description (fixture, "");
  tpt_map_view_fit (fixture->view);
  press (GTK_WIDGET (fixture->view), "n");
  press (GTK_WIDGET (fixture->view), "Return");
  tpt_map_view_click (fixture->view, 100, 100);
  g_assert_cmpuint (fixture->chosen->len, ==, 0);
}

static void
assert_all_in_sight (Fixture *fixture)
{
  for (guint i = 0; i < tpt_map_marks_get_n_marks (fixture->view->marks); i++)
    {
      double x, y;

      tpt_map_marks_get_pixel (fixture->view->marks, i, &x, &y);
      g_assert_cmpfloat (x, >, 20);
      g_assert_cmpfloat (y, >, 20);
      g_assert_cmpfloat (x, <, gtk_widget_get_width (GTK_WIDGET (fixture->view)) - 20);
      g_assert_cmpfloat (y, <, gtk_widget_get_height (GTK_WIDGET (fixture->view)) - 20);
    }
}

static void
test_fit (Fixture *fixture, gconstpointer data)
{
  double x, y, before_x, before_y;

  /* The first stations come into view by themselves. */
  tpt_map_view_set_stations (fixture->view, G_LIST_MODEL (fixture->stations));
  g_assert_cmpuint (tpt_map_marks_get_n_marks (fixture->view->marks), ==, 3);
  assert_all_in_sight (fixture);

  /* Later ones do not move the map. */
  get_pixel (fixture, "ALDER", &before_x, &before_y);
  add_station (fixture->stations, "FIR", "Fir hollow", 47.9, -11.9);
  get_pixel (fixture, "ALDER", &x, &y);
  g_assert_cmpfloat (x, ==, before_x);
  g_assert_cmpfloat (y, ==, before_y);
  press (GTK_WIDGET (fixture->view), "f");
  assert_all_in_sight (fixture);

  /* A single one is in the middle, not infinitely close. */
  g_list_store_splice (fixture->stations, 1, 4, NULL, 0);
  tpt_map_view_fit (fixture->view);
  get_pixel (fixture, "ALDER", &x, &y);
  g_assert_cmpfloat_with_epsilon (x, gtk_widget_get_width (GTK_WIDGET (fixture->view)) / 2.0, 1);
  g_assert_cmpfloat_with_epsilon (y, gtk_widget_get_height (GTK_WIDGET (fixture->view)) / 2.0, 1);
  g_assert_cmpfloat (shumate_viewport_get_zoom_level (fixture->view->viewport), <=, 17);
}

static void
test_fit_tracks (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GPtrArray) tracks = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_track_free);
  TptTrack *track = tpt_track_new ("trail", "Ford trail", FALSE);
  TptMapFrame frame;
  double x, y, px, py;

  tpt_track_add_point (track, 47.50, -11.30);
  tpt_track_add_point (track, 47.54, -11.20);
  tpt_track_end_line (track);
  g_ptr_array_add (tracks, track);
  tpt_map_view_set_tracks (fixture->view, tracks);

  frame = tpt_map_view_get_frame (fixture->view);
  tpt_map_project (47.52, -11.25, &x, &y);
  tpt_map_frame_place (&frame, x, y, &px, &py);
  g_assert_cmpfloat_with_epsilon (px, frame.width / 2, 2);
  g_assert_cmpfloat_with_epsilon (py, frame.height / 2, 2);
  ui_settle ();
}

static void
test_walk (Fixture *fixture, gconstpointer data)
{
  GtkWidget *view = GTK_WIDGET (fixture->view);

  tpt_map_view_set_stations (fixture->view, G_LIST_MODEL (fixture->stations));
  gtk_test_accessible_assert_property (fixture->view, GTK_ACCESSIBLE_PROPERTY_LABEL, "Map with 3 stations");
  assert_description (fixture, "N and P go from station to station, Enter selects.");

  g_assert_true (gtk_widget_grab_focus (view));
  press (view, "n");
  assert_description (fixture, "Alder ford: no rig set out. Station 1 of 3.");
  press (view, "p");
  assert_description (fixture, "Elder bank: no rig set out. Station 3 of 3.");
  press (view, "n");
  press (view, "n");
  g_assert_cmpuint (fixture->chosen->len, ==, 0);
  press (view, "Return");
  g_assert_cmpuint (fixture->chosen->len, ==, 1);
  g_assert_cmpstr (g_ptr_array_index (fixture->chosen, 0), ==, "CEDAR");
  g_assert_cmpstr (tpt_map_view_get_selected (fixture->view), ==, "CEDAR");
  assert_description (fixture, "Selected: Cedar rise: no rig set out. Station 2 of 3.");

  /* What is selected outlives a new list of the same stations. */
  tpt_map_view_set_stations (fixture->view, NULL);
  gtk_test_accessible_assert_property (fixture->view, GTK_ACCESSIBLE_PROPERTY_LABEL, "Map without stations");
  tpt_map_view_set_stations (fixture->view, G_LIST_MODEL (fixture->stations));
  assert_description (fixture, "Selected: Cedar rise: no rig set out. Station 2 of 3.");
}

static void
test_keys_move (Fixture *fixture, gconstpointer data)
{
  GtkWidget *view = GTK_WIDGET (fixture->view);
  double x, y, before_x, before_y;

  tpt_map_view_set_stations (fixture->view, G_LIST_MODEL (fixture->stations));
  get_pixel (fixture, "ALDER", &before_x, &before_y);
  press (view, "Right");
  press (view, "Down");
  get_pixel (fixture, "ALDER", &x, &y);
  g_assert_cmpfloat (x, <, before_x - 40);
  g_assert_cmpfloat (y, <, before_y - 40);
  press (view, "Left");
  press (view, "Up");
  get_pixel (fixture, "ALDER", &x, &y);
  g_assert_cmpfloat_with_epsilon (x, before_x, 0.5);
  g_assert_cmpfloat_with_epsilon (y, before_y, 0.5);
}

static void
test_click (Fixture *fixture, gconstpointer data)
{
  g_autofree char *words = NULL;
  double x, y;

  tpt_map_view_set_stations (fixture->view, G_LIST_MODEL (fixture->stations));
  get_pixel (fixture, "CEDAR", &x, &y);
  tpt_map_view_click (fixture->view, x + 25, y);
  g_assert_cmpuint (fixture->chosen->len, ==, 0);
  tpt_map_view_click (fixture->view, x + 16, y + 16);
  g_assert_cmpuint (fixture->chosen->len, ==, 1);
  g_assert_cmpstr (g_ptr_array_index (fixture->chosen, 0), ==, "CEDAR");

  words = tpt_map_view_tell (fixture->view, x + 3, y);
  g_assert_cmpstr (words, ==, "Cedar rise\nno rig set out");
  g_assert_null (tpt_map_view_tell (fixture->view, x + 60, y - 60));
}

static void
test_selected_comes_into_sight (Fixture *fixture, gconstpointer data)
{
  double x, y;

  tpt_map_view_set_stations (fixture->view, G_LIST_MODEL (fixture->stations));
  add_station (fixture->stations, "FIR", "Fir hollow", 47.9, -11.9);
  tpt_map_view_set_selected (fixture->view, "FIR");
  get_pixel (fixture, "FIR", &x, &y);
  g_assert_cmpfloat_with_epsilon (x, gtk_widget_get_width (GTK_WIDGET (fixture->view)) / 2.0, 1);
  g_assert_cmpuint (fixture->chosen->len, ==, 0);

  tpt_map_view_set_selected (fixture->view, "NOBODY");
  assert_description (fixture, "N and P go from station to station, Enter selects.");
  tpt_map_view_set_selected (fixture->view, NULL);
  g_assert_null (tpt_map_view_get_selected (fixture->view));
}

/* --- chosen together ------------------------------------------------------ */

typedef struct {
  guint n;
  char *codes; /* the last, one after the other, and whether to those before */
  char *code;
  GdkRectangle at;
} Heard;

static void
chosen_cb (Heard *heard, GStrv codes, gboolean add)
{
  g_autofree char *all = g_strjoinv (" ", codes);

  heard->n++;
  g_free (heard->codes);
  heard->codes = g_strdup_printf ("%s%s", all, add ? " +" : "");
}

static void
pointed_cb (Heard *heard, const char *code, const GdkRectangle *at)
{
  g_free (heard->code);
  heard->code = g_strdup (code);
  heard->at = *at;
}

/* (transfer full): what the findings of an invented project say of three stations. */
static GListModel *
make_places (void)
{
  g_autofree char *folder = g_dir_make_tmp ("map-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "a.gpkg", NULL);
  g_autoptr (TptProject) project = ui_make_project (path);
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  g_autoptr (TptJobFindings) job = tpt_job_findings_new (filter);
  g_autoptr (GListModel) places = NULL;
  GError *error = NULL;

  UI_SAVE (project, "Place", TPT_TABLE_STATIONS, "station", "BIRCH", "name", "Birch gate", "latitude", "47.53", "longitude", "-11.24");
  UI_SAVE (project, "Add", TPT_TABLE_STATIONS, "station", "CEDAR", "name", "Cedar rise", "latitude", "47.50", "longitude", "-11.22");
  tpt_project_run (project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  places = g_object_ref (tpt_job_findings_get_places (job));
  g_clear_object (&project);
  ui_remove_tree (folder);
  return g_steal_pointer (&places);
}

static void
test_choose (Fixture *fixture, gconstpointer data)
{
  static const char *const two[] = { "ALDER", "CEDAR", NULL };
  g_autoptr (GListModel) places = make_places ();
  TptMapView *view = fixture->view;
  graphene_rect_t box;
  Heard heard = { 0 };
  double x, y, to_x, to_y;

  g_signal_connect_swapped (view, "stations-chosen", G_CALLBACK (chosen_cb), &heard);
  g_signal_connect_swapped (view, "station-picked", G_CALLBACK (pointed_cb), &heard);
  tpt_map_view_set_places (view, places);
  ui_settle ();
  g_assert_cmpuint (tpt_map_marks_get_n_marks (view->marks), ==, 3);
  assert_description (fixture, "N and P go from station to station, Enter selects, Space chooses several.");

  get_pixel (fixture, "BIRCH", &x, &y);
  tpt_map_view_click_with_control (view, x + 2, y);
  g_assert_cmpstr (heard.codes, ==, "BIRCH +");
  g_assert_null (heard.code);
  tpt_map_view_click_with_control (view, 5, 5);
  g_assert_cmpuint (heard.n, ==, 1);
  tpt_map_view_click (view, x, y);
  g_assert_cmpstr (heard.code, ==, "BIRCH");
  g_assert_true (gdk_rectangle_contains_point (&heard.at, (int) x, (int) y));
  g_assert_cmpuint (heard.n, ==, 1);

  get_pixel (fixture, "CEDAR", &to_x, &to_y);
  box = GRAPHENE_RECT_INIT (MIN (x, to_x) - 1, MIN (y, to_y) - 1, fabs (to_x - x) + 2, fabs (to_y - y) + 2);
  tpt_map_view_choose_box (view, &box, FALSE);
  g_assert_cmpstr (heard.codes, ==, "BIRCH CEDAR");
  press (GTK_WIDGET (view), "p");
  press (GTK_WIDGET (view), "space");
  g_assert_true (g_str_has_suffix (heard.codes, " +"));
  press (GTK_WIDGET (view), "BackSpace");
  g_assert_cmpuint (heard.n, ==, 3); /* none is chosen yet */

  tpt_map_view_set_selected (view, NULL);
  tpt_map_view_set_chosen (view, two);
  g_assert_true (tpt_map_marks_is_chosen (view->marks, (guint) tpt_map_marks_find (view->marks, "ALDER")));
  g_assert_false (tpt_map_marks_is_chosen (view->marks, (guint) tpt_map_marks_find (view->marks, "BIRCH")));
  assert_description (fixture, "2 stations chosen.");
  ui_settle ();
  press (GTK_WIDGET (view), "BackSpace");
  g_assert_cmpstr (heard.codes, ==, "");
  tpt_map_view_set_chosen (view, NULL);
  g_assert_cmpuint (tpt_map_marks_get_n_chosen (view->marks), ==, 0);
  g_free (heard.code);
  g_free (heard.codes);
}

static void
test_thing (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GListModel) places = make_places ();
  g_autoptr (TptThing) thing = NULL;

  tpt_map_view_set_places (fixture->view, places);
  thing = tpt_map_view_make_thing (fixture->view, "BIRCH");
  g_assert_cmpstr (thing->station, ==, "BIRCH");
  g_assert_cmpstr (thing->station_title, ==, "Birch gate");
  g_assert_cmpstr (thing->text, ==, "Birch gate: not at work");
  g_assert_null (thing->species);
  g_assert_null (tpt_map_view_make_thing (fixture->view, "NOWHERE"));
}

/* What was brought into view stays there on a smaller map, until somebody moves it. */
static void
test_resize (Fixture *fixture, gconstpointer data)
{
  double zoom;

  tpt_map_view_set_stations (fixture->view, G_LIST_MODEL (fixture->stations));
  ui_settle ();
  zoom = shumate_viewport_get_zoom_level (fixture->view->viewport);
  gtk_window_set_default_size (GTK_WINDOW (fixture->window), 320, 240);
  ui_settle ();
  g_assert_cmpint (gtk_widget_get_width (GTK_WIDGET (fixture->view)), <, 400);
  g_assert_cmpfloat (shumate_viewport_get_zoom_level (fixture->view->viewport), <, zoom);
  assert_all_in_sight (fixture);

  press (GTK_WIDGET (fixture->view), "Right");
  zoom = shumate_viewport_get_zoom_level (fixture->view->viewport);
  gtk_window_set_default_size (GTK_WINDOW (fixture->window), 700, 500);
  ui_settle ();
  g_assert_cmpfloat (shumate_viewport_get_zoom_level (fixture->view->viewport), ==, zoom);
}

/* It would hide much of a small map: there it shows when asked for. */
static void
test_legend (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GListModel) places = make_places ();
  TptMapView *view = fixture->view;

  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (view->legend)));
  tpt_map_view_set_places (view, places);
  ui_settle ();
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (view->legend)));
  gtk_window_set_default_size (GTK_WINDOW (fixture->window), 320, 240);
  ui_settle ();
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (view->legend)));
  gtk_toggle_button_set_active (view->legend_toggle, TRUE);
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (view->legend)));
  tpt_map_view_set_places (view, NULL);
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (view->legend)));
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (view->legend_toggle)));
  tpt_map_view_set_places (view, places);
  gtk_window_set_default_size (GTK_WINDOW (fixture->window), 700, 500);
  ui_settle ();
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (view->legend)));
}

/* Discs keep their share of a small map, and never vanish. */
static void
test_small_discs (Fixture *fixture, gconstpointer data)
{
  static const struct {
    double diameter, largest, drawn;
  } cases[] = { { 46, 46, 46 }, { 46, 100, 46 }, { 46, 23, 23 }, { 30, 23, 15 }, { 12, 23, 9 } };
  TptMapMarks *marks = fixture->view->marks;

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      GPtrArray *made = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_map_mark_free);
      TptMapMark *mark = g_new0 (TptMapMark, 1);

      mark->kind = TPT_MARK_SEEN;
      mark->diameter = cases[i].diameter;
      g_ptr_array_add (made, mark);
      tpt_map_marks_take (marks, made);
      tpt_map_marks_set_largest (marks, cases[i].largest);
      g_assert_cmpfloat (tpt_map_marks_get_diameter (marks, 0), ==, cases[i].drawn);
    }
}

static void
test_pair (Fixture *fixture, gconstpointer data)
{
  GtkWidget *window = gtk_window_new ();
  TptMapView *other = TPT_MAP_VIEW (tpt_map_view_new ());

  gtk_window_set_child (GTK_WINDOW (window), GTK_WIDGET (other));
  gtk_window_present (GTK_WINDOW (window));
  tpt_map_view_set_stations (fixture->view, G_LIST_MODEL (fixture->stations));
  ui_settle ();
  tpt_map_view_follow (other, fixture->view);
  for (guint i = 0; i < 2; i++)
    {
      g_assert_cmpfloat (shumate_location_get_latitude (SHUMATE_LOCATION (other->viewport)), ==,
                         shumate_location_get_latitude (SHUMATE_LOCATION (fixture->view->viewport)));
      g_assert_cmpfloat (shumate_viewport_get_zoom_level (other->viewport), ==,
                         shumate_viewport_get_zoom_level (fixture->view->viewport));
      press (GTK_WIDGET (other), "Down"); /* the other moves the first as well */
    }
  tpt_map_view_follow (other, NULL);
  press (GTK_WIDGET (other), "Down");
  g_assert_cmpfloat (shumate_location_get_latitude (SHUMATE_LOCATION (other->viewport)), !=,
                     shumate_location_get_latitude (SHUMATE_LOCATION (fixture->view->viewport)));
  tpt_map_view_follow (other, fixture->view);
  gtk_window_destroy (GTK_WINDOW (window));
  press (GTK_WIDGET (fixture->view), "Up");
}

static void
test_picking (Fixture *fixture, gconstpointer data)
{
  GtkWidget *view = GTK_WIDGET (fixture->view);
  double x, y;

  tpt_map_view_set_stations (fixture->view, G_LIST_MODEL (fixture->stations));
  tpt_map_view_set_picking (fixture->view, TRUE);
  get_pixel (fixture, "CEDAR", &x, &y);
  tpt_map_view_click (fixture->view, x, y);
  g_assert_cmpuint (fixture->chosen->len, ==, 0);
  g_assert_cmpuint (fixture->picked, ==, 1);
  g_assert_cmpfloat_with_epsilon (fixture->latitude, 47.53, 1e-6);
  g_assert_cmpfloat_with_epsilon (fixture->longitude, -11.24, 1e-6);

  /* With the keyboard, the middle of the map. */
  press (view, "Return");
  g_assert_cmpuint (fixture->picked, ==, 2);
  g_assert_cmpfloat_with_epsilon (fixture->latitude, shumate_location_get_latitude (SHUMATE_LOCATION (fixture->view->viewport)),
                                  1e-6);
  gtk_widget_activate_action (view, "map.leave", NULL);
  g_assert_false (tpt_map_view_get_picking (fixture->view));
  tpt_map_view_click (fixture->view, x, y);
  g_assert_cmpuint (fixture->picked, ==, 2);
}

/* Every control of the map is reached with Tab, the map itself first. */
static void
test_tab (Fixture *fixture, gconstpointer data)
{
  GtkWidget *window = fixture->window;
  guint stops = 1;

  gtk_widget_grab_focus (GTK_WIDGET (fixture->view));
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (window)) == GTK_WIDGET (fixture->view));
  while (stops < 10 && gtk_widget_child_focus (GTK_WIDGET (fixture->view), GTK_DIR_TAB_FORWARD))
    stops++;
  g_assert_cmpuint (stops, ==, 4); /* the map, two zoom buttons, fit */
}

static void
test_north_stays_up (Fixture *fixture, gconstpointer data)
{
  shumate_viewport_set_rotation (fixture->view->viewport, 1);
  g_assert_cmpfloat (shumate_viewport_get_rotation (fixture->view->viewport), ==, 0);
}

#define ADD(path, func) g_test_add ("/ui/map/view/" path, Fixture, NULL, set_up, func, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  adw_init ();
  tpt_style_install ();

  g_test_add_func ("/ui/map/project", test_project);
  g_test_add_func ("/ui/map/agrees-with-library", test_agrees_with_library);
  g_test_add_func ("/ui/map/date-line", test_date_line);
  g_test_add_func ("/ui/map/metres", test_metres);
  g_test_add_func ("/ui/map/zoom-for-world", test_zoom_for_world);
  g_test_add_func ("/ui/map/graticule", test_graticule);
  g_test_add_func ("/ui/map/scale", test_scale);
  g_test_add_func ("/ui/map/thin", test_thin);
  g_test_add_func ("/ui/map/stretch", test_stretch);
  g_test_add_func ("/ui/map/disc", test_disc);
  g_test_add_func ("/ui/map/words", test_words);
  ADD ("empty", test_empty);
  ADD ("fit", test_fit);
  ADD ("fit-tracks", test_fit_tracks);
  ADD ("walk", test_walk);
  ADD ("keys-move", test_keys_move);
  ADD ("click", test_click);
  ADD ("choose", test_choose);
  ADD ("thing", test_thing);
  ADD ("resize", test_resize);
  ADD ("legend", test_legend);
  ADD ("small-discs", test_small_discs);
  ADD ("pair", test_pair);
  ADD ("selected-comes-into-sight", test_selected_comes_into_sight);
  ADD ("picking", test_picking);
  ADD ("tab", test_tab);
  ADD ("north-stays-up", test_north_stays_up);
  return g_test_run ();
}
