#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-map-view-private.h"
#include "tpt-popovers.h"

#define CLICK_DISTANCE 24
#define TOOLTIP_DISTANCE 18
#define PAN_SHARE 0.15

static void
pick (TptMapView *self, double x, double y)
{
  TptMapFrame frame = tpt_map_view_get_frame (self);
  double latitude, longitude;

  tpt_map_frame_location (&frame, x, y, &latitude, &longitude);
  tpt_map_view_emit_picked (self, latitude, longitude);
}

static void
choose (TptMapView *self, int position)
{
  g_autofree char *code = g_strdup (tpt_map_marks_get (self->marks, (guint) position)->code);

  tpt_map_view_set_selected (self, code);
  tpt_map_view_emit_selected (self, code);
  position = tpt_map_marks_find (self->marks, code);
  if (self->places != NULL && position >= 0)
    tpt_map_view_emit_pointed (self, code, position);
}

void
tpt_map_view_click (TptMapView *self, double x, double y)
{
  int position;

  if (self->picking)
    {
      pick (self, x, y);
      return;
    }
  position = tpt_map_marks_find_near (self->marks, x, y, CLICK_DISTANCE);
  if (position >= 0)
    choose (self, position);
}

/* Elsewhere than where stations are chosen together it is a click like any other. */
void
tpt_map_view_click_with_control (TptMapView *self, double x, double y)
{
  if (self->picking || self->places == NULL)
    tpt_map_view_click (self, x, y);
  else
    tpt_map_view_toggle (self, tpt_map_marks_find_near (self->marks, x, y, CLICK_DISTANCE));
}

char *
tpt_map_view_tell (TptMapView *self, double x, double y)
{
  int position = tpt_map_marks_find_near (self->marks, x, y, TOOLTIP_DISTANCE);
  const TptMapMark *mark;

  if (position < 0)
    return NULL;
  mark = tpt_map_marks_get (self->marks, (guint) position);
  if (mark->words == NULL || *mark->words == '\0')
    return g_strdup (mark->title);
  return g_strdup_printf ("%s\n%s", mark->title, mark->words);
}

static void
pressed_cb (GtkGestureClick *gesture, int n, double x, double y, gpointer data)
{
  TptMapView *self = data;

  self->press_x = x;
  self->press_y = y;
  gtk_widget_grab_focus (GTK_WIDGET (self));
}

static void
released_cb (GtkGestureClick *gesture, int n, double x, double y, gpointer data)
{
  TptMapView *self = data;
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));

  if (n != 1 || hypot (x - self->press_x, y - self->press_y) > TPT_MAP_STILL_DISTANCE)
    return;
  if ((state & GDK_CONTROL_MASK) != 0)
    tpt_map_view_click_with_control (self, x, y);
  else
    tpt_map_view_click (self, x, y);
}

static gboolean
query_tooltip_cb (GtkWidget *map, int x, int y, gboolean keyboard, GtkTooltip *tooltip, gpointer data)
{
  TptMapView *self = data;
  g_autofree char *words = NULL;

  if (keyboard || self->picking || tpt_popovers_any_up (GTK_WIDGET (self)))
    return FALSE;
  words = tpt_map_view_tell (self, x, y);
  gtk_tooltip_set_text (tooltip, words);
  return words != NULL;
}

/* From the cursor, else from what is selected. */
static void
step (TptMapView *self, int by)
{
  int n = (int) tpt_map_marks_get_n_marks (self->marks);
  int at = tpt_map_marks_get_cursor (self->marks);

  if (n == 0)
    return;
  if (at < 0)
    at = tpt_map_marks_find (self->marks, self->selected);
  at = at < 0 ? (by > 0 ? 0 : n - 1) : (at + by + n) % n;
  tpt_map_marks_set_cursor (self->marks, at);
  tpt_map_view_reveal (self, at);
  tpt_map_view_update_words (self);
}

static void
step_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  step (TPT_MAP_VIEW (widget), g_str_equal (action, "map.next") ? 1 : -1);
}

static void
activate_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  TptMapView *self = TPT_MAP_VIEW (widget);
  int cursor = tpt_map_marks_get_cursor (self->marks);

  if (self->picking)
    pick (self, gtk_widget_get_width (GTK_WIDGET (self->map)) / 2.0, gtk_widget_get_height (GTK_WIDGET (self->map)) / 2.0);
  else if (cursor >= 0)
    choose (self, cursor);
}

/* Where stations are not chosen together it is another Enter. */
static void
toggle_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  TptMapView *self = TPT_MAP_VIEW (widget);

  if (!tpt_map_view_toggle (self, tpt_map_marks_get_cursor (self->marks)))
    activate_cb (widget, action, parameter);
}

static void
choose_none_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  tpt_map_view_choose_none (TPT_MAP_VIEW (widget));
}

static void
leave_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  tpt_map_view_set_picking (TPT_MAP_VIEW (widget), FALSE);
}

static void
zoom_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  TptMapView *self = TPT_MAP_VIEW (widget);

  if (g_str_equal (action, "map.zoom-in"))
    shumate_map_zoom_in (self->map);
  else
    shumate_map_zoom_out (self->map);
}

static void
fit_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  tpt_map_view_fit (TPT_MAP_VIEW (widget));
}

static void
pan_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  TptMapView *self = TPT_MAP_VIEW (widget);
  double width = gtk_widget_get_width (GTK_WIDGET (self->map));
  double height = gtk_widget_get_height (GTK_WIDGET (self->map));
  int across, down;

  g_variant_get (parameter, "(ii)", &across, &down);
  tpt_map_view_centre_on_pixel (self, width * (0.5 + across * PAN_SHARE), height * (0.5 + down * PAN_SHARE));
}

static void
add_keys (GtkWidgetClass *widget_class)
{
  static const struct {
    guint key;
    const char *action;
  } keys[] = {
    { GDK_KEY_n, "map.next" },          { GDK_KEY_p, "map.previous" },      { GDK_KEY_plus, "map.zoom-in" },
    { GDK_KEY_equal, "map.zoom-in" },   { GDK_KEY_KP_Add, "map.zoom-in" },  { GDK_KEY_minus, "map.zoom-out" },
    { GDK_KEY_f, "map.fit" },           { GDK_KEY_Return, "map.activate" }, { GDK_KEY_KP_Enter, "map.activate" },
    { GDK_KEY_space, "map.toggle" },    { GDK_KEY_KP_Subtract, "map.zoom-out" },
    { GDK_KEY_BackSpace, "map.choose-none" }, { GDK_KEY_Delete, "map.choose-none" },
  };
  static const struct {
    guint key;
    int across;
    int down;
  } pans[] = {
    { GDK_KEY_Left, -1, 0 }, { GDK_KEY_Right, 1, 0 }, { GDK_KEY_Up, 0, -1 }, { GDK_KEY_Down, 0, 1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_widget_class_add_binding_action (widget_class, keys[i].key, 0, keys[i].action, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (pans); i++)
    gtk_widget_class_add_binding_action (widget_class, pans[i].key, 0, "map.pan", "(ii)", pans[i].across, pans[i].down);
}

/* Escape belongs to the window unless a place is being picked. */
static gboolean
key_pressed_cb (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, gpointer data)
{
  TptMapView *self = data;

  if (key != GDK_KEY_Escape || !self->picking)
    return FALSE;
  tpt_map_view_set_picking (self, FALSE);
  return TRUE;
}

void
tpt_map_view_input_class_init (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "map.next", NULL, step_cb);
  gtk_widget_class_install_action (widget_class, "map.previous", NULL, step_cb);
  gtk_widget_class_install_action (widget_class, "map.activate", NULL, activate_cb);
  gtk_widget_class_install_action (widget_class, "map.toggle", NULL, toggle_cb);
  gtk_widget_class_install_action (widget_class, "map.choose-none", NULL, choose_none_cb);
  gtk_widget_class_install_action (widget_class, "map.leave", NULL, leave_cb);
  gtk_widget_class_install_action (widget_class, "map.zoom-in", NULL, zoom_cb);
  gtk_widget_class_install_action (widget_class, "map.zoom-out", NULL, zoom_cb);
  gtk_widget_class_install_action (widget_class, "map.fit", NULL, fit_cb);
  gtk_widget_class_install_action (widget_class, "map.pan", "(ii)", pan_cb);
  add_keys (widget_class);
}

void
tpt_map_view_input_init (TptMapView *self)
{
  GtkGesture *click = gtk_gesture_click_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  g_signal_connect (click, "pressed", G_CALLBACK (pressed_cb), self);
  g_signal_connect (click, "released", G_CALLBACK (released_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self->map), GTK_EVENT_CONTROLLER (click));
  tpt_map_view_choose_init (self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  g_signal_connect (self->map, "query-tooltip", G_CALLBACK (query_tooltip_cb), self);
}
