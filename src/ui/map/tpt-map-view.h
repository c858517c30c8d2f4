/* The map: the project's tracks and stations on a plain ground. It needs no
 * tiles and no network.
 *
 * Signal "station-selected" (station code): somebody chose a station, by mouse
 * or keyboard. Signal "place-picked" (latitude, longitude): somebody chose a
 * place while picking. Property "selected" is the code of the station with a
 * ring, property "picking" whether a click means a place.
 *
 * While places are set, two more:
 * "station-picked" (station code, #GdkRectangle *at): a click or Enter on a station, after
 *   "station-selected"; where its mark is, in pixels of the map, for a menu.
 * "stations-chosen" (GStrv codes, gboolean add): Control and a click or Space on a
 *   station: one code and @add, which puts in one that is not chosen and takes out
 *   one that is; Shift and a drag over a box: its stations, and @add if Control was
 *   held as well. May be empty; Backspace or Delete says so: none is chosen any more.
 *
 * With the keyboard: arrows move the map, plus and minus zoom, N and P go to
 * the next and the previous station, Enter selects it, F shows all. While
 * picking, Enter takes the middle of the map and Escape leaves.
 *
 * What is shown stays in view when the map gets another size, until somebody moves it.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-chart-map.h"
#include "tpt-thing.h"
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

/* Codes of the stations that are chosen together; the others recede. @codes
 * (nullable) is copied; %NULL or none shows all alike. Emits nothing. */
void tpt_map_view_set_chosen (TptMapView *self, const char *const *codes);

/* (transfer full) (nullable): the station as it stands on the map, in its words; %NULL when
 * it is not there. */
TptThing *tpt_map_view_make_thing (TptMapView *self, const char *code);

/* From now on the two show the same place at the same scale, whichever is moved;
 * @other gives the first. Both forget it when one goes. @other (nullable): none any more. */
void tpt_map_view_follow (TptMapView *self, TptMapView *other);

/* Brings all stations into view, or all tracks when there are no stations. */
void tpt_map_view_fit (TptMapView *self);

G_END_DECLS
