/* The chart of one unit's charge from what is on record of it. */
#pragma once

#include "tpt-figure.h"
#include "tpt-unit-life-private.h"

G_BEGIN_DECLS

/**
 * tpt_unit_battery_draw:
 * @on: the moment of asking; the chart looks back a year from it
 * @figure: (out) (transfer full) (nullable): of kind "battery"
 * @why_not: (out) (transfer full) (nullable): a sentence that says why nothing
 *   is known of the unit's charge, without a figure, or why there is no
 *   forecast of it, beside one
 *
 * Returns: %FALSE with @error when the file fails
 */
gboolean tpt_unit_battery_draw (TptUnitLife *life,
                                TptStore *store,
                                TptInstant on,
                                TptFigure **figure,
                                char **why_not,
                                GError **error);

G_END_DECLS
