#include "config.h"

#include "tpt-canvas-private.h"
#include "tpt-value-axis.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

/* A share of a step that is not an overshoot but rounding. */
#define SLACK 1e-9

static const TptText upright_text = { TPT_COLOR_QUIET, .size = 0.9, .across = 1, .down = 0.5 };

/* The longer the axis, the more air between its labels. */
int
tpt_value_axis_room (double length,
                     gboolean upright,
                     const TptFigureStyle *style)
{
  double apart = (upright ? 2.2 : 4.0) * TPT_CANVAS_BODY * style->font_scale + MAX (length, 0) / (upright ? 12 : 24);

  return MAX ((int) (length / apart), 1);
}

void
tpt_value_axis_init (TptValueAxis *axis,
                     double most,
                     int ticks,
                     gboolean whole)
{
  static const double steps[] = { 1, 2, 5 };
  int power, i = 0;

  *axis = (TptValueAxis) { 0 };
  if (!(most > 0) || isinf (most))
    most = 1;
  ticks = MAX (ticks, 1);

  power = (int) floor (log10 (most / ticks) - SLACK);
  if (whole)
    power = MAX (power, 0);
  while (steps[i] * pow (10, power) * (ticks + SLACK) < most)
    {
      i = (i + 1) % (int) G_N_ELEMENTS (steps);
      power += i == 0;
    }
  axis->step = steps[i] * pow (10, power);
  axis->decimals = MAX (-power, 0);
  axis->to = axis->step * ceil (most / axis->step - SLACK);
}

double
tpt_value_axis_position (const TptValueAxis *axis,
                         double value)
{
  return axis->start + (axis->end - axis->start) * (value / axis->to);
}

guint
tpt_value_axis_count (const TptValueAxis *axis)
{
  return (guint) floor (axis->to / axis->step + SLACK) + 1;
}

char *
tpt_value_axis_label (const TptValueAxis *axis,
                      guint index)
{
  double value = index * axis->step;
  g_autofree char *number = axis->decimals > 0 ? g_strdup_printf ("%.*f", axis->decimals, value)
                                               : tpt_words_number (round (value));

  /* Translators: a share of a hundred, such as "20 %". */
  return axis->percent ? g_strdup_printf (_("%s %%"), number) : g_steal_pointer (&number);
}

double
tpt_value_axis_width (const TptValueAxis *axis,
                      const TptFigureStyle *style)
{
  double widest = 0, width, height;
  TptCanvas canvas;

  tpt_canvas_begin_blank (&canvas, style);
  for (guint i = 0; i < tpt_value_axis_count (axis); i++)
    {
      g_autofree char *label = tpt_value_axis_label (axis, i);

      tpt_canvas_measure (&canvas, label, &upright_text, &width, &height);
      widest = MAX (widest, width);
    }
  tpt_canvas_end (&canvas);
  return ceil (widest);
}

void
tpt_value_axis_draw_grid (const TptValueAxis *axis,
                          cairo_t *cr,
                          gboolean upright,
                          double from,
                          double to,
                          const TptFigureStyle *style)
{
  cairo_save (cr);
  tpt_palette_set (style->palette, cr, TPT_COLOR_FAINT, 1);
  cairo_set_line_width (cr, 1);
  for (guint i = 0; i < tpt_value_axis_count (axis); i++)
    {
      double at = floor (tpt_value_axis_position (axis, i * axis->step)) + 0.5;

      cairo_move_to (cr, upright ? from : at, upright ? at : from);
      cairo_line_to (cr, upright ? to : at, upright ? at : to);
    }
  cairo_stroke (cr);
  cairo_restore (cr);
}

void
tpt_value_axis_draw_upright (const TptValueAxis *axis,
                             cairo_t *cr,
                             double right,
                             const TptFigureStyle *style)
{
  double free_below = G_MAXDOUBLE;
  TptCanvas canvas;

  tpt_canvas_begin (&canvas, cr, style);
  for (guint i = 0; i < tpt_value_axis_count (axis); i++)
    {
      g_autofree char *label = tpt_value_axis_label (axis, i);
      double y = tpt_value_axis_position (axis, i * axis->step);
      TptFigureRect rect = tpt_canvas_place (&canvas, label, right, y, &upright_text);

      if (rect.y + rect.height > free_below)
        continue;
      tpt_canvas_write (&canvas, label, right, y, &upright_text);
      free_below = rect.y;
    }
  tpt_canvas_end (&canvas);
}
