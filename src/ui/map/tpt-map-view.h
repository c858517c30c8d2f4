/* The map: the project's tracks and stations on a plain ground. It needs no
 * tiles and no network.
 *
 * Signal "station-selected" (station code): somebody chose a station, by mouse
 * or keyboard. Signal "place-picked" (latitude, longitude): somebody chose a
 * place while picking. Property "selected" is the code of the station with a
 * ring, property "picking" whether a click means a place.
 *
 * With the keyboard: arrows move the map, plus and minus zoom, N and P go to
 * the next and the previous station, Enter selects it, F shows all. While
 * picking, Enter takes the middle of the map and Escape leaves.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-chart-map.h"
#include "tpt-time.h"
#include "tpt-track.h"

G_BEGIN_DECLS

#define TPT_TYPE_MAP_VIEW (tpt_map_view_get_type ())
G_DECLARE_FINAL_TYPE (TptMapView, tpt_map_view, TPT, MAP_VIEW, GtkWidget)

GtkWidget *tpt_map_view_new (void);

/* @tracks (nullable) (element-type TptTrack): takes a reference. */
void tpt_map_view_set_tracks (TptMapView *self, GPtrArray *tracks);

/* @stations (nullable): items are #TptStationItem. The first ones shown after
 * none at all are brought into view. */
void tpt_map_view_set_stations (TptMapView *self, GListModel *stations);

/* @places (nullable): items are #TptPlaceItem. While set, discs in proportion
 * to what was seen take the place of the stations' symbols. */
void tpt_map_view_set_places (TptMapView *self, GListModel *places);

/* What the area of a disc stands for; at first detections. */
void tpt_map_view_set_measure (TptMapView *self, TptMapMeasure measure);

/* For the words about a station: the project's zone and the moment they are
 * about. Without, UTC and now. @zone may be %NULL. */
void tpt_map_view_set_moment (TptMapView *self, TptZone *zone, TptInstant on);

/* @code (nullable): moves the map when the station is out of sight. Emits nothing
 * but the property's notification. */
void tpt_map_view_set_selected (TptMapView *self, const char *code);
const char *tpt_map_view_get_selected (TptMapView *self);

void tpt_map_view_set_picking (TptMapView *self, gboolean picking);
gboolean tpt_map_view_get_picking (TptMapView *self);

/* Brings all stations into view, or all tracks when there are no stations. */
void tpt_map_view_fit (TptMapView *self);

G_END_DECLS
