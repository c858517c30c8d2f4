/* A line of a unit's log. What somebody noted by hand can be edited and removed.
 *
 * Signals "edit-asked" (entry) and "remove-asked" (entry), a #TptRecord.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-job-station.h"
#include "tpt-time.h"

G_BEGIN_DECLS

#define TPT_TYPE_LOG_LINE (tpt_log_line_get_type ())
G_DECLARE_FINAL_TYPE (TptLogLine, tpt_log_line, TPT, LOG_LINE, GtkListBoxRow)

/* @now: the year that goes without saying; @writable: entries can be changed. */
GtkWidget *tpt_log_line_new (TptLogItem *item, TptZone *zone, TptInstant now, gboolean writable);

G_END_DECLS
