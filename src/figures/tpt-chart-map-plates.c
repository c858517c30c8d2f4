#include "config.h"

#include "sci-geodesy.h"
#include "tpt-chart-map-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

static void
draw_plate (TptCanvas *canvas,
            const TptFigureRect *plate,
            GArray *taken)
{
  tpt_canvas_set (canvas, TPT_COLOR_PAPER, 0.85);
  tpt_canvas_round_rect (canvas, plate, 0.35 * canvas->em);
  cairo_fill (canvas->cr);
  g_array_append_vals (taken, plate, 1);
}

static char *
name_length (double metres)
{
  g_autofree char *number = tpt_words_number (metres >= 1000 ? metres / 1000 : metres);

  return metres >= 1000 ? g_strdup_printf (_("%s km"), number) : g_strdup_printf (_("%s m"), number);
}

static void
draw_scale_bar (const TptChartMapLayout *layout,
                TptCanvas *canvas,
                GArray *taken)
{
  const TptFigureRect *map = &layout->view.rect;
  TptText text = { TPT_COLOR_INK, .size = 0.85, .across = 1, .down = 0.5 };
  double em = canvas->em;
  double per_unit = tpt_chart_view_metres (&layout->view);
  double metres = sci_scale_bar (CLAMP (0.24 * map->width, 5 * em, 14 * em) * per_unit);
  double length = metres / per_unit;
  g_autofree char *words = name_length (metres);
  TptFigureRect plate = { .height = 1.7 * em };
  double width, height, y;

  tpt_canvas_measure (canvas, words, &text, &width, &height);
  plate.width = length + width + 1.7 * em;
  plate.x = map->x + map->width - plate.width - 0.6 * em;
  plate.y = map->y + map->height - plate.height - 0.6 * em;
  draw_plate (canvas, &plate, taken);

  y = floor (plate.y + plate.height / 2) + 0.5;
  tpt_canvas_set (canvas, TPT_COLOR_INK, 1);
  cairo_move_to (canvas->cr, plate.x + 0.6 * em, y - 0.3 * em);
  cairo_line_to (canvas->cr, plate.x + 0.6 * em, y);
  cairo_line_to (canvas->cr, plate.x + 0.6 * em + length, y);
  cairo_line_to (canvas->cr, plate.x + 0.6 * em + length, y - 0.3 * em);
  cairo_set_line_width (canvas->cr, 1.5);
  cairo_stroke (canvas->cr);
  tpt_canvas_write (canvas, words, plate.x + plate.width - 0.5 * em, plate.y + plate.height / 2, &text);
}

static void
draw_north (const TptChartMapLayout *layout,
            TptCanvas *canvas,
            GArray *taken)
{
  const TptFigureRect *map = &layout->view.rect;
  TptText text = { TPT_COLOR_INK, .bold = TRUE, .size = 0.9, .across = 0.5 };
  double em = canvas->em;
  TptFigureRect plate = { map->x + map->width - 2.4 * em, map->y + 0.6 * em, 1.8 * em, 3.1 * em };
  double x = plate.x + plate.width / 2;

  draw_plate (canvas, &plate, taken);
  tpt_canvas_write (canvas, C_("north", "N"), x, plate.y + 0.2 * em, &text);
  tpt_canvas_set (canvas, TPT_COLOR_INK, 1);
  cairo_move_to (canvas->cr, x, plate.y + 1.4 * em);
  cairo_line_to (canvas->cr, x + 0.42 * em, plate.y + 2.75 * em);
  cairo_line_to (canvas->cr, x, plate.y + 2.45 * em);
  cairo_line_to (canvas->cr, x - 0.42 * em, plate.y + 2.75 * em);
  cairo_close_path (canvas->cr);
  cairo_fill (canvas->cr);
}

void
tpt_chart_map_draw_plates (const TptChartMapLayout *layout,
                           TptCanvas *canvas,
                           GArray *taken)
{
  draw_scale_bar (layout, canvas, taken);
  draw_north (layout, canvas, taken);
}
