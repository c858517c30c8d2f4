#pragma once

#include "tpt-figure-private.h"
#include "tpt-hours.h"
#include "tpt-value-axis.h"

G_BEGIN_DECLS

/* In em: a line of the legend, a sample of a curve before its name, the labels of the hours. */
#define TPT_HOURS_LINE 1.45
#define TPT_HOURS_SAMPLE 2.6
#define TPT_HOURS_LABELS 1.7

/**
 * TptHoursRow: one series.
 * @label, @key, @why_not: (owned) (nullable)
 * @hours: (owned)
 * @density, @low, @high: (owned) (nullable): percent per hour, @points of each
 * @counts: records in each whole hour
 */
typedef struct {
  char *label;
  char *key;
  char *why_not;
  double *hours;
  guint n;
  double *density;
  double *low;
  double *high;
  guint points;
  guint counts[24];
} TptHoursRow;

/* @rows: (owned) (element-type TptHoursRow)
 * @sun: all NAN for no bands */
typedef struct {
  TptHoursClock clock;
  TptHoursSun sun;
  GPtrArray *rows;
} TptHours;

/**
 * TptHoursLayout:
 * @plot: inside the axes
 * @axis: percent per hour, above the foot of @plot
 * @left: of everything written
 * @right: the same
 * @head: top of what the axis is of
 * @legend: top of the first line of the legend
 * @n_columns: of the legend
 * @n_lines: of the legend; 0 when one series is told in the head
 * @says: top of the reasons why there is no curve; they take @says_height
 * @lane_height: of each lane of ticks below the plot
 * @titled: whether there is room for what the hours are of
 */
typedef struct {
  TptFigureRect plot;
  TptValueAxis axis;
  double left;
  double right;
  double head;
  double legend;
  guint n_columns;
  guint n_lines;
  double says;
  double says_height;
  double lane_height;
  gboolean titled;
} TptHoursLayout;

void tpt_hours_lay_out (const TptHours *hours, TptCanvas *canvas, const TptFigureRect *area, TptHoursLayout *layout);
double tpt_hours_get_height (const TptHours *hours, TptCanvas *canvas, double width);
double tpt_hours_place (const TptHoursLayout *layout, double hour);
/* The ticks of one series. */
TptFigureRect tpt_hours_get_lane (const TptHoursLayout *layout, guint row);

/* The width of a column of the legend. */
double tpt_hours_measure_legend (const TptHours *hours, TptCanvas *canvas);

/* The height of the reasons why there is no curve, written at @layout if @paint. None in a
 * frame, where the note says them. */
double tpt_hours_set_reasons (const TptHours *hours, TptCanvas *canvas, const TptHoursLayout *layout, gboolean paint);

void tpt_hours_paint (const TptHours *hours, TptCanvas *canvas, const TptFigureRect *area);
/* Night, twilight and day behind the plot, and their names. */
void tpt_hours_paint_light (const TptHours *hours, const TptHoursLayout *layout, TptCanvas *canvas);

/* A curve of @row at @hour, between its points; NAN without one. */
double tpt_hours_at (const TptHoursRow *row, const double *curve, double hour);

gboolean tpt_hours_has_light (const TptHours *hours);
/* Only behind one single series. */
gboolean tpt_hours_has_bars (const TptHours *hours);
double tpt_hours_get_bar (const TptHoursRow *row, guint hour);
gboolean tpt_hours_has_band (const TptHoursRow *row);

/* Share of the days that are night at @hour, and that are in twilight, when sunrise and sunset are
 * spread evenly between first and last. */
double tpt_hours_get_night (const TptHoursSun *sun, double hour);
double tpt_hours_get_twilight (const TptHoursSun *sun, double hour);

/* All (transfer full). */
char *tpt_hours_say_hour (const TptHours *hours, const TptHoursRow *row, guint hour);
char *tpt_hours_say_legend (const TptHoursRow *row);
char *tpt_hours_say_peaks (const TptHoursRow *row);
char *tpt_hours_describe (const TptHours *hours);
/* Why there is no curve, with a label beside others; %NULL for nothing to say. */
char *tpt_hours_say_reason (const TptHours *hours, const TptHoursRow *row);

G_END_DECLS
