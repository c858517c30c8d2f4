#include "config.h"

#include <adwaita.h>
#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-figure-view-private.h"
#include "tpt-popovers.h"
#include "tpt-style.h"

#define LEAST_WIDTH 240

/* Of a chart that need not have its preferred height: axis, two ticks, and a mark between them. */
#define LEAST_HEIGHT 110

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

TptFigureStyle
tpt_figure_view_get_style (TptFigureView *self)
{
  TptFigureStyle style = tpt_style_get_figure_style ();

  style.brush = self->stretch.kind == TPT_STRETCH_TIME ? self->stretch.range : self->brush;
  style.hour_from = self->stretch.kind == TPT_STRETCH_HOURS ? self->stretch.hour_from : self->hour_from;
  style.hour_to = self->stretch.kind == TPT_STRETCH_HOURS ? self->stretch.hour_to : self->hour_to;
  style.chosen_row = self->chosen_row;
  style.chosen_keys = (const char *const *) self->chosen_keys;
  return style;
}

void
tpt_figure_view_set_reading (TptFigureView *self, const char *reading)
{
  if (g_strcmp0 (self->reading, reading) == 0)
    return;
  g_free (self->reading);
  self->reading = g_strdup (reading);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  reading != NULL ? reading : "", -1);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_READING]);
}

gboolean
tpt_figure_view_hit (TptFigureView *self, double x, double y, TptHit *hit)
{
  TptFigureStyle style = tpt_figure_view_get_style (self);

  return self->figure != NULL && tpt_figure_hit (self->figure, x, y, gtk_widget_get_width (GTK_WIDGET (self)),
                                                 gtk_widget_get_height (GTK_WIDGET (self)), &style, hit);
}

/* Not while a stretch is being made: that has its own words. */
void
tpt_figure_view_read_place (TptFigureView *self)
{
  if (self->stretch.kind == TPT_STRETCH_NONE)
    tpt_figure_view_set_reading (self, self->walker.hit.text);
}

void
tpt_figure_view_drop_stretch (TptFigureView *self)
{
  self->stretch = no_stretch;
  tpt_figure_view_read_place (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
tpt_figure_view_forget_place (TptFigureView *self)
{
  tpt_walker_clear (&self->walker);
  tpt_figure_view_drop_stretch (self);
}

TptStretchGround
tpt_figure_view_get_ground (TptFigureView *self, const TptFigureStyle *style)
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
void
tpt_figure_view_take_stretch (TptFigureView *self)
{
  TptStretch stretch = self->stretch;

  tpt_figure_view_drop_stretch (self);
  emit_brushed (self, &stretch);
}

void
tpt_figure_view_show_stretch (TptFigureView *self, gboolean grown)
{
  g_autofree char *words = tpt_stretch_describe (&self->stretch, self->figure);
  g_autofree char *all = NULL;

  if (grown) /* Translators: a period or hours of the day, being chosen with the keyboard. */
    all = g_strdup_printf (_("%s. Enter takes it, Escape gives it up."), words);
  tpt_figure_view_set_reading (self, grown ? all : words);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
tpt_figure_view_drag (TptFigureView *self, double from, double to, gboolean done)
{
  TptFigureStyle style = tpt_figure_view_get_style (self);
  TptStretchGround ground = tpt_figure_view_get_ground (self, &style);

  if (!self->brushable || self->figure == NULL)
    return;
  if (!tpt_stretch_drag (&self->stretch, &ground, from, to))
    tpt_figure_view_drop_stretch (self);
  else if (done)
    tpt_figure_view_take_stretch (self);
  else
    tpt_figure_view_show_stretch (self, FALSE);
}

void
tpt_figure_view_pick (TptFigureView *self, const TptHit *hit, gboolean add)
{
  g_signal_emit (self, signals[SIGNAL_PICKED], 0, hit, add);
}

void
tpt_figure_view_click (TptFigureView *self, double x, double y, gboolean add)
{
  g_auto (TptHit) hit = TPT_HIT_INIT;

  if (tpt_figure_view_hit (self, x, y, &hit))
    tpt_figure_view_pick (self, &hit, add);
}

void
tpt_figure_view_clear_brush (TptFigureView *self)
{
  if (is_set (self->brush) || !isnan (self->hour_from))
    g_signal_emit (self, signals[SIGNAL_BRUSH_CLEARED], 0);
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
  if (!tpt_figure_view_hit (self, x, y, &hit))
    return FALSE;
  gtk_tooltip_set_text (tooltip, hit.text);
  return TRUE;
}

static void
tpt_figure_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                         int *minimum_baseline, int *natural_baseline)
{
  TptFigureView *self = TPT_FIGURE_VIEW (widget);
  TptFigureStyle style = tpt_figure_view_get_style (self);

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
  TptFigureStyle style = tpt_figure_view_get_style (self);
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
    tpt_figure_view_forget_place (self);
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
  widget_class->measure = tpt_figure_view_measure;
  widget_class->get_request_mode = tpt_figure_view_get_request_mode;
  widget_class->snapshot = tpt_figure_view_snapshot;
  widget_class->size_allocate = tpt_figure_view_size_allocate;
  widget_class->query_tooltip = tpt_figure_view_query_tooltip;

  properties[PROP_READING] =
    g_param_spec_string ("reading", NULL, NULL, NULL, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  add_signals (G_TYPE_FROM_CLASS (klass));

  tpt_figure_view_input_class_init (widget_class);
  gtk_widget_class_set_css_name (widget_class, "figure-view");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
tpt_figure_view_init (TptFigureView *self)
{
  self->brush = no_range;
  self->hour_from = self->hour_to = NAN;
  self->stretch = no_stretch;
  self->chosen_row = -1;
  tpt_walker_clear (&self->walker);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  tpt_figure_view_input_init (self);
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
  TptFigureStyle style = tpt_figure_view_get_style (self);

  if (!same_kind || !tpt_walker_look (&self->walker, self->figure, gtk_widget_get_width (GTK_WIDGET (self)),
                                      gtk_widget_get_height (GTK_WIDGET (self)), &style))
    tpt_figure_view_forget_place (self);
  else
    tpt_figure_view_drop_stretch (self);
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
