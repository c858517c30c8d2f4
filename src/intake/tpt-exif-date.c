/* Dates as cameras write them. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <string.h>

#include "tpt-exif.h"
#include "tpt-words.h"

/* Blanks and zeros, with or without their colons, stand for no date at all. */
static gboolean
is_blank_date (const char *text)
{
  return text[strspn (text, " 0:-/T")] == '\0';
}

static char *
copy_trimmed (const char *text)
{
  return g_strstrip (g_strdup (text != NULL ? text : ""));
}

/* Exif writes `YYYY:MM:DD HH:MM:SS`; some cameras write the date with `-` or
 * `/`, and `T` for the blank. (transfer full): ISO 8601, or NULL */
static char *
rewrite_date (const char *date)
{
  g_autofree char *iso = NULL;

  if (strlen (date) != 19 || strchr (":-/", date[4]) == NULL || date[7] != date[4] ||
      strchr (" T", date[10]) == NULL)
    return NULL;

  iso = g_strdup (date);
  iso[4] = iso[7] = '-';
  iso[10] = 'T';
  return g_steal_pointer (&iso);
}

/* Digits are a fraction: `5` is half a second, `05` a twentieth. */
static char *
get_fraction (const char *subsec)
{
  g_autofree char *text = copy_trimmed (subsec);
  gsize n = strspn (text, "0123456789");

  return n > 0 && text[n] == '\0' ? g_strconcat (".", text, NULL) : g_strdup ("");
}

static gboolean
parse_offset (const char *text, int *offset_s)
{
  int hours, minutes;

  *offset_s = 0;
  if (g_str_equal (text, "Z"))
    return TRUE;
  if (strlen (text) != 6 || strchr ("+-", text[0]) == NULL || text[3] != ':' || !g_ascii_isdigit (text[1]) ||
      !g_ascii_isdigit (text[2]) || !g_ascii_isdigit (text[4]) || !g_ascii_isdigit (text[5]))
    return FALSE;

  hours = g_ascii_digit_value (text[1]) * 10 + g_ascii_digit_value (text[2]);
  minutes = g_ascii_digit_value (text[4]) * 10 + g_ascii_digit_value (text[5]);
  if (minutes > 59 || hours * 60 + minutes > 14 * 60)
    return FALSE;
  *offset_s = (text[0] == '-' ? -1 : 1) * (hours * 3600 + minutes * 60);
  return TRUE;
}

static void
take_offset (const char *offset, TptReading *reading, char **odd_offset)
{
  g_autofree char *text = copy_trimmed (offset);
  int offset_s;

  reading->offset_s = TPT_NO_OFFSET;
  if (text[strspn (text, " :")] == '\0')
    return;
  if (parse_offset (text, &offset_s))
    reading->offset_s = offset_s;
  else
    *odd_offset = g_steal_pointer (&text);
}

gboolean
tpt_exif_parse_date (const char *date, const char *subsec, const char *offset, TptReading *reading, char **why_not,
                     char **odd_offset)
{
  g_autofree char *text = copy_trimmed (date);
  g_autofree char *iso = NULL;
  g_autofree char *fraction = get_fraction (subsec);
  g_autofree char *whole = NULL;

  *why_not = NULL;
  *odd_offset = NULL;
  if (is_blank_date (text))
    return FALSE;

  iso = rewrite_date (text);
  whole = g_strconcat (iso != NULL ? iso : "", fraction, NULL);
  if (iso == NULL || g_str_has_prefix (iso, "0000") || !tpt_reading_parse (whole, reading, NULL))
    {
      g_autofree char *shown = tpt_words_shorten (text);

      *why_not = g_strdup_printf (_("The picture’s date “%s” does not exist"), shown);
      return FALSE;
    }

  take_offset (offset, reading, odd_offset);
  return TRUE;
}
