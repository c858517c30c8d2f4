#include "config.h"

#include "tpt-words.h"

#include <glib/gi18n-lib.h>
#include <locale.h>
#include <math.h>

/* Letters of a text that a message shows. */
#define SHOWN_MAX 40

char *
tpt_words_shorten (const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  g_autofree char *start = NULL;

  if (g_utf8_strlen (valid, -1) <= SHOWN_MAX)
    return g_steal_pointer (&valid);

  start = g_utf8_substring (valid, 0, SHOWN_MAX);
  return g_strconcat (start, "…", NULL);
}

const char *
tpt_words_month (int month)
{
  static const char *const names[] = {
    N_("January"), N_("February"), N_("March"), N_("April"), N_("May"), N_("June"),
    N_("July"), N_("August"), N_("September"), N_("October"), N_("November"), N_("December"),
  };

  return _(names[month - 1]);
}

const char *
tpt_words_month_short (int month)
{
  static const char *const names[] = {
    NC_("short month", "Jan"), NC_("short month", "Feb"), NC_("short month", "Mar"),
    NC_("short month", "Apr"), NC_("short month", "May"), NC_("short month", "Jun"),
    NC_("short month", "Jul"), NC_("short month", "Aug"), NC_("short month", "Sep"),
    NC_("short month", "Oct"), NC_("short month", "Nov"), NC_("short month", "Dec"),
  };

  return g_dpgettext2 (GETTEXT_PACKAGE, "short month", names[month - 1]);
}

char *
tpt_words_date (TptInstant instant,
                TptZone *zone)
{
  int year, month, day;

  tpt_civil_from_days (tpt_zone_local_day (zone, instant), &year, &month, &day);
  /* Translators: a date, day month year. */
  return g_strdup_printf (_("%1$d %2$s %3$d"), day, tpt_words_month (month), year);
}

char *
tpt_words_instant (TptInstant instant,
                   TptZone *zone)
{
  g_autofree char *date = tpt_words_date (instant, zone);
  gint64 local = instant + tpt_zone_offset_at (zone, instant) * TPT_SECOND;
  gint64 of_day = ((local % TPT_DAY) + TPT_DAY) % TPT_DAY;

  return g_strdup_printf ("%s %02d:%02d", date, (int) (of_day / TPT_HOUR), (int) (of_day % TPT_HOUR / TPT_MINUTE));
}

char *
tpt_words_second (TptInstant instant,
                  TptZone *zone)
{
  g_autofree char *minute = tpt_words_instant (instant, zone);
  gint64 of_minute = ((instant % TPT_MINUTE) + TPT_MINUTE) % TPT_MINUTE;

  return g_strdup_printf ("%s:%02d", minute, (int) (of_minute / TPT_SECOND));
}

char *
tpt_words_reading (TptReading reading,
                   gboolean seconds)
{
  g_autoptr (TptZone) utc = tpt_zone_new ("UTC", NULL);

  return seconds ? tpt_words_second (reading.clock_ms, utc) : tpt_words_instant (reading.clock_ms, utc);
}

/* The end is exclusive: a period that ends at midnight ends on the day before. */
char *
tpt_words_period (TptRange range,
                  TptZone *zone)
{
  g_autofree char *from = NULL;
  g_autofree char *to = NULL;

  if (range.from != TPT_NO_INSTANT)
    from = tpt_words_date (range.from, zone);
  if (range.to != TPT_NO_INSTANT)
    to = tpt_words_date (MAX (range.to - 1, range.from), zone);

  if (from == NULL && to == NULL)
    return g_strdup (_("all the time"));
  if (from == NULL)
    return g_strdup_printf (_("until %s"), to);
  if (to == NULL)
    return g_strdup_printf (_("since %s"), from);
  if (g_str_equal (from, to))
    return g_steal_pointer (&from);
  return g_strdup_printf (_("%1$s to %2$s"), from, to);
}

/* The decimal sign is the locale's, also where its language has no translation
 * here: 1,951 beside 18,8 would be read as a little less than two. */
static const char *
find_separator (const char *translated)
{
  return g_str_equal (translated, localeconv ()->decimal_point) ? "\u202f" : translated;
}

char *
tpt_words_number (double number)
{
  /* Translators: what parts the thousands of a number from the hundreds. */
  const char *separator = find_separator (C_("thousands separator", ","));
  GString *text = g_string_new (NULL);
  double size = fabs (number);
  gboolean whole = number == round (number);
  int digits = whole || size >= 99.95 ? 0 : size >= 9.995 ? 1 : 2;

  g_string_printf (text, "%.*f", digits, size);
  if (digits == 0)
    for (gssize at = (gssize) text->len - 3; at > 0; at -= 3)
      g_string_insert (text, at, separator);
  if (number < 0)
    g_string_prepend_c (text, '-');

  return g_string_free (text, FALSE);
}

char *
tpt_words_rate (double rate)
{
  if (rate >= 99.95)
    return tpt_words_number (round (rate));
  return g_strdup_printf (rate >= 9.995 ? "%.1f" : "%.2f", rate);
}

char *
tpt_words_chance (double p)
{
  if (p < 0.001)
    return g_strdup (_("p < 0.001"));
  return g_strdup_printf (p < 0.05 ? _("p = %.3f") : _("p = %.2f"), p);
}

char *
tpt_words_hour (double hour)
{
  int minutes = (int) lround (hour * 60) % (24 * 60);

  return g_strdup_printf ("%02d:%02d", minutes / 60, minutes % 60);
}

static char *
say_day (TptInstant instant, TptZone *zone, gboolean with_month, gboolean with_year)
{
  int year, month, day;

  tpt_civil_from_days (tpt_zone_local_day (zone, instant), &year, &month, &day);
  if (with_year)
    return tpt_words_date (instant, zone);
  if (!with_month)
    return g_strdup_printf ("%d", day);
  /* Translators: a day of this year: day, month. */
  return g_strdup_printf (_("%1$d %2$s"), day, tpt_words_month (month));
}

static void
read_month (TptInstant instant, TptZone *zone, int *year, int *month)
{
  int day;

  tpt_civil_from_days (tpt_zone_local_day (zone, instant), year, month, &day);
}

char *
tpt_words_day (TptInstant instant, TptZone *zone, TptInstant now)
{
  int year, month, year_now, month_now;

  read_month (instant, zone, &year, &month);
  read_month (now, zone, &year_now, &month_now);
  return say_day (instant, zone, TRUE, year != year_now);
}

char *
tpt_words_days (TptInstant from, TptInstant to, TptZone *zone, TptInstant now)
{
  g_autofree char *first = NULL, *last = tpt_words_day (to, zone, now);
  int year, month, year_to, month_to;

  if (tpt_zone_local_day (zone, from) == tpt_zone_local_day (zone, to))
    return g_steal_pointer (&last);
  read_month (from, zone, &year, &month);
  read_month (to, zone, &year_to, &month_to);
  first = say_day (from, zone, month != month_to || year != year_to, year != year_to);
  return g_strdup_printf (_("%1$s to %2$s"), first, last);
}
