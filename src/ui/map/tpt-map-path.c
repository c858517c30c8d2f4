#include "tpt-map-path.h"

#include <math.h>

#define THIN_TO 0.5

struct _TptMapPath {
  GArray *points;                       /* (owned) (element-type TptMapPoint) */
  GArray *levels[TPT_MAP_MAX_ZOOM + 2]; /* (owned) (nullable): thinned */
  TptMapPoint least;
  TptMapPoint most;
};

static void
grow_box (TptMapPath *self, TptMapPoint point)
{
  self->least.x = MIN (self->least.x, point.x);
  self->least.y = MIN (self->least.y, point.y);
  self->most.x = MAX (self->most.x, point.x);
  self->most.y = MAX (self->most.y, point.y);
}

TptMapPath *
tpt_map_path_new (const double *degrees, guint n)
{
  TptMapPath *self = g_new0 (TptMapPath, 1);
  double before = 0.5;

  self->points = g_array_sized_new (FALSE, FALSE, sizeof (TptMapPoint), n);
  self->least = (TptMapPoint) { G_MAXDOUBLE, G_MAXDOUBLE };
  self->most = (TptMapPoint) { -G_MAXDOUBLE, -G_MAXDOUBLE };
  for (guint i = 0; i < n; i++)
    {
      TptMapPoint point;

      tpt_map_project (degrees[2 * i], degrees[2 * i + 1], &point.x, &point.y);
      if (i > 0)
        point.x += round (before - point.x);
      before = point.x;
      grow_box (self, point);
      g_array_append_val (self->points, point);
    }
  return self;
}

void
tpt_map_path_free (TptMapPath *self)
{
  for (guint i = 0; i < G_N_ELEMENTS (self->levels); i++)
    g_clear_pointer (&self->levels[i], g_array_unref);
  g_array_unref (self->points);
  g_free (self);
}

void
tpt_map_path_get_box (TptMapPath *self, TptMapPoint *least, TptMapPoint *most)
{
  *least = self->least;
  *most = self->most;
}

static GArray *
thin (GArray *points, double apart)
{
  GArray *kept = g_array_new (FALSE, FALSE, sizeof (TptMapPoint));
  TptMapPoint last = { -G_MAXFLOAT, -G_MAXFLOAT };

  for (guint i = 0; i < points->len; i++)
    {
      TptMapPoint point = g_array_index (points, TptMapPoint, i);

      if (hypot (point.x - last.x, point.y - last.y) < apart && i + 1 < points->len)
        continue;
      g_array_append_val (kept, point);
      last = point;
    }
  return kept;
}

/* The level is the one above, so that a world between two levels is never
 * drawn from points that are too far apart. */
const TptMapPoint *
tpt_map_path_thin (TptMapPath *self, double world, guint *n)
{
  int level = CLAMP ((int) ceil (log2 (world / 256)), 0, TPT_MAP_MAX_ZOOM + 1);

  if (self->levels[level] == NULL)
    self->levels[level] = thin (self->points, THIN_TO / (256 * exp2 (level)));
  *n = self->levels[level]->len;
  return (const TptMapPoint *) self->levels[level]->data;
}

/* Pixels of the layer for the whole path, on the copy of the world that its
 * middle is nearest on. */
static TptMapPoint
find_origin (TptMapPath *self, const TptMapFrame *frame)
{
  double middle = (self->least.x + self->most.x) / 2;
  TptMapPoint origin;
  double px, py;

  tpt_map_frame_place (frame, middle, 0, &px, &py);
  origin.x = px - middle * frame->world;
  origin.y = py;
  return origin;
}

static gboolean
is_in_sight (TptMapPath *self, const TptMapFrame *frame, TptMapPoint origin)
{
  double margin_x = frame->width / 2, margin_y = frame->height / 2;

  return origin.x + self->most.x * frame->world >= -margin_x &&
         origin.x + self->least.x * frame->world <= frame->width + margin_x &&
         origin.y + self->most.y * frame->world >= -margin_y &&
         origin.y + self->least.y * frame->world <= frame->height + margin_y;
}

gboolean
tpt_map_path_trace (TptMapPath *self, cairo_t *cr, const TptMapFrame *frame)
{
  TptMapPoint origin = find_origin (self, frame);
  const TptMapPoint *points;
  guint n;

  if (self->points->len == 0 || !is_in_sight (self, frame, origin))
    return FALSE;

  points = tpt_map_path_thin (self, frame->world, &n);
  cairo_new_sub_path (cr);
  for (guint i = 0; i < n; i++)
    cairo_line_to (cr, origin.x + points[i].x * frame->world, origin.y + points[i].y * frame->world);
  return TRUE;
}

/* A stretch of points that lie within the frame: from the first to the last
 * one, and its length in pixels. */
typedef struct {
  guint first;
  guint last;
  double length;
} Stretch;

static TptMapPoint
to_pixels (TptMapPoint point, const TptMapFrame *frame, TptMapPoint origin)
{
  return (TptMapPoint) { origin.x + point.x * frame->world, origin.y + point.y * frame->world };
}

static gboolean
is_inside (TptMapPoint pixel, const TptMapFrame *frame)
{
  return pixel.x >= 0 && pixel.y >= 0 && pixel.x <= frame->width && pixel.y <= frame->height;
}

static Stretch
find_longest (const TptMapPoint *points, guint n, const TptMapFrame *frame, TptMapPoint origin)
{
  Stretch best = { 0 }, run = { 0 };
  gboolean was_inside = FALSE;

  for (guint i = 0; i < n; i++)
    {
      gboolean inside = is_inside (to_pixels (points[i], frame, origin), frame);

      if (inside && !was_inside)
        run = (Stretch) { .first = i };
      else if (inside)
        run.length += frame->world * hypot (points[i].x - points[i - 1].x, points[i].y - points[i - 1].y);
      if (inside)
        run.last = i;
      if (run.length > best.length)
        best = run;
      was_inside = inside;
    }
  return best;
}

/* The pixel after @length pixels along the points from @first. */
static TptMapPoint
walk (const TptMapPoint *points, guint first, guint last, double length, const TptMapFrame *frame, TptMapPoint origin)
{
  for (guint i = first; i < last; i++)
    {
      TptMapPoint from = to_pixels (points[i], frame, origin);
      TptMapPoint to = to_pixels (points[i + 1], frame, origin);
      double step = hypot (to.x - from.x, to.y - from.y);

      if (length <= step && step > 0)
        return (TptMapPoint) { from.x + (to.x - from.x) * length / step, from.y + (to.y - from.y) * length / step };
      length -= step;
    }
  return to_pixels (points[last], frame, origin);
}

gboolean
tpt_map_path_find_stretch (TptMapPath *self, const TptMapFrame *frame, double width, double share, TptMapPoint *middle,
                           double *angle)
{
  TptMapPoint origin = find_origin (self, frame);
  TptMapPoint from, to;
  const TptMapPoint *points;
  Stretch stretch;
  double at;
  guint n;

  if (self->points->len < 2 || !is_in_sight (self, frame, origin))
    return FALSE;
  points = tpt_map_path_thin (self, frame->world, &n);
  stretch = find_longest (points, n, frame, origin);
  at = stretch.length * share;
  if (at < width / 2 || at + width / 2 > stretch.length)
    return FALSE;

  *middle = walk (points, stretch.first, stretch.last, at, frame, origin);
  from = walk (points, stretch.first, stretch.last, at - width / 2, frame, origin);
  to = walk (points, stretch.first, stretch.last, at + width / 2, frame, origin);
  *angle = atan2 (to.y - from.y, to.x - from.x);
  if (fabs (*angle) > G_PI_2)
    *angle -= copysign (G_PI, *angle);
  return TRUE;
}
