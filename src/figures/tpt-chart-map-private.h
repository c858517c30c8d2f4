#pragma once

#include "tpt-chart-map.h"
#include "tpt-figure-private.h"
#include "tpt-chart-view-private.h"

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
} TptChartMark;

/* @name: (owned) (nullable)
 * @places: (owned) (element-type TptPlace) */
typedef struct {
  TptTrackKind kind;
  char *name;
  GArray *places;
} TptChartTrack;

/* @marks: (owned) (element-type TptChartMark)
 * @tracks: (owned) (element-type TptChartTrack) */
typedef struct {
  TptMapMeasure measure;
  int decimals;
  double cell; /* degrees; 0 for exact places */
  GPtrArray *marks;
  GPtrArray *tracks;
} TptChartMap;

/* Where one mark is drawn: a disc or ring in @rect, or a cell. */
typedef struct {
  const TptChartMark *mark;
  guint index;
  TptFigureRect rect;
  double x;
  double y;
  double radius;
} TptChartSpot;

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

/* @spots: (owned) (element-type TptChartSpot): large ones first
 * @legend: (owned) (element-type TptLegendItem) */
typedef struct {
  TptChartView view;
  GArray *spots;
  double most;       /* largest value */
  double most_radius;
  double class_step; /* of a grid: values per tint */
  int n_classes;
  GPtrArray *legend;
} TptChartMapLayout;

double tpt_chart_map_get_value (const TptChartMap *map, const TptChartMark *mark);
gboolean tpt_chart_map_was_worked (const TptChartMark *mark);
char *tpt_chart_map_note (const TptChartMap *map);

void tpt_chart_map_lay_out (const TptChartMap *map, TptCanvas *canvas, const TptFigureRect *area, TptChartMapLayout *layout);
void tpt_chart_map_layout_clear (TptChartMapLayout *layout);

/* 0 to 1, in as many steps as the legend has. */
double tpt_chart_map_layout_get_tint (const TptChartMapLayout *layout, double value);

void tpt_chart_map_paint (const TptChartMap *map, TptCanvas *canvas, const TptFigureRect *area);

/* Tracks, graticule and names below the marks. @taken: (element-type TptFigureRect) */
void tpt_chart_map_paint_ground (const TptChartMap *map, const TptChartMapLayout *layout, TptCanvas *canvas);
void tpt_chart_map_write_names (const TptChartMap *map, const TptChartMapLayout *layout, TptCanvas *canvas, GArray *taken);
void tpt_chart_map_write_graticule (const TptChartMapLayout *layout, TptCanvas *canvas, GArray *taken);

/* The scale bar and the arrow to the north. */
void tpt_chart_map_draw_plates (const TptChartMapLayout *layout, TptCanvas *canvas, GArray *taken);

/* Whether @rect lies on the map and clear of everything in @taken. */
gboolean tpt_chart_map_has_room (const TptChartMapLayout *layout, const TptFigureRect *rect, const GArray *taken);

G_END_DECLS
