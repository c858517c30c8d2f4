/* Which frames a list is about, and in what order. */
#pragma once

#include "tpt-time.h"

G_BEGIN_DECLS

/**
 * TptFrameOrder: within a deployment's time, or by the score for an empty trigger.
 * @TPT_FRAMES_BY_TIME: oldest first
 * @TPT_FRAMES_BLANK_LAST: probably empty triggers last; those without a score first
 * @TPT_FRAMES_BLANK_FIRST: probably empty triggers first; those without a score last
 */
typedef enum {
  TPT_FRAMES_BY_TIME,
  TPT_FRAMES_BLANK_LAST,
  TPT_FRAMES_BLANK_FIRST,
} TptFrameOrder;

/**
 * TptFrameQuery:
 * @batch: (owned) (nullable): code of a card batch
 * @stations: (owned) (nullable): codes
 * @species: (owned) (nullable): scientific or common names
 * @types: (owned) (nullable): of observations that count: animal, human, vehicle, blank, unknown
 * @range: by the frames' instants; half-open
 * @hour_from: minutes after local midnight, -1 for any; over midnight when @hour_to is before it
 * @hour_to: minutes after local midnight
 * @undecided: only triggers nobody has said anything of; a frame without a trigger (it has
 *   no time) cannot be decided and is left out
 * @disagreeing: only triggers on which two people differ
 * @marked: only triggers with a frame good for guests
 * @certainty_below: only with an observation less certain than this, 0 to 1; NAN for any
 * @blank_from: only triggers with a score for being empty of at least this, 0 to 1; NAN or 0 for any
 * @every_frame: every frame; otherwise one of each trigger, the first
 * @order:
 */
typedef struct {
  char *batch;
  GStrv stations;
  GStrv species;
  GStrv types;
  TptRange range;
  int hour_from;
  int hour_to;
  gboolean undecided;
  gboolean disagreeing;
  gboolean marked;
  double certainty_below;
  double blank_from;
  gboolean every_frame;
  TptFrameOrder order;
} TptFrameQuery;

TptFrameQuery *tpt_frame_query_new (void);
TptFrameQuery *tpt_frame_query_copy (const TptFrameQuery *self);
void tpt_frame_query_free (TptFrameQuery *self);

/**
 * tpt_frame_query_to_variant:
 *
 * For an action: stations, species and types ("stations", "species", "types": as), the
 * range ("range": (xx), milliseconds) and the hours ("hours": (ii), minutes). The rest is
 * left out.
 *
 * Returns: (transfer floating): of type a{sv}; what is not asked for is not in it
 */
GVariant *tpt_frame_query_to_variant (const TptFrameQuery *self);

/* (transfer full): the inverse. What is missing or of another type is not asked for. */
TptFrameQuery *tpt_frame_query_from_variant (GVariant *variant);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptFrameQuery, tpt_frame_query_free)

G_END_DECLS
