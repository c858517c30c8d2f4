#pragma once

#include "tpt-battery.h"
#include "tpt-figure-private.h"

G_BEGIN_DECLS

typedef struct {
  TptInstant at;
  double low;
  double mid;
  double high;
} TptBatteryFan;

/* @points: (owned) (element-type TptBatteryPoint), their places owned too
 * @fan: (owned) (element-type TptBatteryFan)
 * @no_forecast: (owned) (nullable) */
typedef struct {
  TptRange range;
  TptZone *zone;
  TptInstant now;
  GArray *points;
  GArray *fan;
  char *no_forecast;
} TptBattery;

typedef struct {
  TptFigureRect plot;
  TptTimeAxis axis;
} TptBatteryLayout;

void tpt_battery_lay_out (const TptBattery *battery, TptCanvas *canvas, const TptFigureRect *area,
                          TptBatteryLayout *layout);
TptFigureRect tpt_battery_get_point_rect (const TptBatteryLayout *layout, const TptBatteryPoint *point);
/* The stretch from moment @index of the fan to the next. */
TptFigureRect tpt_battery_get_fan_rect (const TptBattery *battery, const TptBatteryLayout *layout, guint index);
void tpt_battery_paint (const TptBattery *battery, TptCanvas *canvas, const TptFigureRect *area);

void tpt_battery_hit (const TptBattery *battery, TptCanvas *canvas, const TptFigureRect *area, TptHitTest *test);
char *tpt_battery_describe (const TptBattery *battery);

/* (transfer full) (nullable): "No forecast: cannot say because ..." */
char *tpt_battery_note (const TptBattery *battery);

G_END_DECLS
