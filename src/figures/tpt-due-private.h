#pragma once

#include "tpt-due.h"
#include "tpt-figure-private.h"

G_BEGIN_DECLS

/* @rows: (owned) (element-type TptDueRow), their texts owned too */
typedef struct {
  TptRange range;
  TptZone *zone;
  TptInstant next_round;
  GPtrArray *rows;
} TptDue;

/**
 * TptDueLayout:
 * @plot: the intervals
 * @two_lines: whether what limits a station has a line below its name
 * @lost: whether lost nights have their column
 */
typedef struct {
  TptFigureRect plot;
  TptTimeAxis axis;
  double row_height;
  guint n_shown;
  double symbol;
  double symbol_x;
  double label_x;
  double label_width;
  gboolean two_lines;
  gboolean lost;
} TptDueLayout;

void tpt_due_lay_out (const TptDue *due, TptCanvas *canvas, const TptFigureRect *area, TptDueLayout *layout);
double tpt_due_get_height (const TptDue *due, TptCanvas *canvas);
TptFigureRect tpt_due_get_row_rect (const TptDueLayout *layout, const TptFigureRect *area, guint row);
TptFigureRect tpt_due_get_round_rect (const TptDue *due, const TptDueLayout *layout, const TptCanvas *canvas);
void tpt_due_paint (const TptDue *due, TptCanvas *canvas, const TptFigureRect *area);

G_END_DECLS
