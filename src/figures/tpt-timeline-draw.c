#include "config.h"

#include "tpt-timeline-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

/* Share of the plot that the tallest bar takes: below the lines, or nearly
 * all of it when there are none. */
#define BARS_BELOW 0.42
#define BARS_ALONE 0.85

static const TptText percent_text = { TPT_COLOR_QUIET, .size = 0.85, .across = 1, .down = 0.5 };
static const TptText legend_text = { TPT_COLOR_QUIET, .size = 0.9, .down = 0.5 };

static const struct {
  double dash[4]; /* em */
  int n_dashes;
} dashes[TPT_N_SERIES] = { { { 0 }, 0 }, { { 0.7, 0.3 }, 2 }, { { 0.2, 0.25 }, 2 }, { { 0.9, 0.3, 0.2, 0.3 }, 4 }, { { 0.4, 0.4 }, 2 } };

typedef enum {
  SIGN_BAR,
  SIGN_GAP,
  SIGN_LINE,
} Sign;

typedef void (*LegendFunc) (TptCanvas *canvas, Sign sign, guint series, const char *words, double x, double y);

/* The first is that of the bars and the visits. */
static TptColorRole
get_series_role (guint series)
{
  return TPT_COLOR_SERIES_2 + series % (TPT_N_SERIES - 1);
}

static void
set_series (TptCanvas *canvas,
            guint series)
{
  double dash[4];
  guint look = series % TPT_N_SERIES;

  for (int i = 0; i < dashes[look].n_dashes; i++)
    dash[i] = dashes[look].dash[i] * canvas->em;
  cairo_set_dash (canvas->cr, dash, dashes[look].n_dashes, 0);
  cairo_set_line_width (canvas->cr, 0.17 * canvas->em);
  tpt_canvas_set (canvas, get_series_role (series), 1);
}

static double
get_sign_width (const TptCanvas *canvas)
{
  return 1.5 * canvas->em;
}

static double
flow_item (TptCanvas *canvas,
           const TptFigureRect *area,
           double *x,
           double *y,
           Sign sign,
           guint series,
           const char *words,
           LegendFunc func)
{
  double width, height;

  tpt_canvas_measure (canvas, words, &legend_text, &width, &height);
  width += get_sign_width (canvas) + 0.4 * canvas->em;
  if (*x > area->x && *x + width > area->x + area->width)
    {
      *x = area->x;
      *y += 1.5 * canvas->em;
    }
  if (func != NULL)
    func (canvas, sign, series, words, *x, *y + 0.75 * canvas->em);
  *x += width + 1.4 * canvas->em;
  return *y + 1.5 * canvas->em - area->y;
}

/* One line above the plot, or more where it is narrow. Returns their height. */
static double
flow_legend (const TptTimeline *timeline,
             TptCanvas *canvas,
             const TptFigureRect *area,
             LegendFunc func)
{
  double x = area->x;
  double y = area->y;
  double height = 0;

  if (timeline->most_frames > 0)
    {
      g_autofree char *most = tpt_words_number (timeline->most_frames);
      g_autofree char *words = g_strdup_printf (_("frames a day, up to %s"), most);

      height = flow_item (canvas, area, &x, &y, SIGN_BAR, 0, words, func);
    }
  for (guint i = 0; i < timeline->series->len; i++)
    {
      const TptTimelineSeries *series = g_ptr_array_index (timeline->series, i);

      height = flow_item (canvas, area, &x, &y, SIGN_LINE, i, series->label, func);
    }
  if (timeline->gaps->len > 0)
    height = flow_item (canvas, area, &x, &y, SIGN_GAP, 0, _("no working camera"), func);

  return height;
}

static TptFigureRect
get_head (const TptCanvas *canvas,
          const TptFigureRect *area)
{
  double inset = tpt_canvas_get_inset (canvas);

  return (TptFigureRect) { area->x + inset, area->y, MAX (area->width - 2 * inset, 1), 0 };
}

void
tpt_timeline_lay_out (const TptTimeline *timeline,
                      TptCanvas *canvas,
                      const TptFigureRect *area,
                      TptTimelineLayout *layout)
{
  double em = canvas->em;
  TptFigureRect head = get_head (canvas, area);
  double left = floor (area->x + (timeline->series->len > 0 ? 3.3 : 0.4) * em + tpt_canvas_get_inset (canvas));
  double right = floor (area->x + area->width - em);
  double top = area->y + flow_legend (timeline, canvas, &head, NULL) + 1.5 * em;
  double bottom = area->y + area->height - tpt_time_axis_height (canvas->style);

  layout->plot = (TptFigureRect) { left, floor (top), MAX (right - left, 1), MAX (floor (bottom) - floor (top), 1) };
  layout->axis = (TptTimeAxis) { timeline->range, left, left + layout->plot.width, timeline->zone };
}

TptFigureRect
tpt_timeline_get_day_rect (const TptTimeline *timeline,
                           const TptTimelineLayout *layout,
                           const TptTimelineDay *day)
{
  TptRange range = { tpt_zone_day_from_number (timeline->zone, day->day),
                     tpt_zone_day_from_number (timeline->zone, day->day + 1) };
  double left = MAX (tpt_time_axis_position (&layout->axis, range.from), layout->axis.left);
  double right = MIN (tpt_time_axis_position (&layout->axis, range.to), layout->axis.right);
  double gap = right - left > 4 ? 1 : 0;
  double share = timeline->series->len > 0 ? BARS_BELOW : BARS_ALONE;
  double height = layout->plot.height * share * day->frames / MAX (timeline->most_frames, 1);

  /* One frame is not none. */
  if (day->frames > 0)
    height = MAX (height, 1);
  return (TptFigureRect) { left, layout->plot.y + layout->plot.height - height, MAX (right - left - gap, 0.5), height };
}

TptFigureRect
tpt_timeline_get_span_rect (const TptTimelineLayout *layout,
                            const TptRange *range)
{
  double left = CLAMP (tpt_time_axis_position (&layout->axis, range->from), layout->axis.left, layout->axis.right);
  double right = CLAMP (tpt_time_axis_position (&layout->axis, range->to), layout->axis.left, layout->axis.right);

  return (TptFigureRect) { left, layout->plot.y, right - left, layout->plot.height };
}

static double
get_percent_y (const TptTimelineLayout *layout,
               double percent)
{
  return layout->plot.y + layout->plot.height * (1 - percent / 100);
}

TptFigureRect
tpt_timeline_get_reading_rect (const TptTimelineLayout *layout,
                               const TptTimelineReading *reading)
{
  double x = tpt_time_axis_position (&layout->axis, reading->at);
  double y = get_percent_y (layout, reading->percent);

  return (TptFigureRect) { x - 2.5, y - 2.5, 5, 5 };
}

static void
draw_percents (const TptTimelineLayout *layout,
               TptCanvas *canvas)
{
  for (int percent = 0; percent <= 100; percent += 50)
    {
      g_autofree char *words = g_strdup_printf (_("%d %%"), percent);
      double y = floor (get_percent_y (layout, percent)) + 0.5;

      tpt_canvas_set (canvas, TPT_COLOR_FAINT, 1);
      tpt_canvas_rule (canvas, layout->plot.x, y, layout->plot.x + layout->plot.width, y, 1);
      tpt_canvas_write (canvas, words, layout->plot.x - 0.5 * canvas->em, y, &percent_text);
    }
}

/* Hatched, which is read as a gap in grey as well. */
static void
hatch (TptCanvas *canvas,
       const TptFigureRect *rect)
{
  double step = 0.55 * canvas->em;

  cairo_save (canvas->cr);
  cairo_rectangle (canvas->cr, rect->x, rect->y, MAX (rect->width, 1), rect->height);
  cairo_clip_preserve (canvas->cr);
  tpt_canvas_set (canvas, TPT_COLOR_QUIET, 0.08);
  cairo_fill (canvas->cr);
  tpt_canvas_set (canvas, TPT_COLOR_QUIET, 0.4);
  cairo_set_line_width (canvas->cr, 0.8);
  for (double x = rect->x - rect->height; x < rect->x + rect->width; x += step)
    {
      cairo_move_to (canvas->cr, x, rect->y + rect->height);
      cairo_line_to (canvas->cr, x + rect->height, rect->y);
    }
  cairo_stroke (canvas->cr);
  cairo_restore (canvas->cr);
}

static void
draw_days (const TptTimeline *timeline,
           const TptTimelineLayout *layout,
           TptCanvas *canvas)
{
  tpt_canvas_set (canvas, TPT_COLOR_ACCENT_MID, 1);
  for (guint i = 0; i < timeline->days->len; i++)
    {
      TptFigureRect rect = tpt_timeline_get_day_rect (timeline, layout, &g_array_index (timeline->days, TptTimelineDay, i));

      cairo_rectangle (canvas->cr, rect.x, rect.y, rect.width, rect.height);
    }
  cairo_fill (canvas->cr);
}

static void
draw_brush (const TptTimelineLayout *layout,
            TptCanvas *canvas)
{
  TptRange brush = canvas->style->brush;
  TptFigureRect rect;

  if (brush.from == TPT_NO_INSTANT && brush.to == TPT_NO_INSTANT)
    return;
  if (brush.from == TPT_NO_INSTANT)
    brush.from = layout->axis.range.from;
  if (brush.to == TPT_NO_INSTANT)
    brush.to = layout->axis.range.to;
  rect = tpt_timeline_get_span_rect (layout, &brush);
  tpt_canvas_set (canvas, TPT_COLOR_ACCENT, 0.12);
  cairo_rectangle (canvas->cr, rect.x, rect.y, rect.width, rect.height);
  cairo_fill (canvas->cr);
}

static void
draw_visits (const TptTimeline *timeline,
             const TptTimelineLayout *layout,
             TptCanvas *canvas)
{
  TptText text = { TPT_COLOR_ACCENT, .size = 0.85, .down = 1 };
  double free_from = -G_MAXDOUBLE;
  double rest_right = layout->plot.x + layout->plot.width + canvas->em;

  for (guint i = 0; i < timeline->visits->len; i++)
    {
      const TptTimelineSpan *visit = g_ptr_array_index (timeline->visits, i);
      double x = floor (tpt_time_axis_position (&layout->axis, visit->range.from)) + 0.5;
      TptFigureRect label = tpt_canvas_place (canvas, _("visit"), x - 0.5, layout->plot.y - 0.1 * canvas->em, &text);

      tpt_canvas_set (canvas, TPT_COLOR_ACCENT, 1);
      tpt_canvas_rule (canvas, x, layout->plot.y - 0.2 * canvas->em, x, layout->plot.y + layout->plot.height, 1.5);
      if (label.x < free_from || label.x + label.width > rest_right)
        continue;
      tpt_canvas_write (canvas, _("visit"), x - 0.5, layout->plot.y - 0.1 * canvas->em, &text);
      free_from = label.x + label.width + 0.4 * canvas->em;
    }
}

/* The line falls to what was read, and begins anew where the unit was renewed. */
static void
draw_readings (const TptTimelineSeries *series,
               const TptTimelineLayout *layout,
               TptCanvas *canvas)
{
  for (guint i = 0; i < series->readings->len; i++)
    {
      const TptTimelineReading *reading = &g_array_index (series->readings, TptTimelineReading, i);
      double x = tpt_time_axis_position (&layout->axis, reading->at);
      double y = get_percent_y (layout, reading->percent);

      if (i == 0 || reading->renewed)
        cairo_move_to (canvas->cr, x, y);
      else
        cairo_line_to (canvas->cr, x, y);
    }
  if (series->from != TPT_NO_INSTANT && series->readings->len > 0)
    cairo_line_to (canvas->cr, tpt_time_axis_position (&layout->axis, series->from), get_percent_y (layout, series->percent));
  cairo_stroke (canvas->cr);

  for (guint i = 0; i < series->readings->len; i++)
    {
      TptFigureRect rect = tpt_timeline_get_reading_rect (layout, &g_array_index (series->readings, TptTimelineReading, i));

      cairo_arc (canvas->cr, rect.x + rect.width / 2, rect.y + rect.height / 2, 0.2 * canvas->em, 0, 2 * G_PI);
      cairo_fill (canvas->cr);
    }
}

/* A late end beyond what was forecast leaves the fan open: its upper edge runs
 * level to the end of the axis. */
static void
draw_fan (const TptTimelineSeries *series,
          const TptTimelineLayout *layout,
          TptCanvas *canvas,
          TptColorRole role)
{
  const double dash[] = { 0.35 * canvas->em, 0.3 * canvas->em };
  double x = tpt_time_axis_position (&layout->axis, series->from);
  double y = get_percent_y (layout, series->percent);
  double foot = layout->plot.y + layout->plot.height;

  cairo_move_to (canvas->cr, x, y);
  cairo_line_to (canvas->cr, tpt_time_axis_position (&layout->axis, series->forecast[0]), foot);
  if (series->forecast[2] != TPT_NO_INSTANT)
    cairo_line_to (canvas->cr, tpt_time_axis_position (&layout->axis, series->forecast[2]), foot);
  else
    {
      cairo_line_to (canvas->cr, layout->axis.right, foot);
      cairo_line_to (canvas->cr, layout->axis.right, y);
    }
  cairo_close_path (canvas->cr);
  tpt_canvas_set (canvas, role, 0.2);
  cairo_fill (canvas->cr);

  if (series->forecast[1] == TPT_NO_INSTANT)
    return;
  cairo_set_dash (canvas->cr, dash, 2, 0);
  cairo_set_line_width (canvas->cr, 0.1 * canvas->em);
  tpt_canvas_set (canvas, role, 1);
  cairo_move_to (canvas->cr, x, y);
  cairo_line_to (canvas->cr, tpt_time_axis_position (&layout->axis, series->forecast[1]), foot);
  cairo_stroke (canvas->cr);
}

static void
draw_series (const TptTimeline *timeline,
             const TptTimelineLayout *layout,
             TptCanvas *canvas)
{
  cairo_save (canvas->cr);
  cairo_rectangle (canvas->cr, layout->plot.x - 3, layout->plot.y - 3, layout->plot.width + 6, layout->plot.height + 6);
  cairo_clip (canvas->cr);
  for (guint i = 0; i < timeline->series->len; i++)
    {
      const TptTimelineSeries *series = g_ptr_array_index (timeline->series, i);

      if (series->from != TPT_NO_INSTANT)
        draw_fan (series, layout, canvas, get_series_role (i));
      set_series (canvas, i);
      draw_readings (series, layout, canvas);
    }
  cairo_restore (canvas->cr);
}

static void
draw_legend_item_cb (TptCanvas *canvas,
                     Sign sign,
                     guint series,
                     const char *words,
                     double x,
                     double y)
{
  double width = get_sign_width (canvas);
  TptFigureRect box = { x, y - 0.4 * canvas->em, width, 0.8 * canvas->em };

  cairo_save (canvas->cr);
  if (sign == SIGN_BAR)
    {
      tpt_canvas_set (canvas, TPT_COLOR_ACCENT_MID, 1);
      for (int i = 0; i < 3; i++)
        cairo_rectangle (canvas->cr, x + (0.35 + 0.4 * i) * canvas->em, y + (0.4 - 0.3 * (i + 1) + (i == 2 ? 0.4 : 0)) * canvas->em,
                         0.3 * canvas->em, (0.3 * (i + 1) - (i == 2 ? 0.4 : 0)) * canvas->em);
      cairo_fill (canvas->cr);
    }
  else if (sign == SIGN_GAP)
    hatch (canvas, &box);
  else
    {
      set_series (canvas, series);
      cairo_move_to (canvas->cr, x, floor (y) + 0.5);
      cairo_line_to (canvas->cr, x + width, floor (y) + 0.5);
      cairo_stroke (canvas->cr);
    }
  cairo_restore (canvas->cr);
  tpt_canvas_write (canvas, words, x + width + 0.4 * canvas->em, y, &legend_text);
}

void
tpt_timeline_paint (const TptTimeline *timeline,
                    TptCanvas *canvas,
                    const TptFigureRect *area)
{
  TptFigureRect head = get_head (canvas, area);
  TptTimelineLayout layout;
  double bottom;

  if (tpt_timeline_is_empty (timeline))
    {
      tpt_canvas_say (canvas, area, _("Nothing is on record for this station in this period."));
      return;
    }

  tpt_timeline_lay_out (timeline, canvas, area, &layout);
  bottom = layout.plot.y + layout.plot.height;
  tpt_time_axis_draw_grid (&layout.axis, canvas->cr, layout.plot.y, bottom + 0.3 * canvas->em, canvas->style);
  for (guint i = 0; i < timeline->gaps->len; i++)
    {
      const TptTimelineSpan *gap = g_ptr_array_index (timeline->gaps, i);
      TptFigureRect rect = tpt_timeline_get_span_rect (&layout, &gap->range);

      hatch (canvas, &rect);
    }
  if (timeline->series->len > 0)
    draw_percents (&layout, canvas);
  draw_days (timeline, &layout, canvas);
  draw_brush (&layout, canvas);
  tpt_canvas_set (canvas, TPT_COLOR_QUIET, 1);
  tpt_canvas_rule (canvas, layout.plot.x, floor (bottom) + 0.5, layout.plot.x + layout.plot.width, floor (bottom) + 0.5, 1);
  draw_visits (timeline, &layout, canvas);
  draw_series (timeline, &layout, canvas);
  flow_legend (timeline, canvas, &head, draw_legend_item_cb);
  tpt_time_axis_draw_labels (&layout.axis, canvas->cr, bottom, canvas->style);
}
