#include "config.h"

#include "tpt-figure-stretch.h"

#include <glib/gi18n-lib.h>

#include "tpt-time-ticks.h"
#include "tpt-words.h"

#define QUARTERS 96 /* of a day */
#define MOST_STEPS 40 /* along an axis of time, for the keyboard */

static const TptStretch nothing = TPT_STRETCH_INIT;

static gboolean
has_hours (const TptStretchGround *ground)
{
  return !isnan (tpt_figure_hour_at (ground->figure, 0, ground->width, ground->height, ground->style));
}

/* The quarter of an hour at @x, counted on past the ends of the axis. */
static int
find_quarter (const TptStretchGround *ground, double x)
{
  TptFigureRect plot = tpt_figure_plot_rect (ground->figure, ground->width, ground->height, ground->style);

  return (int) lround ((x - plot.x) / MAX (plot.width, 1) * QUARTERS);
}

/* @from and @length in quarters; @from on any day. */
static void
set_hours (TptStretch *stretch, int from, int length)
{
  int start = ((from % QUARTERS) + QUARTERS) % QUARTERS, end = (start + length) % QUARTERS;

  if (length >= QUARTERS)
    start = end = 0;
  stretch->kind = TPT_STRETCH_HOURS;
  stretch->hour_from = start / 4.0;
  stretch->hour_to = (end == 0 ? QUARTERS : end) / 4.0;
}

static gboolean
drag_hours (TptStretch *stretch, const TptStretchGround *ground, double from, double to)
{
  int start = CLAMP (find_quarter (ground, from), 0, QUARTERS);
  int end = CLAMP (find_quarter (ground, to), start - QUARTERS, start + QUARTERS);

  if (start == end)
    return FALSE;
  set_hours (stretch, MIN (start, end), ABS (end - start));
  return TRUE;
}

static gboolean
find_instant (const TptStretchGround *ground, double x, TptInstant *instant)
{
  return tpt_figure_value_at (ground->figure, x, ground->width, ground->height, ground->style, instant);
}

static gboolean
drag_time (TptStretch *stretch, const TptStretchGround *ground, double from, double to)
{
  TptRange range;

  if (!find_instant (ground, MIN (from, to), &range.from) || !find_instant (ground, MAX (from, to), &range.to) ||
      range.to <= range.from)
    return FALSE;
  stretch->kind = TPT_STRETCH_TIME;
  stretch->range = range;
  return TRUE;
}

gboolean
tpt_stretch_drag (TptStretch *stretch, const TptStretchGround *ground, double from, double to)
{
  *stretch = nothing;
  return has_hours (ground) ? drag_hours (stretch, ground, from, to) : drag_time (stretch, ground, from, to);
}

/* (transfer full) (element-type TptInstant): where steps begin and end. None is less than a day. */
static GArray *
make_steps (const TptStretchGround *ground, TptRange axis)
{
  TptZone *zone = tpt_figure_get_zone (ground->figure);
  TptTickStep step = tpt_time_ticks_step (axis, zone, MOST_STEPS);
  g_autoptr (GArray) ticks =
    tpt_time_ticks_at_step (axis, zone, step.unit < TPT_TICK_DAYS ? (TptTickStep){ TPT_TICK_DAYS, 1 } : step);
  GArray *steps = g_array_new (FALSE, FALSE, sizeof (TptInstant));

  g_array_append_val (steps, axis.from);
  for (guint i = 0; i < ticks->len; i++)
    {
      TptInstant at = g_array_index (ticks, TptTick, i).at;

      if (at > axis.from && at < axis.to)
        g_array_append_val (steps, at);
    }
  g_array_append_val (steps, axis.to);
  return steps;
}

/* The step with @at in it; the last one for the end of the axis. */
static int
find_step (GArray *steps, TptInstant at)
{
  for (guint i = 0; i + 2 < steps->len; i++)
    if (at < g_array_index (steps, TptInstant, i + 1))
      return (int) i;
  return (int) steps->len - 2;
}

static void
count_grown (TptStretch *stretch, gboolean first, TptInstant anchor, int by, int least, int most)
{
  if (first)
    stretch->anchor = anchor;
  stretch->grown = first ? 0 : CLAMP (stretch->grown + by, least, most);
}

static gboolean
grow_time (TptStretch *stretch, const TptStretchGround *ground, double x, int by)
{
  gboolean first = stretch->kind != TPT_STRETCH_TIME || stretch->anchor == TPT_NO_INSTANT;
  g_autoptr (GArray) steps = NULL;
  TptInstant at;
  TptRange axis;
  int step;

  if (!find_instant (ground, -G_MAXINT, &axis.from) || !find_instant (ground, G_MAXINT, &axis.to) ||
      !find_instant (ground, x, &at) || axis.to <= axis.from)
    return FALSE;
  steps = make_steps (ground, axis);
  step = find_step (steps, first ? at : stretch->anchor);
  count_grown (stretch, first, at, by, -step, (int) steps->len - 2 - step);
  stretch->kind = TPT_STRETCH_TIME;
  stretch->range.from = g_array_index (steps, TptInstant, step + MIN (stretch->grown, 0));
  stretch->range.to = g_array_index (steps, TptInstant, step + 1 + MAX (stretch->grown, 0));
  return TRUE;
}

static gboolean
grow_hours (TptStretch *stretch, const TptStretchGround *ground, double x, int by)
{
  double hour = tpt_figure_hour_at (ground->figure, x, ground->width, ground->height, ground->style);
  gboolean first = stretch->kind != TPT_STRETCH_HOURS || stretch->anchor == TPT_NO_INSTANT;

  count_grown (stretch, first, (TptInstant) MIN (floor (hour), 23), by, -23, 23);
  set_hours (stretch, 4 * ((int) stretch->anchor + MIN (stretch->grown, 0)), 4 * (1 + ABS (stretch->grown)));
  return TRUE;
}

gboolean
tpt_stretch_grow (TptStretch *stretch, const TptStretchGround *ground, double x, int by)
{
  return has_hours (ground) ? grow_hours (stretch, ground, x, by) : grow_time (stretch, ground, x, by);
}

static char *
word_hour (double hour)
{
  int minutes = (int) lround (hour * 60);

  return g_strdup_printf ("%02d:%02d", minutes / 60, minutes % 60);
}

static char *
word_hours (const TptStretch *stretch)
{
  g_autofree char *from = word_hour (stretch->hour_from);
  g_autofree char *to = word_hour (stretch->hour_to);

  if (stretch->hour_from <= 0 && stretch->hour_to >= 24)
    return g_strdup (_("the whole day"));
  /* Translators: two times of the day. */
  return g_strdup_printf (_("%s to %s"), from, to);
}

char *
tpt_stretch_describe (const TptStretch *stretch, TptFigure *figure)
{
  switch (stretch->kind)
    {
    case TPT_STRETCH_TIME:
      return tpt_words_period (stretch->range, tpt_figure_get_zone (figure));
    case TPT_STRETCH_HOURS:
      return word_hours (stretch);
    case TPT_STRETCH_NONE:
    default:
      return g_strdup ("");
    }
}
