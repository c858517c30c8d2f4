#include "config.h"

#include "tpt-months-words-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-job-months-private.h"
#include "tpt-words.h"

char *
tpt_trend_say_why_not (const SciTrend *trend)
{
  guint months = (guint) trend->months, seen = (guint) trend->months_seen, events = (guint) trend->events;

  switch (trend->state)
    {
    case SCI_TREND_FOUND:
      return NULL;
    case SCI_TREND_FEW_MONTHS:
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "A trend needs %2$d months with effort; there is %1$u.",
                                           "A trend needs %2$d months with effort; there are %1$u.", months),
                              months, SCI_TREND_MONTHS);
    case SCI_TREND_SHORT:
      return g_strdup_printf (
        _("A trend cannot be told from the season in less than %2$d months; the record covers %1$u."),
        (guint) trend->months_spanned, SCI_TREND_SPAN);
    case SCI_TREND_NO_EVENTS:
      return g_strdup_printf (_("Without a detection there is no trend; %d are needed."), SCI_TREND_EVENTS);
    case SCI_TREND_FEW_EVENTS:
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "A trend needs %2$d detections; there is %1$u.",
                                           "A trend needs %2$d detections; there are %1$u.", events),
                              events, SCI_TREND_EVENTS);
    case SCI_TREND_FEW_MONTHS_SEEN:
      return g_strdup_printf (
        g_dngettext (GETTEXT_PACKAGE, "A trend needs detections in %2$u different months; there is %1$u such month.",
                     "A trend needs detections in %2$u different months; there are %1$u such months.", seen),
        seen, (guint) trend->months_seen_needed);
    case SCI_TREND_NO_FIT:
    default:
      return g_strdup (_("No trend fits these months: the detections came all at once, or stopped all at once."));
    }
}

static char *
say_rate (const TptMonthSeries *self)
{
  g_autofree char *rate = tpt_words_rate (self->rate.per_100), *low = tpt_words_rate (self->rate.low);
  g_autofree char *high = tpt_words_rate (self->rate.high);

  return g_strdup_printf (_("%1$s per 100 trap nights (%2$s to %3$s)"), rate, low, high);
}

static char *
join_trend (const TptMonthSeries *self)
{
  const TptTrend *trend = &self->trend;
  g_autofree char *factor = tpt_words_rate (trend->per_year), *low = tpt_words_rate (trend->low);
  g_autofree char *high = tpt_words_rate (trend->high), *p = tpt_words_chance (trend->p);

  if (trend->low > 1)
    return g_strdup_printf (_("The rate rose by a factor of %1$s a year (%2$s to %3$s; %4$s)."), factor, low, high, p);
  if (trend->high < 1)
    return g_strdup_printf (_("The rate fell, each year to %1$s of what it was (%2$s to %3$s; %4$s)."), factor, low,
                            high, p);
  return g_strdup_printf (_("No change over the years is certain: a factor of %1$s a year (%2$s to %3$s; %4$s)."),
                          factor, low, high, p);
}

char *
tpt_month_series_say_trend (const TptMonthSeries *self)
{
  g_autofree char *species = tpt_pass_name_species (self->pass, (const char *const *) self->filter->species);
  g_autofree char *rate = NULL, *trend = NULL;

  if (self->rate.nights <= 0)
    return g_strdup_printf (_("%s: no station worked in this period, so nothing can be said."), species);
  rate = say_rate (self);
  trend = self->trend.why_not != NULL ? g_strdup (self->trend.why_not) : join_trend (self);
  return g_strdup_printf (_("%1$s: %2$s. %3$s"), species, rate, trend);
}

static char *
join_ratio (const TptRateRatio *ratio, const char *first, const char *second)
{
  g_autofree char *times = tpt_words_rate (ratio->ratio), *low = tpt_words_rate (ratio->low);
  g_autofree char *high = tpt_words_rate (ratio->high), *p = tpt_words_chance (ratio->p);

  if (ratio->low > 1 || ratio->high < 1)
    return g_strdup_printf (_("%1$s: seen %3$s times as often as %2$s (%4$s to %5$s; %6$s)."), second, first, times,
                            low, high, p);
  return g_strdup_printf (_("%1$s: seen %3$s times as often as %2$s, but the interval holds 1 (%4$s to %5$s; %6$s), "
                            "so the two may be equal."),
                          second, first, times, low, high, p);
}

/* Where one of the two was not seen at all, there is a limit on one side only. */
static char *
join_one_sided (const TptRateRatio *ratio, const char *first, const char *second)
{
  g_autofree char *low = tpt_words_rate (ratio->low), *p = tpt_words_chance (ratio->p);
  g_autofree char *high = isinf (ratio->high) ? NULL : tpt_words_rate (ratio->high);

  if (high == NULL)
    return g_strdup_printf (_("%2$s: not seen. %1$s: seen at least %3$s times as often (%4$s)."), second, first, low,
                            p);
  return g_strdup_printf (_("%1$s: not seen; at most %3$s times as often as %2$s (%4$s)."), second, first, high, p);
}

static char *
compare_rates (const TptMonthSeries *self, const TptMonthSeries *other, const TptRateRatio *ratio)
{
  g_autofree char *first = tpt_pass_name_difference (self->pass, self->filter, other->filter);
  g_autofree char *second = tpt_pass_name_difference (other->pass, other->filter, self->filter);

  if (self->rate.nights <= 0 || other->rate.nights <= 0)
    return g_strdup_printf (_("%1$s and %2$s cannot be compared: no station worked for one of them."), first, second);
  if (isnan (ratio->ratio))
    return g_strdup_printf (_("%1$s and %2$s: neither was seen, so they cannot be compared."), first, second);
  return ratio->ratio > 0 && !isinf (ratio->ratio) ? join_ratio (ratio, first, second)
                                                   : join_one_sided (ratio, first, second);
}

char *
tpt_month_series_say_ratio (const TptMonthSeries *self, const TptMonthSeries *other, const TptRateRatio *ratio)
{
  g_autofree char *species = tpt_pass_name_species (self->pass, (const char *const *) self->filter->species);
  g_autofree char *second = tpt_pass_name_species (other->pass, (const char *const *) other->filter->species);
  g_autofree char *said = compare_rates (self, other, ratio);

  if (!g_str_equal (species, second)) /* then the two are called by their species */
    return g_steal_pointer (&said);
  /* Translators: a species, and a sentence that begins with a period, a station or hours. */
  return g_strdup_printf (_("%1$s, %2$s"), species, said);
}

static const char *
choose_method (const TptMonthSeries *self, gboolean compared)
{
  if (compared)
    return _("Intervals: exact Poisson, 95 %; ratio: exact conditional test, detections taken as independent.");
  if (self->trend.why_not != NULL)
    return _("Intervals: exact Poisson, 95 %.");
  return self->trend.seasonal
    ? _("Intervals: exact Poisson, 95 %. Trend: log-linear beside a yearly wave, Poisson likelihood, its error "
        "allowing for clumped detections, Student’s t.")
    : _("Intervals: exact Poisson, 95 %. Trend: log-linear, Poisson likelihood, its error allowing for clumped "
        "detections, Student’s t.");
}

char *
tpt_month_series_say_method (const TptMonthSeries *self, gboolean compared)
{
  g_autofree char *counted = tpt_pass_describe_method (self->pass);

  return g_strconcat (counted, " ", choose_method (self, compared), NULL);
}
