/* A period cut into occasions, and in which of them each station worked and saw something. */
#pragma once

#include "tpt-pass-private.h"

G_BEGIN_DECLS

/* Of a hundred years, day by day. */
#define TPT_OCCASIONS_MOST 36600

/**
 * TptOccasions:
 * @n: how many
 * @edges: (owned): @n + 1 instants; occasion i is edges[i] <= t < edges[i + 1]
 * @histories: (owned) (element-type utf8): for each place of the pass, a letter for each
 *   occasion: '.' missing, '0' worked, '1' with a detection
 * @left_out: detections in occasions that are missing at their station
 */
typedef struct {
  guint n;
  gint64 *edges;
  GPtrArray *histories;
  guint left_out;
} TptOccasions;

/**
 * tpt_occasions_new:
 * @days: length of an occasion, civil days of the project's zone
 *
 * The first begins where the pass's filter does, or at the midnight before the first
 * effort; each of the others as many days later, by the calendar: where clocks are put
 * forward or back an occasion is an hour shorter or longer. The last is the one of
 * which at least half lies before the end of all effort. An occasion in which a
 * station worked less than half the time is missing there; cameras that work side
 * by side count once.
 *
 * Returns: (transfer full) (nullable): %NULL with TPT_ERROR_USAGE for more than
 *   %TPT_OCCASIONS_MOST
 */
TptOccasions *tpt_occasions_new (TptPass *pass, int days, GError **error);
void tpt_occasions_free (TptOccasions *self);

/* Counts a detection, by its start. */
void tpt_occasions_mark (TptOccasions *self, const TptDetection *detection);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptOccasions, tpt_occasions_free)

G_END_DECLS
