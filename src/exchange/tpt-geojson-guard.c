#include "config.h"

#include "tpt-geojson-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* As many digits always fit 64 bits. */
#define INTEGER_DIGITS_MAX 18

typedef struct {
  const char *at;
  const char *end;
  gint64 line;
  int depth;
  int values;
  const char *fault; /* (nullable) */
} Scan;

static int
peek (const Scan *scan, gsize ahead)
{
  return (gsize) (scan->end - scan->at) > ahead ? (guchar) scan->at[ahead] : -1;
}

/* The four hexadecimal digits of \uXXXX, or -1. */
static int
read_escape_code (const Scan *scan)
{
  int code = 0;

  for (gsize i = 0; i < 4; i++)
    {
      int digit = peek (scan, 2 + i) >= 0 ? g_ascii_xdigit_value (scan->at[2 + i]) : -1;
      if (digit < 0)
        return -1;
      code = code * 16 + digit;
    }
  return code;
}

static void
skip_unicode_escape (Scan *scan)
{
  int code = read_escape_code (scan);

  scan->at += code >= 0 ? 6 : 0;
  if (code >= 0xD800 && code <= 0xDBFF && peek (scan, 0) == '\\' && peek (scan, 1) == 'u')
    {
      int low = read_escape_code (scan);
      scan->at += low >= 0 ? 6 : 0;
      if (low < 0xDC00 || low > 0xDFFF)
        code = -1;
    }
  else if (code >= 0xD800 && code <= 0xDFFF)
    {
      code = -1;
    }
  if (code <= 0)
    scan->fault = _("A text holds an escaped character that does not exist");
}

static void
skip_escape (Scan *scan)
{
  int next = peek (scan, 1);

  if (next == 'u')
    skip_unicode_escape (scan);
  else if (next > 0 && strchr ("\"\\/bfnrt", next) != NULL)
    scan->at += 2;
  else
    scan->fault = _("A text holds an escaped character that does not exist");
}

static void
skip_string (Scan *scan)
{
  scan->at++;
  while (scan->fault == NULL)
    {
      int c = peek (scan, 0);

      if (c < 0)
        scan->fault = _("The file is cut off inside a text");
      else if (c < 0x20)
        scan->fault = _("A text holds a control character");
      else if (c == '\\')
        skip_escape (scan);
      else
        scan->at++;
      if (c == '"')
        break;
    }
}

static gsize
skip_digits (Scan *scan)
{
  const char *start = scan->at;

  while (peek (scan, 0) >= 0 && g_ascii_isdigit (*scan->at))
    scan->at++;
  return scan->at - start;
}

static gboolean
skip_one_of (Scan *scan, const char *set)
{
  int c = peek (scan, 0);

  if (c <= 0 || strchr (set, c) == NULL)
    return FALSE;
  scan->at++;
  return TRUE;
}

static void
skip_number (Scan *scan)
{
  const char *start = scan->at;
  gboolean whole = TRUE;
  gboolean good;
  gsize digits;
  gboolean leading_zero;

  skip_one_of (scan, "-");
  leading_zero = peek (scan, 0) == '0';
  digits = skip_digits (scan);
  good = digits == 1 || (digits > 1 && !leading_zero);
  if (skip_one_of (scan, "."))
    {
      whole = FALSE;
      good = skip_digits (scan) > 0 && good;
    }
  if (skip_one_of (scan, "eE"))
    {
      whole = FALSE;
      skip_one_of (scan, "+-");
      good = skip_digits (scan) > 0 && good;
    }
  if (!good)
    scan->fault = _("There is something that is not a number");
  else if ((whole && digits > INTEGER_DIGITS_MAX) || !isfinite (g_ascii_strtod (start, NULL)))
    scan->fault = _("A number is too large");
}

static void
skip_word (Scan *scan)
{
  static const char *const words[] = { "true", "false", "null" };

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    {
      gsize length = strlen (words[i]);
      if ((gsize) (scan->end - scan->at) >= length && memcmp (scan->at, words[i], length) == 0)
        {
          scan->at += length;
          return;
        }
    }
  scan->fault = _("The file is not JSON");
}

static void
count_value (Scan *scan)
{
  if (++scan->values > TPT_GEOJSON_VALUES_MAX)
    scan->fault = _("The file holds too many values");
}

static void
change_depth (Scan *scan, int by)
{
  scan->at++;
  scan->depth += by;
  if (scan->depth > TPT_GEOJSON_DEPTH_MAX)
    scan->fault = _("Arrays or objects are nested too deeply");
}

static void
skip_token (Scan *scan)
{
  int c = peek (scan, 0);

  if (c == '\n')
    scan->line++;
  if (strchr (" \t\r\n,:", c) != NULL)
    {
      scan->at++;
      return;
    }
  if (c == ']' || c == '}')
    {
      change_depth (scan, -1);
      return;
    }

  count_value (scan);
  if (scan->fault != NULL)
    return;
  if (c == '[' || c == '{')
    change_depth (scan, 1);
  else if (c == '"')
    skip_string (scan);
  else if (c == '-' || g_ascii_isdigit (c))
    skip_number (scan);
  else
    skip_word (scan);
}

const char *
tpt_geojson_guard (const char *text, gsize length, gint64 *line)
{
  Scan scan = { .at = text, .end = text + length, .line = 1 };

  while (scan.at < scan.end && scan.fault == NULL)
    skip_token (&scan);
  *line = scan.line;
  return scan.fault;
}
