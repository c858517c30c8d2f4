/* Detections per 100 trap nights month by month, with their intervals, above the trap
 * nights they stand on; for one or more series.
 *
 * A month without effort has no mark at all; one with effort and no detection has a hollow
 * mark at nought and its upper limit. */
#pragma once

#include "tpt-figure.h"

G_BEGIN_DECLS

/* @range is the axis: whole months. */
TptFigure *tpt_months_new (TptRange range, TptZone *zone);

/* @label (nullable), needed beside another; @key (nullable). Returns the series, from 0. */
int tpt_months_add_series (TptFigure *figure, const char *label, const char *key);

/**
 * TptMonth:
 * @when: the month, or the part of it within the period; of a series that is set
 *   against another period, where it lies on the axis
 * @means: what a hit tells the caller: the month it is really of; the same as @when
 *   unless shifted
 * @nights: trap nights
 * @detections: in them
 * @rate, @low, @high: per 100 trap nights and the limits of its interval; NAN without effort
 * @fitted: what the trend gives for it, per 100; NAN for none
 */
typedef struct {
  TptRange when;
  TptRange means;
  double nights;
  gint64 detections;
  double rate;
  double low;
  double high;
  double fitted;
} TptMonth;

/* Copies. Months of a series in the order of time. */
void tpt_months_add_month (TptFigure *figure, int series, const TptMonth *month);

G_END_DECLS
