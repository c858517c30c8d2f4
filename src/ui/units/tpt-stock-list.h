/* What lies on the shelf by the piece: cells, cards, housings and small goods. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_STOCK_LIST (tpt_stock_list_get_type ())
G_DECLARE_FINAL_TYPE (TptStockList, tpt_stock_list, TPT, STOCK_LIST, GtkWidget)

/* @project may be %NULL. */
void tpt_stock_list_set_project (TptStockList *self, TptProject *project);

/* @stock: (nullable): #TptRecord of the stock. The same things in the same
 * order keep their rows, so that the keyboard keeps its place. */
void tpt_stock_list_set_stock (TptStockList *self, GListModel *stock);

G_END_DECLS
