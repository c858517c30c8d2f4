#include "config.h"

#include "tpt-phrases-private.h"
#include "tpt-timeline-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

static char *
describe_visit (const TptTimeline *timeline,
                const TptTimelineSpan *visit)
{
  g_autofree char *when = tpt_words_instant (visit->range.from, timeline->zone);

  if (visit->what == NULL)
    return g_strdup_printf (_("Visit, %s"), when);
  return g_strdup_printf (_("Visit, %1$s: %2$s"), when, visit->what);
}

static char *
describe_gap (const TptTimeline *timeline,
              const TptTimelineSpan *gap)
{
  g_autofree char *period = tpt_words_period (gap->range, timeline->zone);

  if (gap->what == NULL)
    return g_strdup_printf (_("No working camera, %s"), period);
  return g_strdup_printf (_("No working camera, %1$s: %2$s"), period, gap->what);
}

static char *
describe_reading (const TptTimeline *timeline,
                  const TptTimelineSeries *series,
                  const TptTimelineReading *reading)
{
  g_autofree char *when = tpt_words_instant (reading->at, timeline->zone);
  int percent = (int) round (reading->percent);

  return reading->renewed ? g_strdup_printf (_("%1$s: renewed to %2$d %%, %3$s"), series->label, percent, when)
                          : g_strdup_printf (_("%1$s: %2$d %%, %3$s"), series->label, percent, when);
}

static char *
describe_forecast (const TptTimeline *timeline,
                   const TptTimelineSeries *series)
{
  g_autofree char *early = tpt_words_date (series->forecast[0], timeline->zone);
  g_autofree char *late = NULL;

  if (series->forecast[2] == TPT_NO_INSTANT)
    return g_strdup_printf (_("%1$s: will not give out before %2$s, with a chance of 90 %%"), series->label, early);
  late = tpt_words_date (series->forecast[2], timeline->zone);
  return g_strdup_printf (_("%1$s: gives out between %2$s and %3$s, with a chance of 80 %%"), series->label, early, late);
}

static void
hit_days (const TptTimeline *timeline,
          const TptTimelineLayout *layout,
          TptHitTest *test)
{
  for (guint i = 0; i < timeline->days->len; i++)
    {
      const TptTimelineDay *day = &g_array_index (timeline->days, TptTimelineDay, i);
      TptFigureRect rect = tpt_timeline_get_day_rect (timeline, layout, day);

      if (tpt_hit_test_wants (test, TPT_LAYER_BAR, &rect))
        {
          g_autofree char *date = tpt_words_date (tpt_zone_day_from_number (timeline->zone, day->day), timeline->zone);
          g_autofree char *frames = tpt_phrase_frames (day->frames);

          tpt_hit_test_take (test, TPT_LAYER_BAR, &rect, TPT_HIT_DAY, -1, i,
                             g_strdup_printf ("%s, %s", frames, date), NULL);
        }
    }
}

static void
hit_spans (const TptTimeline *timeline,
           const TptTimelineLayout *layout,
           TptHitTest *test)
{
  for (guint i = 0; i < timeline->gaps->len; i++)
    {
      const TptTimelineSpan *gap = g_ptr_array_index (timeline->gaps, i);
      TptFigureRect rect = tpt_timeline_get_span_rect (layout, &gap->range);

      if (tpt_hit_test_wants (test, TPT_LAYER_AREA, &rect))
        tpt_hit_test_take (test, TPT_LAYER_AREA, &rect, TPT_HIT_GAP, -1, i, describe_gap (timeline, gap), NULL);
    }
  for (guint i = 0; i < timeline->visits->len; i++)
    {
      const TptTimelineSpan *visit = g_ptr_array_index (timeline->visits, i);
      TptFigureRect rect = tpt_timeline_get_span_rect (layout, &visit->range);

      if (tpt_hit_test_wants (test, TPT_LAYER_MARK, &rect))
        tpt_hit_test_take (test, TPT_LAYER_MARK, &rect, TPT_HIT_VISIT, -1, i, describe_visit (timeline, visit), NULL);
    }
}

static void
hit_series (const TptTimeline *timeline,
            const TptTimelineLayout *layout,
            guint index,
            TptHitTest *test)
{
  const TptTimelineSeries *series = g_ptr_array_index (timeline->series, index);

  for (guint i = 0; i < series->readings->len; i++)
    {
      const TptTimelineReading *reading = &g_array_index (series->readings, TptTimelineReading, i);
      TptFigureRect rect = tpt_timeline_get_reading_rect (layout, reading);

      if (tpt_hit_test_wants (test, TPT_LAYER_MARK, &rect))
        tpt_hit_test_take (test, TPT_LAYER_MARK, &rect, TPT_HIT_READING, index, i,
                           describe_reading (timeline, series, reading), NULL);
    }
  if (series->from != TPT_NO_INSTANT)
    {
      TptRange fan = { series->from, series->forecast[2] != TPT_NO_INSTANT ? series->forecast[2] : timeline->range.to };
      TptFigureRect rect = tpt_timeline_get_span_rect (layout, &fan);

      if (tpt_hit_test_wants (test, TPT_LAYER_AREA, &rect))
        tpt_hit_test_take (test, TPT_LAYER_AREA, &rect, TPT_HIT_FORECAST, index, -1,
                           describe_forecast (timeline, series), NULL);
    }
}

void
tpt_timeline_hit (const TptTimeline *timeline,
                  TptCanvas *canvas,
                  const TptFigureRect *area,
                  TptHitTest *test)
{
  TptTimelineLayout layout;

  tpt_timeline_lay_out (timeline, canvas, area, &layout);
  hit_days (timeline, &layout, test);
  hit_spans (timeline, &layout, test);
  for (guint i = 0; i < timeline->series->len; i++)
    hit_series (timeline, &layout, i, test);
}

static void
append_sentence (GString *text,
                 char *words)
{
  g_string_append_printf (text, " %s.", words);
  g_free (words);
}

char *
tpt_timeline_describe (const TptTimeline *timeline)
{
  g_autofree char *period = tpt_words_period (timeline->range, timeline->zone);
  g_autofree char *visits = tpt_phrase_visits (timeline->visits->len);
  g_autofree char *frames = NULL;
  GString *text = g_string_new (NULL);
  guint64 total = 0;

  for (guint i = 0; i < timeline->days->len; i++)
    total += g_array_index (timeline->days, TptTimelineDay, i).frames;
  frames = tpt_phrase_frames (total);
  g_string_append_printf (text, _("One station through time, %1$s: %2$s, %3$s."), period, frames, visits);

  for (guint i = 0; i < timeline->gaps->len; i++)
    append_sentence (text, describe_gap (timeline, g_ptr_array_index (timeline->gaps, i)));
  for (guint i = 0; i < timeline->series->len; i++)
    {
      const TptTimelineSeries *series = g_ptr_array_index (timeline->series, i);

      if (series->readings->len > 0)
        append_sentence (text, describe_reading (timeline, series, &g_array_index (series->readings, TptTimelineReading,
                                                                                   series->readings->len - 1)));
      if (series->from != TPT_NO_INSTANT)
        append_sentence (text, describe_forecast (timeline, series));
    }

  return g_string_free (text, FALSE);
}
