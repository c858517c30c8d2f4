/* A stretch of a figure's axis, of time or of hours of the day, while somebody brushes
 * it with the mouse or grows it with the keyboard. */
#pragma once

#include "tpt-figure.h"

G_BEGIN_DECLS

typedef enum {
  TPT_STRETCH_NONE,
  TPT_STRETCH_TIME,
  TPT_STRETCH_HOURS,
} TptStretchKind;

/**
 * TptStretch:
 * @range: of %TPT_STRETCH_TIME, half-open
 * @hour_from: of %TPT_STRETCH_HOURS, from 0 and less than 24
 * @hour_to: more than 0, to 24; over midnight when it is not after @hour_from
 * @anchor: where the keyboard began: a step of time, or a whole hour
 * @grown: steps from there, to the left when negative
 */
typedef struct {
  TptStretchKind kind;
  TptRange range;
  double hour_from;
  double hour_to;
  TptInstant anchor;
  int grown;
} TptStretch;

#define TPT_STRETCH_INIT { TPT_STRETCH_NONE, { TPT_NO_INSTANT, TPT_NO_INSTANT }, NAN, NAN, TPT_NO_INSTANT, 0 }

/* The figure as it was drawn. */
typedef struct {
  TptFigure *figure;
  double width;
  double height;
  const TptFigureStyle *style;
} TptStretchGround;

/**
 * tpt_stretch_drag:
 * @from: x of one end
 * @to: x of the other; past an end of the hours it goes on at the other
 *
 * Hours are rounded to a quarter; a stretch of time is as it is.
 *
 * Returns: %FALSE, with nothing in @stretch, for a figure without such an axis or a stretch
 *   of no length
 */
gboolean tpt_stretch_drag (TptStretch *stretch, const TptStretchGround *ground, double from, double to);

/**
 * tpt_stretch_grow:
 * @x: where the keyboard is
 * @by: 1 to the right, -1 to the left
 *
 * The first time takes the step at @x; each time after grows or shrinks it by one. A step
 * is a whole hour, or what the calendar gives for the length of the axis: a few days,
 * a month. Time ends at the ends of the axis, hours at the whole day.
 *
 * Returns: %FALSE for a figure without such an axis
 */
gboolean tpt_stretch_grow (TptStretch *stretch, const TptStretchGround *ground, double x, int by);

/* (transfer full): "1 March to 30 April 2026", "22:00 to 04:00", "the whole day". */
char *tpt_stretch_describe (const TptStretch *stretch, TptFigure *figure);

G_END_DECLS
