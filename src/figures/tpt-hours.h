/* Hours of the day: when records fall, as one curve with its band for each of one
 * or more series, in front of night, twilight and day.
 *
 * The axis runs from 0 to 24 h, of the clock or of the sun's day (06:00 sunrise, 18:00
 * sunset). The curve is a density per hour, drawn as the share of records per hour, in
 * percent; below the axis each record is a tick. A series without a curve shows its ticks
 * and says why. Behind one single series its records per whole hour stand as
 * faint bars, as their share of all its records, on the same scale. */
#pragma once

#include "tpt-figure.h"

G_BEGIN_DECLS

typedef enum {
  TPT_HOURS_CLOCK, /* hours of the project's clock */
  TPT_HOURS_SUN,   /* between sunrise at 6 and sunset at 18 */
} TptHoursClock;

TptFigure *tpt_hours_new (TptHoursClock clock);

/**
 * TptHoursSun: what the light is like through the period. By the sun's clock first
 * and last are the same.
 * @rise_first, @rise_last: earliest and latest sunrise, hours
 * @set_first, @set_last: earliest and latest sunset
 * @twilight: mean length of civil twilight before sunrise and after sunset, hours
 */
typedef struct {
  double rise_first;
  double rise_last;
  double set_first;
  double set_last;
  double twilight;
} TptHoursSun;

/* Copies. Without it, or with any of it NAN, no bands are drawn. */
void tpt_hours_set_sun (TptFigure *figure, const TptHoursSun *sun);

/**
 * TptHoursSeries:
 * @label: (nullable): what it is of; needed beside another
 * @key: (nullable): what the caller knows it by
 * @hours: hour of each of @n records, 0 <= h < 24
 * @density: (nullable): @points densities per hour at 24 i / points; integrates to 1
 * @low: (nullable): @points, the lower end of its band
 * @high: (nullable): @points
 * @why_not: (nullable): why there is no curve, or no band, one sentence
 */
typedef struct {
  const char *label;
  const char *key;
  const double *hours;
  guint n;
  const double *density;
  const double *low;
  const double *high;
  guint points;
  const char *why_not;
} TptHoursSeries;

/* Copies. Returns the series, from 0. The hours of a hit are those of the clock of the
 * figure; its kind is %TPT_HIT_HOUR, one for each whole hour and series. */
int tpt_hours_add_series (TptFigure *figure, const TptHoursSeries *series);

G_END_DECLS
