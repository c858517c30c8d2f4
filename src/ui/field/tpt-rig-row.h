/* One unit of the rig: what is left of it and when it gives out. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-job-station.h"
#include "tpt-station-item.h"

G_BEGIN_DECLS

#define TPT_TYPE_RIG_ROW (tpt_rig_row_get_type ())
G_DECLARE_FINAL_TYPE (TptRigRow, tpt_rig_row, TPT, RIG_ROW, GtkListBoxRow)

GtkWidget *tpt_rig_row_new (TptRigItem *item, const TptForecast *forecast, TptZone *zone, TptInstant on);

/* (transfer none) */
const char *tpt_rig_row_get_unit (TptRigRow *self);

G_END_DECLS
