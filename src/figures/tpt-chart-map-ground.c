#include "config.h"

#include "sci-geodesy.h"
#include "tpt-chart-map-private.h"

#include <glib/gi18n-lib.h>

/* Points nearer than this to the last one would not be seen. */
#define LEAST_STEP 0.5

static const struct {
  TptColorRole role;
  double width; /* em */
  double dash[4]; /* em */
  int n_dashes;
} strokes[] = {
  [TPT_TRACK_TRAIL] = { TPT_COLOR_TRAIL, 0.16, { 0.5, 0.35 }, 2 },
  [TPT_TRACK_ROAD] = { TPT_COLOR_ROAD, 0.18 },
  [TPT_TRACK_RIVER] = { TPT_COLOR_WATER, 0.5 },
  [TPT_TRACK_LAKE] = { TPT_COLOR_WATER, 0.1 },
  [TPT_TRACK_BOUNDARY] = { TPT_COLOR_BOUNDARY, 0.12, { 0.9, 0.3, 0.15, 0.3 }, 4 },
};

/* Each point on the turn of the globe nearest to the one before, so that no
 * line crosses the whole map where it crosses the date line. */
static void
trace_track (const TptChartMapLayout *layout,
             cairo_t *cr,
             const TptChartTrack *track)
{
  double near = layout->view.longitude;
  double last_x = 0, last_y = 0;

  for (guint i = 0; i < track->places->len; i++)
    {
      const TptPlace *place = &g_array_index (track->places, TptPlace, i);
      double x, y;

      near = tpt_chart_nearest_turn (place->longitude, near);
      tpt_chart_view_project_turn (&layout->view, place->latitude, near, &x, &y);
      if (i > 0 && i + 1 < track->places->len && hypot (x - last_x, y - last_y) < LEAST_STEP)
        continue;
      if (i == 0)
        cairo_move_to (cr, x, y);
      else
        cairo_line_to (cr, x, y);
      last_x = x;
      last_y = y;
    }
  if (track->kind == TPT_TRACK_LAKE || track->kind == TPT_TRACK_BOUNDARY)
    cairo_close_path (cr);
}

static void
draw_track (const TptChartMapLayout *layout,
            TptCanvas *canvas,
            const TptChartTrack *track)
{
  double dash[4];

  cairo_new_path (canvas->cr);
  trace_track (layout, canvas->cr, track);
  tpt_canvas_set (canvas, strokes[track->kind].role, 1);
  if (track->kind == TPT_TRACK_LAKE)
    cairo_fill_preserve (canvas->cr);

  for (int i = 0; i < strokes[track->kind].n_dashes; i++)
    dash[i] = strokes[track->kind].dash[i] * canvas->em;
  cairo_set_dash (canvas->cr, dash, strokes[track->kind].n_dashes, 0);
  cairo_set_line_width (canvas->cr, strokes[track->kind].width * canvas->em);
  cairo_stroke (canvas->cr);
}

static void
draw_tracks (const TptChartMap *map,
             const TptChartMapLayout *layout,
             TptCanvas *canvas)
{
  static const TptTrackKind order[] = {
    TPT_TRACK_LAKE, TPT_TRACK_RIVER, TPT_TRACK_BOUNDARY, TPT_TRACK_ROAD, TPT_TRACK_TRAIL
  };

  cairo_save (canvas->cr);
  cairo_set_line_join (canvas->cr, CAIRO_LINE_JOIN_ROUND);
  for (guint i = 0; i < G_N_ELEMENTS (order); i++)
    for (guint j = 0; j < map->tracks->len; j++)
      {
        const TptChartTrack *track = g_ptr_array_index (map->tracks, j);

        if (track->kind == order[i])
          draw_track (layout, canvas, track);
      }
  cairo_restore (canvas->cr);
}

/* Degrees between the lines of the graticule: five to ten on a wide map. */
static double
get_graticule_step (const TptChartMapLayout *layout)
{
  double least = CLAMP (layout->view.rect.width / 7, 70, 200) * 360 / layout->view.scale;

  return MIN (sci_scale_bar (least * 2.49), 30);
}

typedef void (*LineFunc) (const TptChartMapLayout *layout, TptCanvas *canvas, double degrees, double position,
                          gboolean is_latitude, int digits, gpointer user_data);

static void
walk_graticule (const TptChartMapLayout *layout,
                TptCanvas *canvas,
                LineFunc func,
                gpointer user_data)
{
  const TptFigureRect *rect = &layout->view.rect;
  TptPlace first = tpt_chart_view_place (&layout->view, rect->x, rect->y + rect->height);
  TptPlace last = tpt_chart_view_place (&layout->view, rect->x + rect->width, rect->y);
  double step = get_graticule_step (layout);
  int digits = (int) CLAMP (ceil (-log10 (step) - 1e-9), 0, 6);
  double x, y;

  for (gint64 i = (gint64) ceil (first.longitude / step); i * step <= last.longitude; i++)
    {
      tpt_chart_view_project_turn (&layout->view, 0, i * step, &x, &y);
      func (layout, canvas, tpt_chart_nearest_turn (i * step, 0), floor (x) + 0.5, FALSE, digits, user_data);
    }
  for (gint64 i = (gint64) ceil (first.latitude / step); i * step <= last.latitude; i++)
    {
      tpt_chart_view_project_turn (&layout->view, i * step, layout->view.longitude, &x, &y);
      func (layout, canvas, i * step, floor (y) + 0.5, TRUE, digits, user_data);
    }
}

static void
draw_line_cb (const TptChartMapLayout *layout,
              TptCanvas *canvas,
              double degrees,
              double position,
              gboolean is_latitude,
              int digits,
              gpointer user_data)
{
  const TptFigureRect *rect = &layout->view.rect;

  if (is_latitude)
    tpt_canvas_rule (canvas, rect->x, position, rect->x + rect->width, position, 1);
  else
    tpt_canvas_rule (canvas, position, rect->y, position, rect->y + rect->height, 1);
}

static char *
name_line (double degrees,
           gboolean is_latitude,
           int digits)
{
  const char *side;

  if (fabs (degrees) < 1e-9)
    return g_strdup ("0°");
  if (is_latitude)
    side = degrees < 0 ? C_("south", "S") : C_("north", "N");
  else
    side = degrees < 0 ? C_("west", "W") : C_("east", "E");
  return g_strdup_printf ("%.*f° %s", digits, fabs (degrees), side);
}

static void
write_line_cb (const TptChartMapLayout *layout,
               TptCanvas *canvas,
               double degrees,
               double position,
               gboolean is_latitude,
               int digits,
               gpointer user_data)
{
  const TptFigureRect *map = &layout->view.rect;
  TptText text = { TPT_COLOR_QUIET, .size = 0.8, .halo = TRUE };
  g_autofree char *words = name_line (degrees, is_latitude, digits);
  GArray *taken = user_data;
  TptFigureRect rect;

  if (is_latitude)
    rect = tpt_canvas_place (canvas, words, map->x + 0.4 * canvas->em, position - 1.15 * canvas->em, &text);
  else
    rect = tpt_canvas_place (canvas, words, position + 0.3 * canvas->em,
                             map->y + map->height - 1.25 * canvas->em, &text);
  if (!tpt_chart_map_has_room (layout, &rect, taken))
    return;
  tpt_canvas_write (canvas, words, rect.x, rect.y, &text);
  g_array_append_val (taken, rect);
}

void
tpt_chart_map_write_graticule (const TptChartMapLayout *layout,
                               TptCanvas *canvas,
                               GArray *taken)
{
  walk_graticule (layout, canvas, write_line_cb, taken);
}

void
tpt_chart_map_paint_ground (const TptChartMap *map,
                            const TptChartMapLayout *layout,
                            TptCanvas *canvas)
{
  const TptFigureRect *rect = &layout->view.rect;

  tpt_canvas_set (canvas, TPT_COLOR_GROUND, 1);
  cairo_rectangle (canvas->cr, rect->x, rect->y, rect->width, rect->height);
  cairo_fill (canvas->cr);
  if (layout->view.scale <= 0)
    return;

  tpt_canvas_set (canvas, TPT_COLOR_GRATICULE, 1);
  walk_graticule (layout, canvas, draw_line_cb, NULL);
  draw_tracks (map, layout, canvas);
}

static gboolean
is_water (TptTrackKind kind)
{
  return kind == TPT_TRACK_RIVER || kind == TPT_TRACK_LAKE;
}

static TptFigureRect
place_in_middle (const TptChartMapLayout *layout,
                 TptCanvas *canvas,
                 const TptChartTrack *track,
                 const TptText *text)
{
  double left = G_MAXDOUBLE, right = -G_MAXDOUBLE, top = G_MAXDOUBLE, bottom = -G_MAXDOUBLE;

  for (guint i = 0; i < track->places->len; i++)
    {
      double x, y;

      tpt_chart_view_project (&layout->view, g_array_index (track->places, TptPlace, i), &x, &y);
      left = MIN (left, x);
      right = MAX (right, x);
      top = MIN (top, y);
      bottom = MAX (bottom, y);
    }

  return tpt_canvas_place (canvas, track->name, (left + right) / 2, (top + bottom) / 2, text);
}

/* Beside one of its points, as near to the middle of the track as there is room. */
static gboolean
place_name (const TptChartMapLayout *layout,
            TptCanvas *canvas,
            const TptChartTrack *track,
            const TptText *text,
            const GArray *taken,
            TptFigureRect *rect)
{
  int length = (int) track->places->len;
  double lift = 1.1 * canvas->em;

  if (track->kind == TPT_TRACK_LAKE)
    {
      *rect = place_in_middle (layout, canvas, track, text);
      if (tpt_chart_map_has_room (layout, rect, taken))
        return TRUE;
    }
  for (int i = 0; i < length; i++)
    {
      int at = length / 2 + (i % 2 == 0 ? i / 2 : -(i + 1) / 2);
      double x, y;

      if (at < 0 || at >= length)
        continue;
      tpt_chart_view_project (&layout->view, g_array_index (track->places, TptPlace, at), &x, &y);
      *rect = tpt_canvas_place (canvas, track->name, x, y - lift, text);
      if (tpt_chart_map_has_room (layout, rect, taken))
        return TRUE;
    }

  return FALSE;
}

void
tpt_chart_map_write_names (const TptChartMap *map,
                           const TptChartMapLayout *layout,
                           TptCanvas *canvas,
                           GArray *taken)
{
  for (guint i = 0; i < map->tracks->len; i++)
    {
      const TptChartTrack *track = g_ptr_array_index (map->tracks, i);
      TptText text = { is_water (track->kind) ? TPT_COLOR_WATER_INK : TPT_COLOR_QUIET,
                       .size = 0.9, .italic = TRUE, .across = 0.5, .down = 0.5, .halo = TRUE };
      TptFigureRect rect;

      if (track->name == NULL || !place_name (layout, canvas, track, &text, taken, &rect))
        continue;
      text.across = text.down = 0;
      tpt_canvas_write (canvas, track->name, rect.x, rect.y, &text);
      g_array_append_val (taken, rect);
    }
}
