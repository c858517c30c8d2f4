/* Rates month by month with their effort, whether they change, and two filters side by side. */
#pragma once

#include "tpt-figure.h"
#include "tpt-filter.h"
#include "tpt-job-findings.h"

G_BEGIN_DECLS

/**
 * TptTrend: a log-linear trend of monthly counts with effort as offset, its test allowing for overdispersion.
 * @per_year: factor by which the rate changes in a year; NAN with @why_not
 * @low, @high: interval of 95 % of @per_year
 * @p: of no change
 * @dispersion: Pearson chi-square over its degrees of freedom; the test uses at least 1
 * @months: with effort, that it was fitted to
 * @seasonal: beside a yearly wave
 * @why_not: (owned) (nullable): why no trend is given, and what would be needed
 */
typedef struct {
  double per_year;
  double low;
  double high;
  double p;
  double dispersion;
  guint months;
  gboolean seasonal;
  char *why_not;
} TptTrend;

/**
 * TptRateRatio: rate of the second filter over that of the first, exact conditional test.
 * @ratio: NAN where neither has a detection or one has no effort; INFINITY where only the first has none
 */
typedef struct {
  double ratio;
  double low;
  double high;
  double p;
} TptRateRatio;

/* One month of one filter. Detections are counted in the month they start in, so that months add up. */
typedef struct {
  TptRange when;
  char name[8]; /* YYYY-MM */
  TptRate rate;
} TptMonthRate;

#define TPT_TYPE_JOB_MONTHS (tpt_job_months_get_type ())
G_DECLARE_FINAL_TYPE (TptJobMonths, tpt_job_months, TPT, JOB_MONTHS, TptJob)

/* @filter is copied. */
TptJobMonths *tpt_job_months_new (const TptFilter *filter);
void tpt_job_months_compare (TptJobMonths *self, const TptFilter *other);

/* (transfer none) (element-type TptMonthRate) (nullable): @which 0 or, compared, 1. */
GArray *tpt_job_months_get (TptJobMonths *self, guint which);
/* (transfer none): of all months. */
const TptRate *tpt_job_months_get_rate (TptJobMonths *self, guint which);
const TptTrend *tpt_job_months_get_trend (TptJobMonths *self, guint which);
/* (transfer none) (nullable): when compared. */
const TptRateRatio *tpt_job_months_get_ratio (TptJobMonths *self);
/* (transfer none): kind "months". */
TptFigure *tpt_job_months_get_figure (TptJobMonths *self);
/* (transfer none): the trend, or the two rates, in words. */
const char *tpt_job_months_get_sentence (TptJobMonths *self);

G_END_DECLS
