#include "tpt-map-frame.h"

#include <adwaita.h>
#include <math.h>

#include "tpt-style.h"

#define TILE_SIZE 256

/* WGS 84: semi-major axis in metres and first eccentricity squared (NIMA
 * TR8350.2, table 3.1 and 3.3). */
#define WGS84_A 6378137.0
#define WGS84_E2 6.69437999014e-3

#define TPT_TYPE_MAP_SOURCE (tpt_map_source_get_type ())
G_DECLARE_FINAL_TYPE (TptMapSource, tpt_map_source, TPT, MAP_SOURCE, ShumateMapSource)

struct _TptMapSource {
  ShumateMapSource parent_instance;
};

G_DEFINE_FINAL_TYPE (TptMapSource, tpt_map_source, SHUMATE_TYPE_MAP_SOURCE)

static void
tpt_map_source_class_init (TptMapSourceClass *klass)
{
}

static void
tpt_map_source_init (TptMapSource *self)
{
  ShumateMapSource *source = SHUMATE_MAP_SOURCE (self);

  shumate_map_source_set_id (source, "plain");
  shumate_map_source_set_tile_size (source, TILE_SIZE);
  shumate_map_source_set_min_zoom_level (source, TPT_MAP_MIN_ZOOM);
  shumate_map_source_set_max_zoom_level (source, TPT_MAP_MAX_ZOOM);
}

ShumateMapSource *
tpt_map_source_new (void)
{
  return g_object_new (TPT_TYPE_MAP_SOURCE, NULL);
}

void
tpt_map_project (double latitude, double longitude, double *x, double *y)
{
  double held = CLAMP (latitude, -TPT_MAP_MAX_LATITUDE, TPT_MAP_MAX_LATITUDE);

  *x = longitude / 360 + 0.5;
  *y = 0.5 - asinh (tan (held * G_PI / 180)) / (2 * G_PI);
}

void
tpt_map_unproject (double x, double y, double *latitude, double *longitude)
{
  *longitude = (x - 0.5) * 360;
  *latitude = atan (sinh ((0.5 - y) * 2 * G_PI)) * 180 / G_PI;
}

/* Between two levels the library lets tiles grow evenly, not by powers. */
static double
get_world_size (ShumateViewport *viewport)
{
  ShumateMapSource *source = shumate_viewport_get_reference_map_source (viewport);
  double zoom = shumate_viewport_get_zoom_level (viewport);

  return shumate_map_source_get_tile_size_at_zoom (source, zoom) * exp2 (floor (zoom));
}

TptMapFrame
tpt_map_frame_of (ShumateViewport *viewport, double width, double height)
{
  TptMapFrame frame = { .world = get_world_size (viewport), .width = width, .height = height };
  double x, y;

  tpt_map_project (shumate_location_get_latitude (SHUMATE_LOCATION (viewport)),
                   shumate_location_get_longitude (SHUMATE_LOCATION (viewport)), &x, &y);
  frame.left = x * frame.world - width / 2;
  frame.top = y * frame.world - height / 2;
  return frame;
}

void
tpt_map_frame_place (const TptMapFrame *frame, double x, double y, double *px, double *py)
{
  double across = x * frame->world - frame->left;

  *px = across - frame->world * round ((across - frame->width / 2) / frame->world);
  *py = y * frame->world - frame->top;
}

void
tpt_map_frame_location (const TptMapFrame *frame, double px, double py, double *latitude, double *longitude)
{
  double x = (px + frame->left) / frame->world;

  tpt_map_unproject (x - floor (x), (py + frame->top) / frame->world, latitude, longitude);
}

double
tpt_map_frame_metres_per_pixel (const TptMapFrame *frame)
{
  double latitude, longitude, sine, radius;

  tpt_map_frame_location (frame, frame->width / 2, frame->height / 2, &latitude, &longitude);
  sine = sin (latitude * G_PI / 180);
  radius = WGS84_A * cos (latitude * G_PI / 180) / sqrt (1 - WGS84_E2 * sine * sine);
  return 2 * G_PI * radius / frame->world;
}

double
tpt_map_zoom_for_world (double world)
{
  double tiles = MAX (world / TILE_SIZE, 1);
  double level = floor (log2 (tiles));

  return CLAMP (level + tiles / exp2 (level) - 1, TPT_MAP_MIN_ZOOM, TPT_MAP_MAX_ZOOM);
}

void
tpt_map_rgba (TptColorRole role, double alpha, GdkRGBA *rgba)
{
  TptColor color = tpt_palette_color (tpt_style_get_palette (), role);

  *rgba = (GdkRGBA) { color.red, color.green, color.blue, alpha };
}

void
tpt_map_layer_follow (ShumateLayer *layer)
{
  g_signal_connect_object (shumate_layer_get_viewport (layer), "notify", G_CALLBACK (gtk_widget_queue_draw), layer,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (adw_style_manager_get_default (), "notify::dark", G_CALLBACK (gtk_widget_queue_draw), layer,
                           G_CONNECT_SWAPPED);
}
