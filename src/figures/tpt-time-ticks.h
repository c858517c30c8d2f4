/* Where an axis of time is ticked, and with which words.
 *
 * Ticks fall on the calendar of the project's zone: whole hours as the clock
 * showed them, local midnights, the first of a month. An hour left out when
 * clocks go forward has no tick, the hour that comes twice has two.
 */
#pragma once

#include <glib.h>

#include "tpt-time.h"

G_BEGIN_DECLS

typedef enum {
  TPT_TICK_MINUTES,
  TPT_TICK_HOURS,
  TPT_TICK_DAYS,
  TPT_TICK_MONTHS,
  TPT_TICK_YEARS,
} TptTickUnit;

/* Days come as every day, every second day, the 1st 8th 15th and 22nd, the 1st and 15th. */
typedef struct {
  TptTickUnit unit;
  int count;
} TptTickStep;

/**
 * TptTick:
 * @at: the instant
 * @label: "06:00", "15", "Mar" or "2026"
 * @context: what the label leaves out, "14 Mar 2026", "Mar 2026" or "2026", at
 *   the first tick and wherever it changes; else empty
 */
typedef struct {
  TptInstant at;
  char label[24];
  char context[40];
} TptTick;

/**
 * tpt_time_ticks_step:
 * @max_ticks: how many labels have room, at least 1
 *
 * Returns: the finest step that puts at most @max_ticks ticks into @range
 */
TptTickStep tpt_time_ticks_step (TptRange range, TptZone *zone, int max_ticks);

/* (transfer full) (element-type TptTick): in order, within @range, both ends included. */
GArray *tpt_time_ticks_at_step (TptRange range, TptZone *zone, TptTickStep step);

/* (transfer full) (element-type TptTick): both of the above. */
GArray *tpt_time_ticks (TptRange range, TptZone *zone, int max_ticks);

G_END_DECLS
