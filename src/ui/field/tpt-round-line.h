/* The line of the next round over the station list. It is dragged, or moved
 * with the arrow keys: a day, with Page Up and Page Down a week.
 *
 * Signal "moving" (gint64 instant) while it moves, "dropped" (gint64 instant)
 * when it has come to rest; Escape takes a drag back.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-due-scale.h"

G_BEGIN_DECLS

#define TPT_TYPE_ROUND_LINE (tpt_round_line_get_type ())
G_DECLARE_FINAL_TYPE (TptRoundLine, tpt_round_line, TPT, ROUND_LINE, GtkWidget)

void tpt_round_line_set_scale (TptRoundLine *self, TptDueScale *scale);

/* Room below the list that the plate with the date takes. */
#define TPT_ROUND_LINE_FOOT 36

/* @cost (nullable): what going on that day costs; follows the day in what a
 * screen reader says. It is forgotten when the line moves. */
void tpt_round_line_set_cost (TptRoundLine *self, const char *cost);

gboolean tpt_round_line_is_moving (TptRoundLine *self);

G_END_DECLS
