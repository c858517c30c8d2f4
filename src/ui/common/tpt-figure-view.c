#include "config.h"

#include "tpt-figure-view.h"

#include <adwaita.h>
#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-figure-stretch.h"
#include "tpt-figure-walk.h"
#include "tpt-popovers.h"
#include "tpt-style.h"

#define LEAST_WIDTH 240
#define SCROLL_MARGIN 12

/* Of a chart that need not have its preferred height: axis, two ticks, and a mark between them. */
#define LEAST_HEIGHT 110

/* A press that moved less is a click. */
#define STILL_DISTANCE 6

struct _TptFigureView {
  GtkWidget parent_instance;

  TptFigure *figure; /* (owned) (nullable) */
  TptRange brush;
  double hour_from;
  double hour_to;
  TptStretch stretch; /* shown instead of the brush and the hours while somebody makes it */
  int chosen_row;
  GStrv chosen_keys; /* (owned) (nullable) */
  gboolean brushable;
  gboolean squeezable;
  TptWalker walker;
  int walked_width; /* the size in which the walker knows its place */
  int walked_height;
  char *reading; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptFigureView, tpt_figure_view, GTK_TYPE_WIDGET)

static const TptRange no_range = { TPT_NO_INSTANT, TPT_NO_INSTANT };
static const TptStretch no_stretch = TPT_STRETCH_INIT;

enum {
  PROP_0,
  PROP_READING,
  N_PROPS,
};

enum {
  SIGNAL_PICKED,
  SIGNAL_BRUSHED,
  SIGNAL_HOURS_BRUSHED,
  SIGNAL_BRUSH_CLEARED,
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

  style.brush = self->stretch.kind == TPT_STRETCH_TIME ? self->stretch.range : self->brush;
  style.hour_from = self->stretch.kind == TPT_STRETCH_HOURS ? self->stretch.hour_from : self->hour_from;
  style.hour_to = self->stretch.kind == TPT_STRETCH_HOURS ? self->stretch.hour_to : self->hour_to;
  style.chosen_row = self->chosen_row;
  style.chosen_keys = (const char *const *) self->chosen_keys;
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

/* Not while a stretch is being made: that has its own words. */
static void
read_place (TptFigureView *self)
{
  if (self->stretch.kind == TPT_STRETCH_NONE)
    set_reading (self, self->walker.hit.text);
}

static void
drop_stretch (TptFigureView *self)
{
  self->stretch = no_stretch;
  read_place (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
forget_place (TptFigureView *self)
{
  tpt_walker_clear (&self->walker);
  drop_stretch (self);
}

static TptStretchGround
get_ground (TptFigureView *self, const TptFigureStyle *style)
{
  return (TptStretchGround){ self->figure, gtk_widget_get_width (GTK_WIDGET (self)),
                             gtk_widget_get_height (GTK_WIDGET (self)), style };
}

static void
emit_brushed (TptFigureView *self, const TptStretch *stretch)
{
  if (stretch->kind == TPT_STRETCH_TIME)
    g_signal_emit (self, signals[SIGNAL_BRUSHED], 0, stretch->range.from, stretch->range.to);
  else if (stretch->kind == TPT_STRETCH_HOURS)
    g_signal_emit (self, signals[SIGNAL_HOURS_BRUSHED], 0, stretch->hour_from, stretch->hour_to);
}

/* It goes first: who is told may give the view another figure. */
static void
take_stretch (TptFigureView *self)
{
  TptStretch stretch = self->stretch;

  drop_stretch (self);
  emit_brushed (self, &stretch);
}

static void
show_stretch (TptFigureView *self, gboolean grown)
{
  g_autofree char *words = tpt_stretch_describe (&self->stretch, self->figure);
  g_autofree char *all = NULL;

  if (grown) /* Translators: a period or hours of the day, being chosen with the keyboard. */
    all = g_strdup_printf (_("%s. Enter takes it, Escape gives it up."), words);
  set_reading (self, grown ? all : words);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
tpt_figure_view_drag (TptFigureView *self, double from, double to, gboolean done)
{
  TptFigureStyle style = get_style (self);
  TptStretchGround ground = get_ground (self, &style);

  if (!self->brushable || self->figure == NULL)
    return;
  if (!tpt_stretch_drag (&self->stretch, &ground, from, to))
    drop_stretch (self);
  else if (done)
    take_stretch (self);
  else
    show_stretch (self, FALSE);
}

static void
pick_hit (TptFigureView *self, const TptHit *hit, gboolean add)
{
  g_signal_emit (self, signals[SIGNAL_PICKED], 0, hit, add);
}

void
tpt_figure_view_click (TptFigureView *self, double x, double y, gboolean add)
{
  g_auto (TptHit) hit = TPT_HIT_INIT;

  if (hit_at (self, x, y, &hit))
    pick_hit (self, &hit, add);
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
  drop_stretch (data);
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
    set_reading (self, hit_at (self, x, y, &hit) ? hit.text : NULL);
}

static void
pointer_left_cb (GtkEventControllerMotion *controller, gpointer data)
{
  TptFigureView *self = data;

  if (is_free (self))
    set_reading (self, NULL);
}

static void
focus_left_cb (GtkEventControllerFocus *controller, gpointer data)
{
  forget_place (data);
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

  GTK_WIDGET_CLASS (tpt_figure_view_parent_class)->root (widget);
  viewport = find_viewport (widget);
  if (viewport != NULL)
    gtk_viewport_set_scroll_to_focus (viewport, FALSE);
}

static gboolean
step (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);
  TptFigureStyle style = get_style (self);

  if (self->figure == NULL)
    return FALSE;
  drop_stretch (self);
  if (!tpt_walker_step (&self->walker, (TptWalk) g_variant_get_int32 (arguments), self->figure,
                        gtk_widget_get_width (widget), gtk_widget_get_height (widget), &style))
    return TRUE;
  read_place (self);
  scroll_to_place (self);
  gtk_widget_queue_draw (widget);
  return TRUE;
}

static gboolean
grow (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);
  TptFigureStyle style = get_style (self);
  TptStretchGround ground = get_ground (self, &style);

  if (!self->brushable || self->figure == NULL)
    return FALSE;
  if (tpt_stretch_grow (&self->stretch, &ground, self->walker.x, g_variant_get_int32 (arguments)))
    show_stretch (self, TRUE);
  return TRUE;
}

static gboolean
give_up (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);

  if (self->stretch.kind == TPT_STRETCH_NONE)
    return FALSE;
  drop_stretch (self);
  return TRUE;
}

static gboolean
clear_brush (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);

  if (!self->brushable)
    return FALSE;
  drop_stretch (self);
  if (is_set (self->brush) || !isnan (self->hour_from))
    g_signal_emit (self, signals[SIGNAL_BRUSH_CLEARED], 0);
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
  pick_hit (self, &hit, add);
}

static gboolean
activate (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);

  if (self->stretch.kind != TPT_STRETCH_NONE)
    take_stretch (self);
  else if (self->walker.hit.kind != TPT_HIT_NOTHING)
    pick_here (self, g_variant_get_boolean (arguments));
  else
    return FALSE;
  return TRUE;
}

static gboolean
tpt_figure_view_query_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);
  g_auto (TptHit) hit = TPT_HIT_INIT;

  if (tpt_popovers_any_up (widget))
    return FALSE;
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
  if (orientation == GTK_ORIENTATION_VERTICAL && self->squeezable)
    *minimum = MIN (*minimum, LEAST_HEIGHT);
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
  TptFigureView *self = TPT_FIGURE_VIEW (widget);

  if (width == self->walked_width && height == self->walked_height)
    return;
  self->walked_width = width;
  self->walked_height = height;
  if (self->walker.hit.kind != TPT_HIT_NOTHING)
    forget_place (self);
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
  g_strfreev (self->chosen_keys);
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
add_signals (GType type)
{
  signals[SIGNAL_PICKED] = g_signal_new ("picked", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2,
                                         G_TYPE_POINTER, G_TYPE_BOOLEAN);
  signals[SIGNAL_BRUSHED] = g_signal_new ("brushed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2,
                                          G_TYPE_INT64, G_TYPE_INT64);
  signals[SIGNAL_HOURS_BRUSHED] = g_signal_new ("hours-brushed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                                G_TYPE_NONE, 2, G_TYPE_DOUBLE, G_TYPE_DOUBLE);
  signals[SIGNAL_BRUSH_CLEARED] =
    g_signal_new ("brush-cleared", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tpt_figure_view_class_init (TptFigureViewClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->finalize = tpt_figure_view_finalize;
  object_class->get_property = tpt_figure_view_get_property;
  widget_class->root = tpt_figure_view_root;
  widget_class->measure = tpt_figure_view_measure;
  widget_class->get_request_mode = tpt_figure_view_get_request_mode;
  widget_class->snapshot = tpt_figure_view_snapshot;
  widget_class->size_allocate = tpt_figure_view_size_allocate;
  widget_class->query_tooltip = tpt_figure_view_query_tooltip;

  properties[PROP_READING] =
    g_param_spec_string ("reading", NULL, NULL, NULL, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  add_signals (G_TYPE_FROM_CLASS (klass));

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
  self->hour_from = self->hour_to = NAN;
  self->stretch = no_stretch;
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

/* A count made anew may leave the keyboard where it was. */
static void
find_place (TptFigureView *self, gboolean same_kind)
{
  TptFigureStyle style = get_style (self);

  if (!same_kind || !tpt_walker_look (&self->walker, self->figure, gtk_widget_get_width (GTK_WIDGET (self)),
                                      gtk_widget_get_height (GTK_WIDGET (self)), &style))
    forget_place (self);
  else
    drop_stretch (self);
}

void
tpt_figure_view_set_figure (TptFigureView *self, TptFigure *figure)
{
  g_autofree char *words = figure != NULL ? tpt_figure_describe (figure) : g_strdup ("");
  TptFigure *before = self->figure;

  self->figure = figure != NULL ? tpt_figure_ref (figure) : NULL;
  find_place (self, before != NULL && figure != NULL &&
                      g_str_equal (tpt_figure_get_kind (before), tpt_figure_get_kind (figure)));
  g_clear_pointer (&before, tpt_figure_unref);
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
tpt_figure_view_set_squeezable (TptFigureView *self, gboolean squeezable)
{
  self->squeezable = squeezable;
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

void
tpt_figure_view_set_brush (TptFigureView *self, TptRange brush)
{
  self->brush = brush;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
tpt_figure_view_set_hours (TptFigureView *self, double from, double to)
{
  self->hour_from = from;
  self->hour_to = to;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
tpt_figure_view_set_chosen_keys (TptFigureView *self, const char *const *keys)
{
  GStrv before = self->chosen_keys;

  self->chosen_keys = keys != NULL && keys[0] != NULL ? g_strdupv ((char **) keys) : NULL;
  g_strfreev (before);
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
