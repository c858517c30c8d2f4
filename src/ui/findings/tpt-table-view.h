/* Shows the numbers of a figure as a table whose rows can be copied, but not where stations
 * stand. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-figure.h"

G_BEGIN_DECLS

#define TPT_TYPE_TABLE_VIEW (tpt_table_view_get_type ())
G_DECLARE_FINAL_TYPE (TptTableView, tpt_table_view, TPT, TABLE_VIEW, GtkWidget)

GtkWidget *tpt_table_view_new (void);

/* @table (nullable): takes it over. */
void tpt_table_view_take_table (TptTableView *self, TptFigureTable *table);

/* (transfer full): the selected rows below the header, cells parted by tabs;
 * every row when none is selected. Control+C puts it on the clipboard. */
char *tpt_table_view_copy (TptTableView *self);

G_END_DECLS
