#include "config.h"

#include "tpt-months-private.h"
#include "tpt-phrases-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

/* Months above the scale that a note tells one by one. */
#define NAMED_BEYOND 3

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

char *
tpt_months_describe_month (const TptMonths *months, const TptMonthsSeries *series, const TptMonth *month)
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

char *
tpt_months_describe (const TptMonths *months)
{
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
char *
tpt_months_note (const TptMonths *months)
{
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
            append_beyond (list, n++, tpt_months_describe_month (months, series, &month));
        }
    }
  if (n > NAMED_BEYOND)
    g_string_append_printf (list, g_dngettext (GETTEXT_PACKAGE, "; %u more", "; %u more", n - NAMED_BEYOND),
                            n - NAMED_BEYOND);
  /* Translators: months with their numbers follow. */
  return n > 0 ? g_strdup_printf (_("Above the scale, on little effort: %s"), list->str) : NULL;
}
