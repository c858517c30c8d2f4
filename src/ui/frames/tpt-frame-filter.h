/* Chooses which frames a list is about. Signal "changed": by hand.
 *
 * The card batch is chosen elsewhere and only told of here.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-frame-query.h"

G_BEGIN_DECLS

#define TPT_TYPE_FRAME_FILTER (tpt_frame_filter_get_type ())
G_DECLARE_FINAL_TYPE (TptFrameFilter, tpt_frame_filter, TPT, FRAME_FILTER, GtkWidget)

/* (transfer none): as it is now. */
const TptFrameQuery *tpt_frame_filter_get_query (TptFrameFilter *self);

/* @batch: (nullable): its code; emits nothing. */
void tpt_frame_filter_set_batch (TptFrameFilter *self, const char *batch);

/* What there is to choose from: codes and titles, scientific names and titles. The
 * choice stays where it can. */
void tpt_frame_filter_set_stations (TptFrameFilter *self, const char *const *codes, const char *const *titles);
void tpt_frame_filter_set_species (TptFrameFilter *self, const char *const *names, const char *const *titles);

/* (transfer full): see tpt-frame-filter-words.h; @zone (nullable) */
char *tpt_frame_filter_describe (TptFrameFilter *self, TptZone *zone);

/* Everything of every card, by time; emits nothing. */
void tpt_frame_filter_clear (TptFrameFilter *self);

/* Of every card, by time: the stations, species, types, range and hours of @query, and nothing
 * else. Emits nothing. */
void tpt_frame_filter_set_query (TptFrameFilter *self, const TptFrameQuery *query);

/* Emits nothing. */
void tpt_frame_filter_set_order (TptFrameFilter *self, TptFrameOrder order);

G_END_DECLS
