#include "tpt-figure-view.h"

#include <adwaita.h>
#include <math.h>

#include "tpt-figure-walk.h"
#include "tpt-style.h"

#define LEAST_WIDTH 240

/* A press that moved less is a click. */
#define STILL_DISTANCE 6

struct _TptFigureView {
  GtkWidget parent_instance;

  TptFigure *figure; /* (owned) (nullable) */
  TptRange brush;
  TptRange dragged; /* shown instead of @brush while somebody drags */
  int chosen_row;
  gboolean brushable;
  TptWalker walker;
  char *reading; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptFigureView, tpt_figure_view, GTK_TYPE_WIDGET)

static const TptRange no_range = { TPT_NO_INSTANT, TPT_NO_INSTANT };

enum {
  PROP_0,
  PROP_READING,
  N_PROPS,
};

enum {
  SIGNAL_ACTIVATED,
  SIGNAL_BRUSHED,
  N_SIGNALS,
};

static GParamSpec *properties[N_PROPS];
static guint signals[N_SIGNALS];

static gboolean
is_set (TptRange range)
{
  return range.from != TPT_NO_INSTANT || range.to != TPT_NO_INSTANT;
}

static TptFigureStyle
get_style (TptFigureView *self)
{
  TptFigureStyle style = tpt_style_get_figure_style ();

  style.brush = is_set (self->dragged) ? self->dragged : self->brush;
  style.chosen_row = self->chosen_row;
  return style;
}

static void
set_reading (TptFigureView *self, const char *reading)
{
  if (g_strcmp0 (self->reading, reading) == 0)
    return;
  g_free (self->reading);
  self->reading = g_strdup (reading);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  reading != NULL ? reading : "", -1);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_READING]);
}

static gboolean
hit_at (TptFigureView *self, double x, double y, TptHit *hit)
{
  TptFigureStyle style = get_style (self);

  return self->figure != NULL && tpt_figure_hit (self->figure, x, y, gtk_widget_get_width (GTK_WIDGET (self)),
                                                 gtk_widget_get_height (GTK_WIDGET (self)), &style, hit);
}

static void
forget_place (TptFigureView *self)
{
  tpt_walker_clear (&self->walker);
  set_reading (self, NULL);
}

void
tpt_figure_view_drag (TptFigureView *self, double from, double to, gboolean done)
{
  double width = gtk_widget_get_width (GTK_WIDGET (self)), height = gtk_widget_get_height (GTK_WIDGET (self));
  TptFigureStyle style = get_style (self);
  TptRange range;

  if (!self->brushable || self->figure == NULL ||
      !tpt_figure_value_at (self->figure, MIN (from, to), width, height, &style, &range.from) ||
      !tpt_figure_value_at (self->figure, MAX (from, to), width, height, &style, &range.to))
    return;

  self->dragged = done ? no_range : range;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (done && range.to > range.from)
    g_signal_emit (self, signals[SIGNAL_BRUSHED], 0, range.from, range.to);
}

static void
activate_hit (TptFigureView *self, const TptHit *hit)
{
  g_autofree char *key = g_strdup (hit->key);

  g_signal_emit (self, signals[SIGNAL_ACTIVATED], 0, hit->row, key);
}

static void
click (TptFigureView *self, double x, double y)
{
  g_auto (TptHit) hit = TPT_HIT_INIT;

  if (hit_at (self, x, y, &hit))
    activate_hit (self, &hit);
}

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

static void
drag_end_cb (GtkGestureDrag *gesture, double across, double down, gpointer data)
{
  double x, y;

  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  if (hypot (across, down) <= STILL_DISTANCE)
    click (data, x, y);
  else if (fabs (across) > STILL_DISTANCE)
    tpt_figure_view_drag (data, x, x + across, TRUE);
}

static void
drag_cancel_cb (GtkGesture *gesture, GdkEventSequence *sequence, gpointer data)
{
  TPT_FIGURE_VIEW (data)->dragged = no_range;
  gtk_widget_queue_draw (data);
}

static void
motion_cb (GtkEventControllerMotion *controller, double x, double y, gpointer data)
{
  TptFigureView *self = data;
  g_auto (TptHit) hit = TPT_HIT_INIT;

  if (self->walker.hit.kind == TPT_HIT_NOTHING)
    set_reading (self, hit_at (self, x, y, &hit) ? hit.text : NULL);
}

static void
pointer_left_cb (GtkEventControllerMotion *controller, gpointer data)
{
  TptFigureView *self = data;

  if (self->walker.hit.kind == TPT_HIT_NOTHING)
    set_reading (self, NULL);
}

static void
focus_left_cb (GtkEventControllerFocus *controller, gpointer data)
{
  forget_place (data);
  gtk_widget_queue_draw (data);
}

static gboolean
step (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);
  TptFigureStyle style = get_style (self);

  if (self->figure == NULL)
    return FALSE;
  if (!tpt_walker_step (&self->walker, (TptWalk) g_variant_get_int32 (arguments), self->figure,
                        gtk_widget_get_width (widget), gtk_widget_get_height (widget), &style))
    return TRUE;
  set_reading (self, self->walker.hit.text);
  gtk_widget_queue_draw (widget);
  return TRUE;
}

static gboolean
activate (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);

  if (self->walker.hit.kind == TPT_HIT_NOTHING)
    return FALSE;
  activate_hit (self, &self->walker.hit);
  return TRUE;
}

static gboolean
tpt_figure_view_query_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);
  g_auto (TptHit) hit = TPT_HIT_INIT;

  if (keyboard)
    {
      gtk_tooltip_set_text (tooltip, self->walker.hit.text);
      return self->walker.hit.text != NULL;
    }
  if (!hit_at (self, x, y, &hit))
    return FALSE;
  gtk_tooltip_set_text (tooltip, hit.text);
  return TRUE;
}

static void
tpt_figure_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                         int *minimum_baseline, int *natural_baseline)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);
  TptFigureStyle style = get_style (self);

  *minimum = *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? LEAST_WIDTH : 0;
  if (orientation == GTK_ORIENTATION_VERTICAL && self->figure != NULL)
    *minimum = *natural =
      (int) ceil (tpt_figure_preferred_height (self->figure, for_size > 0 ? for_size : LEAST_WIDTH, &style));
}

static GtkSizeRequestMode
tpt_figure_view_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
draw_cursor (TptFigureView *self, cairo_t *cr, TptPalette palette)
{
  const TptFigureRect *rect = &self->walker.hit.rect;

  if (self->walker.hit.kind == TPT_HIT_NOTHING)
    return;
  tpt_palette_set (palette, cr, TPT_COLOR_INK, 1);
  cairo_set_line_width (cr, 1.5);
  cairo_rectangle (cr, rect->x - 3, rect->y - 3, rect->width + 6, rect->height + 6);
  cairo_stroke (cr);
}

static void
tpt_figure_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  TptFigureStyle style = get_style (self);
  cairo_t *cr;

  if (self->figure == NULL || width <= 0 || height <= 0)
    return;
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  tpt_figure_draw (self->figure, cr, width, height, &style);
  draw_cursor (self, cr, style.palette);
  cairo_destroy (cr);
}

static void
tpt_figure_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  tpt_walker_clear (&TPT_FIGURE_VIEW (widget)->walker);
}

static void
tpt_figure_view_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  if (id == PROP_READING)
    g_value_set_string (value, TPT_FIGURE_VIEW (object)->reading);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
tpt_figure_view_finalize (GObject *object)
{
  TptFigureView *self = TPT_FIGURE_VIEW (object);

  g_clear_pointer (&self->figure, tpt_figure_unref);
  tpt_walker_clear (&self->walker);
  g_free (self->reading);

  G_OBJECT_CLASS (tpt_figure_view_parent_class)->finalize (object);
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

  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_widget_class_add_binding (widget_class, keys[i].key, 0, step, "i", (gint32) keys[i].way);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Return, 0, activate, NULL);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_KP_Enter, 0, activate, NULL);
}

static void
tpt_figure_view_class_init (TptFigureViewClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  GType type = G_TYPE_FROM_CLASS (klass);

  object_class->finalize = tpt_figure_view_finalize;
  object_class->get_property = tpt_figure_view_get_property;
  widget_class->measure = tpt_figure_view_measure;
  widget_class->get_request_mode = tpt_figure_view_get_request_mode;
  widget_class->snapshot = tpt_figure_view_snapshot;
  widget_class->size_allocate = tpt_figure_view_size_allocate;
  widget_class->query_tooltip = tpt_figure_view_query_tooltip;

  properties[PROP_READING] =
    g_param_spec_string ("reading", NULL, NULL, NULL, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  signals[SIGNAL_ACTIVATED] = g_signal_new ("activated", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2,
                                            G_TYPE_INT, G_TYPE_STRING);
  signals[SIGNAL_BRUSHED] = g_signal_new ("brushed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2,
                                          G_TYPE_INT64, G_TYPE_INT64);

  add_keys (widget_class);
  gtk_widget_class_set_css_name (widget_class, "figure-view");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
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

static void
tpt_figure_view_init (TptFigureView *self)
{
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  self->brush = no_range;
  self->dragged = no_range;
  self->chosen_row = -1;
  tpt_walker_clear (&self->walker);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);

  add_drag (self);
  g_signal_connect (motion, "motion", G_CALLBACK (motion_cb), self);
  g_signal_connect (motion, "leave", G_CALLBACK (pointer_left_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), motion);
  g_signal_connect (focus, "leave", G_CALLBACK (focus_left_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
  g_signal_connect_object (adw_style_manager_get_default (), "notify::dark", G_CALLBACK (gtk_widget_queue_draw), self,
                           G_CONNECT_SWAPPED);
}

GtkWidget *
tpt_figure_view_new (void)
{
  return g_object_new (TPT_TYPE_FIGURE_VIEW, NULL);
}

void
tpt_figure_view_set_figure (TptFigureView *self, TptFigure *figure)
{
  g_autofree char *words = figure != NULL ? tpt_figure_describe (figure) : g_strdup ("");
  TptFigure *before = self->figure;

  self->figure = figure != NULL ? tpt_figure_ref (figure) : NULL;
  g_clear_pointer (&before, tpt_figure_unref);
  forget_place (self);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  gtk_widget_queue_resize (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

TptFigure *
tpt_figure_view_get_figure (TptFigureView *self)
{
  return self->figure;
}

void
tpt_figure_view_set_brushable (TptFigureView *self, gboolean brushable)
{
  self->brushable = brushable;
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), brushable ? "col-resize" : NULL);
}

void
tpt_figure_view_set_brush (TptFigureView *self, TptRange brush)
{
  self->brush = brush;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
tpt_figure_view_set_chosen_row (TptFigureView *self, int row)
{
  self->chosen_row = row;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

const char *
tpt_figure_view_get_reading (TptFigureView *self)
{
  return self->reading;
}
