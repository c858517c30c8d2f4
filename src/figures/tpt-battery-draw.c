#include "config.h"

#include "tpt-battery-private.h"

#include <glib/gi18n-lib.h>

/* As the first line of the station's own chart. */
#define ROLE TPT_COLOR_SERIES_2

/* In em. */
#define DOT 0.22
#define WHISKER 0.25

static const TptText percent_text = { TPT_COLOR_QUIET, .size = 0.85, .across = 1, .down = 0.5 };
static const TptText now_text = { TPT_COLOR_ACCENT, .size = 0.85, .across = 0.5, .down = 1 };

void
tpt_battery_lay_out (const TptBattery *battery,
                     TptCanvas *canvas,
                     const TptFigureRect *area,
                     TptBatteryLayout *layout)
{
  double em = canvas->em;
  double left = floor (area->x + 3.3 * em + tpt_canvas_get_inset (canvas));
  double right = floor (area->x + area->width - em);
  double top = floor (area->y + 1.6 * em);
  double bottom = floor (area->y + area->height - tpt_time_axis_height (canvas->style));

  layout->plot = (TptFigureRect) { left, top, MAX (right - left, 1), MAX (bottom - top, 1) };
  layout->axis = (TptTimeAxis) { battery->range, left, left + layout->plot.width, battery->zone };
}

static double
get_y (const TptBatteryLayout *layout,
       double share)
{
  return layout->plot.y + layout->plot.height * (1 - share);
}

TptFigureRect
tpt_battery_get_point_rect (const TptBatteryLayout *layout,
                            const TptBatteryPoint *point)
{
  double x = tpt_time_axis_position (&layout->axis, point->at);
  double y = get_y (layout, point->share);

  return (TptFigureRect) { x - 2.5, y - 2.5, 5, 5 };
}

TptFigureRect
tpt_battery_get_fan_rect (const TptBattery *battery,
                          const TptBatteryLayout *layout,
                          guint index)
{
  const TptBatteryFan *fan = &g_array_index (battery->fan, TptBatteryFan, index);
  double left = tpt_time_axis_position (&layout->axis, fan[0].at);
  double right = tpt_time_axis_position (&layout->axis, fan[1].at);
  double top = get_y (layout, MAX (fan[0].high, fan[1].high));
  double bottom = get_y (layout, MIN (fan[0].low, fan[1].low));

  return (TptFigureRect) { left, top, MAX (right - left, 1), MAX (bottom - top, 1) };
}

static void
draw_percents (const TptBatteryLayout *layout,
               TptCanvas *canvas)
{
  for (int percent = 0; percent <= 100; percent += 25)
    {
      g_autofree char *words = g_strdup_printf (_("%d %%"), percent);
      double y = floor (get_y (layout, percent / 100.0)) + 0.5;

      tpt_canvas_set (canvas, TPT_COLOR_FAINT, 1);
      tpt_canvas_rule (canvas, layout->plot.x, y, layout->plot.x + layout->plot.width, y, 1);
      if (percent % 50 == 0)
        tpt_canvas_write (canvas, words, layout->plot.x - 0.5 * canvas->em, y, &percent_text);
    }
}

static void
draw_now (const TptBattery *battery,
          const TptBatteryLayout *layout,
          TptCanvas *canvas)
{
  double x = floor (tpt_time_axis_position (&layout->axis, battery->now)) + 0.5;

  if (battery->now < battery->range.from || battery->now > battery->range.to)
    return;
  tpt_canvas_set (canvas, TPT_COLOR_ACCENT, 1);
  tpt_canvas_rule (canvas, x, layout->plot.y, x, layout->plot.y + layout->plot.height, 1.2);
  tpt_canvas_write (canvas, _("now"), x, layout->plot.y - 0.15 * canvas->em, &now_text);
}

static void
trace_edge (const TptBattery *battery,
            const TptBatteryLayout *layout,
            TptCanvas *canvas,
            gsize edge,
            gboolean backwards)
{
  for (guint i = 0; i < battery->fan->len; i++)
    {
      guint at = backwards ? battery->fan->len - 1 - i : i;
      const TptBatteryFan *fan = &g_array_index (battery->fan, TptBatteryFan, at);

      cairo_line_to (canvas->cr, tpt_time_axis_position (&layout->axis, fan->at),
                     get_y (layout, G_STRUCT_MEMBER (double, fan, edge)));
    }
}

static void
draw_fan (const TptBattery *battery,
          const TptBatteryLayout *layout,
          TptCanvas *canvas)
{
  const double dash[] = { 0.35 * canvas->em, 0.3 * canvas->em };

  if (battery->fan->len == 0)
    return;
  trace_edge (battery, layout, canvas, G_STRUCT_OFFSET (TptBatteryFan, high), FALSE);
  trace_edge (battery, layout, canvas, G_STRUCT_OFFSET (TptBatteryFan, low), TRUE);
  cairo_close_path (canvas->cr);
  tpt_canvas_set (canvas, ROLE, 0.2);
  cairo_fill (canvas->cr);

  cairo_set_dash (canvas->cr, dash, 2, 0);
  cairo_set_line_width (canvas->cr, 0.13 * canvas->em);
  tpt_canvas_set (canvas, ROLE, 1);
  trace_edge (battery, layout, canvas, G_STRUCT_OFFSET (TptBatteryFan, mid), FALSE);
  cairo_stroke (canvas->cr);
  cairo_set_dash (canvas->cr, NULL, 0, 0);
}

/* The line falls to what was read, steps up where the unit was renewed, and
 * begins anew where it was set out again. */
static void
draw_line (const TptBattery *battery,
           const TptBatteryLayout *layout,
           TptCanvas *canvas)
{
  for (guint i = 0; i < battery->points->len; i++)
    {
      const TptBatteryPoint *point = &g_array_index (battery->points, TptBatteryPoint, i);
      double x = tpt_time_axis_position (&layout->axis, point->at);
      double y = get_y (layout, point->share);

      if (i == 0 || point->source == TPT_BATTERY_FITTED)
        cairo_move_to (canvas->cr, x, y);
      else
        cairo_line_to (canvas->cr, x, y);
    }
  cairo_set_line_width (canvas->cr, 0.15 * canvas->em);
  cairo_set_line_join (canvas->cr, CAIRO_LINE_JOIN_ROUND); /* a step does not look like more than full */
  tpt_canvas_set (canvas, ROLE, 1);
  cairo_stroke (canvas->cr);
}

static void
draw_range (const TptBatteryPoint *point,
            const TptBatteryLayout *layout,
            TptCanvas *canvas)
{
  double x = tpt_time_axis_position (&layout->axis, point->at);
  double low = get_y (layout, point->low);
  double high = get_y (layout, point->high);
  double half = WHISKER * canvas->em;

  if (isnan (point->low) || isnan (point->high))
    return;
  cairo_move_to (canvas->cr, x, low);
  cairo_line_to (canvas->cr, x, high);
  cairo_move_to (canvas->cr, x - half, low);
  cairo_line_to (canvas->cr, x + half, low);
  cairo_move_to (canvas->cr, x - half, high);
  cairo_line_to (canvas->cr, x + half, high);
  cairo_set_line_width (canvas->cr, 0.1 * canvas->em);
  cairo_stroke (canvas->cr);
}

static void
draw_mark (const TptBatteryPoint *point,
           const TptBatteryLayout *layout,
           TptCanvas *canvas)
{
  double x = tpt_time_axis_position (&layout->axis, point->at);
  double y = get_y (layout, point->share);
  double radius = DOT * canvas->em;

  if (point->source == TPT_BATTERY_DEAD)
    {
      cairo_move_to (canvas->cr, x - radius, y - radius);
      cairo_line_to (canvas->cr, x + radius, y + radius);
      cairo_move_to (canvas->cr, x - radius, y + radius);
      cairo_line_to (canvas->cr, x + radius, y - radius);
      cairo_set_line_width (canvas->cr, 0.18 * canvas->em);
      cairo_stroke (canvas->cr);
      return;
    }
  cairo_arc (canvas->cr, x, y, radius, 0, 2 * G_PI);
  if (point->source == TPT_BATTERY_FITTED)
    {
      tpt_canvas_set (canvas, TPT_COLOR_PAPER, 1);
      cairo_fill_preserve (canvas->cr);
      tpt_canvas_set (canvas, ROLE, 1);
      cairo_set_line_width (canvas->cr, 0.1 * canvas->em);
      cairo_stroke (canvas->cr);
    }
  else
    cairo_fill (canvas->cr);
}

static void
draw_points (const TptBattery *battery,
             const TptBatteryLayout *layout,
             TptCanvas *canvas)
{
  draw_line (battery, layout, canvas);
  tpt_canvas_set (canvas, ROLE, 1);
  for (guint i = 0; i < battery->points->len; i++)
    {
      const TptBatteryPoint *point = &g_array_index (battery->points, TptBatteryPoint, i);

      draw_range (point, layout, canvas);
      if (point->source != TPT_BATTERY_RENEWED)
        draw_mark (point, layout, canvas);
    }
}

void
tpt_battery_paint (const TptBattery *battery,
                   TptCanvas *canvas,
                   const TptFigureRect *area)
{
  TptBatteryLayout layout;
  double bottom;

  if (battery->points->len == 0 && battery->fan->len == 0)
    {
      tpt_canvas_say (canvas, area, _("Nothing is known of this unit’s charge in this period."));
      return;
    }

  tpt_battery_lay_out (battery, canvas, area, &layout);
  bottom = layout.plot.y + layout.plot.height;
  tpt_time_axis_draw_grid (&layout.axis, canvas->cr, layout.plot.y, bottom + 0.3 * canvas->em, canvas->style);
  draw_percents (&layout, canvas);
  draw_fan (battery, &layout, canvas);
  tpt_canvas_set (canvas, TPT_COLOR_QUIET, 1);
  tpt_canvas_rule (canvas, layout.plot.x, floor (bottom) + 0.5, layout.plot.x + layout.plot.width, floor (bottom) + 0.5, 1);
  draw_now (battery, &layout, canvas);
  draw_points (battery, &layout, canvas);
  tpt_time_axis_draw_labels (&layout.axis, canvas->cr, bottom, canvas->style);
}
