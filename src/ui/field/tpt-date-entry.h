/* A day, typed as an ISO date or picked from a calendar.
 *
 * Signal "day-set" (gint64 instant): the first instant of a day that was
 * confirmed with Enter or picked. A text that is no date is marked and said so.
 *
 * Signal "day-tried" (gint64 instant): what stands in the entry is a day, not
 * yet confirmed; %TPT_NO_INSTANT when it is the confirmed one again, or the
 * entry is left without Enter.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-time.h"

G_BEGIN_DECLS

#define TPT_TYPE_DATE_ENTRY (tpt_date_entry_get_type ())
G_DECLARE_FINAL_TYPE (TptDateEntry, tpt_date_entry, TPT, DATE_ENTRY, GtkWidget)

/* Shows @at, which sets nothing off; not while another day is being typed. */
void tpt_date_entry_set_day (TptDateEntry *self, TptInstant at, TptZone *zone);

/* (transfer none): the text entry, for a label's mnemonic. */
GtkWidget *tpt_date_entry_get_entry (TptDateEntry *self);

G_END_DECLS
