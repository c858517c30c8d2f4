/* The shelf: every unit by where it is, the chosen unit, and the stock. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_SHELF_PAGE (tpt_shelf_page_get_type ())
G_DECLARE_FINAL_TYPE (TptShelfPage, tpt_shelf_page, TPT, SHELF_PAGE, GtkWidget)

GtkWidget *tpt_shelf_page_new (void);

/* @project may be %NULL. Nothing is read before the page shows. */
void tpt_shelf_page_set_project (TptShelfPage *self, TptProject *project);

/* @unit: its code; may be %NULL. */
void tpt_shelf_page_choose (TptShelfPage *self, const char *unit);

G_END_DECLS
