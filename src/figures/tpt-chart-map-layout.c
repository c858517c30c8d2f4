#include "config.h"

#include "sci-geodesy.h"
#include "tpt-chart-map-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

#define LEAST_RADIUS 3.0
#define MOST_CLASSES 4

static const TptText legend_text = { TPT_COLOR_INK, .size = 0.88, .down = 0.5 };

static void
free_item (gpointer data)
{
  TptLegendItem *item = data;

  g_free (item->words);
  g_free (item);
}

void
tpt_chart_map_layout_clear (TptChartMapLayout *layout)
{
  g_clear_pointer (&layout->spots, g_array_unref);
  g_clear_pointer (&layout->legend, g_ptr_array_unref);
}

static void
append_item (TptChartMapLayout *layout,
             TptLegendSign sign,
             double size,
             char *words)
{
  TptLegendItem *item = g_new0 (TptLegendItem, 1);

  item->sign = sign;
  item->size = size;
  item->words = words;
  g_ptr_array_add (layout->legend, item);
}

static const char *
name_measure (const TptChartMap *map)
{
  return map->measure == TPT_MAP_RATE ? _("detections per 100 trap nights") : _("detections");
}

/* Area stands for the value, down to the smallest disc that can be seen. */
static double
get_radius (const TptChartMapLayout *layout,
            double value)
{
  if (!(value > 0) || !(layout->most > 0))
    return LEAST_RADIUS;
  return MAX (LEAST_RADIUS, layout->most_radius * sqrt (value / layout->most));
}

static char *
name_size (const TptChartMap *map,
           double value,
           gboolean last)
{
  g_autofree char *number = tpt_words_number (value);

  return last ? g_strdup_printf ("%s %s", number, name_measure (map)) : g_steal_pointer (&number);
}

static void
append_sizes (const TptChartMap *map,
              TptChartMapLayout *layout)
{
  double large = sci_scale_bar (layout->most);
  double small = sci_scale_bar (large / 5);
  gboolean two = map->measure == TPT_MAP_RATE || small >= 1;

  if (map->measure == TPT_MAP_PRESENCE)
    {
      append_item (layout, TPT_LEGEND_SEEN, 2 * layout->most_radius, g_strdup (_("seen")));
      return;
    }
  if (two && small < large)
    append_item (layout, TPT_LEGEND_SEEN, 2 * get_radius (layout, small), name_size (map, small, FALSE));
  append_item (layout, TPT_LEGEND_SEEN, 2 * get_radius (layout, large), name_size (map, large, TRUE));
}

double
tpt_chart_map_layout_get_tint (const TptChartMapLayout *layout,
                               double value)
{
  double step = ceil (value / layout->class_step - 1e-9);

  return CLAMP (step, 1, layout->n_classes) / layout->n_classes;
}

static void
append_classes (const TptChartMap *map,
                TptChartMapLayout *layout)
{
  if (map->measure == TPT_MAP_PRESENCE)
    {
      append_item (layout, TPT_LEGEND_CLASS, 1, g_strdup (_("seen")));
      return;
    }
  for (int i = 1; i <= layout->n_classes; i++)
    {
      g_autofree char *words = name_size (map, i * layout->class_step, i == layout->n_classes);

      append_item (layout, TPT_LEGEND_CLASS, (double) i / layout->n_classes, g_strdup_printf (_("up to %s"), words));
    }
}

/* 1, 2, 3, 4 or 5 times a power of ten, so that at most four classes reach
 * the largest value. */
static double
get_class_step (const TptChartMap *map,
                double most)
{
  double power, step;

  if (map->measure == TPT_MAP_PRESENCE || !(most > 0))
    return 1;

  power = pow (10, floor (log10 (most / MOST_CLASSES)));
  step = ceil (most / MOST_CLASSES / power - 1e-9);
  step = (step > 5 ? 10 : step) * power;
  return map->measure == TPT_MAP_COUNT ? MAX (step, 1) : step;
}

static void
make_legend (const TptChartMap *map,
             TptCanvas *canvas,
             TptChartMapLayout *layout)
{
  gboolean seen = FALSE, not_seen = FALSE, not_worked = FALSE;
  double small = 1.1 * canvas->em;

  layout->legend = g_ptr_array_new_with_free_func (free_item);
  for (guint i = 0; i < map->marks->len; i++)
    {
      const TptChartMark *mark = g_ptr_array_index (map->marks, i);

      seen = seen || mark->detections > 0;
      not_seen = not_seen || (mark->detections <= 0 && mark->trap_nights > 0);
      not_worked = not_worked || !tpt_chart_map_was_worked (mark);
    }

  if (seen && map->cell > 0)
    append_classes (map, layout);
  else if (seen && layout->most > 0)
    append_sizes (map, layout);
  if (not_seen)
    append_item (layout, TPT_LEGEND_NOT_SEEN, small, g_strdup (_("at work, not seen")));
  if (not_worked)
    append_item (layout, TPT_LEGEND_NOT_WORKED, small, g_strdup (_("not at work")));
  if (!canvas->style->framed)
    append_item (layout, TPT_LEGEND_WORDS, 0, tpt_chart_map_note (map));
}

static double
get_item_width (TptCanvas *canvas,
                const TptLegendItem *item)
{
  double width, height;

  tpt_canvas_measure (canvas, item->words, &legend_text, &width, &height);
  if (item->sign == TPT_LEGEND_WORDS)
    return width;
  return (item->sign == TPT_LEGEND_CLASS ? 1.5 * canvas->em : item->size) + 0.45 * canvas->em + width;
}

/* Lines of signs with words, from the left, below @top. Returns their height. */
static double
flow_legend (TptCanvas *canvas,
             TptChartMapLayout *layout,
             const TptFigureRect *area,
             double top)
{
  double line = 1.7 * canvas->em;
  double x = 0, y = 0;

  for (guint i = 0; i < layout->legend->len; i++)
    {
      const TptLegendItem *item = g_ptr_array_index (layout->legend, i);

      if (item->sign == TPT_LEGEND_SEEN)
        line = MAX (line, item->size + 0.5 * canvas->em);
    }
  for (guint i = 0; i < layout->legend->len; i++)
    {
      TptLegendItem *item = g_ptr_array_index (layout->legend, i);
      double width = get_item_width (canvas, item);

      if (x > 0 && x + width > area->width - canvas->em)
        {
          x = 0;
          y += line;
        }
      item->x = area->x + x + tpt_canvas_get_inset (canvas);
      item->y = top + y + line / 2;
      x += width + 1.6 * canvas->em;
    }

  return layout->legend->len > 0 ? y + line + 0.35 * canvas->em : 0;
}

static void
measure_values (const TptChartMap *map,
                TptChartMapLayout *layout)
{
  layout->most = 0;
  for (guint i = 0; i < map->marks->len; i++)
    {
      double value = tpt_chart_map_get_value (map, g_ptr_array_index (map->marks, i));

      if (value > layout->most)
        layout->most = value;
    }
  layout->class_step = get_class_step (map, layout->most);
  layout->n_classes = (int) CLAMP (ceil (layout->most / layout->class_step - 1e-9), 1, MOST_CLASSES);
}

/* Stations are what the map is of; without any, it shows the tracks. */
static GArray *
collect_places (const TptChartMap *map)
{
  GArray *places = g_array_new (FALSE, FALSE, sizeof (TptPlace));

  for (guint i = 0; i < map->marks->len; i++)
    {
      const TptChartMark *mark = g_ptr_array_index (map->marks, i);
      TptPlace far = { mark->place.latitude + map->cell, mark->place.longitude + map->cell };

      g_array_append_val (places, mark->place);
      g_array_append_val (places, far);
    }
  for (guint i = 0; map->marks->len == 0 && i < map->tracks->len; i++)
    {
      const TptChartTrack *track = g_ptr_array_index (map->tracks, i);

      g_array_append_vals (places, track->places->data, track->places->len);
    }

  return places;
}

static int
compare_spots (gconstpointer a,
               gconstpointer b)
{
  const TptChartSpot *spot_a = a;
  const TptChartSpot *spot_b = b;
  int by_size = (spot_a->radius < spot_b->radius) - (spot_a->radius > spot_b->radius);

  return by_size != 0 ? by_size : (spot_a->index > spot_b->index) - (spot_a->index < spot_b->index);
}

static TptChartSpot
place_cell (const TptChartMap *map,
            const TptChartMapLayout *layout,
            const TptChartMark *mark)
{
  TptChartSpot spot = { mark };
  double west = tpt_chart_nearest_turn (mark->place.longitude, layout->view.longitude);
  double left, right, top, bottom;

  tpt_chart_view_project_turn (&layout->view, mark->place.latitude, west, &left, &bottom);
  tpt_chart_view_project_turn (&layout->view, mark->place.latitude + map->cell, west + map->cell, &right, &top);
  spot.rect = (TptFigureRect) { left, top, right - left, bottom - top };
  spot.x = (left + right) / 2;
  spot.y = (top + bottom) / 2;
  return spot;
}

static TptChartSpot
place_station (const TptChartMap *map,
               TptCanvas *canvas,
               const TptChartMapLayout *layout,
               const TptChartMark *mark)
{
  TptChartSpot spot = { mark };

  tpt_chart_view_project (&layout->view, mark->place, &spot.x, &spot.y);
  if (mark->detections > 0)
    spot.radius = map->measure == TPT_MAP_PRESENCE ? layout->most_radius
                                                   : get_radius (layout, tpt_chart_map_get_value (map, mark));
  else
    spot.radius = 0.5 * canvas->em;
  spot.rect = (TptFigureRect) { spot.x - spot.radius, spot.y - spot.radius, 2 * spot.radius, 2 * spot.radius };
  return spot;
}

void
tpt_chart_map_lay_out (const TptChartMap *map,
                       TptCanvas *canvas,
                       const TptFigureRect *area,
                       TptChartMapLayout *layout)
{
  g_autoptr (GArray) places = collect_places (map);
  TptFigureRect rect = *area;
  double side = MIN (area->width, area->height);

  measure_values (map, layout);
  layout->most_radius = map->measure == TPT_MAP_PRESENCE ? 0.6 * canvas->em
                                                         : CLAMP (0.045 * side, 0.9 * canvas->em, 2.2 * canvas->em);
  make_legend (map, canvas, layout);
  rect.height = MAX (rect.height - flow_legend (canvas, layout, area, 0), 1);
  flow_legend (canvas, layout, area, area->y + rect.height + 0.35 * canvas->em);

  layout->spots = g_array_new (FALSE, FALSE, sizeof (TptChartSpot));
  layout->view.rect = rect;
  if (places->len == 0)
    return;

  layout->view = tpt_chart_view_fit ((const TptPlace *) (gpointer) places->data, places->len, &rect,
                                   layout->most_radius + 2.6 * canvas->em, 1500);
  for (guint i = 0; i < map->marks->len; i++)
    {
      const TptChartMark *mark = g_ptr_array_index (map->marks, i);
      TptChartSpot spot = map->cell > 0 ? place_cell (map, layout, mark) : place_station (map, canvas, layout, mark);

      spot.index = i;
      g_array_append_val (layout->spots, spot);
    }
  g_array_sort (layout->spots, compare_spots);
}
