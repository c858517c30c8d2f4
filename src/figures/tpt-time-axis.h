/* One axis of time: where an instant lies, and the drawing of its grid and labels. */
#pragma once

#include <cairo.h>
#include <glib.h>

#include "tpt-figure.h"
#include "tpt-time.h"

G_BEGIN_DECLS

/**
 * TptTimeAxis:
 * @range: what lies between @left and @right; both ends are known instants
 * @left: in units of the drawing
 * @right: more than @left
 * @zone: (not owned): the calendar of the ticks
 */
typedef struct {
  TptRange range;
  double left;
  double right;
  TptZone *zone;
} TptTimeAxis;

/* May lie outside @left to @right. */
double tpt_time_axis_position (const TptTimeAxis *axis, TptInstant instant);

/* Held within the range of the axis. */
TptInstant tpt_time_axis_instant (const TptTimeAxis *axis, double x);

/* The height that tpt_time_axis_draw_labels() needs. */
double tpt_time_axis_height (const TptFigureStyle *style);

/* Faint lines at the ticks from @top to @bottom. */
void tpt_time_axis_draw_grid (const TptTimeAxis *axis, cairo_t *cr, double top, double bottom,
                              const TptFigureStyle *style);

/* The period of @style that is chosen, from @top to @bottom, an open end at the end of the
 * axis; nothing for none. */
void tpt_time_axis_draw_brush (const TptTimeAxis *axis, cairo_t *cr, double top, double bottom,
                               const TptFigureStyle *style);

/* The words of the ticks in one line around @middle, with what they leave out where that changes. */
void tpt_time_axis_draw_line (const TptTimeAxis *axis, cairo_t *cr, double middle, const TptFigureStyle *style);

/* The words of the ticks, in two lines below @top. */
void tpt_time_axis_draw_labels (const TptTimeAxis *axis, cairo_t *cr, double top,
                                const TptFigureStyle *style);

G_END_DECLS
