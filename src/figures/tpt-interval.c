#include "tpt-canvas-private.h"
#include "tpt-interval.h"

/* Whether the end of a bar lies on the axis, so that it can be drawn closed. */
static gboolean
is_on_axis (const TptTimeAxis *axis,
            TptInstant at)
{
  return at != TPT_NO_INSTANT && at >= axis->range.from && at <= axis->range.to;
}

static void
draw_arrowhead (cairo_t *cr,
                double x,
                double y,
                double size,
                int side)
{
  cairo_move_to (cr, x, y);
  cairo_line_to (cr, x - side * size, y - 0.8 * size);
  cairo_line_to (cr, x - side * size, y + 0.8 * size);
  cairo_close_path (cr);
  cairo_fill (cr);
}

static void
draw_bar (cairo_t *cr,
          double left,
          double right,
          double y,
          double thickness)
{
  cairo_set_line_width (cr, thickness);
  cairo_move_to (cr, left, y);
  cairo_line_to (cr, MAX (right, left + 1), y);
  cairo_stroke (cr);
}

/* Only the ends that are known are rounded. */
static void
draw_known_end (cairo_t *cr,
                double x,
                double y,
                double thickness)
{
  cairo_arc (cr, x, y, thickness / 2, 0, 2 * G_PI);
  cairo_fill (cr);
}

static void
draw_median (cairo_t *cr,
             double x,
             double y,
             double thickness,
             TptColorRole role,
             TptPalette palette)
{
  cairo_arc (cr, x, y, 1.15 * thickness, 0, 2 * G_PI);
  tpt_palette_set (palette, cr, TPT_COLOR_PAPER, 1);
  cairo_fill_preserve (cr);
  tpt_palette_set (palette, cr, role, 1);
  cairo_set_line_width (cr, 0.55 * thickness);
  cairo_stroke (cr);
}

void
tpt_interval_bar_draw (cairo_t *cr,
                       const TptTimeAxis *axis,
                       const TptInterval *interval,
                       double y,
                       double thickness,
                       TptPalette palette)
{
  TptColorRole role = tpt_symbol_state_color (interval->state);
  double left, right;

  if (interval->p10 == TPT_NO_INSTANT)
    return;

  cairo_save (cr);
  cairo_new_path (cr);
  tpt_palette_set (palette, cr, role, 1);
  left = tpt_time_axis_position (axis, interval->p10);
  right = interval->p90 != TPT_NO_INSTANT ? tpt_time_axis_position (axis, interval->p90) : axis->right;
  if (left > axis->right)
    draw_arrowhead (cr, axis->right, y, 1.6 * thickness, 1);
  else if (right < axis->left)
    draw_arrowhead (cr, axis->left, y, 1.6 * thickness, -1);
  else
    {
      draw_bar (cr, MAX (left, axis->left), MIN (right, axis->right), y, thickness);
      if (is_on_axis (axis, interval->p10))
        draw_known_end (cr, left, y, thickness);
      if (is_on_axis (axis, interval->p90))
        draw_known_end (cr, right, y, thickness);
      if (is_on_axis (axis, interval->p50))
        draw_median (cr, tpt_time_axis_position (axis, interval->p50), y, thickness, role, palette);
    }
  cairo_restore (cr);
}

static void
draw_plate (TptCanvas *canvas,
            const TptTimeAxis *axis,
            double x,
            double bottom,
            const char *label)
{
  TptText text = { TPT_COLOR_ON_ACCENT, .size = 0.9, .bold = TRUE, .across = 0.5, .down = 0.5 };
  TptFigureRect plate = tpt_canvas_place (canvas, label, x, bottom, &text);

  plate.width += 1.1 * canvas->em;
  plate.height += 0.5 * canvas->em;
  plate.x = MIN (x - plate.width / 2, axis->right + canvas->em - plate.width);
  plate.x = MAX (plate.x, axis->left - canvas->em);
  plate.y = bottom - plate.height;
  tpt_canvas_set (canvas, TPT_COLOR_ACCENT, 1);
  tpt_canvas_round_rect (canvas, &plate, plate.height / 2);
  cairo_fill (canvas->cr);
  tpt_canvas_write (canvas, label, plate.x + plate.width / 2, plate.y + plate.height / 2, &text);
}

void
tpt_round_line_draw (cairo_t *cr,
                     const TptTimeAxis *axis,
                     TptInstant round_at,
                     double top,
                     double bottom,
                     const char *label,
                     const TptFigureStyle *style)
{
  TptCanvas canvas;
  double x;

  if (!is_on_axis (axis, round_at))
    return;

  x = floor (tpt_time_axis_position (axis, round_at));
  tpt_canvas_begin (&canvas, cr, style);
  cairo_new_path (cr);
  tpt_canvas_set (&canvas, TPT_COLOR_ACCENT, 1);
  tpt_canvas_rule (&canvas, x, top, x, bottom, 2);
  if (label != NULL)
    draw_plate (&canvas, axis, x, bottom, label);
  tpt_canvas_end (&canvas);
}
