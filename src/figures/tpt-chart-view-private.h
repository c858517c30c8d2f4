/* Where a place lies on a printed map: the only file that projects. */
#pragma once

#include "tpt-chart-map.h"

G_BEGIN_DECLS

/**
 * TptChartView: web Mercator, cut to a rectangle.
 * @rect: the map on the drawing
 * @longitude: of its middle; places are drawn on whichever turn of the globe
 *   lies nearest to it
 * @world_x: its middle in world widths, eastwards from the date line
 * @world_y: the same, southwards from the northern edge
 * @scale: units per world width
 */
typedef struct {
  TptFigureRect rect;
  double longitude;
  double world_x;
  double world_y;
  double scale;
} TptChartView;

/**
 * tpt_chart_view_fit:
 * @places: what must be visible, across the date line if that is the shorter way
 * @rect: the map
 * @pad: kept free along the edge, in units
 * @least_metres: the map shows at least this much from side to side
 */
TptChartView tpt_chart_view_fit (const TptPlace *places, guint n_places, const TptFigureRect *rect,
                             double pad, double least_metres);

void tpt_chart_view_project (const TptChartView *view, TptPlace place, double *x, double *y);

/* The same for a longitude that may lie on any turn of the globe. */
void tpt_chart_view_project_turn (const TptChartView *view, double latitude, double longitude, double *x, double *y);

/* @longitude on the turn of the globe nearest to @near. */
double tpt_chart_nearest_turn (double longitude, double near);

/* The place at @x, @y; its longitude is not brought back to -180 to 180. */
TptPlace tpt_chart_view_place (const TptChartView *view, double x, double y);

/* Ground metres per unit in the middle of the map. */
double tpt_chart_view_metres (const TptChartView *view);

G_END_DECLS
