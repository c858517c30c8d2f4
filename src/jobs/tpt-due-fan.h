/* The forecast of one unit as a fan: how much charge it will have, and how well
 * that is known. */
#pragma once

#include "tpt-store.h"

G_BEGIN_DECLS

/* Share of a full charge at a moment: the middle, and the tenth lowest and
 * highest in a hundred. All 0..1. */
typedef struct {
  TptInstant at;
  double low;
  double mid;
  double high;
} TptFanPoint;

/**
 * tpt_due_unit_fan:
 * @unit: its code
 * @on: the moment of asking; only what was known then counts
 * @until: where the fan ends
 * @fan: (out) (transfer full) (element-type TptFanPoint): from the moment the
 *   unit was last known, by time; empty when @why_not is set
 * @why_not: (out) (transfer full) (nullable): "cannot say because …"
 *
 * Returns: %FALSE with @error when the file fails
 */
gboolean tpt_due_unit_fan (TptStore *store,
                           const char *unit,
                           TptInstant on,
                           TptInstant until,
                           GArray **fan,
                           char **why_not,
                           GError **error);

G_END_DECLS
