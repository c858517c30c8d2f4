#include "config.h"

#include "tpt-map-scale.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-map-frame.h"

#define LONGEST_BAR 120
#define BAR_THICKNESS 2
#define TICK_HEIGHT 6
#define MARGIN 8
#define GAP 8

struct _TptMapScale {
  GtkWidget parent_instance;

  ShumateViewport *viewport; /* (owned) (nullable) */
  char *words;               /* (owned) (nullable) */
  double length;             /* of the bar, pixels */
};

G_DEFINE_FINAL_TYPE (TptMapScale, tpt_map_scale, GTK_TYPE_WIDGET)

double
tpt_map_scale_length (double metres_per_pixel, double most)
{
  double room = metres_per_pixel * most;
  double unit = exp10 (floor (log10 (room)));
  double share = room / unit;

  return unit * (share >= 5 ? 5 : share >= 2 ? 2 : 1);
}

char *
tpt_map_scale_name (double metres)
{
  if (metres >= 1000)
    return g_strdup_printf (_("%.0f km"), metres / 1000);
  if (metres >= 1)
    return g_strdup_printf (_("%.0f m"), metres);
  return g_strdup_printf (_("%.0f cm"), metres * 100);
}

static void
update_bar (TptMapScale *self)
{
  TptMapFrame frame = tpt_map_frame_of (self->viewport, 0, 0);
  double each = tpt_map_frame_metres_per_pixel (&frame);
  double metres = tpt_map_scale_length (each, LONGEST_BAR);
  g_autofree char *words = tpt_map_scale_name (metres);
  g_autofree char *label = NULL;

  self->length = metres / each;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (g_strcmp0 (words, self->words) == 0)
    return;

  g_free (self->words);
  self->words = g_steal_pointer (&words);
  /* Translators: a scale bar, as a screen reader tells it. */
  label = g_strdup_printf (_("Scale: the bar is %s long. North is up."), self->words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

/* Always the same size, so that zooming never lays the map out anew. */
static void
tpt_map_scale_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                       int *minimum_baseline, int *natural_baseline)
{
  g_autofree char *longest = tpt_map_scale_name (5e6);
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (widget, longest);
  int width, height;

  pango_layout_get_pixel_size (layout, &width, &height);
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    *minimum = LONGEST_BAR + GAP + width + 2 * MARGIN;
  else
    *minimum = height + MARGIN;
  *natural = *minimum;
}

static void
append_bar (GtkSnapshot *snapshot, double x, double middle, double length)
{
  GdkRGBA ink;

  tpt_map_rgba (TPT_COLOR_INK, 1, &ink);
  gtk_snapshot_append_color (snapshot, &ink, &GRAPHENE_RECT_INIT (x, middle - 1, length, BAR_THICKNESS));
  gtk_snapshot_append_color (snapshot, &ink,
                             &GRAPHENE_RECT_INIT (x, middle - TICK_HEIGHT / 2.0, BAR_THICKNESS, TICK_HEIGHT));
  gtk_snapshot_append_color (snapshot, &ink,
                             &GRAPHENE_RECT_INIT (x + length - BAR_THICKNESS, middle - TICK_HEIGHT / 2.0, BAR_THICKNESS,
                                                  TICK_HEIGHT));
}

static void
tpt_map_scale_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TptMapScale *self = TPT_MAP_SCALE (widget);
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (widget, self->words);
  int width, height;
  GdkRGBA plate, ink;
  GskRoundedRect outline;
  double all;

  if (self->words == NULL)
    return;

  pango_layout_get_pixel_size (layout, &width, &height);
  all = self->length + GAP + width + 2 * MARGIN;
  tpt_map_rgba (TPT_COLOR_PAPER, 0.85, &plate);
  tpt_map_rgba (TPT_COLOR_INK, 1, &ink);
  gsk_rounded_rect_init_from_rect (&outline, &GRAPHENE_RECT_INIT (0, 0, all, height + MARGIN), 4);
  gtk_snapshot_push_rounded_clip (snapshot, &outline);
  gtk_snapshot_append_color (snapshot, &plate, &outline.bounds);
  gtk_snapshot_pop (snapshot);

  append_bar (snapshot, MARGIN, round ((height + MARGIN) / 2.0), round (self->length));
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT (MARGIN + round (self->length) + GAP, MARGIN / 2));
  gtk_snapshot_append_layout (snapshot, layout, &ink);
}

static void
tpt_map_scale_dispose (GObject *object)
{
  tpt_map_scale_set_viewport (TPT_MAP_SCALE (object), NULL);
  G_OBJECT_CLASS (tpt_map_scale_parent_class)->dispose (object);
}

static void
tpt_map_scale_finalize (GObject *object)
{
  g_free (TPT_MAP_SCALE (object)->words);
  G_OBJECT_CLASS (tpt_map_scale_parent_class)->finalize (object);
}

static void
tpt_map_scale_class_init (TptMapScaleClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = tpt_map_scale_dispose;
  object_class->finalize = tpt_map_scale_finalize;
  widget_class->measure = tpt_map_scale_measure;
  widget_class->snapshot = tpt_map_scale_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_widget_class_set_css_name (widget_class, "map-scale");
}

static void
tpt_map_scale_init (TptMapScale *self)
{
  gtk_widget_set_can_target (GTK_WIDGET (self), FALSE);
}

GtkWidget *
tpt_map_scale_new (void)
{
  return g_object_new (TPT_TYPE_MAP_SCALE, NULL);
}

void
tpt_map_scale_set_viewport (TptMapScale *self, ShumateViewport *viewport)
{
  if (self->viewport != NULL)
    g_signal_handlers_disconnect_by_data (self->viewport, self);
  if (!g_set_object (&self->viewport, viewport) || viewport == NULL)
    return;
  g_signal_connect_swapped (viewport, "notify", G_CALLBACK (update_bar), self);
  update_bar (self);
}
