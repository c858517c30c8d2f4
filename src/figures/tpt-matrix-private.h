#pragma once

#include "tpt-figure-private.h"
#include "tpt-matrix.h"

G_BEGIN_DECLS

/**
 * TptMatrixStation:
 * @label: (owned)
 * @key: (owned) (nullable)
 */
typedef struct {
  char *label;
  char *key;
  double nights;
} TptMatrixStation;

/**
 * TptMatrixSpecies:
 * @label: (owned)
 * @key: (owned) (nullable)
 * @counts: (owned) (element-type gint64): by station, as far as any is set
 */
typedef struct {
  char *label;
  char *key;
  GArray *counts;
} TptMatrixSpecies;

/**
 * TptMatrix:
 * @species: (owned) (element-type TptMatrixSpecies)
 * @stations: (owned) (element-type TptMatrixStation)
 */
typedef struct {
  TptMatrixMeasure measure;
  GPtrArray *species;
  GPtrArray *stations;
} TptMatrix;

/**
 * TptMatrixLayout: where everything lies, for drawing and for pointing alike.
 * @plot: the cells, without totals and names
 * @cell_width, @cell_height: of each, with the gap around it
 * @disc: the largest diameter
 * @shaded: cells too small for discs of different sizes: the depth of their colour tells
 * @most: the value it stands for
 * @n_rows, @n_columns: those that have room
 * @row_every, @column_every: 1, or more when there is less room than a name takes
 * @label_width: of names of species
 * @totals: right end of the numbers at the right; NAN for none
 * @nights_height: 0 for no row of them; it lies below the plot
 * @nights_turned: whether they read upwards
 * @names_height: of names of stations, below the nights
 * @names_turned: whether they read upwards
 * @rest: top of the words on what has no room; NAN for none
 * @legend: top of it
 * @bottom: of all
 */
typedef struct {
  TptFigureRect plot;
  double cell_width;
  double cell_height;
  double disc;
  gboolean shaded;
  double most;
  guint n_rows;
  guint n_columns;
  guint row_every;
  guint column_every;
  double label_x;
  double label_width;
  double totals;
  double nights_height;
  gboolean nights_turned;
  double names_height;
  gboolean names_turned;
  double rest;
  double legend;
  double bottom;
} TptMatrixLayout;

extern const TptText tpt_matrix_row_text;
extern const TptText tpt_matrix_column_text;
extern const TptText tpt_matrix_number_text;

gboolean tpt_matrix_is_empty (const TptMatrix *matrix);

/* (transfer none): what an empty one says instead. */
const char *tpt_matrix_say_empty (const TptMatrix *matrix);
const TptMatrixSpecies *tpt_matrix_get_species (const TptMatrix *matrix, guint row);
const TptMatrixStation *tpt_matrix_get_station (const TptMatrix *matrix, guint column);
gint64 tpt_matrix_get_count (const TptMatrix *matrix, guint row, guint column);

/* What the area of a disc stands for; NAN for a rate without effort. */
double tpt_matrix_get_value (const TptMatrix *matrix, guint row, guint column);

/* The greatest value, leaving out rates on less than a tenth of the effort of the station
 * that worked longest; and whether one of those is above it. */
double tpt_matrix_get_most (const TptMatrix *matrix);
gboolean tpt_matrix_is_beyond (const TptMatrix *matrix, double most, guint row, guint column);

/* Detections, or for presence the stations the species was seen at. */
gint64 tpt_matrix_get_total (const TptMatrix *matrix, guint row);

/* (transfer full): what a cell, a row, a column and the whole of it say. */
char *tpt_matrix_describe_cell (const TptMatrix *matrix, guint row, guint column);
char *tpt_matrix_describe_species (const TptMatrix *matrix, guint row);
char *tpt_matrix_describe_station (const TptMatrix *matrix, guint column);
char *tpt_matrix_describe (const TptMatrix *matrix);
char *tpt_matrix_explain (const TptMatrix *matrix);

void tpt_matrix_lay_out (const TptMatrix *matrix, TptCanvas *canvas, const TptFigureRect *area,
                         TptMatrixLayout *layout);
double tpt_matrix_get_height (const TptMatrix *matrix, TptCanvas *canvas, double width);
TptFigureRect tpt_matrix_get_cell_rect (const TptMatrixLayout *layout, guint row, guint column);
TptFigureRect tpt_matrix_get_label_rect (const TptMatrixLayout *layout, guint row);
TptFigureRect tpt_matrix_get_name_rect (const TptMatrixLayout *layout, guint column);
double tpt_matrix_get_diameter (const TptMatrix *matrix, const TptMatrixLayout *layout, double value);

/* The height of the legend in @width; draws it at @x, @y if @paint. */
double tpt_matrix_set_legend (const TptMatrix *matrix, TptCanvas *canvas, const TptMatrixLayout *layout, double x,
                              double y, double width, gboolean paint);
/* How deep the colour of a cell is, 0 to 1, in a shaded layout. */
double tpt_matrix_get_depth (const TptMatrix *matrix, const TptMatrixLayout *layout, double value);
void tpt_matrix_draw_disc (TptCanvas *canvas, double x, double y, double diameter, gboolean ring, double alpha);
void tpt_matrix_draw_square (TptCanvas *canvas, const TptFigureRect *rect);
void tpt_matrix_draw_shade (TptCanvas *canvas, const TptFigureRect *rect, double depth);
void tpt_matrix_paint (const TptMatrix *matrix, TptCanvas *canvas, const TptFigureRect *area);

G_END_DECLS
