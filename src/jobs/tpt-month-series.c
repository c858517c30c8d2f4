#include "config.h"

#include "tpt-job-months-private.h"

#include <math.h>

#include "sci-rate-ratio.h"
#include "sci-trend.h"
#include "tpt-months-words-private.h"

#define LEVEL 0.95
#define YEAR (365.25 * (double) TPT_DAY)

void
tpt_month_series_free (TptMonthSeries *self)
{
  g_clear_pointer (&self->filter, tpt_filter_free);
  g_clear_pointer (&self->pass, tpt_pass_unref);
  g_clear_pointer (&self->bins, tpt_month_bins_free);
  g_clear_pointer (&self->months, g_array_unref);
  g_free (self->trend.why_not);
  g_free (self->fitted);
  g_free (self);
}

static TptRange
clip (TptRange month, TptRange by)
{
  return (TptRange){ by.from != TPT_NO_INSTANT ? MAX (month.from, by.from) : month.from,
                     by.to != TPT_NO_INSTANT ? MIN (month.to, by.to) : month.to };
}

static void
add_months (TptMonthSeries *self)
{
  g_autofree double *nights = tpt_month_bins_nights (self->bins, self->pass);

  self->months = g_array_new (FALSE, TRUE, sizeof (TptMonthRate));
  g_array_set_size (self->months, self->bins->n);
  for (guint i = 0; i < self->bins->n; i++)
    {
      TptMonthRate *month = &g_array_index (self->months, TptMonthRate, i);

      month->when = clip ((TptRange){ self->bins->edges[i], self->bins->edges[i + 1] }, self->filter->range);
      tpt_month_bins_name (self->bins, i, month->name);
      month->rate.nights = nights[i];
    }
}

/* A species at a station adds to a month's stations once: the last month and station seen for each place. */
static void
count_detections (TptMonthSeries *self, const gboolean *chosen)
{
  g_autoptr (GArray) picked = tpt_pass_pick (self->pass, chosen);
  g_autofree guint *last_month = g_new0 (guint, self->pass->places->len + 1); /* and 1 */

  for (guint i = 0; i < picked->len; i++)
    {
      const TptDetection *detection = &g_array_index (picked, TptDetection, i);
      guint number = tpt_month_bins_find (self->bins, detection->at);
      TptRate *month = &g_array_index (self->months, TptMonthRate, number).rate;

      month->detections++;
      month->individuals += detection->animals;
      month->stations += last_month[detection->place] != number + 1;
      self->rate.detections++;
      self->rate.individuals += detection->animals;
      self->rate.stations += last_month[detection->place] == 0;
      last_month[detection->place] = number + 1;
    }
  self->rate.nights = self->pass->all_nights;
  tpt_rate_fill (&self->rate);
  for (guint i = 0; i < self->months->len; i++)
    tpt_rate_fill (&g_array_index (self->months, TptMonthRate, i).rate);
}

/* The middle of what of a month lies within the period with effort, years from the beginning of one. */
static double
find_middle (const TptMonthSeries *self, guint month)
{
  TptRange when = clip (g_array_index (self->months, TptMonthRate, month).when, self->pass->period);
  TptInstant middle = when.from + (when.to - when.from) / 2;

  return (double) (middle - tpt_days_from_civil (2000, 1, 1) * TPT_DAY) / YEAR;
}

static void
fit_trend (TptMonthSeries *self)
{
  g_autofree SciTrendMonth *months = g_new (SciTrendMonth, self->bins->n + 1);
  SciTrend trend;

  for (guint i = 0; i < self->bins->n; i++)
    {
      const TptRate *rate = &g_array_index (self->months, TptMonthRate, i).rate;

      months[i] = (SciTrendMonth){ find_middle (self, i), rate->nights, rate->nights > 0 ? rate->detections : 0 };
    }
  trend = sci_trend (months, self->bins->n, LEVEL);
  self->trend = (TptTrend){ trend.per_year, trend.lower, trend.upper, trend.p, trend.dispersion, (guint) trend.months,
                            trend.seasonal, tpt_trend_say_why_not (&trend) };
  self->fitted = g_new (double, self->bins->n + 1);
  for (guint i = 0; i < self->bins->n; i++)
    self->fitted[i] = months[i].effort > 0 ? 100 * sci_trend_rate (&trend, months[i].years) : NAN;
}

TptMonthSeries *
tpt_month_series_new (TptStore *store, const TptFilter *filter, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptMonthSeries) self = g_new0 (TptMonthSeries, 1);
  g_autofree gboolean *chosen = NULL;

  self->filter = tpt_filter_copy (filter);
  self->pass = tpt_pass_get (store, filter, cancellable, error);
  chosen = self->pass != NULL ? tpt_pass_choose (self->pass, (const char *const *) filter->species, error) : NULL;
  if (chosen == NULL)
    return NULL;
  self->bins = tpt_month_bins_new (self->pass);
  add_months (self);
  count_detections (self, chosen);
  fit_trend (self);
  return g_steal_pointer (&self);
}

TptRateRatio
tpt_month_series_compare (const TptMonthSeries *self, const TptMonthSeries *other)
{
  SciRateRatio ratio =
    sci_rate_ratio (other->rate.detections, other->rate.nights, self->rate.detections, self->rate.nights, LEVEL);

  return (TptRateRatio){ ratio.ratio, ratio.lower, ratio.upper, ratio.p };
}
