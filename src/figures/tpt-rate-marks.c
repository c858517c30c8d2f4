#include "config.h"

#include "tpt-phrases-private.h"
#include "tpt-rate-marks-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

/* In em. */
#define DIAMETER 0.68
#define EFFORT 3.0
#define EFFORT_GAP 0.55 /* below the base line, where marks at nought reach */
#define PLOT_WANTED 12.0
#define ARROW 0.3
#define BAR_MOST 2.6

/* Units: neither a mark nor a bar is smaller. */
#define LEAST 2.5

#define LITTLE_EFFORT 0.1

static const TptText number_text = { TPT_COLOR_QUIET, .size = 0.9, .across = 1, .down = 0.5 };

static double
find_most_nights (const TptRateMark *marks, guint n_marks)
{
  double most = 0;

  for (guint i = 0; i < n_marks; i++)
    most = MAX (most, marks[i].nights);
  return most;
}

static gboolean
has_rate (const TptRateMark *mark)
{
  return mark->nights > 0 && !isnan (mark->rate);
}

/* Where nothing was seen at all, the narrowest interval is what is worth seeing. */
static double
find_top (const TptRateMark *marks, guint n_marks, double most_nights)
{
  double rate = 0, high = 0, narrowest = G_MAXDOUBLE;

  for (guint i = 0; i < n_marks; i++)
    {
      double limit = isnan (marks[i].high) ? marks[i].rate : marks[i].high;

      if (!has_rate (&marks[i]) || marks[i].nights < LITTLE_EFFORT * most_nights)
        continue;
      if (marks[i].rate > rate)
        high = MAX (limit, marks[i].rate);
      rate = MAX (rate, marks[i].rate);
      narrowest = MIN (narrowest, limit);
    }
  if (rate > 0)
    return 1.06 * high;
  return narrowest > 0 && narrowest < G_MAXDOUBLE ? 1.06 * narrowest : 1;
}

void
tpt_rate_scale_set (TptRateScale *scale, const TptRateMark *marks, guint n_marks)
{
  double most = find_most_nights (marks, n_marks);

  *scale = (TptRateScale) { .top = find_top (marks, n_marks, most), .nights = most > 0 ? most : 1 };
}

static double
measure_width (TptCanvas *canvas, const char *words)
{
  double width, height;

  tpt_canvas_measure (canvas, words, &number_text, &width, &height);
  return width;
}

static double
measure_numbers (const TptRateScale *scale, TptCanvas *canvas)
{
  g_autofree char *nights = tpt_words_number (round (scale->nights));
  double widest = MAX (measure_width (canvas, nights), measure_width (canvas, _("nights")));

  return ceil (MAX (widest, tpt_value_axis_width (&scale->rates, canvas->style)));
}

/* The last tick may be below the end: the scale is as long as what it shows. There is one beside nought, also
 * where the step that would have the most room lies beyond the end. */
static void
set_ticks (TptRateScale *scale, TptCanvas *canvas)
{
  double bottom = scale->plot.y + scale->plot.height;
  int ticks = tpt_value_axis_room (scale->plot.height, TRUE, canvas->style);

  do
    tpt_value_axis_init (&scale->rates, scale->top, ticks++, FALSE);
  while (scale->rates.step > scale->top);
  scale->rates.to = scale->top;
  scale->rates.start = bottom;
  scale->rates.end = scale->plot.y;
}

void
tpt_rate_scale_lay_out (TptRateScale *scale, TptCanvas *canvas, const TptFigureRect *area)
{
  double em = canvas->em, inset = tpt_canvas_get_inset (canvas);
  double foot = (EFFORT_GAP + EFFORT) * em;
  double left, right = floor (area->x + area->width - inset - 0.4 * em);

  scale->plot = (TptFigureRect) { 0, floor (area->y + 0.5 * em), 1, MAX (floor (area->height - foot - 0.5 * em), 1) };
  set_ticks (scale, canvas);
  left = floor (area->x + inset + measure_numbers (scale, canvas) + 0.6 * em);
  scale->plot.x = left;
  scale->plot.width = MAX (right - left, 1);
  scale->effort = (TptFigureRect) { left, scale->plot.y + scale->plot.height + EFFORT_GAP * em, scale->plot.width,
                                    (EFFORT - 0.6) * em };
}

double
tpt_rate_scale_get_height (const TptCanvas *canvas)
{
  return (PLOT_WANTED + EFFORT_GAP + EFFORT + 0.5) * canvas->em;
}

double
tpt_rate_scale_place (const TptRateScale *scale, double rate)
{
  return tpt_value_axis_position (&scale->rates, rate);
}

static void
draw_rates (const TptRateScale *scale, TptCanvas *canvas)
{
  double bottom = floor (scale->plot.y + scale->plot.height) + 0.5, right = scale->plot.x + scale->plot.width;

  tpt_value_axis_draw_grid (&scale->rates, canvas->cr, TRUE, scale->plot.x, right, canvas->style);
  tpt_value_axis_draw_upright (&scale->rates, canvas->cr, scale->plot.x - 0.6 * canvas->em, canvas->style);
  tpt_canvas_set (canvas, TPT_COLOR_QUIET, 1);
  tpt_canvas_rule (canvas, scale->plot.x, bottom, right, bottom, 1);
}

/* One line, as long as the longest bar. */
static void
draw_nights (const TptRateScale *scale, TptCanvas *canvas)
{
  double bottom = floor (scale->effort.y + scale->effort.height) + 0.5;
  double x = scale->plot.x - 0.6 * canvas->em;
  g_autofree char *words = tpt_words_number (round (scale->nights));
  TptText name = number_text;

  tpt_canvas_set (canvas, TPT_COLOR_FAINT, 1);
  tpt_canvas_rule (canvas, scale->effort.x, bottom, scale->effort.x + scale->effort.width, bottom, 1);
  name.down = 1;
  tpt_canvas_write (canvas, words, x, bottom - 0.55 * canvas->em, &name);
  name.down = 0.5;
  /* Translators: below a number at a narrow scale, trap nights. */
  tpt_canvas_write (canvas, _("nights"), x, bottom, &name);
}

void
tpt_rate_scale_draw (const TptRateScale *scale, TptCanvas *canvas)
{
  draw_rates (scale, canvas);
  draw_nights (scale, canvas);
}

gboolean
tpt_rate_mark_is_beyond (const TptRateScale *scale, const TptRateMark *mark)
{
  return has_rate (mark) && mark->rate > scale->top;
}

static double
get_diameter (const TptCanvas *canvas, double room)
{
  return CLAMP (0.8 * room, LEAST, DIAMETER * canvas->em);
}

static double
hold (const TptRateScale *scale, double rate)
{
  return MAX (tpt_rate_scale_place (scale, rate), scale->plot.y);
}

TptFigureRect
tpt_rate_mark_get_rect (const TptRateScale *scale, const TptCanvas *canvas, const TptRateMark *mark, double x,
                        double room)
{
  double diameter = get_diameter (canvas, room);
  double top = hold (scale, mark->rate) - diameter / 2;
  double bottom = top + diameter;

  if (!isnan (mark->high))
    top = MIN (top, hold (scale, mark->high));
  if (!isnan (mark->low))
    bottom = MAX (bottom, hold (scale, mark->low));
  return (TptFigureRect) { x - diameter / 2, top, diameter, bottom - top };
}

TptFigureRect
tpt_rate_effort_get_rect (const TptRateScale *scale, const TptCanvas *canvas, const TptRateMark *mark, double x,
                          double room)
{
  double width = CLAMP (floor (0.72 * room), LEAST, BAR_MOST * canvas->em);
  double length = MAX (scale->effort.height * mark->nights / scale->nights, 1);

  return (TptFigureRect) { floor (x - width / 2), scale->effort.y, width, length };
}

TptColorRole
tpt_rate_mark_color (int series)
{
  return (TptColorRole) (TPT_COLOR_SERIES_1 + series % TPT_N_SERIES);
}

/* Disc, diamond, triangle, square. */
static void
trace_shape (TptCanvas *canvas, int series, double x, double y, double radius)
{
  cairo_t *cr = canvas->cr;
  double wide = 1.2 * radius;

  cairo_new_path (cr);
  switch (series % 4)
    {
    case 0:
      cairo_arc (cr, x, y, radius, 0, 2 * G_PI);
      break;
    case 1:
      cairo_move_to (cr, x, y - wide);
      cairo_line_to (cr, x + wide, y);
      cairo_line_to (cr, x, y + wide);
      cairo_line_to (cr, x - wide, y);
      break;
    case 2:
      cairo_move_to (cr, x, y - wide);
      cairo_line_to (cr, x + wide, y + 0.8 * radius);
      cairo_line_to (cr, x - wide, y + 0.8 * radius);
      break;
    default:
      cairo_rectangle (cr, x - 0.85 * radius, y - 0.85 * radius, 1.7 * radius, 1.7 * radius);
    }
  cairo_close_path (cr);
}

static void
draw_shape (TptCanvas *canvas, int series, double x, double y, double radius, gboolean filled, double alpha)
{
  trace_shape (canvas, series, x, y, filled ? radius : radius - 0.5);
  if (filled)
    {
      tpt_canvas_set (canvas, tpt_rate_mark_color (series), alpha);
      cairo_fill (canvas->cr);
      return;
    }
  tpt_canvas_set (canvas, TPT_COLOR_PAPER, 1);
  cairo_fill_preserve (canvas->cr);
  tpt_canvas_set (canvas, tpt_rate_mark_color (series), alpha);
  cairo_set_line_width (canvas->cr, 1.3);
  cairo_stroke (canvas->cr);
}

/* An end above the scale. */
static void
draw_arrow (TptCanvas *canvas, double x, double y, double size, gboolean filled)
{
  cairo_new_path (canvas->cr);
  cairo_move_to (canvas->cr, x - size, y + 1.2 * size);
  cairo_line_to (canvas->cr, x, y);
  cairo_line_to (canvas->cr, x + size, y + 1.2 * size);
  if (filled)
    {
      cairo_close_path (canvas->cr);
      cairo_fill (canvas->cr);
    }
  else
    cairo_stroke (canvas->cr);
}

static void
draw_interval (const TptRateScale *scale, TptCanvas *canvas, const TptRateMark *mark, int series, double x,
               double alpha)
{
  double top = hold (scale, mark->high), bottom = hold (scale, mark->low);

  tpt_canvas_set (canvas, tpt_rate_mark_color (series), 0.62 * alpha);
  if (bottom > top)
    tpt_canvas_rule (canvas, x, top, x, bottom, 1.4);
  if (mark->high > scale->top)
    draw_arrow (canvas, x, top, ARROW * canvas->em, FALSE);
}

void
tpt_rate_mark_draw (const TptRateScale *scale, TptCanvas *canvas, const TptRateMark *mark, int series, double x,
                    double room, double alpha)
{
  double radius = get_diameter (canvas, room) / 2;

  if (!has_rate (mark))
    return;
  if (!isnan (mark->low) && !isnan (mark->high))
    draw_interval (scale, canvas, mark, series, x, alpha);
  if (tpt_rate_mark_is_beyond (scale, mark))
    {
      tpt_canvas_set (canvas, tpt_rate_mark_color (series), alpha);
      draw_arrow (canvas, x, scale->plot.y, MAX (1.2 * radius, LEAST), TRUE);
      return;
    }
  draw_shape (canvas, series, x, tpt_rate_scale_place (scale, mark->rate), radius, mark->detections > 0, alpha);
}

void
tpt_rate_effort_draw (const TptRateScale *scale, TptCanvas *canvas, const TptRateMark *mark, int series, double x,
                      double room, double alpha)
{
  TptFigureRect rect = tpt_rate_effort_get_rect (scale, canvas, mark, x, room);

  if (!(mark->nights > 0))
    return;
  tpt_canvas_set (canvas, tpt_rate_mark_color (series), 0.5 * alpha);
  cairo_rectangle (canvas->cr, rect.x, rect.y, rect.width, rect.height);
  cairo_fill (canvas->cr);
}

void
tpt_rate_mark_draw_sample (TptCanvas *canvas, int series, double x, double y)
{
  draw_shape (canvas, series, x, y, DIAMETER / 2 * canvas->em, TRUE, 1);
}

char *
tpt_rate_mark_say (const TptRateMark *mark)
{
  g_autofree char *found = tpt_phrase_detections ((double) mark->detections);
  g_autofree char *nights = tpt_phrase_trap_nights (mark->nights);
  g_autofree char *rate = NULL, *low = NULL, *high = NULL;

  if (!(mark->nights > 0))
    return mark->detections > 0 ? g_strdup_printf (_("%s while no camera is on record as at work"), found)
                                : g_strdup (_("no camera was at work"));
  if (isnan (mark->rate))
    return g_strdup_printf (_("%1$s in %2$s"), found, nights);
  rate = tpt_words_rate (mark->rate);
  if (isnan (mark->low) || isnan (mark->high))
    /* Translators: "11 detections", "703 trap nights", detections per 100 trap nights. */
    return g_strdup_printf (_("%1$s in %2$s: %3$s per 100"), found, nights, rate);
  low = tpt_words_rate (mark->low);
  high = tpt_words_rate (mark->high);
  /* Translators: "11 detections", "703 trap nights", detections per 100 trap nights, and its interval. */
  return g_strdup_printf (_("%1$s in %2$s: %3$s per 100 (%4$s to %5$s)"), found, nights, rate, low, high);
}
