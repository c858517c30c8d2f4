#include "config.h"

#include "tpt-format.h"

#include <glib/gi18n-lib.h>

#include "tpt-words.h"

static int
find_year (TptInstant at, TptZone *zone)
{
  int year, month, day;

  tpt_civil_from_days (tpt_zone_local_day (zone, at), &year, &month, &day);
  return year;
}

char *
tpt_format_day_short (TptInstant at, TptZone *zone, TptInstant now)
{
  int year, month, day;

  tpt_civil_from_days (tpt_zone_local_day (zone, at), &year, &month, &day);
  if (find_year (now, zone) == year)
    /* Translators: a date, day and month. */
    return g_strdup_printf (_("%1$d %2$s"), day, tpt_words_month_short (month));
  /* Translators: a date, day month year. */
  return g_strdup_printf (_("%1$d %2$s %3$d"), day, tpt_words_month_short (month), year);
}

char *
tpt_format_iso_day (TptInstant at, TptZone *zone)
{
  int year, month, day;

  tpt_civil_from_days (tpt_zone_local_day (zone, at), &year, &month, &day);
  return g_strdup_printf ("%04d-%02d-%02d", year, month, day);
}
