/* Keys of a figure, and what the mouse does. */
#include <math.h>

#include "tpt-figure-view-private.h"

/* A press that moved less is a click. */
#define STILL_DISTANCE 6
#define SCROLL_MARGIN 12

static void
drag_begin_cb (GtkGestureDrag *gesture, double x, double y, gpointer data)
{
  gtk_widget_grab_focus (data);
}

static void
drag_update_cb (GtkGestureDrag *gesture, double across, double down, gpointer data)
{
  double x, y;

  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  if (fabs (across) > STILL_DISTANCE)
    tpt_figure_view_drag (data, x, x + across, FALSE);
}

static gboolean
is_adding (GtkGestureDrag *gesture)
{
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));

  return (state & GDK_CONTROL_MASK) != 0;
}

static void
drag_end_cb (GtkGestureDrag *gesture, double across, double down, gpointer data)
{
  double x, y;

  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  if (hypot (across, down) <= STILL_DISTANCE)
    tpt_figure_view_click (data, x, y, is_adding (gesture));
  else if (fabs (across) > STILL_DISTANCE)
    tpt_figure_view_drag (data, x, x + across, TRUE);
}

static void
drag_cancel_cb (GtkGesture *gesture, GdkEventSequence *sequence, gpointer data)
{
  tpt_figure_view_drop_stretch (data);
}

/* Whether the reading is the pointer's to say. */
static gboolean
is_free (TptFigureView *self)
{
  return self->walker.hit.kind == TPT_HIT_NOTHING && self->stretch.kind == TPT_STRETCH_NONE;
}

static void
motion_cb (GtkEventControllerMotion *controller, double x, double y, gpointer data)
{
  TptFigureView *self = data;
  g_auto (TptHit) hit = TPT_HIT_INIT;

  if (is_free (self))
    tpt_figure_view_set_reading (self, tpt_figure_view_hit (self, x, y, &hit) ? hit.text : NULL);
}

static void
pointer_left_cb (GtkEventControllerMotion *controller, gpointer data)
{
  TptFigureView *self = data;

  if (is_free (self))
    tpt_figure_view_set_reading (self, NULL);
}

static void
focus_left_cb (GtkEventControllerFocus *controller, gpointer data)
{
  tpt_figure_view_forget_place (data);
}

/* (transfer none) (nullable): what shows this view alone, and part of it at a time. */
static GtkViewport *
find_viewport (GtkWidget *widget)
{
  GtkWidget *parent = gtk_widget_get_parent (widget);

  return parent != NULL && GTK_IS_VIEWPORT (parent) ? GTK_VIEWPORT (parent) : NULL;
}

/* Brings what the keyboard is at into sight. */
static void
scroll_to_place (TptFigureView *self)
{
  GtkViewport *viewport = find_viewport (GTK_WIDGET (self));
  const TptFigureRect *rect = &self->walker.hit.rect;
  GtkAdjustment *down;

  if (viewport == NULL || self->walker.hit.kind == TPT_HIT_NOTHING)
    return;
  down = gtk_scrollable_get_vadjustment (GTK_SCROLLABLE (viewport));
  gtk_adjustment_clamp_page (down, rect->y - SCROLL_MARGIN, rect->y + rect->height + SCROLL_MARGIN);
}

/* A figure is often larger than what is seen of it: all of it cannot be brought into sight, and a
 * click would make it jump. */
static void
tpt_figure_view_root (GtkWidget *widget)
{
  GtkViewport *viewport;

  GTK_WIDGET_CLASS (g_type_class_peek (GTK_TYPE_WIDGET))->root (widget);
  viewport = find_viewport (widget);
  if (viewport != NULL)
    gtk_viewport_set_scroll_to_focus (viewport, FALSE);
}

static gboolean
step (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);
  TptFigureStyle style = tpt_figure_view_get_style (self);

  if (self->figure == NULL)
    return FALSE;
  tpt_figure_view_drop_stretch (self);
  if (!tpt_walker_step (&self->walker, (TptWalk) g_variant_get_int32 (arguments), self->figure,
                        gtk_widget_get_width (widget), gtk_widget_get_height (widget), &style))
    return TRUE;
  tpt_figure_view_read_place (self);
  scroll_to_place (self);
  gtk_widget_queue_draw (widget);
  return TRUE;
}

static gboolean
grow (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);
  TptFigureStyle style = tpt_figure_view_get_style (self);
  TptStretchGround ground = tpt_figure_view_get_ground (self, &style);

  if (!self->brushable || self->figure == NULL)
    return FALSE;
  if (tpt_stretch_grow (&self->stretch, &ground, self->walker.x, g_variant_get_int32 (arguments)))
    tpt_figure_view_show_stretch (self, TRUE);
  return TRUE;
}

static gboolean
give_up (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);

  if (self->stretch.kind == TPT_STRETCH_NONE)
    return FALSE;
  tpt_figure_view_drop_stretch (self);
  return TRUE;
}

static gboolean
clear_brush (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);

  if (!self->brushable)
    return FALSE;
  tpt_figure_view_drop_stretch (self);
  tpt_figure_view_clear_brush (self);
  return TRUE;
}

/* Whoever is told may give the view another figure: what is told must outlive that. */
static void
pick_here (TptFigureView *self, gboolean add)
{
  g_auto (TptHit) hit = self->walker.hit;

  hit.text = g_strdup (hit.text);
  hit.key = g_strdup (hit.key);
  hit.item_key = g_strdup (hit.item_key);
  tpt_figure_view_pick (self, &hit, add);
}

static gboolean
activate (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);

  if (self->stretch.kind != TPT_STRETCH_NONE)
    tpt_figure_view_take_stretch (self);
  else if (self->walker.hit.kind != TPT_HIT_NOTHING)
    pick_here (self, g_variant_get_boolean (arguments));
  else
    return FALSE;
  return TRUE;
}

static void
add_keys (GtkWidgetClass *widget_class)
{
  static const struct {
    guint key;
    TptWalk way;
  } keys[] = {
    { GDK_KEY_Left, TPT_WALK_LEFT },
    { GDK_KEY_Right, TPT_WALK_RIGHT },
    { GDK_KEY_Up, TPT_WALK_UP },
    { GDK_KEY_Down, TPT_WALK_DOWN },
  };
  static const guint takers[] = { GDK_KEY_Return, GDK_KEY_KP_Enter, GDK_KEY_space };

  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_widget_class_add_binding (widget_class, keys[i].key, 0, step, "i", (gint32) keys[i].way);
  for (guint i = 0; i < G_N_ELEMENTS (takers); i++)
    {
      gtk_widget_class_add_binding (widget_class, takers[i], 0, activate, "b", FALSE);
      gtk_widget_class_add_binding (widget_class, takers[i], GDK_CONTROL_MASK, activate, "b", TRUE);
    }
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Left, GDK_SHIFT_MASK, grow, "i", -1);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Right, GDK_SHIFT_MASK, grow, "i", 1);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, give_up, NULL);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_BackSpace, 0, clear_brush, NULL);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Delete, 0, clear_brush, NULL);
}

static void
add_drag (TptFigureView *self)
{
  GtkGesture *drag = gtk_gesture_drag_new ();

  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  g_signal_connect (drag, "drag-end", G_CALLBACK (drag_end_cb), self);
  g_signal_connect (drag, "cancel", G_CALLBACK (drag_cancel_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
}

void
tpt_figure_view_input_class_init (GtkWidgetClass *widget_class)
{
  widget_class->root = tpt_figure_view_root;
  add_keys (widget_class);
}

void
tpt_figure_view_input_init (TptFigureView *self)
{
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  add_drag (self);
  g_signal_connect (motion, "motion", G_CALLBACK (motion_cb), self);
  g_signal_connect (motion, "leave", G_CALLBACK (pointer_left_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), motion);
  g_signal_connect (focus, "leave", G_CALLBACK (focus_left_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
}
