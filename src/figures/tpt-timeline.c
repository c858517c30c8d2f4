#include "tpt-number.h"
#include "tpt-timeline-private.h"

static const TptFigureKind timeline_kind;

static void
free_span (gpointer data)
{
  TptTimelineSpan *span = data;

  g_free (span->what);
  g_free (span);
}

static void
free_series (gpointer data)
{
  TptTimelineSeries *series = data;

  g_free (series->label);
  g_array_unref (series->readings);
  g_free (series);
}

static void
free_timeline (gpointer data)
{
  TptTimeline *timeline = data;

  g_array_unref (timeline->days);
  g_ptr_array_unref (timeline->visits);
  g_ptr_array_unref (timeline->gaps);
  g_ptr_array_unref (timeline->series);
  tpt_zone_unref (timeline->zone);
  g_free (timeline);
}

TptFigure *
tpt_timeline_new (TptRange range,
                  TptZone *zone)
{
  TptTimeline *timeline;

  g_return_val_if_fail (range.from != TPT_NO_INSTANT && range.to > range.from, NULL);

  timeline = g_new0 (TptTimeline, 1);
  timeline->range = range;
  timeline->zone = tpt_zone_ref (zone);
  timeline->days = g_array_new (FALSE, FALSE, sizeof (TptTimelineDay));
  timeline->visits = g_ptr_array_new_with_free_func (free_span);
  timeline->gaps = g_ptr_array_new_with_free_func (free_span);
  timeline->series = g_ptr_array_new_with_free_func (free_series);
  return tpt_figure_new (&timeline_kind, timeline);
}

void
tpt_timeline_add_day (TptFigure *figure,
                      gint64 day,
                      guint frames)
{
  TptTimeline *timeline = tpt_figure_get_data (figure, &timeline_kind);
  TptTimelineDay one = { day, frames };

  if (tpt_zone_day_from_number (timeline->zone, day + 1) <= timeline->range.from ||
      tpt_zone_day_from_number (timeline->zone, day) >= timeline->range.to)
    return;
  timeline->most_frames = MAX (timeline->most_frames, frames);
  g_array_append_val (timeline->days, one);
}

static void
append_span (GPtrArray *spans,
             TptRange range,
             const char *what)
{
  TptTimelineSpan *span = g_new0 (TptTimelineSpan, 1);

  span->range = range;
  span->what = g_strdup (what);
  g_ptr_array_add (spans, span);
}

void
tpt_timeline_add_visit (TptFigure *figure,
                        TptInstant at,
                        const char *what)
{
  TptTimeline *timeline = tpt_figure_get_data (figure, &timeline_kind);

  if (at >= timeline->range.from && at < timeline->range.to)
    append_span (timeline->visits, (TptRange) { at, at }, what);
}

void
tpt_timeline_add_gap (TptFigure *figure,
                      TptRange range,
                      const char *why)
{
  TptTimeline *timeline = tpt_figure_get_data (figure, &timeline_kind);

  if (range.from == TPT_NO_INSTANT || range.from < timeline->range.from)
    range.from = timeline->range.from;
  if (range.to == TPT_NO_INSTANT || range.to > timeline->range.to)
    range.to = timeline->range.to;
  if (range.to > range.from)
    append_span (timeline->gaps, range, why);
}

int
tpt_timeline_add_series (TptFigure *figure,
                         const char *label)
{
  TptTimeline *timeline = tpt_figure_get_data (figure, &timeline_kind);
  TptTimelineSeries *series = g_new0 (TptTimelineSeries, 1);

  series->label = g_strdup (label);
  series->readings = g_array_new (FALSE, FALSE, sizeof (TptTimelineReading));
  series->from = TPT_NO_INSTANT;
  g_ptr_array_add (timeline->series, series);
  return (int) timeline->series->len - 1;
}

static TptTimelineSeries *
get_series (TptTimeline *timeline,
            int series)
{
  g_return_val_if_fail (series >= 0 && series < (int) timeline->series->len, NULL);
  return g_ptr_array_index (timeline->series, series);
}

static int
compare_readings (gconstpointer a,
                  gconstpointer b)
{
  const TptTimelineReading *reading_a = a;
  const TptTimelineReading *reading_b = b;

  if (reading_a->at != reading_b->at)
    return reading_a->at < reading_b->at ? -1 : 1;
  return reading_a->renewed - reading_b->renewed;
}

void
tpt_timeline_add_reading (TptFigure *figure,
                          int series,
                          TptInstant at,
                          double percent,
                          gboolean renewed)
{
  TptTimeline *timeline = tpt_figure_get_data (figure, &timeline_kind);
  TptTimelineSeries *into = get_series (timeline, series);
  TptTimelineReading reading = { at, CLAMP (percent, 0, 100), renewed };

  if (into == NULL || isnan (percent) || at < timeline->range.from || at > timeline->range.to)
    return;
  g_array_append_val (into->readings, reading);
  g_array_sort (into->readings, compare_readings);
}

void
tpt_timeline_set_forecast (TptFigure *figure,
                           int series,
                           TptInstant from,
                           double percent,
                           TptInstant p10,
                           TptInstant p50,
                           TptInstant p90)
{
  TptTimelineSeries *into = get_series (tpt_figure_get_data (figure, &timeline_kind), series);

  if (into == NULL || isnan (percent) || p10 == TPT_NO_INSTANT)
    return;
  into->from = from;
  into->percent = CLAMP (percent, 0, 100);
  into->forecast[0] = p10;
  into->forecast[1] = p50;
  into->forecast[2] = p90;
}

gboolean
tpt_timeline_is_empty (const TptTimeline *timeline)
{
  for (guint i = 0; i < timeline->series->len; i++)
    {
      const TptTimelineSeries *series = g_ptr_array_index (timeline->series, i);

      if (series->readings->len > 0 || series->from != TPT_NO_INSTANT)
        return FALSE;
    }

  return timeline->days->len == 0 && timeline->visits->len == 0 && timeline->gaps->len == 0;
}

static void
draw_timeline (TptFigure *figure,
               TptCanvas *canvas,
               const TptFigureRect *area)
{
  tpt_timeline_paint (tpt_figure_get_data (figure, &timeline_kind), canvas, area);
}

static double
get_timeline_height (TptFigure *figure,
                     TptCanvas *canvas,
                     double width)
{
  return 14 * canvas->em;
}

static TptFigureRect
get_timeline_plot (TptFigure *figure,
                   TptCanvas *canvas,
                   const TptFigureRect *area)
{
  TptTimelineLayout layout;

  tpt_timeline_lay_out (tpt_figure_get_data (figure, &timeline_kind), canvas, area, &layout);
  return layout.plot;
}

static TptTimeAxis
get_timeline_axis (TptFigure *figure,
                   TptCanvas *canvas,
                   const TptFigureRect *area)
{
  TptTimelineLayout layout;

  tpt_timeline_lay_out (tpt_figure_get_data (figure, &timeline_kind), canvas, area, &layout);
  return layout.axis;
}

static void
hit_timeline (TptFigure *figure,
              TptCanvas *canvas,
              const TptFigureRect *area,
              TptHitTest *test)
{
  tpt_timeline_hit (tpt_figure_get_data (figure, &timeline_kind), canvas, area, test);
}

static char *
describe_timeline (TptFigure *figure)
{
  return tpt_timeline_describe (tpt_figure_get_data (figure, &timeline_kind));
}

static char *
format_known (TptInstant instant,
              TptZone *zone)
{
  return instant != TPT_NO_INSTANT ? tpt_instant_format (instant, zone) : g_strdup ("");
}

static void
add_span_rows (const TptTimeline *timeline,
               GPtrArray *spans,
               const char *item,
               TptFigureTable *table)
{
  for (guint i = 0; i < spans->len; i++)
    {
      const TptTimelineSpan *span = g_ptr_array_index (spans, i);

      tpt_figure_table_add (table, g_strdup (item), g_strdup (span->what != NULL ? span->what : ""),
                            tpt_instant_format (span->range.from, timeline->zone),
                            span->range.to > span->range.from ? tpt_instant_format (span->range.to, timeline->zone)
                                                              : g_strdup (""),
                            g_strdup (""), NULL);
    }
}

static void
add_series_rows (const TptTimeline *timeline,
                 const TptTimelineSeries *series,
                 TptFigureTable *table)
{
  static const char *const ends[] = { "out-p10", "out-p50", "out-p90" };

  for (guint i = 0; i < series->readings->len; i++)
    {
      const TptTimelineReading *reading = &g_array_index (series->readings, TptTimelineReading, i);

      tpt_figure_table_add (table, g_strdup (reading->renewed ? "renewed-percent" : "reading-percent"),
                            g_strdup (series->label), tpt_instant_format (reading->at, timeline->zone),
                            g_strdup (""), tpt_number_format_real (reading->percent), NULL);
    }
  if (series->from == TPT_NO_INSTANT)
    return;

  tpt_figure_table_add (table, g_strdup ("forecast-percent"), g_strdup (series->label),
                        tpt_instant_format (series->from, timeline->zone), g_strdup (""),
                        tpt_number_format_real (series->percent), NULL);
  for (guint i = 0; i < G_N_ELEMENTS (ends); i++)
    tpt_figure_table_add (table, g_strdup (ends[i]), g_strdup (series->label),
                          format_known (series->forecast[i], timeline->zone), g_strdup (""), g_strdup (""), NULL);
}

static void
add_timeline_rows (TptFigure *figure,
                   TptFigureTable *table)
{
  const TptTimeline *timeline = tpt_figure_get_data (figure, &timeline_kind);

  for (guint i = 0; i < timeline->days->len; i++)
    {
      const TptTimelineDay *day = &g_array_index (timeline->days, TptTimelineDay, i);

      tpt_figure_table_add (table, g_strdup ("frames"), g_strdup (""),
                            tpt_instant_format (tpt_zone_day_from_number (timeline->zone, day->day), timeline->zone),
                            tpt_instant_format (tpt_zone_day_from_number (timeline->zone, day->day + 1), timeline->zone),
                            g_strdup_printf ("%u", day->frames), NULL);
    }
  add_span_rows (timeline, timeline->visits, "visit", table);
  add_span_rows (timeline, timeline->gaps, "gap", table);
  for (guint i = 0; i < timeline->series->len; i++)
    add_series_rows (timeline, g_ptr_array_index (timeline->series, i), table);
}

static const char *const timeline_columns[] = { "item", "what", "from", "to", "value", NULL };

static const TptFigureKind timeline_kind = {
  .name = "station",
  .columns = timeline_columns,
  .draw = draw_timeline,
  .height = get_timeline_height,
  .plot = get_timeline_plot,
  .axis = get_timeline_axis,
  .hit = hit_timeline,
  .add_rows = add_timeline_rows,
  .describe = describe_timeline,
  .free_data = free_timeline,
};
