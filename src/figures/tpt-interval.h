/* When something gives out: an interval on an axis of time, as the rows of the
 * station list and the figure of what is due draw it. */
#pragma once

#include <cairo.h>

#include "tpt-symbol.h"
#include "tpt-time-axis.h"

G_BEGIN_DECLS

/**
 * TptInterval:
 * @p10: out before this with a chance of 10 %
 * @p50: the median
 * @p90: out before this with a chance of 90 %
 * @state: the colour
 *
 * @p50 and @p90 are %TPT_NO_INSTANT when they lie beyond what was forecast; all
 * three when there is no forecast, and then nothing is drawn.
 */
typedef struct {
  TptInstant p10;
  TptInstant p50;
  TptInstant p90;
  TptSymbolState state;
} TptInterval;

/* A bar from @p10 to @p90 with a ring at the median, around @y. An end outside
 * the axis is drawn open, and an interval wholly outside as an arrowhead at
 * that end. @thickness is that of the bar, 4 in the list. */
void tpt_interval_bar_draw (cairo_t *cr, const TptTimeAxis *axis, const TptInterval *interval,
                            double y, double thickness, TptPalette palette);

/* The line of the next round, from @top to @bottom, with @label (nullable) in a
 * plate at its foot. Draws nothing outside the axis. */
void tpt_round_line_draw (cairo_t *cr, const TptTimeAxis *axis, TptInstant round_at, double top,
                          double bottom, const char *label, const TptFigureStyle *style);

G_END_DECLS
