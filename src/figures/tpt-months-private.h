#pragma once

#include "tpt-figure-private.h"
#include "tpt-months.h"
#include "tpt-rate-marks-private.h"

G_BEGIN_DECLS

/**
 * TptMonthsSeries:
 * @label: (owned) (nullable)
 * @key: (owned) (nullable)
 * @months: (owned) (element-type TptMonth)
 */
typedef struct {
  char *label;
  char *key;
  GArray *months;
} TptMonthsSeries;

/* @series: (owned) (element-type TptMonthsSeries) */
typedef struct {
  TptRange range;
  TptZone *zone;
  GPtrArray *series;
} TptMonths;

/**
 * TptMonthsLayout:
 * @scale: rates and nights
 * @axis: along it
 * @head: top of the words above, which may take two lines
 * @legend_below: whether the names of series stand on the second of them
 */
typedef struct {
  TptRateScale scale;
  TptTimeAxis axis;
  double head;
  gboolean legend_below;
} TptMonthsLayout;

TptRateMark tpt_months_get_mark (const TptMonth *month);
gboolean tpt_months_have_effort (const TptMonths *months);

void tpt_months_set_scale (const TptMonths *months, TptRateScale *scale);
/* (transfer full): one month, the whole, and (nullable) what must be said with the chart. */
char *tpt_months_describe_month (const TptMonths *months, const TptMonthsSeries *series, const TptMonth *month);
char *tpt_months_describe (const TptMonths *months);
char *tpt_months_note (const TptMonths *months);

void tpt_months_lay_out (const TptMonths *months, TptCanvas *canvas, const TptFigureRect *area,
                         TptMonthsLayout *layout);
double tpt_months_get_height (TptCanvas *canvas);

/* The middle of what stands for a month of @series, and the width it has for itself. */
double tpt_months_place (const TptMonths *months, const TptMonthsLayout *layout, guint series, const TptMonth *month,
                         double *room);
void tpt_months_paint (const TptMonths *months, TptCanvas *canvas, const TptFigureRect *area);

G_END_DECLS
