/* A unit in the list: what it is, where it is, how it was last seen. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-time.h"
#include "tpt-unit-item.h"

G_BEGIN_DECLS

#define TPT_TYPE_UNIT_ROW (tpt_unit_row_get_type ())
G_DECLARE_FINAL_TYPE (TptUnitRow, tpt_unit_row, TPT, UNIT_ROW, GtkWidget)

GtkWidget *tpt_unit_row_new (void);

/* @now: the year that goes without saying. */
void tpt_unit_row_show (TptUnitRow *self, TptUnitItem *item, TptZone *zone, TptInstant now);

G_END_DECLS
