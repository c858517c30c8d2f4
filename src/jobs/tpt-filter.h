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
 * @independence_min: minutes; NAN for the project's
 * @gap_from_first: 1 the start of the last detection, 0 the last frame, -1 the project's
 */
typedef struct {
  GStrv stations;
  GStrv species;
  TptRange range;
  int hour_from;
  int hour_to;
  double independence_min;
  int gap_from_first;
} TptFilter;

TptFilter *tpt_filter_new (void);
TptFilter *tpt_filter_copy (const TptFilter *self);
void tpt_filter_free (TptFilter *self);

gboolean tpt_filter_has_hour (const TptFilter *self, TptZone *zone, TptInstant at);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptFilter, tpt_filter_free)

G_END_DECLS
