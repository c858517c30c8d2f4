#pragma once

#include "tpt-chart-map.h"
#include "tpt-figure-private.h"
#include "tpt-map-view-private.h"

G_BEGIN_DECLS

/* One mark: a station, or with a grid a cell, which has no label or key.
 * @place: a station's, or the south-western corner of a cell
 * @label: (owned) (nullable)
 * @key: (owned) (nullable) */
typedef struct {
  TptPlace place;
  char *label;
  char *key;
  double detections;
  double trap_nights;
} TptMapMark;

/* @name: (owned) (nullable)
 * @places: (owned) (element-type TptPlace) */
typedef struct {
  TptTrackKind kind;
  char *name;
  GArray *places;
} TptMapTrack;

/* @marks: (owned) (element-type TptMapMark)
 * @tracks: (owned) (element-type TptMapTrack) */
typedef struct {
  TptMapMeasure measure;
  int decimals;
  double cell; /* degrees; 0 for exact places */
  GPtrArray *marks;
  GPtrArray *tracks;
} TptChartMap;

/* Where one mark is drawn: a disc or ring in @rect, or a cell. */
typedef struct {
  const TptMapMark *mark;
  guint index;
  TptFigureRect rect;
  double x;
  double y;
  double radius;
} TptMapSpot;

typedef enum {
  TPT_LEGEND_SEEN,
  TPT_LEGEND_NOT_SEEN,
  TPT_LEGEND_NOT_WORKED,
  TPT_LEGEND_CLASS,
  TPT_LEGEND_WORDS,
} TptLegendSign;

/* @words: (owned)
 * @size: a disc's diameter, or a class's share of the strongest tint */
typedef struct {
  TptLegendSign sign;
  double size;
  char *words;
  double x;
  double y;
} TptLegendItem;

/* @spots: (owned) (element-type TptMapSpot): large ones first
 * @legend: (owned) (element-type TptLegendItem) */
typedef struct {
  TptMapView view;
  GArray *spots;
  double most;       /* largest value */
  double most_radius;
  double class_step; /* of a grid: values per tint */
  int n_classes;
  GPtrArray *legend;
} TptMapLayout;

double tpt_chart_map_get_value (const TptChartMap *map, const TptMapMark *mark);
gboolean tpt_chart_map_was_worked (const TptMapMark *mark);
char *tpt_chart_map_note (const TptChartMap *map);

void tpt_chart_map_lay_out (const TptChartMap *map, TptCanvas *canvas, const TptFigureRect *area, TptMapLayout *layout);
void tpt_map_layout_clear (TptMapLayout *layout);

/* 0 to 1, in as many steps as the legend has. */
double tpt_map_layout_get_tint (const TptMapLayout *layout, double value);

void tpt_chart_map_paint (const TptChartMap *map, TptCanvas *canvas, const TptFigureRect *area);

/* Tracks, graticule and names below the marks. @taken: (element-type TptFigureRect) */
void tpt_chart_map_paint_ground (const TptChartMap *map, const TptMapLayout *layout, TptCanvas *canvas);
void tpt_chart_map_write_names (const TptChartMap *map, const TptMapLayout *layout, TptCanvas *canvas, GArray *taken);
void tpt_chart_map_write_graticule (const TptMapLayout *layout, TptCanvas *canvas, GArray *taken);

/* Whether @rect lies on the map and clear of everything in @taken. */
gboolean tpt_map_has_room (const TptMapLayout *layout, const TptFigureRect *rect, const GArray *taken);

G_END_DECLS
