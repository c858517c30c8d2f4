#pragma once

#include "tpt-figure-private.h"
#include "tpt-timeline.h"

G_BEGIN_DECLS

typedef struct {
  gint64 day;
  guint frames;
} TptTimelineDay;

/* @what: (owned) (nullable) */
typedef struct {
  TptRange range; /* of a visit, both ends the same */
  char *what;
} TptTimelineSpan;

typedef struct {
  TptInstant at;
  double percent;
  gboolean renewed;
} TptTimelineReading;

/* @label: (owned)
 * @readings: (owned) (element-type TptTimelineReading)
 * @forecast: its p10, p50 and p90; @from is %TPT_NO_INSTANT for none */
typedef struct {
  char *label;
  GArray *readings;
  TptInstant from;
  double percent;
  TptInstant forecast[3];
} TptTimelineSeries;

/* All (owned): TptTimelineDay, TptTimelineSpan, TptTimelineSpan, TptTimelineSeries */
typedef struct {
  TptRange range;
  TptZone *zone;
  GArray *days;
  GPtrArray *visits;
  GPtrArray *gaps;
  GPtrArray *series;
  guint most_frames;
} TptTimeline;

typedef struct {
  TptFigureRect plot;
  TptTimeAxis axis;
} TptTimelineLayout;

void tpt_timeline_lay_out (const TptTimeline *timeline, TptCanvas *canvas, const TptFigureRect *area,
                           TptTimelineLayout *layout);
gboolean tpt_timeline_is_empty (const TptTimeline *timeline);
TptFigureRect tpt_timeline_get_day_rect (const TptTimeline *timeline, const TptTimelineLayout *layout,
                                         const TptTimelineDay *day);
TptFigureRect tpt_timeline_get_span_rect (const TptTimelineLayout *layout, const TptRange *range);
TptFigureRect tpt_timeline_get_reading_rect (const TptTimelineLayout *layout, const TptTimelineReading *reading);
void tpt_timeline_hit (const TptTimeline *timeline, TptCanvas *canvas, const TptFigureRect *area, TptHitTest *test);
char *tpt_timeline_describe (const TptTimeline *timeline);
void tpt_timeline_paint (const TptTimeline *timeline, TptCanvas *canvas, const TptFigureRect *area);

G_END_DECLS
