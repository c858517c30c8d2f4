/* One line of a track in the square of the world, thinned for each zoom level. */
#pragma once

#include <cairo.h>

#include "tpt-map-frame.h"

G_BEGIN_DECLS

typedef struct {
  double x;
  double y;
} TptMapPoint;

typedef struct _TptMapPath TptMapPath;

/* @degrees: @n pairs of latitude and longitude, copied. A line over the date
 * line goes on beyond the side of the square. */
TptMapPath *tpt_map_path_new (const double *degrees, guint n);
void tpt_map_path_free (TptMapPath *self);

/* (transfer none) (array length=n): the points that are at least half a pixel
 * from one another when the world is @world pixels wide; kept until the path
 * is freed, once for each zoom level. */
const TptMapPoint *tpt_map_path_thin (TptMapPath *self, double world, guint *n);

/* Adds the path to that of @cr, in the pixels of @frame. FALSE, and nothing is
 * added, when it lies outside @frame by more than its size again. */
gboolean tpt_map_path_trace (TptMapPath *self, cairo_t *cr, const TptMapFrame *frame);

/* Where a name of @width may go: @share of the way along the longest stretch
 * within @frame, and the direction there, radians, never upside down. FALSE
 * when the stretch has not that much room. */
gboolean tpt_map_path_find_stretch (TptMapPath *self, const TptMapFrame *frame, double width, double share,
                                    TptMapPoint *middle, double *angle);

/* West, south, east and north in the square. */
void tpt_map_path_get_box (TptMapPath *self, TptMapPoint *least, TptMapPoint *most);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptMapPath, tpt_map_path_free)

G_END_DECLS
