#pragma once

#include "tpt-figure-private.h"
#include "tpt-strip.h"

G_BEGIN_DECLS

/* @what: interned */
typedef struct {
  TptInstant at;
  const char *what;
  int count;
} TptStripDetection;

/* @why: interned */
typedef struct {
  TptRange range;
  const char *why;
} TptStripGap;

/**
 * TptStripRow:
 * @label: (owned)
 * @key: (owned) (nullable)
 * @effort: (owned) (element-type TptRange): cut to the strip's range
 * @gaps: (owned) (element-type TptStripGap): likewise
 * @detections: (owned) (element-type TptStripDetection)
 */
typedef struct {
  char *label;
  char *key;
  double trap_nights;
  GArray *effort;
  GArray *gaps;
  GArray *detections;
} TptStripRow;

/* @rows: (owned) (element-type TptStripRow) */
typedef struct {
  TptRange range;
  TptZone *zone;
  GPtrArray *rows;
} TptStrip;

/**
 * TptStripLayout: where everything lies, for drawing and for pointing alike.
 * @plot: inside the axes
 * @row_height: of each row
 * @n_shown: rows that have room
 * @label_every: 1, or more when rows are lower than their labels
 * @label_width: 0 for no labels
 * @numbers: whether detections and trap nights have their columns
 */
typedef struct {
  TptFigureRect plot;
  TptTimeAxis axis;
  double row_height;
  guint n_shown;
  guint label_every;
  double label_x;
  double label_width;
  gboolean numbers;
} TptStripLayout;

void tpt_strip_lay_out (const TptStrip *strip, TptCanvas *canvas, const TptFigureRect *area, TptStripLayout *layout);
double tpt_strip_get_height (const TptStrip *strip, TptCanvas *canvas);
TptFigureRect tpt_strip_get_row_rect (const TptStripLayout *layout, guint row);
TptFigureRect tpt_strip_get_effort_rect (const TptStripLayout *layout, guint row, const TptRange *worked);
TptFigureRect tpt_strip_get_tick_rect (const TptStripLayout *layout, guint row, TptInstant at);
double tpt_strip_get_nights (const TptStripRow *row);
void tpt_strip_paint (const TptStrip *strip, TptCanvas *canvas, const TptFigureRect *area);

G_END_DECLS
