#include "config.h"

#include "tpt-job-months-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-months.h"
#include "tpt-words.h"

/* The month a period begins with: where it was asked to, else where there is anything. */
static int
find_begin (const TptMonthSeries *self)
{
  TptInstant from = self->filter->range.from;

  return from != TPT_NO_INSTANT ? tpt_month_number (self->bins->zone, from) : self->bins->first;
}

static TptRange
find_period (const TptMonthSeries *self)
{
  TptRange period = self->filter->range;

  if (period.from == TPT_NO_INSTANT)
    period.from = self->bins->edges[0];
  if (period.to == TPT_NO_INSTANT)
    period.to = self->bins->edges[self->bins->n];
  return period;
}

/* By how many months the second is moved to lie over the first; none where the periods share time. */
static int
find_shift (const TptMonthSeries *self, const TptMonthSeries *other)
{
  TptRange a, b;

  if (self->bins->n == 0 || other->bins->n == 0)
    return 0;
  a = find_period (self);
  b = find_period (other);
  return a.from < b.to && b.from < a.to ? 0 : find_begin (self) - find_begin (other);
}

/* A month, or its part, where it lies on the axis. */
static TptRange
move (TptRange when, TptRange month, TptRange axis)
{
  TptRange moved = { MIN (axis.from + (when.from - month.from), axis.to), axis.to };

  if (when.to != month.to)
    moved.to = MIN (axis.from + (when.to - month.from), axis.to);
  return moved;
}

static void
add_month (TptFigure *figure, int series, const TptMonthSeries *self, guint number, int shift)
{
  const TptMonthRate *month = &g_array_index (self->months, TptMonthRate, number);
  const TptMonthBins *bins = self->bins;
  int on_axis = bins->first + (int) number + shift;
  TptRange whole = { bins->edges[number], bins->edges[number + 1] };
  TptRange axis = { tpt_month_start (bins->zone, on_axis), tpt_month_start (bins->zone, on_axis + 1) };
  TptMonth drawn = {
    .when = move (month->when, whole, axis),
    .means = month->when,
    .nights = month->rate.nights,
    .detections = month->rate.detections,
    .rate = month->rate.per_100,
    .low = month->rate.low,
    .high = month->rate.high,
    .fitted = self->fitted[number],
  };

  tpt_months_add_month (figure, series, &drawn);
}

static void
add_series (TptFigure *figure, const TptMonthSeries *self, const char *label, int shift)
{
  int series = tpt_months_add_series (figure, label, NULL);

  for (guint i = 0; i < self->bins->n; i++)
    add_month (figure, series, self, i, shift);
}

/* Whole months that hold both. */
static TptRange
find_axis (const TptMonthSeries *self, const TptMonthSeries *other, int shift)
{
  int first = G_MAXINT, end = G_MININT;

  if (self->bins->n > 0)
    {
      first = self->bins->first;
      end = self->bins->first + (int) self->bins->n;
    }
  if (other != NULL && other->bins->n > 0)
    {
      first = MIN (first, other->bins->first + shift);
      end = MAX (end, other->bins->first + shift + (int) other->bins->n);
    }
  if (first >= end) /* nothing at all: the month it is */
    {
      first = tpt_month_number (self->bins->zone, self->pass->now);
      end = first + 1;
    }
  return (TptRange){ tpt_month_start (self->bins->zone, first), tpt_month_start (self->bins->zone, end) };
}

static void
set_caption (TptFigure *figure, const TptMonthSeries *self, const TptMonthSeries *other, const char *summary)
{
  TptFigureCaption caption = TPT_FIGURE_CAPTION_INIT;
  TptPass *other_pass = other != NULL ? other->pass : NULL;
  g_autofree char *species =
    tpt_pass_name_both (self->pass, self->filter, other_pass, other != NULL ? other->filter : NULL);
  g_autofree char *title = g_strdup_printf (_("%s: month by month"), species);
  g_autofree char *method = tpt_month_series_say_method (self, other != NULL);

  caption.title = title;
  caption.summary = summary;
  caption.n = self->rate.detections + (other != NULL ? other->rate.detections : 0);
  caption.n_of = _("detections");
  /* Two species stand on the same nights, two periods do not: a sum would be true of one of them only. */
  caption.trap_nights = other == NULL || other_pass == self->pass ? self->rate.nights : NAN;
  caption.period = tpt_pass_unite_periods (self->pass, other_pass);
  caption.zone = self->pass->zone;
  caption.method = method;
  caption.units = _("detections per 100 trap nights");
  tpt_figure_set_caption (figure, &caption);
}

TptFigure *
tpt_month_series_draw (const TptMonthSeries *self, const TptMonthSeries *other, const char *summary)
{
  int shift = other != NULL ? find_shift (self, other) : 0;
  TptFigure *figure = tpt_months_new (find_axis (self, other, shift), self->pass->zone);
  g_autofree char *first = other != NULL ? tpt_pass_name_difference (self->pass, self->filter, other->filter) : NULL;

  add_series (figure, self, first, 0);
  if (other != NULL)
    {
      g_autofree char *second = tpt_pass_name_difference (other->pass, other->filter, self->filter);

      add_series (figure, other, second, shift);
    }
  set_caption (figure, self, other, summary);
  return figure;
}
