#include "config.h"

#include "tpt-chart-map-private.h"
#include "tpt-symbol.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

gboolean
tpt_chart_map_has_room (const TptChartMapLayout *layout,
                        const TptFigureRect *rect,
                        const GArray *taken)
{
  const TptFigureRect *map = &layout->view.rect;

  if (rect->x < map->x + 2 || rect->y < map->y + 1 ||
      rect->x + rect->width > map->x + map->width - 2 || rect->y + rect->height > map->y + map->height - 1)
    return FALSE;

  for (guint i = 0; i < taken->len; i++)
    {
      const TptFigureRect *other = &g_array_index (taken, TptFigureRect, i);

      if (rect->x < other->x + other->width && other->x < rect->x + rect->width &&
          rect->y < other->y + other->height && other->y < rect->y + rect->height)
        return FALSE;
    }

  return TRUE;
}

/* Text on a tint is light or dark, whichever reads better. */
static TptColorRole
get_tint_ink (TptCanvas *canvas,
              TptColor tint)
{
  TptPalette palette = canvas->style->palette;
  double on_accent = tpt_color_contrast (tint, tpt_palette_color (palette, TPT_COLOR_ON_ACCENT));
  double ink = tpt_color_contrast (tint, tpt_palette_color (palette, TPT_COLOR_INK));

  return on_accent > ink ? TPT_COLOR_ON_ACCENT : TPT_COLOR_INK;
}

/* The strongest is the accent; even the weakest stands out from the ground. */
static TptColor
get_tint_color (TptCanvas *canvas,
                double tint)
{
  TptPalette palette = canvas->style->palette;

  return tpt_color_mix (tpt_palette_color (palette, TPT_COLOR_ACCENT_SOFT),
                        tpt_palette_color (palette, TPT_COLOR_ACCENT), MAX (tint - 0.25, 0) / 0.75);
}

static void
fill_tint (TptCanvas *canvas,
           const TptFigureRect *rect,
           double tint)
{
  TptColor color = get_tint_color (canvas, tint);

  cairo_set_source_rgb (canvas->cr, color.red, color.green, color.blue);
  cairo_rectangle (canvas->cr, rect->x, rect->y, rect->width, rect->height);
  cairo_fill_preserve (canvas->cr);
  tpt_canvas_set (canvas, TPT_COLOR_GROUND, 1);
  cairo_set_line_width (canvas->cr, 1.5);
  cairo_stroke (canvas->cr);
}

/* A cell has no key, and so cannot be chosen or not. */
static gboolean
is_chosen (const TptCanvas *canvas,
           const TptChartSpot *spot)
{
  return spot->mark->label == NULL || tpt_canvas_is_chosen (canvas, spot->mark->key);
}

static char *
name_value (const TptChartMap *map,
            const TptChartMark *mark)
{
  double value = tpt_chart_map_get_value (map, mark);

  if (map->measure == TPT_MAP_PRESENCE || !(value > 0))
    return NULL;
  return map->measure == TPT_MAP_RATE ? tpt_words_rate (value) : tpt_words_number (value);
}

/* Discs are drawn from large to small: only later ones can lie on this one, and none
 * that recedes. */
static gboolean
is_covered (const TptChartMapLayout *layout,
            const TptCanvas *canvas,
            guint index,
            const TptFigureRect *rect)
{
  for (guint i = index + 1; i < layout->spots->len; i++)
    {
      const TptChartSpot *spot = &g_array_index (layout->spots, TptChartSpot, i);
      const TptFigureRect *other = &spot->rect;

      if (!is_chosen (canvas, spot))
        continue;
      if (rect->x < other->x + other->width && other->x < rect->x + rect->width &&
          rect->y < other->y + other->height && other->y < rect->y + rect->height)
        return TRUE;
    }

  return FALSE;
}

/* A number where it fits, with air around it, and where nothing lies on it. */
static void
write_value (const TptChartMap *map,
             const TptChartMapLayout *layout,
             TptCanvas *canvas,
             guint index)
{
  const TptChartSpot *spot = &g_array_index (layout->spots, TptChartSpot, index);
  TptText text = { TPT_COLOR_ON_ACCENT, .size = 0.88, .bold = TRUE, .across = 0.5, .down = 0.5 };
  g_autofree char *words = name_value (map, spot->mark);
  TptFigureRect rect;

  if (words == NULL)
    return;
  rect = tpt_canvas_place (canvas, words, spot->x, spot->y, &text);
  if (map->cell > 0)
    {
      double tint = tpt_chart_map_layout_get_tint (layout, tpt_chart_map_get_value (map, spot->mark));

      text.role = get_tint_ink (canvas, get_tint_color (canvas, tint));
      if (rect.width + 4 > spot->rect.width || rect.height > spot->rect.height)
        return;
    }
  else if (hypot (rect.width, 0.7 * rect.height) > 2 * spot->radius - 2 || is_covered (layout, canvas, index, &rect))
    return;
  tpt_canvas_write (canvas, words, spot->x, spot->y, &text);
}

static void
draw_empty_cell (TptCanvas *canvas,
                 const TptChartSpot *spot)
{
  double dash = 0.3 * canvas->em;

  cairo_save (canvas->cr);
  tpt_canvas_set (canvas, TPT_COLOR_QUIET, 0.9);
  cairo_set_dash (canvas->cr, &dash, 1, 0);
  cairo_set_line_width (canvas->cr, 1);
  cairo_rectangle (canvas->cr, spot->rect.x + 1.5, spot->rect.y + 1.5, spot->rect.width - 3, spot->rect.height - 3);
  cairo_stroke (canvas->cr);
  cairo_restore (canvas->cr);
}

static void
draw_cell (const TptChartMap *map,
           const TptChartMapLayout *layout,
           TptCanvas *canvas,
           const TptChartSpot *spot)
{
  TptPalette palette = canvas->style->palette;
  double size = MIN (1.1 * canvas->em, 0.6 * spot->rect.width);

  if (spot->mark->detections > 0)
    {
      double value = tpt_chart_map_get_value (map, spot->mark);

      fill_tint (canvas, &spot->rect, tpt_chart_map_layout_get_tint (layout, isnan (value) ? 0 : value));
      return;
    }

  draw_empty_cell (canvas, spot);
  if (tpt_chart_map_was_worked (spot->mark))
    tpt_symbol_draw_not_seen (canvas->cr, spot->x, spot->y, size, palette);
  else
    tpt_symbol_draw_not_worked (canvas->cr, spot->x, spot->y, size, palette);
}

static void
draw_station (TptCanvas *canvas,
              const TptChartSpot *spot)
{
  TptPalette palette = canvas->style->palette;
  double diameter = 2 * spot->radius;

  if (spot->mark->detections > 0)
    tpt_symbol_draw_seen (canvas->cr, spot->x, spot->y, diameter, palette);
  else if (tpt_chart_map_was_worked (spot->mark))
    tpt_symbol_draw_not_seen (canvas->cr, spot->x, spot->y, diameter, palette);
  else
    tpt_symbol_draw_not_worked (canvas->cr, spot->x, spot->y, diameter, palette);
}

/* Those that are not chosen, all together: where they lie on each other they do not add up. */
static void
draw_receded (const TptChartMapLayout *layout,
              TptCanvas *canvas)
{
  if (canvas->style->chosen_keys == NULL)
    return;
  cairo_push_group (canvas->cr);
  for (guint i = 0; i < layout->spots->len; i++)
    if (!is_chosen (canvas, &g_array_index (layout->spots, TptChartSpot, i)))
      draw_station (canvas, &g_array_index (layout->spots, TptChartSpot, i));
  cairo_pop_group_to_source (canvas->cr);
  cairo_paint_with_alpha (canvas->cr, TPT_CANVAS_RECEDED);
}

static void
draw_spots (const TptChartMap *map,
            const TptChartMapLayout *layout,
            TptCanvas *canvas,
            GArray *taken)
{
  draw_receded (layout, canvas);
  for (guint i = 0; i < layout->spots->len; i++)
    {
      const TptChartSpot *spot = &g_array_index (layout->spots, TptChartSpot, i);

      if (map->cell > 0)
        draw_cell (map, layout, canvas, spot);
      else if (is_chosen (canvas, spot))
        draw_station (canvas, spot);
      g_array_append_val (taken, spot->rect);
    }
  for (guint i = 0; i < layout->spots->len; i++)
    if (is_chosen (canvas, &g_array_index (layout->spots, TptChartSpot, i)))
      write_value (map, layout, canvas, i);
}

/* Right of the mark if there is room, else left, below, above. Without room
 * there is no name, rather than one that cannot be read. */
static void
write_label (const TptChartMapLayout *layout,
             TptCanvas *canvas,
             const TptChartSpot *spot,
             GArray *taken)
{
  static const struct {
    double dx, dy, across, down;
  } sides[] = { { 1, 0, 0, 0.5 }, { -1, 0, 1, 0.5 }, { 0, 1, 0.5, 0 }, { 0, -1, 0.5, 1 } };
  double reach = spot->radius + 0.3 * canvas->em;
  gboolean chosen = is_chosen (canvas, spot);

  for (guint i = 0; i < G_N_ELEMENTS (sides); i++)
    {
      TptText text = { chosen ? TPT_COLOR_INK : TPT_COLOR_QUIET, .size = 0.92, .across = sides[i].across,
                       .down = sides[i].down, .halo = TRUE, .bold = chosen && canvas->style->chosen_keys != NULL };
      TptFigureRect rect = tpt_canvas_place (canvas, spot->mark->label, spot->x + sides[i].dx * reach,
                                             spot->y + sides[i].dy * reach, &text);

      if (!tpt_chart_map_has_room (layout, &rect, taken))
        continue;
      text.across = text.down = 0;
      tpt_canvas_write (canvas, spot->mark->label, rect.x, rect.y, &text);
      g_array_append_val (taken, rect);
      return;
    }
}

static void
write_labels (const TptChartMapLayout *layout,
              TptCanvas *canvas,
              GArray *taken,
              gboolean chosen)
{
  for (guint i = 0; i < layout->spots->len; i++)
    {
      const TptChartSpot *spot = &g_array_index (layout->spots, TptChartSpot, i);

      if (spot->mark->label != NULL && is_chosen (canvas, spot) == chosen)
        write_label (layout, canvas, spot, taken);
    }
}

static void
draw_legend_item (TptCanvas *canvas,
                  const TptLegendItem *item)
{
  TptText text = { item->sign == TPT_LEGEND_WORDS ? TPT_COLOR_QUIET : TPT_COLOR_INK, .size = 0.88, .down = 0.5 };
  TptPalette palette = canvas->style->palette;
  double x = item->x;

  switch (item->sign)
    {
    case TPT_LEGEND_SEEN:
      tpt_symbol_draw_seen (canvas->cr, x + item->size / 2, item->y, item->size, palette);
      break;
    case TPT_LEGEND_NOT_SEEN:
      tpt_symbol_draw_not_seen (canvas->cr, x + item->size / 2, item->y, item->size, palette);
      break;
    case TPT_LEGEND_NOT_WORKED:
      tpt_symbol_draw_not_worked (canvas->cr, x + item->size / 2, item->y, item->size, palette);
      break;
    case TPT_LEGEND_CLASS:
      fill_tint (canvas, &(TptFigureRect) { x, item->y - 0.5 * canvas->em, 1.5 * canvas->em, canvas->em }, item->size);
      break;
    case TPT_LEGEND_WORDS:
    default:
      break;
    }

  if (item->sign != TPT_LEGEND_WORDS)
    x += (item->sign == TPT_LEGEND_CLASS ? 1.5 * canvas->em : item->size) + 0.45 * canvas->em;
  tpt_canvas_write (canvas, item->words, x, item->y, &text);
}

static void
draw_inside (const TptChartMap *map,
             const TptChartMapLayout *layout,
             TptCanvas *canvas)
{
  g_autoptr (GArray) taken = g_array_new (FALSE, FALSE, sizeof (TptFigureRect));

  tpt_chart_map_draw_plates (layout, canvas, taken);
  draw_spots (map, layout, canvas, taken);
  write_labels (layout, canvas, taken, TRUE);
  write_labels (layout, canvas, taken, FALSE);
  tpt_chart_map_write_names (map, layout, canvas, taken);
  tpt_chart_map_write_graticule (layout, canvas, taken);
}

void
tpt_chart_map_paint (const TptChartMap *map,
                     TptCanvas *canvas,
                     const TptFigureRect *area)
{
  TptChartMapLayout layout = { 0 };
  const TptFigureRect *rect = &layout.view.rect;

  tpt_chart_map_lay_out (map, canvas, area, &layout);
  cairo_save (canvas->cr);
  cairo_rectangle (canvas->cr, rect->x, rect->y, rect->width, rect->height);
  cairo_clip (canvas->cr);
  tpt_chart_map_paint_ground (map, &layout, canvas);
  if (layout.view.scale > 0)
    draw_inside (map, &layout, canvas);
  cairo_restore (canvas->cr);

  if (map->marks->len == 0)
    tpt_canvas_say (canvas, rect, _("There is no station to show here yet."));
  for (guint i = 0; i < layout.legend->len; i++)
    draw_legend_item (canvas, g_ptr_array_index (layout.legend, i));
  tpt_chart_map_layout_clear (&layout);
}
