#include "config.h"

#include "tpt-hours-private.h"

/* In em. */
#define PLOT_WANTED 15.0
#define PLOT_LEAST 6.0 /* before the legend and what the hours are of give way */
#define HEAD 1.5
#define NAMES 1.5 /* night and day, inside the plot above the curve */
#define LANE 0.85
#define LANES_MOST 3.4
#define TITLE 1.35

static const TptText legend_text = { TPT_COLOR_INK, .size = 0.92, .down = 0.5 };
static const TptText say_text = { TPT_COLOR_QUIET, .size = 0.92, .italic = TRUE, .wrap = TRUE };

double
tpt_hours_place (const TptHoursLayout *layout,
                 double hour)
{
  return layout->plot.x + layout->plot.width * hour / 24;
}

TptFigureRect
tpt_hours_get_lane (const TptHoursLayout *layout,
                    guint row)
{
  double top = layout->plot.y + layout->plot.height + row * layout->lane_height;

  return (TptFigureRect) { layout->plot.x, top, layout->plot.width, layout->lane_height };
}

/* The greatest value of all that is drawn, percent. */
static double
find_most (const TptHours *hours)
{
  double most = 0;

  for (guint i = 0; i < hours->rows->len; i++)
    {
      const TptHoursRow *row = g_ptr_array_index (hours->rows, i);
      gboolean banded = tpt_hours_has_band (row);

      for (guint j = 0; row->density != NULL && j < row->points; j++)
        most = MAX (most, banded ? MAX (row->high[j], row->density[j]) : row->density[j]);
      for (guint j = 0; tpt_hours_has_bars (hours) && j < 24; j++)
        most = MAX (most, tpt_hours_get_bar (row, j));
    }
  return most;
}

double
tpt_hours_measure_legend (const TptHours *hours,
                          TptCanvas *canvas)
{
  double widest = 0, width, height;

  for (guint i = 0; i < hours->rows->len; i++)
    {
      g_autofree char *words = tpt_hours_say_legend (g_ptr_array_index (hours->rows, i));

      tpt_canvas_measure (canvas, words, &legend_text, &width, &height);
      widest = MAX (widest, width);
    }
  return ceil (widest) + (TPT_HOURS_SAMPLE + 1.5) * canvas->em;
}

static double
set_legend (const TptHours *hours,
            TptCanvas *canvas,
            TptHoursLayout *layout)
{
  double room = layout->right - layout->left;

  layout->n_columns = 1;
  layout->n_lines = 0;
  if (hours->rows->len < 2)
    return 0;
  layout->n_columns = CLAMP ((guint) (room / tpt_hours_measure_legend (hours, canvas)), 1, hours->rows->len);
  layout->n_lines = (hours->rows->len + layout->n_columns - 1) / layout->n_columns;
  return (layout->n_lines * TPT_HOURS_LINE + 0.3) * canvas->em;
}

double
tpt_hours_set_reasons (const TptHours *hours,
                       TptCanvas *canvas,
                       const TptHoursLayout *layout,
                       gboolean paint)
{
  double used = 0, width, height;

  for (guint i = 0; !canvas->style->framed && i < hours->rows->len; i++)
    {
      g_autofree char *reason = tpt_hours_say_reason (hours, g_ptr_array_index (hours->rows, i));
      TptText text = say_text;

      if (reason == NULL)
        continue;
      text.width = MAX (layout->right - layout->left, 1);
      tpt_canvas_measure (canvas, reason, &text, &width, &height);
      if (paint)
        tpt_canvas_write (canvas, reason, layout->left, layout->says + used, &text);
      used += height;
    }
  return used > 0 ? used + 0.4 * canvas->em : 0;
}

static void
set_scale (const TptHours *hours,
           TptCanvas *canvas,
           TptHoursLayout *layout,
           double height)
{
  int ticks = MIN (tpt_value_axis_room (height, TRUE, canvas->style), 6);

  tpt_value_axis_init (&layout->axis, find_most (hours), ticks, FALSE);
  layout->axis.percent = TRUE;
}

void
tpt_hours_lay_out (const TptHours *hours,
                   TptCanvas *canvas,
                   const TptFigureRect *area,
                   TptHoursLayout *layout)
{
  double em = canvas->em, inset = tpt_canvas_get_inset (canvas);
  double lanes, legend, fixed, left, right, names = tpt_hours_has_light (hours) ? NAMES * em : 0.3 * em;

  layout->left = area->x + inset;
  layout->right = area->x + area->width - inset;
  layout->lane_height = MIN (LANE, LANES_MOST / MAX (hours->rows->len, 1)) * em;
  lanes = layout->lane_height * hours->rows->len;
  legend = set_legend (hours, canvas, layout);
  layout->says_height = tpt_hours_set_reasons (hours, canvas, layout, FALSE);

  fixed = HEAD * em + lanes + TPT_HOURS_LABELS * em;
  layout->titled = area->height - fixed - legend - layout->says_height >= (PLOT_LEAST + TITLE) * em;
  if (!layout->titled)
    {
      layout->n_lines = 0;
      layout->says_height = legend = 0;
    }
  layout->head = area->y + 0.2 * em;
  layout->legend = area->y + HEAD * em;
  layout->says = layout->legend + legend;
  layout->plot.y = ceil (layout->says + layout->says_height);
  layout->plot.height = MAX (floor (area->y + area->height - layout->plot.y - lanes - TPT_HOURS_LABELS * em -
                                    (layout->titled ? TITLE * em : 0)), 1);

  set_scale (hours, canvas, layout, MAX (layout->plot.height - names, 1));
  left = floor (layout->left + tpt_value_axis_width (&layout->axis, canvas->style) + 0.6 * em);
  right = floor (layout->right - MAX (1.6 * em - inset, 0.8 * em));
  layout->plot.x = left;
  layout->plot.width = MAX (right - left, 1);
  layout->axis.start = layout->plot.y + layout->plot.height;
  layout->axis.end = MIN (layout->plot.y + names, layout->axis.start - 1);
}

double
tpt_hours_get_height (const TptHours *hours,
                      TptCanvas *canvas,
                      double width)
{
  TptFigureRect any = { 0, 0, width, 1e6 };
  TptHoursLayout layout;

  tpt_hours_lay_out (hours, canvas, &any, &layout);
  return ceil (any.height - layout.plot.height + PLOT_WANTED * canvas->em);
}
