/* Which stations, species, period and hours a finding is about. */
#pragma once

#include <glib.h>

#include "tpt-time.h"

G_BEGIN_DECLS

/**
 * TptFilter:
 * @stations: (owned) (nullable): codes; %NULL for all
 * @species: (owned) (nullable): scientific or common names; %NULL for all
 * @range: cuts effort and observations alike; half-open
 * @hour_from: minutes after local midnight; -1 for any hour. An hour_to before
 *   hour_from goes over midnight
 * @hours_by_sun: the hours are those of the sun's day, see sci-sun-hour.h: 06:00
 *   sunrise, 18:00 sunset; else of the clock
 * @independence_min: minutes; NAN for the project's
 * @gap_from_first: 1 the start of the last detection, 0 the last frame, -1 the project's
 */
typedef struct {
  GStrv stations;
  GStrv species;
  TptRange range;
  int hour_from;
  int hour_to;
  gboolean hours_by_sun;
  double independence_min;
  int gap_from_first;
} TptFilter;

TptFilter *tpt_filter_new (void);
TptFilter *tpt_filter_copy (const TptFilter *self);
void tpt_filter_free (TptFilter *self);

/* By the clock. */
gboolean tpt_filter_has_hour (const TptFilter *self, TptZone *zone, TptInstant at);

/* Whether an hour of a day, 0 <= @hour < 24, of whichever clock the filter goes by,
 * is among those chosen; %FALSE for NAN when any are. */
gboolean tpt_filter_takes_hour (const TptFilter *self, double hour);

/* (transfer full): "any hour", "17:00 to 20:00 by the sun". */
char *tpt_filter_describe_hours (const TptFilter *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptFilter, tpt_filter_free)

G_END_DECLS
