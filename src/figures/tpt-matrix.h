/* Species by station: a disc in each cell, its area the detections or their rate.
 *
 * A cell of a station that worked and did not see the species is an empty pale square; one
 * of a station that did not work is left out. Rows keep the order added, and so do columns. */
#pragma once

#include "tpt-figure.h"

G_BEGIN_DECLS

typedef enum {
  TPT_MATRIX_COUNT,    /* detections */
  TPT_MATRIX_RATE,     /* detections per 100 trap nights */
  TPT_MATRIX_PRESENCE, /* seen or not */
} TptMatrixMeasure;

TptFigure *tpt_matrix_new (TptMatrixMeasure measure);

/* Returns the column, from 0. @key (nullable): comes back as item_key. @nights 0: it did not work. */
int tpt_matrix_add_station (TptFigure *figure, const char *label, const char *key, double nights);

/* Returns the row, from 0. @key (nullable). */
int tpt_matrix_add_species (TptFigure *figure, const char *label, const char *key);

/* After its row and column were added; nothing is 0 detections. */
void tpt_matrix_set (TptFigure *figure, int species, int station, gint64 detections);

G_END_DECLS
