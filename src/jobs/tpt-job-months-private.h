/* One filter counted by month, and what is said of one or two of them. */
#pragma once

#include "tpt-job-months.h"
#include "tpt-month-bins-private.h"

G_BEGIN_DECLS

/**
 * TptMonthSeries:
 * @filter: (owned)
 * @pass: (owned)
 * @bins: (owned)
 * @months: (owned) (element-type TptMonthRate)
 * @fitted: (owned): what the trend gives for each month, per 100; NAN for none
 */
typedef struct {
  TptFilter *filter;
  TptPass *pass;
  TptMonthBins *bins;
  GArray *months;
  TptRate rate;
  TptTrend trend;
  double *fitted;
} TptMonthSeries;

TptMonthSeries *tpt_month_series_new (TptStore *store, const TptFilter *filter, GCancellable *cancellable,
                                      GError **error);
void tpt_month_series_free (TptMonthSeries *self);

/* Rate of @other over that of @self. */
TptRateRatio tpt_month_series_compare (const TptMonthSeries *self, const TptMonthSeries *other);

/* All (transfer full). */
char *tpt_month_series_say_trend (const TptMonthSeries *self);
char *tpt_month_series_say_ratio (const TptMonthSeries *self, const TptMonthSeries *other, const TptRateRatio *ratio);
char *tpt_month_series_say_method (const TptMonthSeries *self, gboolean compared);

/* (transfer full): @other (nullable) is laid over @self when their periods do not overlap. */
TptFigure *tpt_month_series_draw (const TptMonthSeries *self, const TptMonthSeries *other, const char *summary);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptMonthSeries, tpt_month_series_free)

G_END_DECLS
