/* Where things lie on the map: the world as a square of side 1 (spherical
 * Mercator, y from the north), and the pixels of a layer that shows part of it. */
#pragma once

#include <shumate/shumate.h>

#include "tpt-palette.h"

G_BEGIN_DECLS

#define TPT_MAP_MIN_ZOOM 3
#define TPT_MAP_MAX_ZOOM 20

/* Mercator ends here. */
#define TPT_MAP_MAX_LATITUDE 85.0511287798066

/**
 * TptMapFrame:
 * @world: pixels from one side of the world to the other
 * @left: pixels of the layer's left edge, from the date line
 * @top: pixels of the layer's top edge, from the north edge of the world
 * @width: of the layer, pixels
 * @height: of the layer, pixels
 */
typedef struct {
  double world;
  double left;
  double top;
  double width;
  double height;
} TptMapFrame;

/* Degrees to the square of side 1, and back. */
void tpt_map_project (double latitude, double longitude, double *x, double *y);
void tpt_map_unproject (double x, double y, double *latitude, double *longitude);

/* What @viewport shows in a layer of @width by @height. */
TptMapFrame tpt_map_frame_of (ShumateViewport *viewport, double width, double height);

/* Pixels in the layer; of the copies of a place that a round world has, the
 * one nearest to the middle. */
void tpt_map_frame_place (const TptMapFrame *frame, double x, double y, double *px, double *py);

/* Degrees at a pixel of the layer. */
void tpt_map_frame_location (const TptMapFrame *frame, double px, double py, double *latitude, double *longitude);

/* Metres along the parallel through the middle of the layer that one pixel
 * covers, on the WGS 84 ellipsoid. */
double tpt_map_frame_metres_per_pixel (const TptMapFrame *frame);

/* The zoom level at which the world is @world pixels wide, within the levels
 * of the map. */
double tpt_map_zoom_for_world (double world);

/* A source without tiles: it tells the viewport how to project, nothing else. */
ShumateMapSource *tpt_map_source_new (void);

/* The colour that fits the window, light or dark. */
void tpt_map_rgba (TptColorRole role, double alpha, GdkRGBA *rgba);

/* Has @layer drawn again whenever its viewport moves or the window turns dark. */
void tpt_map_layer_follow (ShumateLayer *layer);

G_END_DECLS
