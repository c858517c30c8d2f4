/* One station through time: frames per day, visits, readings, the forecast and
 * the gaps. */
#pragma once

#include "tpt-figure.h"
#include "tpt-symbol.h"

G_BEGIN_DECLS

TptFigure *tpt_timeline_new (TptRange range, TptZone *zone);

/* @day as tpt_zone_local_day() counts. */
void tpt_timeline_add_day (TptFigure *figure, gint64 day, guint frames);

/* @what was done, in a few words; may be %NULL. */
void tpt_timeline_add_visit (TptFigure *figure, TptInstant at, const char *what);

/* A stretch without a working camera; @why may be %NULL. */
void tpt_timeline_add_gap (TptFigure *figure, TptRange range, const char *why);

/* One line of readings, such as "Camera battery" or "Card". Returns the series. */
int tpt_timeline_add_series (TptFigure *figure, const char *label);

/* What is left, 0 to 100 percent. A line joins readings in the order of time;
 * where @renewed, the unit was swapped or charged then, and a new line begins. */
void tpt_timeline_add_reading (TptFigure *figure, int series, TptInstant at, double percent,
                               gboolean renewed);

/* From what is left at @from until empty; p50 and p90 may be %TPT_NO_INSTANT. */
void tpt_timeline_set_forecast (TptFigure *figure, int series, TptInstant from, double percent,
                                TptInstant p10, TptInstant p50, TptInstant p90);

G_END_DECLS
