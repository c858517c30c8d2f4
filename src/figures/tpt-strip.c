#include "config.h"

#include "tpt-strip-private.h"
#include "tpt-number.h"
#include "tpt-phrases-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

static const TptFigureKind strip_kind;

static void
free_row (gpointer data)
{
  TptStripRow *row = data;

  g_free (row->label);
  g_free (row->key);
  g_array_unref (row->effort);
  g_array_unref (row->gaps);
  g_array_unref (row->detections);
  g_free (row);
}

static void
free_strip (gpointer data)
{
  TptStrip *strip = data;

  g_ptr_array_unref (strip->rows);
  tpt_zone_unref (strip->zone);
  g_free (strip);
}

TptFigure *
tpt_strip_new (TptRange range,
               TptZone *zone)
{
  TptStrip *strip = g_new0 (TptStrip, 1);

  g_return_val_if_fail (range.from != TPT_NO_INSTANT && range.to > range.from, NULL);

  strip->range = range;
  strip->zone = tpt_zone_ref (zone);
  strip->rows = g_ptr_array_new_with_free_func (free_row);
  return tpt_figure_new (&strip_kind, strip);
}

int
tpt_strip_add_row (TptFigure *figure,
                   const char *label,
                   const char *key,
                   double trap_nights)
{
  TptStrip *strip = tpt_figure_get_data (figure, &strip_kind);
  TptStripRow *row = g_new0 (TptStripRow, 1);

  row->label = g_strdup (label);
  row->key = g_strdup (key);
  row->trap_nights = trap_nights;
  row->effort = g_array_new (FALSE, FALSE, sizeof (TptRange));
  row->gaps = g_array_new (FALSE, FALSE, sizeof (TptStripGap));
  row->detections = g_array_new (FALSE, FALSE, sizeof (TptStripDetection));
  g_ptr_array_add (strip->rows, row);
  return (int) strip->rows->len - 1;
}

static TptStripRow *
get_row (TptStrip *strip,
         int row)
{
  g_return_val_if_fail (row >= 0 && row < (int) strip->rows->len, NULL);
  return g_ptr_array_index (strip->rows, row);
}

/* The part of a stretch that lies on the axis; empty when none does. */
static TptRange
cut (const TptStrip *strip,
     TptRange range)
{
  if (range.from == TPT_NO_INSTANT || range.from < strip->range.from)
    range.from = strip->range.from;
  if (range.to == TPT_NO_INSTANT || range.to > strip->range.to)
    range.to = strip->range.to;
  return range;
}

void
tpt_strip_add_effort (TptFigure *figure,
                      int row,
                      TptRange worked)
{
  TptStrip *strip = tpt_figure_get_data (figure, &strip_kind);
  TptStripRow *into = get_row (strip, row);

  worked = cut (strip, worked);
  if (into != NULL && worked.to > worked.from)
    g_array_append_val (into->effort, worked);
}

void
tpt_strip_add_gap (TptFigure *figure,
                   int row,
                   TptRange range,
                   const char *why)
{
  TptStrip *strip = tpt_figure_get_data (figure, &strip_kind);
  TptStripRow *into = get_row (strip, row);
  TptStripGap gap = { cut (strip, range), g_intern_string (why) };

  if (into != NULL && gap.range.to > gap.range.from)
    g_array_append_val (into->gaps, gap);
}

void
tpt_strip_add_detection (TptFigure *figure,
                         int row,
                         TptInstant at,
                         const char *what,
                         int count)
{
  TptStrip *strip = tpt_figure_get_data (figure, &strip_kind);
  TptStripRow *into = get_row (strip, row);
  TptStripDetection detection = { at, g_intern_string (what), count };

  if (into != NULL && at >= strip->range.from && at < strip->range.to)
    g_array_append_val (into->detections, detection);
}

double
tpt_strip_get_nights (const TptStripRow *row)
{
  gint64 worked = 0;

  if (!isnan (row->trap_nights))
    return row->trap_nights;
  for (guint i = 0; i < row->effort->len; i++)
    {
      TptRange *range = &g_array_index (row->effort, TptRange, i);

      worked += range->to - range->from;
    }

  return (double) worked / TPT_DAY;
}

static void
draw_strip (TptFigure *figure,
            TptCanvas *canvas,
            const TptFigureRect *area)
{
  tpt_strip_paint (tpt_figure_get_data (figure, &strip_kind), canvas, area);
}

static double
get_strip_height (TptFigure *figure,
                  TptCanvas *canvas,
                  double width)
{
  return tpt_strip_get_height (tpt_figure_get_data (figure, &strip_kind), canvas);
}

static TptFigureRect
get_strip_plot (TptFigure *figure,
                TptCanvas *canvas,
                const TptFigureRect *area)
{
  TptStripLayout layout;

  tpt_strip_lay_out (tpt_figure_get_data (figure, &strip_kind), canvas, area, &layout);
  return layout.plot;
}

static TptTimeAxis
get_strip_axis (TptFigure *figure,
                TptCanvas *canvas,
                const TptFigureRect *area)
{
  TptStripLayout layout;

  tpt_strip_lay_out (tpt_figure_get_data (figure, &strip_kind), canvas, area, &layout);
  return layout.axis;
}

static char *
describe_detection (const TptStrip *strip,
                    const TptStripRow *row,
                    const TptStripDetection *detection)
{
  g_autofree char *when = tpt_words_instant (detection->at, strip->zone);

  /* Translators: station, species, number of animals, date and time. */
  if (detection->count > 0)
    return g_strdup_printf (_("%1$s: %2$s, %3$d, %4$s"), row->label, detection->what, detection->count, when);
  /* Translators: station, species, date and time. */
  return g_strdup_printf (_("%1$s: %2$s, %3$s"), row->label, detection->what, when);
}

static char *
describe_row (const TptStripRow *row)
{
  g_autofree char *nights = tpt_phrase_trap_nights (tpt_strip_get_nights (row));
  g_autofree char *found = tpt_phrase_detections (row->detections->len);

  if (row->effort->len == 0)
    return g_strdup_printf (_("%1$s: not at work in this period, %2$s"), row->label, found);
  /* Translators: a station, "14 detections", "200 trap nights". */
  return g_strdup_printf (_("%1$s: %2$s in %3$s"), row->label, found, nights);
}

static char *
describe_gap (const TptStrip *strip,
              const TptStripRow *row,
              const TptStripGap *gap)
{
  g_autofree char *period = tpt_words_period (gap->range, strip->zone);

  /* Translators: a station, why it did not work, and when. */
  return g_strdup_printf (_("%1$s: %2$s, %3$s"), row->label, gap->why, period);
}

static void
hit_gaps (const TptStrip *strip,
          const TptStripLayout *layout,
          guint index,
          TptHitTest *test)
{
  const TptStripRow *row = g_ptr_array_index (strip->rows, index);

  for (guint i = 0; i < row->gaps->len; i++)
    {
      const TptStripGap *gap = &g_array_index (row->gaps, TptStripGap, i);
      TptFigureRect rect = tpt_strip_get_effort_rect (layout, index, &gap->range);

      if (tpt_hit_test_wants (test, TPT_LAYER_AREA, &rect))
        tpt_hit_test_take (test, TPT_LAYER_AREA, &rect, TPT_HIT_GAP, index, i, describe_gap (strip, row, gap), row->key);
    }
}

static void
hit_row (const TptStrip *strip,
         const TptStripLayout *layout,
         guint index,
         TptHitTest *test)
{
  const TptStripRow *row = g_ptr_array_index (strip->rows, index);
  TptFigureRect rect = tpt_strip_get_row_rect (layout, index);

  if (tpt_hit_test_wants (test, TPT_LAYER_ROW, &rect))
    tpt_hit_test_take (test, TPT_LAYER_ROW, &rect, TPT_HIT_ROW, index, -1, describe_row (row), row->key);
  hit_gaps (strip, layout, index, test);

  for (guint i = 0; i < row->effort->len; i++)
    {
      const TptRange *worked = &g_array_index (row->effort, TptRange, i);

      rect = tpt_strip_get_effort_rect (layout, index, worked);
      if (tpt_hit_test_wants (test, TPT_LAYER_BAR, &rect))
        {
          g_autofree char *period = tpt_words_period (*worked, strip->zone);

          tpt_hit_test_take (test, TPT_LAYER_BAR, &rect, TPT_HIT_EFFORT, index, i,
                             g_strdup_printf (_("%1$s: at work %2$s"), row->label, period), row->key);
        }
    }

  for (guint i = 0; i < row->detections->len; i++)
    {
      const TptStripDetection *detection = &g_array_index (row->detections, TptStripDetection, i);

      rect = tpt_strip_get_tick_rect (layout, index, detection->at);
      if (tpt_hit_test_wants (test, TPT_LAYER_MARK, &rect))
        tpt_hit_test_take (test, TPT_LAYER_MARK, &rect, TPT_HIT_DETECTION, index, i,
                           describe_detection (strip, row, detection), row->key);
    }
}

/* Only the row under the pointer and its neighbours can be near enough. */
static void
hit_strip (TptFigure *figure,
           TptCanvas *canvas,
           const TptFigureRect *area,
           TptHitTest *test)
{
  const TptStrip *strip = tpt_figure_get_data (figure, &strip_kind);
  TptStripLayout layout;

  tpt_strip_lay_out (strip, canvas, area, &layout);
  for (guint i = 0; i < layout.n_shown; i++)
    {
      TptFigureRect rect = tpt_strip_get_row_rect (&layout, i);

      if (test->y >= rect.y - canvas->em && test->y <= rect.y + rect.height + canvas->em)
        hit_row (strip, &layout, i, test);
    }
}

static void
add_gap_rows (const TptStrip *strip,
              const TptStripRow *row,
              TptFigureTable *table)
{
  for (guint i = 0; i < row->gaps->len; i++)
    {
      const TptStripGap *gap = &g_array_index (row->gaps, TptStripGap, i);

      tpt_figure_table_add (table, g_strdup (row->label), g_strdup ("gap"), tpt_instant_format (gap->range.from, strip->zone),
                            tpt_instant_format (gap->range.to, strip->zone), g_strdup (gap->why), g_strdup (""), g_strdup (""), NULL);
    }
}

static void
add_strip_rows (TptFigure *figure,
                TptFigureTable *table)
{
  const TptStrip *strip = tpt_figure_get_data (figure, &strip_kind);

  for (guint i = 0; i < strip->rows->len; i++)
    {
      const TptStripRow *row = g_ptr_array_index (strip->rows, i);

      tpt_figure_table_add (table, g_strdup (row->label), g_strdup ("row"), g_strdup (""), g_strdup (""), g_strdup (""),
                            g_strdup_printf ("%u", row->detections->len),
                            tpt_number_format_real (tpt_strip_get_nights (row)), NULL);
      for (guint j = 0; j < row->effort->len; j++)
        {
          const TptRange *worked = &g_array_index (row->effort, TptRange, j);

          tpt_figure_table_add (table, g_strdup (row->label), g_strdup ("effort"),
                                tpt_instant_format (worked->from, strip->zone),
                                tpt_instant_format (worked->to, strip->zone), g_strdup (""), g_strdup (""),
                                tpt_number_format_real ((double) (worked->to - worked->from) / TPT_DAY), NULL);
        }
      add_gap_rows (strip, row, table);
      for (guint j = 0; j < row->detections->len; j++)
        {
          const TptStripDetection *detection = &g_array_index (row->detections, TptStripDetection, j);

          tpt_figure_table_add (table, g_strdup (row->label), g_strdup ("detection"),
                                tpt_instant_format (detection->at, strip->zone), g_strdup (""),
                                g_strdup (detection->what),
                                detection->count > 0 ? g_strdup_printf ("%d", detection->count) : g_strdup (""),
                                g_strdup (""), NULL);
        }
    }
}

/* The whole of it in a sentence. */
static char *
describe_sum (const TptStrip *strip)
{
  g_autofree char *period = tpt_words_period (strip->range, strip->zone);
  g_autofree char *stations = tpt_phrase_stations (strip->rows->len);
  g_autofree char *found = NULL;
  g_autofree char *nights = NULL;
  guint n_detections = 0;
  double n_nights = 0;

  for (guint i = 0; i < strip->rows->len; i++)
    {
      const TptStripRow *row = g_ptr_array_index (strip->rows, i);

      n_detections += row->detections->len;
      n_nights += tpt_strip_get_nights (row);
    }

  found = tpt_phrase_detections (n_detections);
  nights = tpt_phrase_trap_nights (round (n_nights));
  /* Translators: the period, "63 detections", "4,218 trap nights", "14 stations". */
  return g_strdup_printf (_("Stations through time, %1$s: %2$s in %3$s at %4$s."), period, found, nights, stations);
}

static char *
describe_strip (TptFigure *figure)
{
  const TptStrip *strip = tpt_figure_get_data (figure, &strip_kind);
  GString *text = g_string_new (NULL);
  g_autofree char *sum = describe_sum (strip);

  g_string_append (text, sum);
  for (guint i = 0; i < strip->rows->len; i++)
    {
      const TptStripRow *row = g_ptr_array_index (strip->rows, i);
      g_autofree char *words = describe_row (row);

      g_string_append_printf (text, " %s.", words);
      for (guint j = 0; j < row->gaps->len; j++)
        {
          g_autofree char *gap = describe_gap (strip, row, &g_array_index (row->gaps, TptStripGap, j));

          g_string_append_printf (text, " %s.", gap);
        }
    }

  return g_string_free (text, FALSE);
}

static char *
explain_strip (TptFigure *figure)
{
  return g_strdup (_("Bars: a camera was at work; dots: it stood there but did not work; ticks: detections"));
}

static const char *const strip_columns[] = { "station", "item", "from", "to", "what", "count", "trap_nights", NULL };

static const TptFigureKind strip_kind = {
  .name = "strip",
  .columns = strip_columns,
  .draw = draw_strip,
  .height = get_strip_height,
  .plot = get_strip_plot,
  .axis = get_strip_axis,
  .hit = hit_strip,
  .add_rows = add_strip_rows,
  .describe = describe_strip,
  .explain = explain_strip,
  .free_data = free_strip,
};
