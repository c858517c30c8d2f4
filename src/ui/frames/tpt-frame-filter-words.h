/* Which frames a list is about, in one sentence. */
#pragma once

#include "tpt-frame-query.h"

G_BEGIN_DECLS

/**
 * tpt_frame_filter_words:
 * @stations: (nullable): how the stations of @query are called together
 * @species: (nullable): the same of its species
 * @zone: (nullable): for its range; UTC without
 *
 * Returns: (transfer full): "Undecided triggers of card LAND-B3, probably empty last."
 */
char *tpt_frame_filter_words (const TptFrameQuery *query, const char *stations, const char *species, TptZone *zone);

/* Whether it leaves anything out; an order does not. */
gboolean tpt_frame_filter_is_narrow (const TptFrameQuery *query);

/* Whether what is said of a trigger can bring it in or put it out. */
gboolean tpt_frame_filter_is_of_decisions (const TptFrameQuery *query);

G_END_DECLS
