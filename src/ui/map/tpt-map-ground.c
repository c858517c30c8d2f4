#include "config.h"

#include "tpt-map-ground.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-map-frame.h"

#define LINES_APART 120
#define LABEL_SCALE 0.82
#define LABEL_MARGIN 6

struct _TptMapGround {
  ShumateLayer parent_instance;

  PangoLayout *layout; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptMapGround, tpt_map_ground, SHUMATE_TYPE_LAYER)

/* What a graticule is drawn with. */
typedef struct {
  GtkSnapshot *snapshot;
  PangoLayout *layout;
  TptMapFrame frame;
  GdkRGBA line;
  GdkRGBA ink;
} Pen;

double
tpt_map_graticule_step (double degrees, int *digits)
{
  double power = floor (log10 (degrees));
  double unit = pow (10, power);
  double share = degrees / unit;
  double factor = share <= 1 ? 1 : share <= 2 ? 2 : share <= 5 ? 5 : 10;

  *digits = MAX (0, (int) -power - (factor == 10 ? 1 : 0));
  return factor * unit;
}

static void
write_label (Pen *pen, const char *words, double x, double y, double up)
{
  int width, height;

  pango_layout_set_text (pen->layout, words, -1);
  pango_layout_get_pixel_size (pen->layout, &width, &height);
  gtk_snapshot_save (pen->snapshot);
  gtk_snapshot_translate (pen->snapshot, &GRAPHENE_POINT_INIT (round (x), round (y - up * height)));
  gtk_snapshot_append_layout (pen->snapshot, pen->layout, &pen->ink);
  gtk_snapshot_restore (pen->snapshot);
}

static void
rule (Pen *pen, double x, double y, double width, double height)
{
  gtk_snapshot_append_color (pen->snapshot, &pen->line, &GRAPHENE_RECT_INIT (round (x), round (y), width, height));
}

static char *
name_degrees (double degrees, int digits, const char *positive, const char *negative)
{
  double shown = fabs (degrees) < 1e-9 ? 0 : degrees;

  return g_strdup_printf ("%.*f° %s", digits, fabs (shown), shown < 0 ? negative : positive);
}

static void
draw_meridians (Pen *pen)
{
  const TptMapFrame *frame = &pen->frame;
  int digits;
  double step = tpt_map_graticule_step (LINES_APART * 360 / frame->world, &digits);
  double west = frame->left / frame->world * 360 - 180;
  double east = (frame->left + frame->width) / frame->world * 360 - 180;

  for (double line = ceil (west / step); line * step <= east; line++)
    {
      double at = line * step;
      double x = (at / 360 + 0.5) * frame->world - frame->left;
      double named = at - 360 * floor ((at + 180) / 360);
      /* Translators: east and west, after degrees of longitude. */
      g_autofree char *words = name_degrees (named, digits, C_("compass", "E"), C_("compass", "W"));

      rule (pen, x, 0, 1, frame->height);
      write_label (pen, words, x + LABEL_MARGIN, frame->height - LABEL_MARGIN, 1);
    }
}

static void
draw_parallels (Pen *pen)
{
  const TptMapFrame *frame = &pen->frame;
  double north, south, ignored, step;
  int digits;

  tpt_map_frame_location (frame, 0, MAX (0, -frame->top), &north, &ignored);
  tpt_map_frame_location (frame, 0, MIN (frame->height, frame->world - frame->top), &south, &ignored);
  step = tpt_map_graticule_step (LINES_APART * (north - south) / frame->height, &digits);

  for (double line = ceil (south / step); line * step <= north; line++)
    {
      double x, y;
      /* Translators: north and south, after degrees of latitude. */
      g_autofree char *words = name_degrees (line * step, digits, C_("compass", "N"), C_("compass", "S"));

      tpt_map_project (line * step, 0, &x, &y);
      y = y * frame->world - frame->top;
      rule (pen, 0, y, frame->width, 1);
      if (y > 3 * LABEL_MARGIN && y < frame->height - 5 * LABEL_MARGIN)
        write_label (pen, words, LABEL_MARGIN, y - 2, 1);
    }
}

static PangoLayout *
make_layout (GtkWidget *widget)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (widget, NULL);
  PangoAttrList *attributes = pango_attr_list_new ();

  pango_attr_list_insert (attributes, pango_attr_scale_new (LABEL_SCALE));
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);
  return layout;
}

static void
tpt_map_ground_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TptMapGround *self = TPT_MAP_GROUND (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  Pen pen = { .snapshot = snapshot };
  GdkRGBA ground;

  if (width <= 0 || height <= 0)
    return;
  if (self->layout == NULL)
    self->layout = make_layout (widget);

  pen.layout = self->layout;
  pen.frame = tpt_map_frame_of (shumate_layer_get_viewport (SHUMATE_LAYER (self)), width, height);
  tpt_map_rgba (TPT_COLOR_GROUND, 1, &ground);
  tpt_map_rgba (TPT_COLOR_GRATICULE, 1, &pen.line);
  tpt_map_rgba (TPT_COLOR_QUIET, 0.9, &pen.ink);

  gtk_snapshot_append_color (snapshot, &ground, &GRAPHENE_RECT_INIT (0, 0, width, height));
  draw_meridians (&pen);
  draw_parallels (&pen);
}

static void
tpt_map_ground_system_setting_changed (GtkWidget *widget, GtkSystemSetting setting)
{
  g_clear_object (&TPT_MAP_GROUND (widget)->layout);
  GTK_WIDGET_CLASS (tpt_map_ground_parent_class)->system_setting_changed (widget, setting);
}

static void
tpt_map_ground_constructed (GObject *object)
{
  G_OBJECT_CLASS (tpt_map_ground_parent_class)->constructed (object);
  tpt_map_layer_follow (SHUMATE_LAYER (object));
}

static void
tpt_map_ground_dispose (GObject *object)
{
  g_clear_object (&TPT_MAP_GROUND (object)->layout);
  G_OBJECT_CLASS (tpt_map_ground_parent_class)->dispose (object);
}

static void
tpt_map_ground_class_init (TptMapGroundClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->constructed = tpt_map_ground_constructed;
  object_class->dispose = tpt_map_ground_dispose;
  widget_class->snapshot = tpt_map_ground_snapshot;
  widget_class->system_setting_changed = tpt_map_ground_system_setting_changed;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
tpt_map_ground_init (TptMapGround *self)
{
}

ShumateLayer *
tpt_map_ground_new (ShumateViewport *viewport)
{
  return g_object_new (TPT_TYPE_MAP_GROUND, "viewport", viewport, NULL);
}
