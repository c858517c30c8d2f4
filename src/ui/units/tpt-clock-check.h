/* The camera's clock beside the true time: right, or by how much not. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-record.h"

G_BEGIN_DECLS

#define TPT_TYPE_CLOCK_CHECK (tpt_clock_check_get_type ())
G_DECLARE_FINAL_TYPE (TptClockCheck, tpt_clock_check, TPT, CLOCK_CHECK, GtkWidget)

/* Signal "changed". */
TptClockCheck *tpt_clock_check_new (TptZone *zone);

/* The moment of the visit: the true time when the clock is right, and the first
 * offered when it is not. */
void tpt_clock_check_set_moment (TptClockCheck *self, TptInstant at);

gboolean tpt_clock_check_is_valid (TptClockCheck *self);
/* Puts both times into @visit; nothing when the clock was not looked at. */
void tpt_clock_check_apply (TptClockCheck *self, TptRecord *visit);

/* (transfer full): "The camera is 3 min 12 s slow". @ahead_ms: by how much its
 * clock is ahead of the true time. */
char *tpt_clock_check_say (gint64 ahead_ms);

G_END_DECLS
