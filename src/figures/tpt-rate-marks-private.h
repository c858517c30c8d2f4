/* Rates with their intervals as marks above bars of the effort they stand on, side by
 * side along whatever axis the caller has: months, phases of the moon.
 *
 * The marks of series 0, 1, 2 … differ in colour and in shape; filled where something was
 * seen, hollow at nought where nothing was. What has no effort has no mark and no bar. */
#pragma once

#include "tpt-canvas-private.h"
#include "tpt-value-axis.h"

G_BEGIN_DECLS

/**
 * TptRateMark:
 * @nights: trap nights; 0 for not at work
 * @detections: in them
 * @rate, @low, @high: per 100 trap nights and the limits of its interval; NAN for none
 */
typedef struct {
  double nights;
  gint64 detections;
  double rate;
  double low;
  double high;
} TptRateMark;

/**
 * TptRateScale: fill it with tpt_rate_scale_set(), then tpt_rate_scale_lay_out().
 * @top: the rate at the upper end of @plot; nought is at its lower end
 * @nights: those of a bar as long as @effort is high
 * @rates: from nought to @top
 * @plot: inside the axes, for rates
 * @effort: bars hang from its top
 */
typedef struct {
  double top;
  double nights;
  TptValueAxis rates;
  TptFigureRect plot;
  TptFigureRect effort;
} TptRateScale;

/* Ends of the scale that suit @marks. What has less than a tenth of the nights of the
 * fullest says too little to stretch it; of the rest the interval of the highest rate is
 * shown whole, and longer ones leave the scale with an arrow. */
void tpt_rate_scale_set (TptRateScale *scale, const TptRateMark *marks, guint n_marks);

/* @area: for numbers, marks and bars; the words of the axis below and the head above
 * are the caller's. */
void tpt_rate_scale_lay_out (TptRateScale *scale, TptCanvas *canvas, const TptFigureRect *area);

/* The height an area should have. */
double tpt_rate_scale_get_height (const TptCanvas *canvas);

/* Lines and numbers of both scales, and the base line. */
void tpt_rate_scale_draw (const TptRateScale *scale, TptCanvas *canvas);

/* Where a rate lies; may be above the plot. */
double tpt_rate_scale_place (const TptRateScale *scale, double rate);

/* Whether the rate of @mark lies above the scale: it is drawn as an arrowhead there. */
gboolean tpt_rate_mark_is_beyond (const TptRateScale *scale, const TptRateMark *mark);

/* @x: the middle of the mark; @room: how much width it has for itself. The bar of little
 * effort is still a bar. */
TptFigureRect tpt_rate_mark_get_rect (const TptRateScale *scale, const TptCanvas *canvas, const TptRateMark *mark,
                                      double x, double room);
TptFigureRect tpt_rate_effort_get_rect (const TptRateScale *scale, const TptCanvas *canvas, const TptRateMark *mark,
                                        double x, double room);

void tpt_rate_mark_draw (const TptRateScale *scale, TptCanvas *canvas, const TptRateMark *mark, int series,
                         double x, double room, double alpha);
void tpt_rate_effort_draw (const TptRateScale *scale, TptCanvas *canvas, const TptRateMark *mark, int series,
                           double x, double room, double alpha);

/* The mark alone, for a legend. */
void tpt_rate_mark_draw_sample (TptCanvas *canvas, int series, double x, double y);

TptColorRole tpt_rate_mark_color (int series);

/* (transfer full): "11 detections in 703 trap nights: 1.56 per 100 (0.78 to 2.80)", or
 * that no camera was at work. */
char *tpt_rate_mark_say (const TptRateMark *mark);

G_END_DECLS
