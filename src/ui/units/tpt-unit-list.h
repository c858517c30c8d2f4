/* Every unit of the project, by where it is and what it is.
 *
 * Signal "unit-chosen" (code): somebody chose another row.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-time.h"
#include "tpt-unit-item.h"

G_BEGIN_DECLS

#define TPT_TYPE_UNIT_LIST (tpt_unit_list_get_type ())
G_DECLARE_FINAL_TYPE (TptUnitList, tpt_unit_list, TPT, UNIT_LIST, GtkWidget)

/* @units: (nullable): #TptUnitItem; %NULL empties the list. What was chosen
 * stays chosen if it is still there. Emits nothing. */
void tpt_unit_list_set_units (TptUnitList *self, GListModel *units, TptZone *zone, TptInstant now);

/* Which units show: those on the shelf at first. */
typedef enum {
  TPT_UNIT_SHOW_SHELF,
  TPT_UNIT_SHOW_RIG,
  TPT_UNIT_SHOW_RETIRED,
  TPT_UNIT_SHOW_ALL,
} TptUnitShow;

void tpt_unit_list_set_show (TptUnitList *self, TptUnitShow show);
/* @kind: as in the table of units; %NULL for all. */
void tpt_unit_list_set_kind (TptUnitList *self, const char *kind);

/* Emits nothing. Filters that hide the unit give way. @code may be %NULL. */
void tpt_unit_list_choose (TptUnitList *self, const char *code);
const char *tpt_unit_list_get_chosen (TptUnitList *self);

/* (transfer none): the rows that show. */
GListModel *tpt_unit_list_get_shown (TptUnitList *self);

G_END_DECLS
