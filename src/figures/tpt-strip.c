#include "config.h"

#include "tpt-strip-private.h"
#include "tpt-number.h"

#include <glib/gi18n-lib.h>

static const TptFigureKind strip_kind;
static const TptFigureKind pair_kind;

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

  for (guint i = 0; i < TPT_STRIP_SETS; i++)
    g_free (strip->names[i]);
  g_ptr_array_unref (strip->rows);
  tpt_zone_unref (strip->zone);
  g_free (strip);
}

static TptStrip *
get_strip (TptFigure *figure)
{
  return tpt_figure_get_data (figure, tpt_figure_is_of (figure, &pair_kind) ? &pair_kind : &strip_kind);
}

static TptStrip *
make_strip (TptRange range,
            TptZone *zone,
            guint n_sets)
{
  TptStrip *strip = g_new0 (TptStrip, 1);

  strip->range = range;
  strip->zone = tpt_zone_ref (zone);
  strip->rows = g_ptr_array_new_with_free_func (free_row);
  strip->n_sets = n_sets;
  return strip;
}

TptFigure *
tpt_strip_new (TptRange range,
               TptZone *zone)
{
  g_return_val_if_fail (range.from != TPT_NO_INSTANT && range.to > range.from, NULL);

  return tpt_figure_new (&strip_kind, make_strip (range, zone, 1));
}

TptFigure *
tpt_strip_new_pair (TptRange range,
                    TptZone *zone,
                    const char *first,
                    const char *second)
{
  TptStrip *strip;

  g_return_val_if_fail (range.from != TPT_NO_INSTANT && range.to > range.from, NULL);

  strip = make_strip (range, zone, TPT_STRIP_SETS);
  strip->names[0] = g_strdup (first);
  strip->names[1] = g_strdup (second);
  return tpt_figure_new (&pair_kind, strip);
}

int
tpt_strip_add_row (TptFigure *figure,
                   const char *label,
                   const char *key,
                   double trap_nights)
{
  TptStrip *strip = get_strip (figure);
  TptStripRow *row = g_new0 (TptStripRow, 1);

  row->label = g_strdup (label);
  row->key = g_strdup (key);
  row->trap_nights = trap_nights;
  row->effort = g_array_new (FALSE, FALSE, sizeof (TptStripEffort));
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

static void
add_effort (TptStrip *strip,
            int row,
            TptRange worked,
            TptRange means,
            guint set)
{
  TptStripRow *into = get_row (strip, row);
  TptStripEffort effort = { worked, means, set };

  if (into != NULL && worked.to > worked.from)
    g_array_append_val (into->effort, effort);
}

void
tpt_strip_add_effort (TptFigure *figure,
                      int row,
                      TptRange worked)
{
  TptStrip *strip = get_strip (figure);

  worked = cut (strip, worked);
  add_effort (strip, row, worked, worked, 0);
}

void
tpt_strip_add_second_effort (TptFigure *figure,
                             int row,
                             TptRange worked,
                             TptRange means)
{
  TptStrip *strip = get_strip (figure);
  TptRange inside = cut (strip, worked);

  g_return_if_fail (strip->n_sets == TPT_STRIP_SETS);

  /* what the axis cuts off is cut off of what it means */
  if (means.from != TPT_NO_INSTANT && worked.from != TPT_NO_INSTANT)
    means.from += inside.from - worked.from;
  if (means.to != TPT_NO_INSTANT && worked.to != TPT_NO_INSTANT)
    means.to += inside.to - worked.to;
  strip->own_effort = TRUE;
  add_effort (strip, row, inside, means, 1);
}

void
tpt_strip_add_gap (TptFigure *figure,
                   int row,
                   TptRange range,
                   const char *why)
{
  TptStrip *strip = get_strip (figure);
  TptStripRow *into = get_row (strip, row);
  TptStripGap gap = { cut (strip, range), g_intern_string (why) };

  if (into != NULL && gap.range.to > gap.range.from)
    g_array_append_val (into->gaps, gap);
}

/* Detections come one species after the other: most are like the one before. */
static const char *
intern (const char *text,
        const char *before)
{
  return before != NULL && text != NULL && g_str_equal (before, text) ? before : g_intern_string (text);
}

void
tpt_strip_add_sighting (TptFigure *figure,
                        int row,
                        const TptStripSighting *sighting)
{
  TptStrip *strip = get_strip (figure);
  TptStripRow *into = get_row (strip, row);
  TptStripDetection detection = { sighting->at, sighting->when, NULL, NULL, sighting->count, sighting->second ? 1 : 0 };
  const TptStripDetection *before = NULL;

  g_return_if_fail (detection.set < strip->n_sets);

  if (into == NULL || sighting->at < strip->range.from || sighting->at >= strip->range.to)
    return;
  if (into->detections->len > 0)
    before = &g_array_index (into->detections, TptStripDetection, into->detections->len - 1);
  detection.what = intern (sighting->what, before != NULL ? before->what : NULL);
  detection.key = intern (sighting->key, before != NULL ? before->key : NULL);
  g_array_append_val (into->detections, detection);
  into->n_seen[detection.set]++;
}

void
tpt_strip_add_detection (TptFigure *figure,
                         int row,
                         TptInstant at,
                         const char *what,
                         int count)
{
  TptStripSighting sighting = { at, { at, at + 1 }, what, NULL, count, FALSE };

  tpt_strip_add_sighting (figure, row, &sighting);
}

double
tpt_strip_get_nights (const TptStrip *strip,
                      const TptStripRow *row,
                      guint set)
{
  gboolean own = set == 1 && strip->own_effort;
  gint64 worked = 0;

  if (!own && !isnan (row->trap_nights))
    return row->trap_nights;
  for (guint i = 0; i < row->effort->len; i++)
    {
      const TptStripEffort *effort = &g_array_index (row->effort, TptStripEffort, i);

      if ((effort->set == 1) == own)
        worked += effort->worked.to - effort->worked.from;
    }

  return (double) worked / TPT_DAY;
}

static void
draw_strip (TptFigure *figure,
            TptCanvas *canvas,
            const TptFigureRect *area)
{
  tpt_strip_paint (get_strip (figure), canvas, area);
}

static double
get_strip_height (TptFigure *figure,
                  TptCanvas *canvas,
                  double width)
{
  return tpt_strip_get_height (get_strip (figure), canvas);
}

static TptFigureRect
get_strip_plot (TptFigure *figure,
                TptCanvas *canvas,
                const TptFigureRect *area)
{
  TptStripLayout layout;

  tpt_strip_lay_out (get_strip (figure), canvas, area, &layout);
  return layout.plot;
}

static TptTimeAxis
get_strip_axis (TptFigure *figure,
                TptCanvas *canvas,
                const TptFigureRect *area)
{
  TptStripLayout layout;

  tpt_strip_lay_out (get_strip (figure), canvas, area, &layout);
  return layout.axis;
}

static void
hit_strip (TptFigure *figure,
           TptCanvas *canvas,
           const TptFigureRect *area,
           TptHitTest *test)
{
  tpt_strip_hit (get_strip (figure), canvas, area, test);
}

/* Takes @count. A pair has a column for the set before the others. */
static void
add_row (const TptStrip *strip,
         TptFigureTable *table,
         const TptStripRow *row,
         guint set,
         const char *item,
         TptInstant from,
         TptInstant to,
         const char *what,
         char *count,
         double nights)
{
  char *begins = from != TPT_NO_INSTANT ? tpt_instant_format (from, strip->zone) : g_strdup ("");
  char *ends = to != TPT_NO_INSTANT ? tpt_instant_format (to, strip->zone) : g_strdup ("");
  char *number = tpt_number_format_real (nights);

  if (strip->n_sets == 1)
    tpt_figure_table_add (table, g_strdup (row->label), g_strdup (item), begins, ends, g_strdup (what), count, number,
                          NULL);
  else
    tpt_figure_table_add (table, g_strdup (strip->names[set]), g_strdup (row->label), g_strdup (item), begins, ends,
                          g_strdup (what), count, number, NULL);
}

static void
add_set_rows (const TptStrip *strip,
              const TptStripRow *row,
              guint set,
              TptFigureTable *table)
{
  add_row (strip, table, row, set, "row", TPT_NO_INSTANT, TPT_NO_INSTANT, "", g_strdup_printf ("%u", row->n_seen[set]),
           tpt_strip_get_nights (strip, row, set));
  for (guint i = 0; i < row->effort->len; i++)
    {
      const TptStripEffort *effort = &g_array_index (row->effort, TptStripEffort, i);

      if (effort->set == set)
        add_row (strip, table, row, set, "effort", effort->means.from, effort->means.to, "", g_strdup (""),
                 (double) (effort->worked.to - effort->worked.from) / TPT_DAY);
    }
  for (guint i = 0; set == 0 && i < row->gaps->len; i++)
    {
      const TptStripGap *gap = &g_array_index (row->gaps, TptStripGap, i);

      add_row (strip, table, row, set, "gap", gap->range.from, gap->range.to, gap->why, g_strdup (""), NAN);
    }
  for (guint i = 0; i < row->detections->len; i++)
    {
      const TptStripDetection *detection = &g_array_index (row->detections, TptStripDetection, i);

      if (detection->set == set)
        add_row (strip, table, row, set, "detection", detection->when.from, TPT_NO_INSTANT, detection->what,
                 detection->count > 0 ? g_strdup_printf ("%d", detection->count) : g_strdup (""), NAN);
    }
}

static void
add_strip_rows (TptFigure *figure,
                TptFigureTable *table)
{
  const TptStrip *strip = get_strip (figure);

  for (guint i = 0; i < strip->rows->len; i++)
    for (guint set = 0; set < strip->n_sets; set++)
      add_set_rows (strip, g_ptr_array_index (strip->rows, i), set, table);
}

static char *
describe_strip (TptFigure *figure)
{
  return tpt_strip_describe (get_strip (figure));
}

static char *
explain_strip (TptFigure *figure)
{
  const TptStrip *strip = get_strip (figure);

  if (strip->n_sets == 1)
    return g_strdup (_("Bars: a camera was at work; dots: it stood there but did not work; ticks: detections"));
  /* Translators: what two sets of detections are of. */
  return g_strdup_printf (_("Bars: a camera was at work; dots: it stood there but did not work; "
                            "ticks above: %1$s; ticks below: %2$s"),
                          strip->names[0], strip->names[1]);
}

static const char *const strip_columns[] = { "station", "item", "from", "to", "what", "count", "trap_nights", NULL };
static const char *const pair_columns[] = {
  "series", "station", "item", "from", "to", "what", "count", "trap_nights", NULL
};

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

static const TptFigureKind pair_kind = {
  .name = "strip",
  .columns = pair_columns,
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
