/* An axis of numbers from nought upwards, with ticks at 1, 2 or 5 times a power of ten.
 *
 * First tpt_value_axis_init() by what must be shown and the room there is; then the caller
 * lays out, and sets @start and @end. Upright, @start is the lower end. */
#pragma once

#include <cairo.h>

#include "tpt-figure.h"

G_BEGIN_DECLS

/**
 * TptValueAxis:
 * @to: the value at @end; may be lowered after tpt_value_axis_init(), and then the ticks
 *   end before it
 * @step: between two ticks
 * @decimals: of their labels
 * @percent: labels end in a per cent sign
 * @start: position of nought
 * @end: position of @to
 */
typedef struct {
  double to;
  double step;
  int decimals;
  gboolean percent;
  double start;
  double end;
} TptValueAxis;

/* How many ticks beside nought have room for their labels on @length, at least 1. */
int tpt_value_axis_room (double length, gboolean upright, const TptFigureStyle *style);

/**
 * tpt_value_axis_init:
 * @most: the greatest value to be shown; nought, less or NAN where there is none
 * @ticks: how many may stand beside nought, at least 1
 * @whole: for counted things: no tick between whole numbers
 *
 * Sets everything but @start and @end; @to is a tick, not below @most.
 */
void tpt_value_axis_init (TptValueAxis *axis, double most, int ticks, gboolean whole);

/* Where a value is; beyond the ends for what lies beyond. */
double tpt_value_axis_position (const TptValueAxis *axis, double value);

/* Ticks with the one at nought; that of @index is at @index times @step. */
guint tpt_value_axis_count (const TptValueAxis *axis);

/* (transfer full): what is written at tick @index, such as "0.5", "1,000" or "20 %". */
char *tpt_value_axis_label (const TptValueAxis *axis, guint index);

/* What the widest label takes, whole units. */
double tpt_value_axis_width (const TptValueAxis *axis, const TptFigureStyle *style);

/* Faint lines at the ticks, from @from to @to across an upright or a level axis. */
void tpt_value_axis_draw_grid (const TptValueAxis *axis, cairo_t *cr, gboolean upright, double from, double to,
                               const TptFigureStyle *style);

/* Labels of an upright axis that end at @right. One without room is left out, never drawn over another. */
void tpt_value_axis_draw_upright (const TptValueAxis *axis, cairo_t *cr, double right, const TptFigureStyle *style);

G_END_DECLS
