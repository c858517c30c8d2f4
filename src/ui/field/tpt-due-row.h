/* One station of the list: its symbol and name, what gives out, when on the
 * list's axis of time, and what waiting costs.
 *
 * Properties "item" and "scale". Made by the list's factory, a row finds the
 * scale of the list it stands in by itself.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-due-scale.h"
#include "tpt-station-item.h"

G_BEGIN_DECLS

#define TPT_TYPE_DUE_ROW (tpt_due_row_get_type ())
G_DECLARE_FINAL_TYPE (TptDueRow, tpt_due_row, TPT, DUE_ROW, GtkWidget)

void tpt_due_row_set_item (TptDueRow *self, TptStationItem *item);
void tpt_due_row_set_scale (TptDueRow *self, TptDueScale *scale);

G_END_DECLS
