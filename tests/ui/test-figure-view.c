#include "config.h"

#include <adwaita.h>
#include <math.h>

#include "tpt-figure-stretch.h"
#include "tpt-figure-view.h"
#include "tpt-hours.h"
#include "tpt-strip.h"
#include "tpt-style.h"
#include "ui-helpers.h"

#define WIDTH 700
#define HEIGHT 200

/* A hundred days from 4 October 2024, and its months. */
#define UTC_DAY(days) ((TptInstant) (days) * TPT_DAY)
#define FIRST_DAY 20000

static TptFigure *
make_strip (guint days)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("UTC", NULL);
  TptRange range = { UTC_DAY (FIRST_DAY), UTC_DAY (FIRST_DAY + days) };
  TptFigure *figure = tpt_strip_new (range, zone);

  tpt_strip_add_row (figure, "Alder ford", "ALDER", NAN);
  tpt_strip_add_row (figure, "Birch gate", "BIRCH", NAN);
  tpt_strip_add_effort (figure, 0, range);
  tpt_strip_add_effort (figure, 1, range);
  tpt_strip_add_detection (figure, 0, UTC_DAY (FIRST_DAY + 20), "Roe deer", 1);
  tpt_strip_add_detection (figure, 1, UTC_DAY (FIRST_DAY + 51), "Badger", 1);
  return figure;
}

static TptFigure *
make_hours (void)
{
  static const double hours[] = { 5.5, 6.2, 18.1, 22.4 };
  TptFigure *figure = tpt_hours_new (TPT_HOURS_CLOCK);
  TptHoursSeries series = { .label = "Badger", .key = "Meles meles", .hours = hours, .n = G_N_ELEMENTS (hours) };

  tpt_hours_add_series (figure, &series);
  return figure;
}

/* The x at which an hour is drawn. */
static double
find_x (TptFigure *figure, double hour)
{
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;
  TptFigureRect plot = tpt_figure_plot_rect (figure, WIDTH, HEIGHT, &style);

  return plot.x + plot.width * hour / 24;
}

/* --- a stretch ------------------------------------------------------------------------ */

static void
test_drag_hours (void)
{
  static const struct {
    double from, to;         /* hours on the axis, past its ends too */
    double hour_from, hour_to; /* NAN: no stretch */
    const char *words;
  } cases[] = {
    { 17, 20, 17, 20, "17:00 to 20:00" },
    { 20, 17, 17, 20, "17:00 to 20:00" },
    { 5.1, 6.4, 5, 6.5, "05:00 to 06:30" },
    { 22, 26, 22, 2, "22:00 to 02:00" },    /* past midnight at the right */
    { 3, -2, 22, 3, "22:00 to 03:00" },     /* and at the left */
    { 20, 24, 20, 24, "20:00 to 24:00" },
    { 4, 0, 0, 4, "00:00 to 04:00" },
    { 1, 99, 0, 24, "the whole day" },
    { 0, 24, 0, 24, "the whole day" },
    { 6, 6.05, NAN, NAN, "" },
  };
  g_autoptr (TptFigure) figure = make_hours ();
  const TptFigureStyle style = TPT_FIGURE_STYLE_INIT;
  const TptStretchGround ground = { figure, WIDTH, HEIGHT, &style };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptStretch stretch;
      gboolean is = tpt_stretch_drag (&stretch, &ground, find_x (figure, cases[i].from), find_x (figure, cases[i].to));
      g_autofree char *words = tpt_stretch_describe (&stretch, figure);

      g_assert_cmpint (is, ==, !isnan (cases[i].hour_from));
      g_assert_cmpstr (words, ==, cases[i].words);
      if (!is)
        continue;
      g_assert_cmpfloat (stretch.hour_from, ==, cases[i].hour_from);
      g_assert_cmpfloat (stretch.hour_to, ==, cases[i].hour_to);
    }
}

/* @keys: "R" and "L" from where the keyboard is. */
static void
test_grow_hours (void)
{
  static const struct {
    double at;
    const char *keys;
    double hour_from, hour_to;
  } cases[] = {
    { 5.5, "R", 5, 6 },  { 5.5, "L", 5, 6 },     { 5.5, "RRR", 5, 8 }, { 5.5, "RRLLL", 3, 6 }, { 23.5, "RRR", 23, 2 },
    { 0.5, "LL", 23, 1 }, { 24, "R", 23, 24 }, { 22.5, "RR", 22, 24 },
  };
  g_autoptr (TptFigure) figure = make_hours ();
  const TptFigureStyle style = TPT_FIGURE_STYLE_INIT;
  const TptStretchGround ground = { figure, WIDTH, HEIGHT, &style };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptStretch stretch = TPT_STRETCH_INIT;

      for (const char *key = cases[i].keys; *key != '\0'; key++)
        g_assert_true (tpt_stretch_grow (&stretch, &ground, find_x (figure, cases[i].at), *key == 'R' ? 1 : -1));
      g_assert_cmpfloat (stretch.hour_from, ==, cases[i].hour_from);
      g_assert_cmpfloat (stretch.hour_to, ==, cases[i].hour_to);
    }
}

/* Steps fall on the calendar: months along two years, days along a fortnight. */
static void
test_grow_time (void)
{
  static const struct {
    guint days;
    int at; /* the day the keyboard is on */
    const char *keys;
    const char *words;
  } cases[] = {
    { 730, 40, "R", "1 November 2024 to 30 November 2024" },
    { 730, 40, "RR", "1 November 2024 to 31 December 2024" },
    { 730, 40, "RL", "4 October 2024 to 30 November 2024" },
    { 730, 3, "RLLL", "4 October 2024 to 31 October 2024" }, /* no further than the axis */
    { 14, 5, "R", "9 October 2024" },
    { 14, 5, "RRR", "9 October 2024 to 11 October 2024" },
  };
  const TptFigureStyle style = TPT_FIGURE_STYLE_INIT;

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFigure) figure = make_strip (cases[i].days);
      const TptStretchGround ground = { figure, WIDTH, HEIGHT, &style };
      double x = tpt_figure_position_of (figure, UTC_DAY (FIRST_DAY + cases[i].at) + 1, WIDTH, HEIGHT, &style);
      TptStretch stretch = TPT_STRETCH_INIT;
      g_autofree char *words = NULL;

      for (const char *key = cases[i].keys; *key != '\0'; key++)
        g_assert_true (tpt_stretch_grow (&stretch, &ground, x, *key == 'R' ? 1 : -1));
      words = tpt_stretch_describe (&stretch, figure);
      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

/* --- the view ---------------------------------------------------------------------------- */

typedef struct {
  GtkWidget *window;
  TptFigureView *view;
  guint brushed, hours_brushed, cleared, picked, added;
  TptRange range;
  double from, to;
  char *key;
} Fixture;

static void
brushed_cb (Fixture *f, gint64 from, gint64 to)
{
  f->brushed++;
  f->range = (TptRange){ from, to };
}

static void
hours_brushed_cb (Fixture *f, double from, double to)
{
  f->hours_brushed++;
  f->from = from;
  f->to = to;
}

static void
cleared_cb (Fixture *f)
{
  f->cleared++;
}

static void
picked_cb (Fixture *f, const TptHit *hit, gboolean add)
{
  f->picked++;
  f->added += add;
  g_free (f->key);
  f->key = g_strdup (hit->key);
}

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (TptFigure) figure = data != NULL ? make_hours () : make_strip (100);

  f->window = gtk_window_new ();
  f->view = TPT_FIGURE_VIEW (tpt_figure_view_new ());
  gtk_window_set_default_size (GTK_WINDOW (f->window), WIDTH, HEIGHT);
  gtk_window_set_child (GTK_WINDOW (f->window), GTK_WIDGET (f->view));
  tpt_figure_view_set_figure (f->view, figure);
  tpt_figure_view_set_brushable (f->view, TRUE);
  g_signal_connect_swapped (f->view, "brushed", G_CALLBACK (brushed_cb), f);
  g_signal_connect_swapped (f->view, "hours-brushed", G_CALLBACK (hours_brushed_cb), f);
  g_signal_connect_swapped (f->view, "brush-cleared", G_CALLBACK (cleared_cb), f);
  g_signal_connect_swapped (f->view, "picked", G_CALLBACK (picked_cb), f);
  gtk_window_present (GTK_WINDOW (f->window));
  ui_settle ();
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (f->window));
  g_free (f->key);
}

/* Whether the view took the key. */
static gboolean
press (Fixture *f, const char *key)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (GTK_WIDGET (f->view));
  gboolean taken = FALSE;

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);
      guint n = GTK_IS_SHORTCUT_CONTROLLER (controller) ? g_list_model_get_n_items (G_LIST_MODEL (controller)) : 0;

      for (guint j = 0; j < n; j++)
        {
          g_autoptr (GtkShortcut) shortcut = g_list_model_get_item (G_LIST_MODEL (controller), j);
          g_autofree char *trigger = gtk_shortcut_trigger_to_string (gtk_shortcut_get_trigger (shortcut));

          if (g_str_equal (trigger, key))
            taken |= gtk_shortcut_action_activate (gtk_shortcut_get_action (shortcut), 0, GTK_WIDGET (f->view),
                                                   gtk_shortcut_get_arguments (shortcut));
        }
    }
  return taken;
}

static void
assert_reading (Fixture *f, const char *words)
{
  g_assert_cmpstr (tpt_figure_view_get_reading (f->view), ==, words);
  gtk_test_accessible_assert_property (f->view, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words != NULL ? words : "");
}

static void
test_brush_by_key (Fixture *f, gconstpointer data)
{
  g_assert_false (press (f, "Escape"));
  press (f, "Right");
  g_assert_true (press (f, "<Shift>Right"));
  g_assert_true (g_str_has_suffix (tpt_figure_view_get_reading (f->view), ". Enter takes it, Escape gives it up."));
  g_assert_true (press (f, "Escape"));
  g_assert_cmpuint (f->brushed, ==, 0);
  press (f, "<Shift>Right");
  press (f, "<Shift>Right");
  press (f, "Return");
  g_assert_cmpuint (f->brushed, ==, 1);
  g_assert_cmpuint (f->picked, ==, 0);
  g_assert_cmpint (f->range.from, ==, UTC_DAY (FIRST_DAY));
  g_assert_cmpint (f->range.to, >, f->range.from);

  /* Nothing to clear until somebody shows it as chosen. */
  press (f, "BackSpace");
  g_assert_cmpuint (f->cleared, ==, 0);
  tpt_figure_view_set_brush (f->view, f->range);
  press (f, "BackSpace");
  g_assert_cmpuint (f->cleared, ==, 1);
  tpt_figure_view_set_brushable (f->view, FALSE);
  g_assert_false (press (f, "<Shift>Right"));
}

static void
test_brush_hours (Fixture *f, gconstpointer data)
{
  TptFigure *figure = tpt_figure_view_get_figure (f->view);

  tpt_figure_view_drag (f->view, find_x (figure, 22), find_x (figure, 27), FALSE);
  assert_reading (f, "22:00 to 03:00");
  g_assert_cmpuint (f->hours_brushed, ==, 0);
  tpt_figure_view_drag (f->view, find_x (figure, 22), find_x (figure, 27), TRUE);
  assert_reading (f, NULL);
  g_assert_cmpuint (f->hours_brushed, ==, 1);
  g_assert_cmpfloat (f->from, ==, 22);
  g_assert_cmpfloat (f->to, ==, 3);
  g_assert_cmpuint (f->brushed, ==, 0);

  /* Back to where it began is no stretch. */
  tpt_figure_view_drag (f->view, find_x (figure, 5), find_x (figure, 9), FALSE);
  tpt_figure_view_drag (f->view, find_x (figure, 5), find_x (figure, 5), TRUE);
  assert_reading (f, NULL);
  g_assert_cmpuint (f->hours_brushed, ==, 1);
}

static void
test_pick (Fixture *f, gconstpointer data)
{
  g_autoptr (TptFigure) other = make_strip (100);
  g_autofree char *place = NULL;

  g_assert_false (press (f, "Return"));
  press (f, "Right");
  press (f, "Down");
  press (f, "Return");
  g_assert_cmpstr (f->key, ==, "BIRCH");
  g_assert_cmpuint (f->added, ==, 0);
  press (f, "<Control>Return");
  press (f, "space");
  g_assert_cmpuint (f->picked, ==, 3);
  g_assert_cmpuint (f->added, ==, 1);

  /* The same chart counted anew leaves the keyboard where it was. */
  place = g_strdup (tpt_figure_view_get_reading (f->view));
  tpt_figure_view_set_figure (f->view, other);
  ui_settle ();
  assert_reading (f, place);
  tpt_figure_view_set_figure (f->view, NULL);
  assert_reading (f, NULL);
}

/* In a low pane a click leaves what is seen where it is; the keyboard takes it along. */
static void
test_scroll (void)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("UTC", NULL);
  g_autoptr (TptFigure) figure = tpt_strip_new ((TptRange){ 0, 10 * TPT_DAY }, zone);
  Fixture f = { .window = gtk_window_new (), .view = TPT_FIGURE_VIEW (tpt_figure_view_new ()) };
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *button = gtk_button_new ();
  GtkAdjustment *down = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scrolled));

  for (guint i = 0; i < 30; i++)
    {
      g_autofree char *name = g_strdup_printf ("Station %u", i);

      tpt_strip_add_row (figure, name, name, NAN);
    }
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), GTK_WIDGET (f.view));
  gtk_window_set_default_size (GTK_WINDOW (f.window), WIDTH, HEIGHT);
  gtk_widget_set_vexpand (scrolled, TRUE);
  gtk_box_append (GTK_BOX (box), button);
  gtk_box_append (GTK_BOX (box), scrolled);
  gtk_window_set_child (GTK_WINDOW (f.window), box);
  tpt_figure_view_set_figure (f.view, figure);
  gtk_window_present (GTK_WINDOW (f.window));
  ui_settle ();
  g_assert_cmpfloat (gtk_adjustment_get_upper (down), >, 2 * HEIGHT);
  gtk_widget_grab_focus (button);
  gtk_adjustment_set_value (down, 40);
  ui_settle ();
  gtk_widget_grab_focus (GTK_WIDGET (f.view));
  ui_settle ();
  g_assert_cmpfloat (gtk_adjustment_get_value (down), ==, 40);
  for (guint i = 0; i < 20; i++)
    press (&f, "Down");
  g_assert_cmpfloat (gtk_adjustment_get_value (down), >, 40);
  g_assert_nonnull (strstr (tpt_figure_view_get_reading (f.view), "Station 19"));
  gtk_window_destroy (GTK_WINDOW (f.window));
}

static void
test_chosen (Fixture *f, gconstpointer data)
{
  const char *keys[] = { "ALDER", NULL };

  tpt_figure_view_set_chosen_keys (f->view, keys);
  keys[0] = "BIRCH"; /* it has its own copy */
  tpt_figure_view_set_chosen_row (f->view, 1);
  ui_settle ();
  tpt_figure_view_set_chosen_keys (f->view, NULL);
  ui_settle ();
  g_assert_nonnull (tpt_figure_view_get_figure (f->view));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  adw_init ();
  tpt_style_install ();
  g_test_add_func ("/figure-view/drag-hours", test_drag_hours);
  g_test_add_func ("/figure-view/grow-hours", test_grow_hours);
  g_test_add_func ("/figure-view/grow-time", test_grow_time);
  g_test_add_func ("/figure-view/scroll", test_scroll);
#define ADD(name, data, function) g_test_add (name, Fixture, data, set_up, function, tear_down)
  ADD ("/figure-view/brush-by-key", NULL, test_brush_by_key);
  ADD ("/figure-view/brush-hours", "hours", test_brush_hours);
  ADD ("/figure-view/pick", NULL, test_pick);
  ADD ("/figure-view/chosen", NULL, test_chosen);
  return g_test_run ();
}
