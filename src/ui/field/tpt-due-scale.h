/* The axis of time that the rows of the station list, its head and the line of
 * the next round share. */
#pragma once

#include <glib-object.h>

#include "tpt-time-axis.h"

G_BEGIN_DECLS

#define TPT_TYPE_DUE_SCALE (tpt_due_scale_get_type ())
G_DECLARE_FINAL_TYPE (TptDueScale, tpt_due_scale, TPT, DUE_SCALE, GObject)

TptDueScale *tpt_due_scale_new (void);

/* Signal "changed" after the first, "round-moved" after the second of these:
 * the rows do not hang on the round. */
void tpt_due_scale_set_time (TptDueScale *self, TptRange range, TptZone *zone, TptInstant on);
void tpt_due_scale_set_round (TptDueScale *self, TptInstant round_at);

/* %FALSE until a time is set. */
gboolean tpt_due_scale_is_set (TptDueScale *self);
TptRange tpt_due_scale_get_range (TptDueScale *self);
TptZone *tpt_due_scale_get_zone (TptDueScale *self);
TptInstant tpt_due_scale_get_on (TptDueScale *self);
TptInstant tpt_due_scale_get_round (TptDueScale *self);

/* Where the axis lies in a list @width wide. */
TptTimeAxis tpt_due_scale_place (TptDueScale *self, double width);

/* The day nearest to @at that can be the next round: after the moment of asking. */
TptInstant tpt_due_scale_snap (TptDueScale *self, TptInstant at);

/* The round @days later. */
TptInstant tpt_due_scale_shift (TptDueScale *self, int days);

G_END_DECLS
