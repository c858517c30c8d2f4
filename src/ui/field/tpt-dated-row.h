/* A line of a log or a list of visits: the day, and what happened. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-time.h"

G_BEGIN_DECLS

#define TPT_TYPE_DATED_ROW (tpt_dated_row_get_type ())
G_DECLARE_FINAL_TYPE (TptDatedRow, tpt_dated_row, TPT, DATED_ROW, GtkListBoxRow)

/* @at may be %TPT_NO_INSTANT; @now: the year that goes without saying. */
GtkWidget *tpt_dated_row_new (TptInstant at, TptZone *zone, TptInstant now, const char *text);

G_END_DECLS
