#include "config.h"

#include "tpt-hours-private.h"

#include <glib/gi18n-lib.h>

/* Strengths of ticks that stand for one or more records. */
#define TICK_STEPS 4

static const TptText legend_text = { TPT_COLOR_INK, .size = 0.92, .down = 0.5 };
static const TptText title_text = { TPT_COLOR_QUIET, .size = 0.9 };

/* As many hours as leave the labels their room, a part of a day. */
static guint
choose_step (TptCanvas *canvas,
             const TptHoursLayout *layout)
{
  static const guint steps[] = { 1, 2, 3, 6, 12 };
  double room = 3.6 * canvas->em + layout->plot.width / 40;

  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    if (layout->plot.width * steps[i] / 24 >= room)
      return steps[i];
  return 24;
}

static void
draw_clock (const TptHours *hours,
            const TptHoursLayout *layout,
            TptCanvas *canvas)
{
  TptText label = { TPT_COLOR_QUIET, .size = 0.9, .across = 0.5 };
  TptText title = title_text;
  double top = layout->plot.y + layout->plot.height + hours->rows->len * layout->lane_height;
  guint step = choose_step (canvas, layout);

  for (guint hour = 0; hour <= 24; hour += step)
    {
      double x = floor (tpt_hours_place (layout, hour)) + 0.5;
      g_autofree char *words = g_strdup_printf ("%02u:00", hour);

      tpt_canvas_set (canvas, TPT_COLOR_QUIET, 1);
      tpt_canvas_rule (canvas, x, top, x, top + 0.35 * canvas->em, 1);
      tpt_canvas_write (canvas, words, x, top + 0.4 * canvas->em, &label);
    }
  if (!layout->titled)
    return;
  title.across = 1;
  title.width = MAX (layout->right - layout->left, 1);
  tpt_canvas_write (canvas,
                    hours->clock == TPT_HOURS_SUN ? _("sun’s day: sunrise 06:00, sunset 18:00") : _("hour of the day"),
                    layout->plot.x + layout->plot.width, top + TPT_HOURS_LABELS * canvas->em, &title);
}

static void
draw_bars (const TptHours *hours,
           const TptHoursLayout *layout,
           TptCanvas *canvas)
{
  const TptHoursRow *row = g_ptr_array_index (hours->rows, 0);

  tpt_canvas_set (canvas, TPT_COLOR_QUIET, 0.22);
  for (guint i = 0; i < 24; i++)
    {
      double left = floor (tpt_hours_place (layout, i)) + 1, right = floor (tpt_hours_place (layout, i + 1));
      double top = tpt_value_axis_position (&layout->axis, tpt_hours_get_bar (row, i));

      if (row->counts[i] > 0)
        cairo_rectangle (canvas->cr, left, top, MAX (right - left, 1), layout->axis.start - top);
    }
  cairo_fill (canvas->cr);
}

/* From midnight to midnight; the last point is the first again. */
static void
trace (TptCanvas *canvas,
       const TptHoursLayout *layout,
       const TptHoursRow *row,
       const double *curve,
       gboolean backwards)
{
  for (guint i = 0; i <= row->points; i++)
    {
      guint at = backwards ? row->points - i : i;

      cairo_line_to (canvas->cr, tpt_hours_place (layout, 24.0 * at / row->points),
                     tpt_value_axis_position (&layout->axis, curve[at % row->points]));
    }
}

static void
draw_band (TptCanvas *canvas,
           const TptHoursLayout *layout,
           const TptHoursRow *row,
           guint index)
{
  if (!tpt_hours_has_band (row))
    return;
  cairo_new_path (canvas->cr);
  trace (canvas, layout, row, row->high, FALSE);
  trace (canvas, layout, row, row->low, TRUE);
  cairo_close_path (canvas->cr);
  tpt_canvas_set (canvas, TPT_COLOR_SERIES_1 + index % TPT_N_SERIES, 0.2);
  cairo_fill (canvas->cr);
}

static void
draw_curve (TptCanvas *canvas,
            const TptHoursLayout *layout,
            const TptHoursRow *row,
            guint index)
{
  if (row->density == NULL)
    return;
  cairo_save (canvas->cr);
  cairo_new_path (canvas->cr);
  trace (canvas, layout, row, row->density, FALSE);
  tpt_canvas_set_series (canvas, index);
  cairo_set_line_width (canvas->cr, 2);
  cairo_set_line_join (canvas->cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (canvas->cr);
  cairo_restore (canvas->cr);
}

/* Records in each unit of a lane; returns the most in one. */
static guint
count_ticks (const TptHoursRow *row,
             guint *counts,
             int width)
{
  guint most = 0;

  for (guint i = 0; i < row->n; i++)
    {
      int at = CLAMP ((int) (width * row->hours[i] / 24), 0, width - 1);

      counts[at]++;
      most = MAX (most, counts[at]);
    }
  return most;
}

/* Ticks on the same unit are one, however many records there are and in whatever order; the
 * more of them, the stronger, in a few steps. */
static void
draw_ticks (TptCanvas *canvas,
            const TptHoursLayout *layout,
            const TptHoursRow *row,
            guint index,
            gboolean alone)
{
  TptFigureRect lane = tpt_hours_get_lane (layout, index);
  int width = MAX ((int) lane.width, 1);
  g_autofree guint *counts = g_new0 (guint, width);
  guint most = MAX (count_ticks (row, counts, width), 1);
  TptColorRole role = alone ? TPT_COLOR_INK : TPT_COLOR_SERIES_1 + index % TPT_N_SERIES;

  for (guint step = 1; step <= TICK_STEPS; step++)
    {
      for (int i = 0; i < width; i++)
        if (counts[i] > 0 && (counts[i] * TICK_STEPS + most - 1) / most == step)
          cairo_rectangle (canvas->cr, lane.x + i, lane.y + 2, 1, MAX (lane.height - 3, 1));
      tpt_canvas_set (canvas, role, 0.4 + 0.45 * step / TICK_STEPS);
      cairo_fill (canvas->cr);
    }
}

static void
draw_brushed (const TptHoursLayout *layout,
              TptCanvas *canvas,
              double from,
              double to)
{
  tpt_canvas_set (canvas, TPT_COLOR_ACCENT, 0.14);
  cairo_rectangle (canvas->cr, tpt_hours_place (layout, from), layout->plot.y,
                   layout->plot.width * (to - from) / 24, layout->plot.height);
  cairo_fill (canvas->cr);
}

/* Over midnight in two parts. */
static void
draw_brush (const TptHoursLayout *layout,
            TptCanvas *canvas)
{
  double from = canvas->style->hour_from, to = canvas->style->hour_to;
  const double ends[] = { from, to };

  if (isnan (from) || isnan (to) || from == to)
    return;
  from = CLAMP (from, 0, 24);
  to = CLAMP (to, 0, 24);
  if (from < to)
    draw_brushed (layout, canvas, from, to);
  else
    {
      draw_brushed (layout, canvas, from, 24);
      draw_brushed (layout, canvas, 0, to);
    }
  tpt_canvas_set (canvas, TPT_COLOR_ACCENT, 1);
  for (guint i = 0; i < G_N_ELEMENTS (ends); i++)
    {
      double x = floor (tpt_hours_place (layout, CLAMP (ends[i], 0, 24)));

      tpt_canvas_rule (canvas, x, layout->plot.y, x, layout->plot.y + layout->plot.height, 2);
    }
}

/* Of two or more, each with a sample of its curve, or of its ticks. */
static void
draw_legend (const TptHours *hours,
             const TptHoursLayout *layout,
             TptCanvas *canvas)
{
  double column = MIN ((layout->right - layout->left) / layout->n_columns, tpt_hours_measure_legend (hours, canvas));

  for (guint i = 0; layout->n_lines > 0 && i < hours->rows->len; i++)
    {
      const TptHoursRow *row = g_ptr_array_index (hours->rows, i);
      double x = layout->left + (i % layout->n_columns) * column;
      double y = layout->legend + (i / layout->n_columns + 0.5) * TPT_HOURS_LINE * canvas->em;
      g_autofree char *words = tpt_hours_say_legend (row);
      TptText text = legend_text;

      text.width = MAX (column - TPT_HOURS_SAMPLE * canvas->em, 1);
      tpt_canvas_write (canvas, words, x + TPT_HOURS_SAMPLE * canvas->em, y, &text);
      cairo_save (canvas->cr);
      tpt_canvas_set_series (canvas, i);
      if (row->density != NULL)
        tpt_canvas_rule (canvas, x, floor (y) + 0.5, x + (TPT_HOURS_SAMPLE - 0.6) * canvas->em, floor (y) + 0.5, 2);
      else
        for (guint tick = 0; tick < 3; tick++)
          cairo_rectangle (canvas->cr, floor (x + (0.5 + 0.5 * tick) * canvas->em), floor (y - 0.3 * canvas->em), 1,
                           ceil (0.6 * canvas->em));
      cairo_fill (canvas->cr);
      cairo_restore (canvas->cr);
    }
}

static void
write_head (const TptHours *hours,
            const TptHoursLayout *layout,
            TptCanvas *canvas)
{
  TptText text = legend_text;
  g_autofree char *words = NULL;
  double width, height;

  text.down = 0;
  tpt_canvas_measure (canvas, _("share of detections per hour"), &title_text, &width, &height);
  tpt_canvas_write (canvas, _("share of detections per hour"), layout->left, layout->head, &title_text);
  if (hours->rows->len != 1)
    return;
  words = tpt_hours_say_legend (g_ptr_array_index (hours->rows, 0));
  text.across = 1;
  text.width = layout->right - layout->left - width - canvas->em;
  if (text.width > 0)
    tpt_canvas_write (canvas, words, layout->right, layout->head, &text);
}

static void
draw_series (const TptHours *hours,
             const TptHoursLayout *layout,
             TptCanvas *canvas)
{
  if (tpt_hours_has_bars (hours))
    draw_bars (hours, layout, canvas);
  for (guint i = 0; i < hours->rows->len; i++)
    draw_band (canvas, layout, g_ptr_array_index (hours->rows, i), i);
  for (guint i = 0; i < hours->rows->len; i++)
    draw_curve (canvas, layout, g_ptr_array_index (hours->rows, i), i);
  for (guint i = 0; i < hours->rows->len; i++)
    draw_ticks (canvas, layout, g_ptr_array_index (hours->rows, i), i, hours->rows->len == 1);
}

static guint
count_records (const TptHours *hours)
{
  guint n = 0;

  for (guint i = 0; i < hours->rows->len; i++)
    n += ((TptHoursRow *) g_ptr_array_index (hours->rows, i))->n;
  return n;
}

static void
draw_scale (const TptHoursLayout *layout,
            TptCanvas *canvas)
{
  double right = layout->plot.x + layout->plot.width;

  tpt_value_axis_draw_grid (&layout->axis, canvas->cr, TRUE, layout->plot.x, right, canvas->style);
  tpt_value_axis_draw_upright (&layout->axis, canvas->cr, layout->plot.x - 0.5 * canvas->em, canvas->style);
}

void
tpt_hours_paint (const TptHours *hours,
                 TptCanvas *canvas,
                 const TptFigureRect *area)
{
  gboolean any = count_records (hours) > 0;
  TptHoursLayout layout;
  double foot;

  tpt_hours_lay_out (hours, canvas, area, &layout);
  tpt_hours_paint_light (hours, &layout, canvas);
  if (any)
    draw_scale (&layout, canvas);
  draw_brush (&layout, canvas);
  draw_series (hours, &layout, canvas);
  tpt_canvas_set (canvas, TPT_COLOR_QUIET, 1);
  foot = layout.axis.start + 0.5;
  tpt_canvas_rule (canvas, layout.plot.x, foot, layout.plot.x + layout.plot.width, foot, 1);
  draw_clock (hours, &layout, canvas);
  write_head (hours, &layout, canvas);
  draw_legend (hours, &layout, canvas);
  tpt_hours_set_reasons (hours, canvas, &layout, layout.says_height > 0);
  if (!any)
    tpt_canvas_say (canvas, &layout.plot, _("Nothing was seen, so there are no hours to show."));
}
