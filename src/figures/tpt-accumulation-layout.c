#include "config.h"

#include "tpt-accumulation-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

/* In em. */
#define HEAD 1.5
#define FOOT 3.2 /* ticks, their numbers, and what they are */
#define PLOT_WANTED 14.0
#define MARK 0.9
#define LABEL_GAP 1.0
#define LABEL_LINE 1.15
#define SHARE_OF_LABELS 0.36
#define SHARE_OF_MARKS 0.14

/* An interval stretches the scale to no more than this much of what is estimated. */
#define STRETCH_MOST 1.6

static double
find_top (const TptAccumulation *accumulation)
{
  double top = 0, high = 0;

  for (guint i = 0; i < accumulation->steps->len; i++)
    top = MAX (top, tpt_accumulation_get_step (accumulation, i)->high);
  for (guint i = 0; i < accumulation->levels->len; i++)
    {
      const TptAccumulationLevel *level = tpt_accumulation_get_level (accumulation, i);

      top = MAX (top, level->level);
      if (!isnan (level->high))
        high = MAX (high, level->high);
    }
  return 1.03 * MAX (top, MIN (high, STRETCH_MOST * top));
}

static double
measure (TptCanvas *canvas, const char *words)
{
  const TptText text = { TPT_COLOR_INK, .size = 0.9 };
  double width, height;

  tpt_canvas_measure (canvas, words, &text, &width, &height);
  return ceil (width);
}

/* Room for a name above its numbers. */
static double
measure_labels (const TptAccumulation *accumulation, TptCanvas *canvas)
{
  double widest = measure (canvas, "99.9 (99.9)");

  for (guint i = 0; i < accumulation->levels->len; i++)
    {
      const TptAccumulationLevel *level = tpt_accumulation_get_level (accumulation, i);
      g_autofree char *low = tpt_words_number (isnan (level->low) ? 0 : level->low);
      g_autofree char *high = tpt_words_number (isnan (level->high) ? 0 : level->high);
      g_autofree char *value = tpt_words_number (level->level);
      g_autofree char *numbers = g_strdup_printf (_("%1$s (%2$s to %3$s)"), value, low, high);

      widest = MAX (widest, MAX (measure (canvas, level->label), measure (canvas, numbers)));
    }
  return widest + 1;
}

/* The heights asked for, sorted; @order tells whose they are. */
static void
sort_by_height (const double *wanted, guint n, guint *order)
{
  for (guint i = 0; i < n; i++)
    {
      guint at = i;

      for (; at > 0 && wanted[order[at - 1]] > wanted[i]; at--)
        order[at] = order[at - 1];
      order[at] = i;
    }
}

/* Words keep apart: half way between moving them down only and moving them up only, for
 * both keep apart, and so does their mean. */
static void
spread (double *y, guint n, double apart, double top, double bottom)
{
  double down[TPT_ACCUMULATION_LABELS], up[TPT_ACCUMULATION_LABELS];
  guint order[TPT_ACCUMULATION_LABELS];

  sort_by_height (y, n, order);
  for (guint i = 0; i < n; i++)
    down[i] = MAX (y[order[i]], i == 0 ? top : down[i - 1] + apart);
  for (guint i = n; i > 0; i--)
    {
      down[i - 1] = MIN (down[i - 1], i == n ? bottom : down[i] - apart);
      up[i - 1] = MIN (y[order[i - 1]], i == n ? bottom : up[i] - apart);
    }
  for (guint i = 0; i < n; i++)
    {
      up[i] = MAX (up[i], i == 0 ? top : up[i - 1] + apart);
      y[order[i]] = (down[i] + up[i]) / 2;
    }
}

static void
place_labels (const TptAccumulation *accumulation, TptCanvas *canvas, const TptFigureRect *area,
              TptAccumulationLayout *layout)
{
  double line = LABEL_LINE * canvas->em, top = area->y, bottom = layout->plot.y + layout->plot.height;
  guint n = MIN (accumulation->levels->len + 1, TPT_ACCUMULATION_LABELS);

  layout->label_lines = (bottom - top) / n >= 2.2 * line ? 2 : 1;
  layout->n_labels = MIN (n, (guint) ((bottom - top) / (line * layout->label_lines)));
  for (guint i = 0; i < layout->n_labels; i++)
    {
      double value = i == 0 ? tpt_accumulation_get_step (accumulation, accumulation->steps->len - 1)->mean
                            : tpt_accumulation_get_level (accumulation, i - 1)->level;

      layout->label_y[i] = tpt_value_axis_position (&layout->species, value);
    }
  line *= layout->label_lines;
  spread (layout->label_y, layout->n_labels, line + (layout->label_lines == 2 ? 0.1 * line : 0), top + line / 2,
          bottom - line / 2);
}

void
tpt_accumulation_lay_out (const TptAccumulation *accumulation, TptCanvas *canvas, const TptFigureRect *area,
                          TptAccumulationLayout *layout)
{
  double em = canvas->em, inset = tpt_canvas_get_inset (canvas);
  double top = floor (area->y + HEAD * em), height = MAX (floor (area->height - (HEAD + FOOT) * em), 1);
  double right = area->x + area->width - inset, left;

  *layout = (TptAccumulationLayout) { .plot = *area };
  if (accumulation->steps->len == 0)
    return;
  tpt_value_axis_init (&layout->species, find_top (accumulation), tpt_value_axis_room (height, TRUE, canvas->style),
                       TRUE);
  layout->species.to = MAX (find_top (accumulation), 1);
  layout->species.start = top + height;
  layout->species.end = top;

  left = floor (area->x + inset + tpt_value_axis_width (&layout->species, canvas->style) + 0.6 * em);
  layout->label_width = MIN (measure_labels (accumulation, canvas), floor (SHARE_OF_LABELS * area->width));
  layout->labels = floor (right - layout->label_width);
  layout->mark_width = MIN (MARK * em, SHARE_OF_MARKS * area->width / MAX (accumulation->levels->len, 1));
  layout->marks = floor (layout->labels - (LABEL_GAP + 0.5) * em - layout->mark_width * accumulation->levels->len);
  layout->plot = (TptFigureRect) { left, top, MAX (layout->marks - 0.6 * em - left, 1), height };
  place_labels (accumulation, canvas, area, layout);
}

double
tpt_accumulation_get_height (const TptAccumulation *accumulation, TptCanvas *canvas)
{
  return ceil ((HEAD + FOOT + PLOT_WANTED) * canvas->em);
}

double
tpt_accumulation_place (const TptAccumulation *accumulation, const TptAccumulationLayout *layout, guint index)
{
  guint n = accumulation->steps->len;

  return layout->plot.x + layout->plot.width * (n > 1 ? index / (double) (n - 1) : 1);
}

TptFigureRect
tpt_accumulation_get_level_rect (const TptAccumulation *accumulation, const TptAccumulationLayout *layout,
                                 const TptCanvas *canvas, guint index)
{
  const TptAccumulationLevel *level = tpt_accumulation_get_level (accumulation, index);
  double width = layout->mark_width, y = tpt_value_axis_position (&layout->species, level->level);
  double top = y - 1.5, bottom = y + 1.5;

  if (!isnan (level->high))
    top = MIN (top, MAX (tpt_value_axis_position (&layout->species, level->high), layout->plot.y));
  if (!isnan (level->low))
    bottom = MAX (bottom, MIN (tpt_value_axis_position (&layout->species, level->low), layout->species.start));
  return (TptFigureRect) { layout->marks + (index + 0.1) * width, top, 0.8 * width, bottom - top };
}

TptFigureRect
tpt_accumulation_get_label_rect (const TptAccumulationLayout *layout, const TptCanvas *canvas, guint index)
{
  double height = LABEL_LINE * canvas->em * layout->label_lines;

  return (TptFigureRect) { layout->labels, layout->label_y[index] - height / 2, layout->label_width, height };
}
