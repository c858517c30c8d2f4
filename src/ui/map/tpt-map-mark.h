/* One place with its symbol: a station in the field, or a station's part in
 * the findings. */
#pragma once

#include <gio/gio.h>

#include "tpt-chart-map.h"
#include "tpt-symbol.h"
#include "tpt-time.h"

G_BEGIN_DECLS

/* Diameters of discs in proportion, pixels. */
#define TPT_MAP_LARGEST_DISC 46
#define TPT_MAP_SMALLEST_DISC 9

typedef enum {
  TPT_MARK_STATION,
  TPT_MARK_SEEN,
  TPT_MARK_NOT_SEEN,
  TPT_MARK_NOT_WORKED,
} TptMapMarkKind;

/**
 * TptMapMark:
 * @code: (owned): of the station
 * @title: (owned): its name
 * @words: (owned): one line about it
 * @number: (owned) (nullable): goes inside the disc when it fits
 * @x: in the square of the world, from the west
 * @y: the same, from the north
 * @symbol: of a station
 * @diameter: pixels
 */
typedef struct {
  TptMapMarkKind kind;
  char *code;
  char *title;
  char *words;
  char *number;
  double x;
  double y;
  TptSymbol symbol;
  double diameter;
} TptMapMark;

void tpt_map_mark_free (TptMapMark *self);

/* Both (transfer full) (element-type TptMapMark). Stations without a position
 * are left out. @on and @zone as for tpt_station_item_describe(). */
GPtrArray *tpt_map_marks_of_stations (GListModel *stations, TptZone *zone, TptInstant on);

/* The area of a disc is in proportion to @measure; the largest has the same
 * size whatever it stands for, save for very few detections. */
GPtrArray *tpt_map_marks_of_places (GListModel *places, TptMapMeasure measure);

/* (transfer full): "Otter bank: card full, probably since 30 May". */
char *tpt_map_mark_describe (const TptMapMark *self);

/* (transfer full): what a rate says: "63 detections in 4,218 trap nights, 1.49
 * per 100 (1.15 to 1.91)", "nothing seen in 12 trap nights", "not at work". */
char *tpt_map_mark_word_place (gint64 detections, double nights, double per_100, double low, double high);

/* The diameter of a disc for @amount when @most has the largest. */
double tpt_map_mark_diameter (double amount, double most);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptMapMark, tpt_map_mark_free)

G_END_DECLS
