/* One unit's charge through time: what was read, where it was renewed, and the
 * fan of its forecast. */
#pragma once

#include "tpt-figure.h"

G_BEGIN_DECLS

/**
 * TptBatterySource: how a share of the charge is known. At one moment they
 * come in this order.
 * @TPT_BATTERY_FITTED: nobody read it; taken as full because it was set out
 * @TPT_BATTERY_PERCENT: the unit's own meter
 * @TPT_BATTERY_VOLTS: volts, through the curve of its chemistry
 * @TPT_BATTERY_DEAD: found dead
 * @TPT_BATTERY_RENEWED: cells swapped or charged, so full
 */
typedef enum {
  TPT_BATTERY_FITTED,
  TPT_BATTERY_PERCENT,
  TPT_BATTERY_VOLTS,
  TPT_BATTERY_DEAD,
  TPT_BATTERY_RENEWED,
} TptBatterySource;

/**
 * TptBatteryPoint:
 * @share: 0 to 1
 * @low: 10 % end of what it may be; NAN when not told
 * @high: 90 % end; NAN when not told
 * @place: (nullable): where it stood
 */
typedef struct {
  TptInstant at;
  double share;
  double low;
  double high;
  TptBatterySource source;
  const char *place;
} TptBatteryPoint;

/* @now: the moment of asking, where the forecast begins. */
TptFigure *tpt_battery_new (TptRange range, TptZone *zone, TptInstant now);

/* Copies what it is given; points outside the range are left out. A line joins
 * points in the order of time and begins anew where the unit was fitted. */
void tpt_battery_add_point (TptFigure *figure, const TptBatteryPoint *point);

/* Shares 0 to 1 at a chance of 10, 50 and 90 %, in the order of time. */
void tpt_battery_add_fan (TptFigure *figure, TptInstant at, double low, double mid, double high);

/* Why there is no fan: "cannot say because ...". */
void tpt_battery_set_no_forecast (TptFigure *figure, const char *why);

G_END_DECLS
