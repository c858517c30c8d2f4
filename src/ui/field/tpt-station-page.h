/* The right pane of the field page: one station, its rig, its visits and its
 * log, and what can be done there. Its place is rounded until somebody asks. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-job-station.h"
#include "tpt-project.h"
#include "tpt-station-item.h"

G_BEGIN_DECLS

#define TPT_TYPE_STATION_PAGE (tpt_station_page_get_type ())
G_DECLARE_FINAL_TYPE (TptStationPage, tpt_station_page, TPT, STATION_PAGE, GtkWidget)

/* @project may be %NULL. Another project hides its places again. */
void tpt_station_page_set_project (TptStationPage *self, TptProject *project);

/* @on: the moment the forecast was asked for. @item %NULL: no station is chosen. */
void tpt_station_page_show (TptStationPage *self, TptStationItem *item, TptJobStation *job, TptInstant on);

G_END_DECLS
