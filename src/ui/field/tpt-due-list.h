/* The left pane of the field page: what is due in words, the next round, and
 * the stations by what waiting costs, each with its interval on one axis.
 *
 * Signals "station-chosen" (code), "round-moving" (gint64 instant) while the
 * round is being tried out (%TPT_NO_INSTANT: no longer), and "round-set" (gint64 instant) when it is meant.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-due-scale.h"
#include "tpt-job-due.h"

G_BEGIN_DECLS

#define TPT_TYPE_DUE_LIST (tpt_due_list_get_type ())
G_DECLARE_FINAL_TYPE (TptDueList, tpt_due_list, TPT, DUE_LIST, GtkWidget)

/* Shows the results of @due; what is chosen and scrolled to stays. */
void tpt_due_list_set_due (TptDueList *self, TptJobDue *due, TptZone *zone);

/* What waiting costs: @words (nullable) for the eye, @spoken (nullable) to
 * follow the day of the next round. */
void tpt_due_list_set_cost (TptDueList *self, const char *words, const char *spoken);

/* No project, or another one: nothing is chosen any more. */
void tpt_due_list_clear (TptDueList *self);

/* @code may be %NULL, and need not be in the list. Sets off no signal. */
void tpt_due_list_choose (TptDueList *self, const char *code);

/* (transfer none) */
TptDueScale *tpt_due_list_get_scale (TptDueList *self);

G_END_DECLS
