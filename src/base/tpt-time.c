#include "config.h"

#include "tpt-time.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-words.h"

struct _TptZone {
  GTimeZone *tz; /* (owned) */
};

TptZone *
tpt_zone_new (const char *identifier, GError **error)
{
  g_autoptr (GTimeZone) tz = NULL;
  TptZone *zone;

  g_return_val_if_fail (identifier != NULL, NULL);

  tz = g_time_zone_new_identifier (identifier);
  if (tz == NULL)
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE,
                   _("There is no time zone “%s”; give an IANA name such as Asia/Kuching"), identifier);
      return NULL;
    }

  zone = g_atomic_rc_box_new0 (TptZone);
  zone->tz = g_steal_pointer (&tz);
  return zone;
}

TptZone *
tpt_zone_ref (TptZone *zone)
{
  return g_atomic_rc_box_acquire (zone);
}

static void
clear_zone (gpointer data)
{
  TptZone *zone = data;

  g_time_zone_unref (zone->tz);
}

void
tpt_zone_unref (TptZone *zone)
{
  g_atomic_rc_box_release_full (zone, clear_zone);
}

const char *
tpt_zone_get_identifier (TptZone *zone)
{
  return g_time_zone_get_identifier (zone->tz);
}

static gint64
divide_down (gint64 value, gint64 by)
{
  gint64 quotient = value / by;

  return value % by < 0 ? quotient - 1 : quotient;
}

int
tpt_zone_offset_at (TptZone *zone, TptInstant instant)
{
  int interval = g_time_zone_find_interval (zone->tz, G_TIME_TYPE_UNIVERSAL, divide_down (instant, TPT_SECOND));

  return g_time_zone_get_offset (zone->tz, interval);
}

/* A reading fits every instant whose own offset leads back to it. The offsets
 * that can apply are those in force a day before and a day after: no zone
 * changes twice within two days. */
TptLocalFit
tpt_zone_resolve (TptZone *zone, gint64 clock_ms, TptInstant *first, TptInstant *second)
{
  int before = tpt_zone_offset_at (zone, clock_ms - TPT_DAY);
  int after = tpt_zone_offset_at (zone, clock_ms + TPT_DAY);
  TptInstant by_before = clock_ms - before * TPT_SECOND;
  TptInstant by_after = clock_ms - after * TPT_SECOND;
  gboolean fits_before = tpt_zone_offset_at (zone, by_before) == before;
  gboolean fits_after = tpt_zone_offset_at (zone, by_after) == after;
  TptLocalFit fit = TPT_LOCAL_ONCE;
  TptInstant one = by_before, two = by_before;

  if (fits_before && fits_after && by_before != by_after)
    {
      fit = TPT_LOCAL_TWICE;
      one = MIN (by_before, by_after);
      two = MAX (by_before, by_after);
    }
  else if (!fits_before && fits_after)
    one = two = by_after;
  else if (!fits_before)
    fit = TPT_LOCAL_NEVER;

  *first = one;
  if (second != NULL)
    *second = two;
  return fit;
}

/* Howard Hinnant, "chrono-Compatible Low-Level Date Algorithms" (2013), gives
 * the reasoning of these two: years start in March, 400 years are 146,097 days. */
gint64
tpt_days_from_civil (int year, int month, int day)
{
  gint64 y = month <= 2 ? (gint64) year - 1 : year;
  gint64 era = divide_down (y, 400);
  gint64 year_of_era = y - era * 400;
  gint64 day_of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
  gint64 day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;

  return era * 146097 + day_of_era - 719468;
}

void
tpt_civil_from_days (gint64 days, int *year, int *month, int *day)
{
  gint64 z = days + 719468;
  gint64 era = divide_down (z, 146097);
  gint64 doe = z - era * 146097;
  gint64 yoe = (doe - doe / 1460 + doe / 36524 - doe / 146096) / 365;
  gint64 doy = doe - (365 * yoe + yoe / 4 - yoe / 100);
  gint64 mp = (5 * doy + 2) / 153;

  *day = (int) (doy - (153 * mp + 2) / 5 + 1);
  *month = (int) (mp < 10 ? mp + 3 : mp - 9);
  *year = (int) (yoe + era * 400 + (*month <= 2 ? 1 : 0));
}

static int
days_in_month (int year, int month)
{
  static const int days[] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 };
  gboolean leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;

  return month == 2 && leap ? 29 : days[month - 1];
}

/* Exactly @digits decimal digits at *@text; advances. -1 when they are not there. */
static int
take_number (const char **text, int digits)
{
  int value = 0;

  for (int i = 0; i < digits; i++)
    {
      if (!g_ascii_isdigit ((*text)[i]))
        return -1;
      value = value * 10 + ((*text)[i] - '0');
    }
  *text += digits;
  return value;
}

static gboolean
take_char (const char **text, char c)
{
  if (**text != c)
    return FALSE;
  (*text)++;
  return TRUE;
}

static gboolean
take_date (const char **p, gint64 *days)
{
  int year, month, day;

  year = take_number (p, 4);
  if (year < 0 || !take_char (p, '-'))
    return FALSE;
  month = take_number (p, 2);
  if (month < 1 || month > 12 || !take_char (p, '-'))
    return FALSE;
  day = take_number (p, 2);
  if (day < 1 || day > days_in_month (year, month))
    return FALSE;

  *days = tpt_days_from_civil (year, month, day);
  return TRUE;
}

static gint64
take_fraction_ms (const char **p)
{
  gint64 ms = 0;
  gint64 weight = 100;

  while (g_ascii_isdigit (**p))
    {
      ms += weight * (**p - '0');
      weight /= 10;
      (*p)++;
    }
  return ms;
}

static gboolean
take_clock (const char **p, gint64 *ms)
{
  int hour, minute, second = 0;
  gint64 fraction = 0;

  hour = take_number (p, 2);
  if (hour < 0 || hour > 23 || !take_char (p, ':'))
    return FALSE;
  minute = take_number (p, 2);
  if (minute < 0 || minute > 59)
    return FALSE;
  if (take_char (p, ':'))
    {
      second = take_number (p, 2);
      if (second < 0 || second > 59)
        return FALSE;
      if (**p == '.')
        {
          (*p)++;
          if (!g_ascii_isdigit (**p))
            return FALSE;
          fraction = take_fraction_ms (p);
        }
    }

  *ms = hour * TPT_HOUR + minute * TPT_MINUTE + second * TPT_SECOND + fraction;
  return TRUE;
}

static gboolean
take_offset (const char **p, int *offset_s)
{
  int sign, hours, minutes;

  *offset_s = TPT_NO_OFFSET;
  if (**p == '\0')
    return TRUE;
  if (take_char (p, 'Z'))
    {
      *offset_s = 0;
      return TRUE;
    }

  sign = **p == '-' ? -1 : 1;
  if (**p != '+' && **p != '-')
    return FALSE;
  (*p)++;
  hours = take_number (p, 2);
  take_char (p, ':');
  minutes = take_number (p, 2);
  if (hours < 0 || hours > 14 || minutes < 0 || minutes > 59)
    return FALSE;

  *offset_s = sign * (hours * 3600 + minutes * 60);
  return TRUE;
}

gboolean
tpt_reading_parse (const char *text, TptReading *reading, GError **error)
{
  const char *p = text;
  gint64 days, ms = 0;
  int offset_s = TPT_NO_OFFSET;
  gboolean good;

  g_return_val_if_fail (text != NULL && reading != NULL, FALSE);

  good = take_date (&p, &days);
  if (good && *p != '\0')
    good = (take_char (&p, 'T') || take_char (&p, ' ')) && take_clock (&p, &ms) && take_offset (&p, &offset_s) &&
           *p == '\0';
  if (!good)
    {
      g_autofree char *shown = tpt_words_shorten (text);

      g_set_error (error, TPT_ERROR, TPT_ERROR_DATA,
                   _("“%s” is not a date or time such as 2026-05-14T07:30:00+08:00"), shown);
      return FALSE;
    }

  reading->clock_ms = days * TPT_DAY + ms;
  reading->offset_s = offset_s;
  return TRUE;
}

static void
append_clock (GString *out, gint64 clock_ms, gboolean always_ms)
{
  gint64 days = divide_down (clock_ms, TPT_DAY);
  gint64 ms = clock_ms - days * TPT_DAY;
  int year, month, day;

  tpt_civil_from_days (days, &year, &month, &day);
  g_string_append_printf (out, "%04d-%02d-%02dT%02d:%02d:%02d", year, month, day, (int) (ms / TPT_HOUR),
                          (int) (ms / TPT_MINUTE % 60), (int) (ms / TPT_SECOND % 60));
  if (always_ms || ms % TPT_SECOND != 0)
    g_string_append_printf (out, ".%03d", (int) (ms % TPT_SECOND));
}

static void
append_offset (GString *out, int offset_s)
{
  int minutes = ABS (offset_s) / 60;

  g_string_append_printf (out, "%c%02d:%02d", offset_s < 0 ? '-' : '+', minutes / 60, minutes % 60);
}

char *
tpt_reading_format (TptReading reading)
{
  GString *out = g_string_new (NULL);

  append_clock (out, reading.clock_ms, FALSE);
  if (reading.offset_s != TPT_NO_OFFSET)
    append_offset (out, reading.offset_s);
  return g_string_free (out, FALSE);
}

static void
set_twice_error (GError **error, const char *text, TptZone *zone, TptInstant first, TptInstant second)
{
  g_autoptr (GString) one = g_string_new (NULL);
  g_autoptr (GString) two = g_string_new (NULL);

  append_offset (one, tpt_zone_offset_at (zone, first));
  append_offset (two, tpt_zone_offset_at (zone, second));
  g_set_error (error, TPT_ERROR, TPT_ERROR_DATA,
               _("%s comes twice in %s because the clocks go back; add %s for the first or %s for the second"),
               text, tpt_zone_get_identifier (zone), one->str, two->str);
}

TptInstant
tpt_instant_parse (const char *text, TptZone *zone, GError **error)
{
  TptReading reading;
  TptInstant first, second;

  if (!tpt_reading_parse (text, &reading, error))
    return TPT_NO_INSTANT;
  if (reading.offset_s != TPT_NO_OFFSET)
    return reading.clock_ms - reading.offset_s * TPT_SECOND;
  if (zone == NULL)
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("“%s” has no offset from UTC such as +08:00 or Z"), text);
      return TPT_NO_INSTANT;
    }

  switch (tpt_zone_resolve (zone, reading.clock_ms, &first, &second))
    {
    case TPT_LOCAL_ONCE:
      return first;
    case TPT_LOCAL_TWICE:
      set_twice_error (error, text, zone, first, second);
      return TPT_NO_INSTANT;
    case TPT_LOCAL_NEVER:
    default:
      g_set_error (error, TPT_ERROR, TPT_ERROR_DATA,
                   _("%s never comes in %s because the clocks go forward over it; check the time"), text,
                   tpt_zone_get_identifier (zone));
      return TPT_NO_INSTANT;
    }
}

char *
tpt_instant_format (TptInstant instant, TptZone *zone)
{
  GString *out = g_string_new (NULL);
  int offset_s = zone != NULL ? tpt_zone_offset_at (zone, instant) : 0;

  append_clock (out, instant + offset_s * TPT_SECOND, FALSE);
  if (zone != NULL)
    append_offset (out, offset_s);
  else
    g_string_append_c (out, 'Z');
  return g_string_free (out, FALSE);
}

char *
tpt_instant_to_gpkg (TptInstant instant)
{
  GString *out = g_string_new (NULL);

  append_clock (out, instant, TRUE);
  g_string_append_c (out, 'Z');
  return g_string_free (out, FALSE);
}

TptInstant
tpt_instant_from_gpkg (const char *text)
{
  const char *p = text;
  gint64 days, ms;

  if (text == NULL || strnlen (text, 25) != 24 || !take_date (&p, &days) || !take_char (&p, 'T') ||
      !take_clock (&p, &ms) || !take_char (&p, 'Z') || *p != '\0')
    return TPT_NO_INSTANT;
  return days * TPT_DAY + ms;
}

TptInstant
tpt_instant_now (void)
{
  return g_get_real_time () / 1000;
}

gint64
tpt_zone_local_day (TptZone *zone, TptInstant instant)
{
  return divide_down (instant + tpt_zone_offset_at (zone, instant) * TPT_SECOND, TPT_DAY);
}

/* The reading of a midnight that never comes, taken with the old offset, is
 * the very moment of the change: the first instant of that day. */
TptInstant
tpt_zone_day_from_number (TptZone *zone, gint64 day)
{
  TptInstant first;

  tpt_zone_resolve (zone, day * TPT_DAY, &first, NULL);
  return first;
}

TptInstant
tpt_zone_day_start (TptZone *zone, TptInstant instant)
{
  return tpt_zone_day_from_number (zone, tpt_zone_local_day (zone, instant));
}
