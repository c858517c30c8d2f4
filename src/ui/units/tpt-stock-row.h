/* A thing in stock: what it is, how many there are, one more and one less.
 *
 * Signals "count-asked" (gint64 change), "edit-asked", "remove-asked".
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-record.h"

G_BEGIN_DECLS

#define TPT_TYPE_STOCK_ROW (tpt_stock_row_get_type ())
G_DECLARE_FINAL_TYPE (TptStockRow, tpt_stock_row, TPT, STOCK_ROW, GtkListBoxRow)

GtkWidget *tpt_stock_row_new (void);

/* @writable: the stock can be changed. */
void tpt_stock_row_show (TptStockRow *self, TptRecord *item, gboolean writable);
/* (transfer none) */
TptRecord *tpt_stock_row_get_item (TptStockRow *self);

G_END_DECLS
