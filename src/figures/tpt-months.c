#include "config.h"

#include "tpt-months-private.h"
#include "tpt-number.h"
#include "tpt-phrases-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

/* Months above the scale that a note tells one by one. */
#define NAMED_BEYOND 3

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
  g_return_if_fail (month->when.from != TPT_NO_INSTANT && month->when.to > month->when.from);

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

/* "March 2026" for a whole one, else the days that are meant. */
static char *
name_month (const TptMonths *months, TptRange range)
{
  int year, month, day;
  TptInstant next;

  tpt_civil_from_days (tpt_zone_local_day (months->zone, range.from), &year, &month, &day);
  next = tpt_zone_day_from_number (months->zone, tpt_days_from_civil (year + month / 12, month % 12 + 1, 1));
  if (day != 1 || range.from != tpt_zone_day_start (months->zone, range.from) || range.to != next)
    return tpt_words_period (range, months->zone);
  /* Translators: a month and its year. */
  return g_strdup_printf (_("%1$s %2$d"), tpt_words_month (month), year);
}

static char *
describe_month (const TptMonths *months, const TptMonthsSeries *series, const TptMonth *month)
{
  TptRateMark mark = tpt_months_get_mark (month);
  g_autofree char *when = name_month (months, month->means);
  g_autofree char *numbers = tpt_rate_mark_say (&mark);
  g_autofree char *fitted = isnan (month->fitted) ? NULL : tpt_words_rate (month->fitted);
  /* Translators: what was counted, such as a species, and a month. */
  g_autofree char *head = series->label != NULL ? g_strdup_printf (_("%1$s, %2$s"), series->label, when)
                                                : g_steal_pointer (&when);

  if (fitted == NULL)
    return g_strdup_printf ("%s: %s", head, numbers);
  /* Translators: "March 2026", its detections and rate, and what a trend line gives for it, per 100 trap nights. */
  return g_strdup_printf (_("%1$s: %2$s; trend %3$s"), head, numbers, fitted);
}

static void
hit_month (const TptMonths *months, const TptMonthsLayout *layout, TptCanvas *canvas, guint s, guint i, TptHitTest *test)
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
      tpt_hit_test_take (test, layer, &rects[r], TPT_HIT_MONTH, (int) s, (int) i, describe_month (months, series, month),
                         series->key);
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
                                tpt_instant_format (month->means.to, months->zone), tpt_number_format_real (month->nights),
                                g_strdup_printf ("%" G_GINT64_FORMAT, month->detections), tpt_number_format_real (month->rate),
                                tpt_number_format_real (month->low), tpt_number_format_real (month->high),
                                tpt_number_format_real (month->fitted), NULL);
        }
    }
}

/* The month with the highest rate among those whose effort is worth a rate. */
static const TptMonth *
find_best (const TptMonths *months, const TptMonthsSeries *series)
{
  const TptMonth *best = NULL;
  TptRateScale scale;

  tpt_months_set_scale (months, &scale);
  for (guint i = 0; i < series->months->len; i++)
    {
      const TptMonth *month = &g_array_index (series->months, TptMonth, i);
      TptRateMark mark = tpt_months_get_mark (month);

      if (month->rate > 0 && !tpt_rate_mark_is_beyond (&scale, &mark) && (best == NULL || month->rate > best->rate))
        best = month;
    }
  return best;
}

/* What was seen in all, the month with the highest rate, and those without effort. */
static void
describe_series (const TptMonths *months, const TptMonthsSeries *series, GString *text)
{
  const TptMonth *best = find_best (months, series);
  double nights = 0, found = 0;
  guint idle = 0;
  g_autofree char *nights_words = NULL, *found_words = NULL;

  for (guint i = 0; i < series->months->len; i++)
    {
      const TptMonth *month = &g_array_index (series->months, TptMonth, i);

      nights += month->nights;
      found += (double) month->detections;
      idle += !(month->nights > 0);
    }
  nights_words = tpt_phrase_trap_nights (nights);
  found_words = tpt_phrase_detections (found);
  /* Translators: "60 detections", "4,218 trap nights". */
  g_string_append_printf (text, series->label != NULL ? " %s: " : " ", series->label);
  g_string_append_printf (text, _("%1$s in %2$s."), found_words, nights_words);
  if (best != NULL)
    {
      TptRateMark mark = tpt_months_get_mark (best);
      g_autofree char *when = name_month (months, best->means), *numbers = tpt_rate_mark_say (&mark);

      /* Translators: "March 2026", its detections and rate. */
      g_string_append_printf (text, _(" The highest rate was that of %1$s: %2$s."), when, numbers);
    }
  if (idle > 0)
    g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, " %u month without a camera at work.",
                                               " %u months without a camera at work.", idle), idle);
}

static char *
describe_months (TptFigure *figure)
{
  const TptMonths *months = tpt_figure_get_data (figure, &months_kind);
  g_autofree char *period = tpt_words_period (months->range, months->zone);
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, _("Detections per 100 trap nights, month by month, %s."), period);
  for (guint s = 0; s < months->series->len; s++)
    describe_series (months, g_ptr_array_index (months->series, s), text);
  return g_string_free (text, FALSE);
}

/* Takes @words, unless the list is long already. */
static void
append_beyond (GString *list, guint n_before, char *words)
{
  if (n_before < NAMED_BEYOND)
    g_string_append_printf (list, "%s%s", n_before > 0 ? "; " : "", words);
  g_free (words);
}

/* A rate above the scale must not be taken for one at its end. */
static char *
note_months (TptFigure *figure)
{
  const TptMonths *months = tpt_figure_get_data (figure, &months_kind);
  g_autoptr (GString) list = g_string_new (NULL);
  TptRateScale scale;
  guint n = 0;

  tpt_months_set_scale (months, &scale);
  for (guint s = 0; s < months->series->len; s++)
    {
      const TptMonthsSeries *series = g_ptr_array_index (months->series, s);

      for (guint i = 0; i < series->months->len; i++)
        {
          TptMonth month = g_array_index (series->months, TptMonth, i);
          TptRateMark mark = tpt_months_get_mark (&month);

          month.fitted = NAN;
          if (tpt_rate_mark_is_beyond (&scale, &mark))
            append_beyond (list, n++, describe_month (months, series, &month));
        }
    }
  if (n > NAMED_BEYOND)
    g_string_append_printf (list, g_dngettext (GETTEXT_PACKAGE, "; %u more", "; %u more", n - NAMED_BEYOND), n - NAMED_BEYOND);
  /* Translators: months with their numbers follow. */
  return n > 0 ? g_strdup_printf (_("Above the scale, on little effort: %s"), list->str) : NULL;
}

static char *
explain_months (TptFigure *figure)
{
  return g_strdup (_("Marks: rate of a month, hollow where nothing was seen; lines: its interval, an arrow where it leaves the "
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
