/* One unit: what it is, where it is, its charge through time, its log. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_UNIT_PAGE (tpt_unit_page_get_type ())
G_DECLARE_FINAL_TYPE (TptUnitPage, tpt_unit_page, TPT, UNIT_PAGE, GtkWidget)

/* @project may be %NULL. */
void tpt_unit_page_set_project (TptUnitPage *self, TptProject *project);

/* @unit: its code; %NULL for none. Reads it again when it is shown already. */
void tpt_unit_page_show (TptUnitPage *self, const char *unit);

G_END_DECLS
