#include "config.h"

#include "tpt-months-private.h"
#include "tpt-number.h"

#include <glib/gi18n-lib.h>

static const TptFigureKind months_kind;

static void
free_series (gpointer data)
{
  TptMonthsSeries *series = data;

  g_free (series->label);
  g_free (series->key);
  g_array_unref (series->months);
  g_free (series);
}

static void
free_months (gpointer data)
{
  TptMonths *months = data;

  g_ptr_array_unref (months->series);
  tpt_zone_unref (months->zone);
  g_free (months);
}

TptFigure *
tpt_months_new (TptRange range, TptZone *zone)
{
  TptMonths *months = g_new0 (TptMonths, 1);

  g_return_val_if_fail (range.from != TPT_NO_INSTANT && range.to > range.from, NULL);

  months->range = range;
  months->zone = tpt_zone_ref (zone);
  months->series = g_ptr_array_new_with_free_func (free_series);
  return tpt_figure_new (&months_kind, months);
}

int
tpt_months_add_series (TptFigure *figure, const char *label, const char *key)
{
  TptMonths *months = tpt_figure_get_data (figure, &months_kind);
  TptMonthsSeries *series = g_new0 (TptMonthsSeries, 1);

  series->label = g_strdup (label);
  series->key = g_strdup (key);
  series->months = g_array_new (FALSE, FALSE, sizeof (TptMonth));
  g_ptr_array_add (months->series, series);
  return (int) months->series->len - 1;
}

void
tpt_months_add_month (TptFigure *figure, int series, const TptMonth *month)
{
  TptMonths *months = tpt_figure_get_data (figure, &months_kind);

  g_return_if_fail (series >= 0 && series < (int) months->series->len);
  g_return_if_fail (month->when.from != TPT_NO_INSTANT && month->when.to >= month->when.from);

  g_array_append_vals (((TptMonthsSeries *) g_ptr_array_index (months->series, series))->months, month, 1);
}

TptRateMark
tpt_months_get_mark (const TptMonth *month)
{
  return (TptRateMark) { month->nights, month->detections, month->rate, month->low, month->high };
}

gboolean
tpt_months_have_effort (const TptMonths *months)
{
  for (guint s = 0; s < months->series->len; s++)
    {
      const TptMonthsSeries *series = g_ptr_array_index (months->series, s);

      for (guint i = 0; i < series->months->len; i++)
        if (g_array_index (series->months, TptMonth, i).nights > 0)
          return TRUE;
    }
  return FALSE;
}

void
tpt_months_set_scale (const TptMonths *months, TptRateScale *scale)
{
  g_autoptr (GArray) marks = g_array_new (FALSE, FALSE, sizeof (TptRateMark));

  for (guint s = 0; s < months->series->len; s++)
    {
      const TptMonthsSeries *series = g_ptr_array_index (months->series, s);

      for (guint i = 0; i < series->months->len; i++)
        {
          TptRateMark mark = tpt_months_get_mark (&g_array_index (series->months, TptMonth, i));

          g_array_append_val (marks, mark);
        }
    }
  tpt_rate_scale_set (scale, (const TptRateMark *) (gconstpointer) marks->data, marks->len);
}

static void
draw_months (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area)
{
  tpt_months_paint (tpt_figure_get_data (figure, &months_kind), canvas, area);
}

static double
get_months_height (TptFigure *figure, TptCanvas *canvas, double width)
{
  return tpt_months_get_height (canvas);
}

static TptFigureRect
get_months_plot (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area)
{
  TptMonthsLayout layout;

  tpt_months_lay_out (tpt_figure_get_data (figure, &months_kind), canvas, area, &layout);
  return layout.scale.plot;
}

static TptTimeAxis
get_months_axis (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area)
{
  TptMonthsLayout layout;

  tpt_months_lay_out (tpt_figure_get_data (figure, &months_kind), canvas, area, &layout);
  return layout.axis;
}

static void
hit_month (const TptMonths *months, const TptMonthsLayout *layout, TptCanvas *canvas, guint s, guint i,
           TptHitTest *test)
{
  const TptMonthsSeries *series = g_ptr_array_index (months->series, s);
  const TptMonth *month = &g_array_index (series->months, TptMonth, i);
  TptRateMark mark = tpt_months_get_mark (month);
  double room, x = tpt_months_place (months, layout, s, month, &room);
  const TptFigureRect *plot = &layout->scale.plot, *effort = &layout->scale.effort;
  TptFigureRect rects[] = {
    { x - room / 2, plot->y, room, effort->y + effort->height - plot->y },
    tpt_rate_effort_get_rect (&layout->scale, canvas, &mark, x, room),
    tpt_rate_mark_get_rect (&layout->scale, canvas, &mark, x, room),
  };
  guint n_rects = !(month->nights > 0) ? 1 : isnan (month->rate) ? 2 : 3;

  for (guint r = 0; r < n_rects; r++)
    {
      TptLayer layer = TPT_LAYER_AREA + r;

      if (!tpt_hit_test_wants (test, layer, &rects[r]))
        continue;
      tpt_hit_test_take (test, layer, &rects[r], TPT_HIT_MONTH, (int) s, (int) i,
                         tpt_months_describe_month (months, series, month), series->key);
      tpt_hit_test_tell (test, NULL, month->means, NAN, NAN);
    }
}

static void
hit_months (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area, TptHitTest *test)
{
  const TptMonths *months = tpt_figure_get_data (figure, &months_kind);
  TptMonthsLayout layout;

  if (!tpt_months_have_effort (months))
    return;
  tpt_months_lay_out (months, canvas, area, &layout);
  for (guint s = 0; s < months->series->len; s++)
    for (guint i = 0; i < ((TptMonthsSeries *) g_ptr_array_index (months->series, s))->months->len; i++)
      hit_month (months, &layout, canvas, s, i, test);
}

static void
add_months_rows (TptFigure *figure, TptFigureTable *table)
{
  const TptMonths *months = tpt_figure_get_data (figure, &months_kind);

  for (guint s = 0; s < months->series->len; s++)
    {
      const TptMonthsSeries *series = g_ptr_array_index (months->series, s);

      for (guint i = 0; i < series->months->len; i++)
        {
          const TptMonth *month = &g_array_index (series->months, TptMonth, i);

          tpt_figure_table_add (table, g_strdup (series->label != NULL ? series->label : ""),
                                tpt_instant_format (month->means.from, months->zone),
                                tpt_instant_format (month->means.to, months->zone),
                                tpt_number_format_real (month->nights),
                                g_strdup_printf ("%" G_GINT64_FORMAT, month->detections),
                                tpt_number_format_real (month->rate), tpt_number_format_real (month->low),
                                tpt_number_format_real (month->high), tpt_number_format_real (month->fitted), NULL);
        }
    }
}

static char *
describe_months (TptFigure *figure)
{
  return tpt_months_describe (tpt_figure_get_data (figure, &months_kind));
}

static char *
note_months (TptFigure *figure)
{
  return tpt_months_note (tpt_figure_get_data (figure, &months_kind));
}

static char *
explain_months (TptFigure *figure)
{
  return g_strdup (
    _("Marks: rate of a month, hollow where nothing was seen; lines: its interval, an arrow where it leaves the "
      "scale; bars: trap nights"));
}

static const char *const months_columns[] = {
  "series", "from", "to", "trap_nights", "detections", "per_100_nights", "low", "high", "trend", NULL
};

static const TptFigureKind months_kind = {
  .name = "months",
  .columns = months_columns,
  .draw = draw_months,
  .height = get_months_height,
  .plot = get_months_plot,
  .axis = get_months_axis,
  .hit = hit_months,
  .add_rows = add_months_rows,
  .describe = describe_months,
  .note = note_months,
  .explain = explain_months,
  .free_data = free_months,
};
