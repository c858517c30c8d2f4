#pragma once

#include "tpt-figure-private.h"
#include "tpt-strip.h"

G_BEGIN_DECLS

#define TPT_STRIP_SETS 2

/* @what, @key: interned
 * @set: 0, or 1 for the second set of a pair */
typedef struct {
  TptInstant at;
  TptRange when;
  const char *what;
  const char *key;
  int count;
  guint set;
} TptStripDetection;

/* @worked: on the axis
 * @means: when it was, as far as it lies on the axis */
typedef struct {
  TptRange worked;
  TptRange means;
  guint set;
} TptStripEffort;

/* @why: interned */
typedef struct {
  TptRange range;
  const char *why;
} TptStripGap;

/**
 * TptStripRow:
 * @label: (owned)
 * @key: (owned) (nullable)
 * @effort: (owned) (element-type TptStripEffort): cut to the strip's range
 * @gaps: (owned) (element-type TptStripGap): likewise
 * @detections: (owned) (element-type TptStripDetection)
 * @n_seen: detections of each set
 */
typedef struct {
  char *label;
  char *key;
  double trap_nights;
  GArray *effort;
  GArray *gaps;
  GArray *detections;
  guint n_seen[TPT_STRIP_SETS];
} TptStripRow;

/* @rows: (owned) (element-type TptStripRow)
 * @names: (owned) (nullable): of the sets of a pair
 * @own_effort: whether the second set has its own */
typedef struct {
  TptRange range;
  TptZone *zone;
  GPtrArray *rows;
  char *names[TPT_STRIP_SETS];
  guint n_sets;
  gboolean own_effort;
} TptStrip;

/**
 * TptStripLayout: where everything lies, for drawing and for pointing alike.
 * @plot: inside the axes
 * @row_height: of each row
 * @n_shown: rows that have room
 * @label_every: 1, or more when rows are lower than their labels
 * @label_width: 0 for no labels
 * @numbers: whether detections and trap nights have their columns
 * @numbers_width: of both columns, 0 for none
 * @nights_width: of the one of trap nights
 * @n_sets: 2 for a pair
 * @own_effort: whether bars lie above and below the middle
 * @line: height of the words of time above the rows, 0 for none
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
  double numbers_width;
  double nights_width;
  guint n_sets;
  gboolean own_effort;
  double line;
} TptStripLayout;

void tpt_strip_lay_out (const TptStrip *strip, TptCanvas *canvas, const TptFigureRect *area, TptStripLayout *layout);
double tpt_strip_get_height (const TptStrip *strip, TptCanvas *canvas);
TptFigureRect tpt_strip_get_row_rect (const TptStripLayout *layout, guint row);
TptFigureRect tpt_strip_get_effort_rect (const TptStripLayout *layout, guint row, const TptRange *worked, guint set);
TptFigureRect tpt_strip_get_tick_rect (const TptStripLayout *layout, guint row, TptInstant at, guint set);

/* Of a set: its own effort, or that of the row. */
double tpt_strip_get_nights (const TptStrip *strip, const TptStripRow *row, guint set);

/* All (transfer full): words for what is drawn. */
char *tpt_strip_say_row (const TptStrip *strip, const TptStripRow *row);
char *tpt_strip_say_effort (const TptStrip *strip, const TptStripRow *row, const TptStripEffort *effort);
char *tpt_strip_say_gap (const TptStrip *strip, const TptStripRow *row, const TptStripGap *gap);
char *tpt_strip_say_detection (const TptStrip *strip, const TptStripRow *row, const TptStripDetection *detection);
char *tpt_strip_describe (const TptStrip *strip);

void tpt_strip_hit (const TptStrip *strip, TptCanvas *canvas, const TptFigureRect *area, TptHitTest *test);
void tpt_strip_paint (const TptStrip *strip, TptCanvas *canvas, const TptFigureRect *area);

G_END_DECLS
