/* The chart of one unit's charge from what is on record of it. */
#pragma once

#include "tpt-figure.h"
#include "tpt-unit-life-private.h"

G_BEGIN_DECLS

/**
 * tpt_unit_battery_draw:
 * @on: the moment of asking; the chart looks back a year from it
 * @figure: (out) (transfer full) (nullable): of kind "battery"
 * @why_not: (out) (transfer full) (nullable): "cannot say because ..." where
 *   nothing is known of the unit's charge; then there is no figure
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
