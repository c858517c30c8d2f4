/* A map with one mark per station, or, for people who must not learn where the
 * stations are, with cells of a grid.
 *
 * A figure made with a grid forgets each position and name the moment it
 * is added: neither the drawing nor the table nor a hit can give them away. It
 * draws no trails, and says how coarse it is. One made without says that it is
 * exact; stations whose key is not among the chosen ones of the style recede there. */
#pragma once

#include "tpt-figure.h"

G_BEGIN_DECLS

#define TPT_MAP_EXACT -1

typedef enum {
  TPT_MAP_COUNT,    /* detections */
  TPT_MAP_RATE,     /* detections per 100 trap nights */
  TPT_MAP_PRESENCE, /* seen or not */
} TptMapMeasure;

typedef enum {
  TPT_TRACK_TRAIL,
  TPT_TRACK_ROAD,
  TPT_TRACK_RIVER,
  TPT_TRACK_LAKE,     /* an area */
  TPT_TRACK_BOUNDARY, /* a closed line */
} TptTrackKind;

/* WGS 84, degrees. */
typedef struct {
  double latitude;
  double longitude;
} TptPlace;

/**
 * TptMapStation:
 * @label: its name
 * @key: (nullable): what the caller knows it by
 * @place: where it is
 * @detections: in the period
 * @trap_nights: in the period; 0 with no detections means it did not work
 */
typedef struct {
  const char *label;
  const char *key;
  TptPlace place;
  double detections;
  double trap_nights;
} TptMapStation;

/**
 * tpt_chart_map_new:
 * @measure: what the size of a mark stands for
 * @decimals: %TPT_MAP_EXACT, or 0 to 3 for a grid of 1 to 0.001 degree, as the
 *   sensitivity asks for
 */
TptFigure *tpt_chart_map_new (TptMapMeasure measure, int decimals);

/* Copies. Returns the station, from 0, or for a grid its cell. -1, and nothing
 * is added, for a place that is not on the globe. */
int tpt_chart_map_add_station (TptFigure *figure, const TptMapStation *station);

/* Copies. A trail is left out of a grid. @name may be %NULL. */
void tpt_chart_map_add_track (TptFigure *figure, TptTrackKind kind, const char *name,
                              const TptPlace *places, guint n_places);

G_END_DECLS
