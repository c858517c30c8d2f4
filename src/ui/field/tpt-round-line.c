#include "config.h"

#include "tpt-round-line.h"

#include <adwaita.h>
#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-format.h"
#include "tpt-interval.h"
#include "tpt-style.h"
#include "tpt-words.h"

#define GRIP 8        /* how far from the line it can still be grasped */
#define PLATE_GRIP 44 /* the same beside the plate at its foot */
#define REST_MS 900   /* after the last key */

struct _TptRoundLine {
  GtkWidget parent_instance;

  TptDueScale *scale; /* (owned) (nullable) */
  TptInstant before;  /* where a drag or a run of keys began; %TPT_NO_INSTANT when at rest */
  double grasped_at;
  char *cost;         /* (owned) (nullable): of the day the line stands at, for somebody who hears it */
  gboolean moving;    /* the scale is being set from here */
  guint rest_source;
};

G_DEFINE_FINAL_TYPE (TptRoundLine, tpt_round_line, GTK_TYPE_WIDGET)

enum {
  SIGNAL_MOVING,
  SIGNAL_DROPPED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static gboolean
is_ready (TptRoundLine *self)
{
  return self->scale != NULL && tpt_due_scale_is_set (self->scale)
         && tpt_due_scale_get_round (self->scale) != TPT_NO_INSTANT;
}

static double
find_x (TptRoundLine *self, TptInstant at)
{
  TptTimeAxis axis = tpt_due_scale_place (self->scale, gtk_widget_get_width (GTK_WIDGET (self)));

  return tpt_time_axis_position (&axis, at);
}

static char *
write_label (TptRoundLine *self)
{
  g_autofree char *day = tpt_format_day_short (tpt_due_scale_get_round (self->scale), tpt_due_scale_get_zone (self->scale),
                                               tpt_due_scale_get_on (self->scale));

  /* Translators: the next round, in the plate of a line: "round 14 Jun". */
  return g_strdup_printf (_("round %s"), day);
}

static void
tell_value (TptRoundLine *self)
{
  TptZone *zone = tpt_due_scale_get_zone (self->scale);
  TptRange range = tpt_due_scale_get_range (self->scale);
  TptInstant at = tpt_due_scale_get_round (self->scale);
  g_autofree char *day = tpt_words_date (at, zone);
  g_autofree char *text = self->cost != NULL ? g_strdup_printf ("%s, %s", day, self->cost) : g_strdup (day);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self),
                                  GTK_ACCESSIBLE_PROPERTY_VALUE_MIN, (double) tpt_zone_local_day (zone, range.from),
                                  GTK_ACCESSIBLE_PROPERTY_VALUE_MAX, (double) tpt_zone_local_day (zone, range.to),
                                  GTK_ACCESSIBLE_PROPERTY_VALUE_NOW, (double) tpt_zone_local_day (zone, at),
                                  GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, text, -1);
}

static void
scale_changed_cb (TptRoundLine *self)
{
  if (!self->moving && is_ready (self))
    tell_value (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
move_to (TptRoundLine *self, TptInstant at)
{
  if (self->before == TPT_NO_INSTANT)
    self->before = tpt_due_scale_get_round (self->scale);
  if (at == tpt_due_scale_get_round (self->scale))
    return;
  g_clear_pointer (&self->cost, g_free);
  self->moving = TRUE;
  tpt_due_scale_set_round (self->scale, at);
  g_signal_emit (self, signals[SIGNAL_MOVING], 0, (gint64) at);
  self->moving = FALSE;
  tell_value (self); /* once, with what came of it */
}

static void
rest (TptRoundLine *self)
{
  TptInstant before = self->before;
  TptInstant at;

  g_clear_handle_id (&self->rest_source, g_source_remove);
  if (before == TPT_NO_INSTANT)
    return;
  self->before = TPT_NO_INSTANT;
  at = tpt_due_scale_get_round (self->scale);
  if (at != before)
    g_signal_emit (self, signals[SIGNAL_DROPPED], 0, (gint64) at);
}

static gboolean
rest_cb (gpointer data)
{
  TptRoundLine *self = data;

  self->rest_source = 0;
  rest (self);
  return G_SOURCE_REMOVE;
}

static void
take_back (TptRoundLine *self)
{
  TptInstant before = self->before;

  g_clear_handle_id (&self->rest_source, g_source_remove);
  if (before == TPT_NO_INSTANT)
    return;
  move_to (self, before);
  self->before = TPT_NO_INSTANT;
}

static void
drag_begin_cb (GtkGestureDrag *gesture, double x, double y, TptRoundLine *self)
{
  if (!is_ready (self))
    {
      gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_DENIED);
      return;
    }
  rest (self);
  self->before = tpt_due_scale_get_round (self->scale);
  self->grasped_at = find_x (self, self->before);
  gtk_widget_grab_focus (GTK_WIDGET (self));
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
}

static void
drag_update_cb (GtkGestureDrag *gesture, double dx, double dy, TptRoundLine *self)
{
  TptTimeAxis axis;

  if (self->before == TPT_NO_INSTANT)
    return;
  axis = tpt_due_scale_place (self->scale, gtk_widget_get_width (GTK_WIDGET (self)));
  move_to (self, tpt_due_scale_snap (self->scale, tpt_time_axis_instant (&axis, self->grasped_at + dx)));
}

static void
drag_end_cb (GtkGestureDrag *gesture, double dx, double dy, TptRoundLine *self)
{
  rest (self);
}

static int
find_step (guint keyval)
{
  switch (keyval)
    {
    case GDK_KEY_Left:
    case GDK_KEY_KP_Left:
    case GDK_KEY_Down:
      return -1;
    case GDK_KEY_Right:
    case GDK_KEY_KP_Right:
    case GDK_KEY_Up:
      return 1;
    case GDK_KEY_Page_Down:
      return -7;
    case GDK_KEY_Page_Up:
      return 7;
    default:
      return 0;
    }
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, TptRoundLine *self)
{
  int step = find_step (keyval);

  if (!is_ready (self))
    return GDK_EVENT_PROPAGATE;
  if (keyval == GDK_KEY_Escape && self->before != TPT_NO_INSTANT)
    {
      take_back (self);
      return GDK_EVENT_STOP;
    }
  if (keyval == GDK_KEY_Return && self->before != TPT_NO_INSTANT)
    {
      rest (self);
      return GDK_EVENT_STOP;
    }
  if (step == 0)
    return GDK_EVENT_PROPAGATE;

  move_to (self, tpt_due_scale_shift (self->scale, step));
  g_clear_handle_id (&self->rest_source, g_source_remove);
  self->rest_source = g_timeout_add (REST_MS, rest_cb, self);
  return GDK_EVENT_STOP;
}

static void
focus_cb (TptRoundLine *self)
{
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* Only the line itself takes the pointer; the list below gets the rest. */
static gboolean
tpt_round_line_contains (GtkWidget *widget, double x, double y)
{
  TptRoundLine *self = TPT_ROUND_LINE (widget);
  double height = gtk_widget_get_height (widget);
  double reach = y > height - TPT_ROUND_LINE_FOOT ? PLATE_GRIP : GRIP;

  return is_ready (self) && y >= 0 && y <= height && fabs (x - find_x (self, tpt_due_scale_get_round (self->scale))) <= reach;
}

static void
draw_focus (TptRoundLine *self, cairo_t *cr, double x, double height)
{
  tpt_palette_set (tpt_style_get_palette (), cr, TPT_COLOR_ACCENT, 0.22);
  cairo_rectangle (cr, floor (x) - 4, 0, 8, height);
  cairo_fill (cr);
}

static void
tpt_round_line_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TptRoundLine *self = TPT_ROUND_LINE (widget);
  double width = gtk_widget_get_width (widget);
  double height = gtk_widget_get_height (widget);
  TptFigureStyle style = tpt_style_get_figure_style ();
  TptTimeAxis axis;
  g_autofree char *label = NULL;
  cairo_t *cr;

  if (!is_ready (self))
    return;
  axis = tpt_due_scale_place (self->scale, width);
  label = write_label (self);
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  if (gtk_widget_has_visible_focus (widget))
    draw_focus (self, cr, find_x (self, tpt_due_scale_get_round (self->scale)), height);
  tpt_round_line_draw (cr, &axis, tpt_due_scale_get_round (self->scale), 0, height - 5, label, &style);
  cairo_destroy (cr);
}

static void
tpt_round_line_dispose (GObject *object)
{
  TptRoundLine *self = TPT_ROUND_LINE (object);

  g_clear_handle_id (&self->rest_source, g_source_remove);
  tpt_round_line_set_scale (self, NULL);
  g_clear_pointer (&self->cost, g_free);

  G_OBJECT_CLASS (tpt_round_line_parent_class)->dispose (object);
}

static void
tpt_round_line_class_init (TptRoundLineClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = tpt_round_line_dispose;
  widget_class->contains = tpt_round_line_contains;
  widget_class->snapshot = tpt_round_line_snapshot;

  signals[SIGNAL_MOVING] = g_signal_new ("moving", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                         G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[SIGNAL_DROPPED] = g_signal_new ("dropped", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                          G_TYPE_NONE, 1, G_TYPE_INT64);

  gtk_widget_class_set_css_name (widget_class, "roundline");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_SLIDER);
}

static void
add_controllers (TptRoundLine *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkGesture *drag = gtk_gesture_drag_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  g_signal_connect (drag, "drag-end", G_CALLBACK (drag_end_cb), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (drag));

  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (widget, keys);

  g_signal_connect_swapped (focus, "enter", G_CALLBACK (focus_cb), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (rest), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (focus_cb), self);
  gtk_widget_add_controller (widget, focus);
}

static void
tpt_round_line_init (TptRoundLine *self)
{
  GtkWidget *widget = GTK_WIDGET (self);

  self->before = TPT_NO_INSTANT;
  gtk_widget_set_focusable (widget, TRUE);
  gtk_widget_set_cursor_from_name (widget, "ew-resize");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Next round"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, _("Move it to see what waiting costs"), -1);
  add_controllers (self);
  g_signal_connect_object (adw_style_manager_get_default (), "notify::dark", G_CALLBACK (gtk_widget_queue_draw), self,
                           G_CONNECT_SWAPPED);
}

void
tpt_round_line_set_scale (TptRoundLine *self, TptDueScale *scale)
{
  if (self->scale != NULL)
    g_signal_handlers_disconnect_by_func (self->scale, scale_changed_cb, self);
  g_set_object (&self->scale, scale);
  if (scale != NULL)
    {
      g_signal_connect_swapped (scale, "changed", G_CALLBACK (scale_changed_cb), self);
      g_signal_connect_swapped (scale, "round-moved", G_CALLBACK (scale_changed_cb), self);
    }
}

gboolean
tpt_round_line_is_moving (TptRoundLine *self)
{
  return self->before != TPT_NO_INSTANT;
}

void
tpt_round_line_set_cost (TptRoundLine *self, const char *cost)
{
  if (g_strcmp0 (self->cost, cost) == 0)
    return;
  g_free (self->cost);
  self->cost = g_strdup (cost);
  if (!self->moving && is_ready (self))
    tell_value (self);
}
