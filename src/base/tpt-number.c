#include "config.h"

#include "tpt-number.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-words.h"

static const char *
skip_blanks (const char *text)
{
  while (g_ascii_isspace (*text))
    text++;
  return text;
}

static const char *
skip_sign (const char *text)
{
  return *text == '-' || *text == '+' ? text + 1 : text;
}

static const char *
skip_digits (const char *text)
{
  while (g_ascii_isdigit (*text))
    text++;
  return text;
}

/* The end of the decimal number at the start of @text, or @text itself. */
static const char *
skip_decimal (const char *text)
{
  const char *whole = skip_sign (text);
  const char *end = skip_digits (whole);
  gsize digits = end - whole;

  if (*end == '.')
    {
      const char *fraction = end + 1;
      end = skip_digits (fraction);
      digits += end - fraction;
    }
  if (digits == 0)
    return text;

  if (*end == 'e' || *end == 'E')
    {
      const char *exponent = skip_sign (end + 1);
      if (g_ascii_isdigit (*exponent))
        end = skip_digits (exponent);
    }
  return end;
}

static void
explain_no_number (const char *text, GError **error)
{
  g_autofree char *shown = tpt_words_shorten (text);

  if (*text == '\0')
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("There is no number"));
  else if (strchr (text, ',') != NULL)
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA,
                 _("“%s” has a comma; a number is written with a decimal point"), shown);
  else
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("“%s” is not a number"), shown);
}

static void
explain_range (const char *text, double min, double max, GError **error)
{
  g_autofree char *shown = tpt_words_shorten (text);
  char low[G_ASCII_DTOSTR_BUF_SIZE];
  char high[G_ASCII_DTOSTR_BUF_SIZE];

  g_ascii_formatd (low, sizeof low, "%.15g", min);
  g_ascii_formatd (high, sizeof high, "%.15g", max);
  if (isfinite (min) && isfinite (max))
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("%s is not between %s and %s"), shown, low, high);
  else if (isfinite (min))
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("%s is less than %s"), shown, low);
  else if (isfinite (max))
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("%s is more than %s"), shown, high);
  else
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("%s is too large a number"), shown);
}

gboolean
tpt_number_parse_real (const char *text, double min, double max, double *value, GError **error)
{
  const char *start, *end;
  double parsed;

  g_return_val_if_fail (text != NULL, FALSE);

  start = skip_blanks (text);
  end = skip_decimal (start);
  if (end == start || *skip_blanks (end) != '\0')
    {
      explain_no_number (start, error);
      return FALSE;
    }

  parsed = g_ascii_strtod (start, NULL);
  if (!isfinite (parsed) || parsed < min || parsed > max)
    {
      explain_range (start, min, max, error);
      return FALSE;
    }

  *value = parsed;
  return TRUE;
}

static void
explain_integer_range (const char *text, gint64 min, gint64 max, GError **error)
{
  g_autofree char *shown = tpt_words_shorten (text);

  g_set_error (error, TPT_ERROR, TPT_ERROR_DATA,
               _("%s is not between %" G_GINT64_FORMAT " and %" G_GINT64_FORMAT), shown, min, max);
}

gboolean
tpt_number_parse_integer (const char *text, gint64 min, gint64 max, gint64 *value, GError **error)
{
  const char *start, *digits, *end;
  gint64 parsed;

  g_return_val_if_fail (text != NULL, FALSE);

  start = skip_blanks (text);
  digits = skip_sign (start);
  end = skip_digits (digits);
  if (end == digits || *skip_blanks (end) != '\0')
    {
      const char *decimal = skip_decimal (start);
      if (decimal != start && *skip_blanks (decimal) == '\0')
        {
          g_autofree char *shown = tpt_words_shorten (start);
          g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("%s is not a whole number"), shown);
        }
      else
        {
          explain_no_number (start, error);
        }
      return FALSE;
    }

  errno = 0;
  parsed = g_ascii_strtoll (start, NULL, 10);
  if (errno == ERANGE || parsed < min || parsed > max)
    {
      explain_integer_range (start, min, max, error);
      return FALSE;
    }

  *value = parsed;
  return TRUE;
}

/* 15 digits are always told apart, 17 always suffice. */
char *
tpt_number_format_real (double value)
{
  static const char *const formats[] = { "%.15g", "%.16g", "%.17g" };
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  if (isnan (value))
    return g_strdup ("");
  g_return_val_if_fail (isfinite (value), g_strdup (""));

  for (gsize i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      g_ascii_formatd (text, sizeof text, formats[i], value);
      if (g_ascii_strtod (text, NULL) == value)
        break;
    }
  return g_strdup (text);
}

char *
tpt_number_format_fixed (double value, int decimals)
{
  g_autofree char *format = g_strdup_printf ("%%.%df", decimals);
  char text[512]; /* DBL_MAX has 309 digits before the point */
  gsize length;

  g_return_val_if_fail (isfinite (value) && decimals >= 0 && decimals <= 20, g_strdup ("0"));

  g_ascii_formatd (text, sizeof text, format, value);
  length = strlen (text);
  if (strchr (text, '.') != NULL)
    {
      while (text[length - 1] == '0')
        length--;
      if (text[length - 1] == '.')
        length--;
    }
  text[length] = '\0';
  return g_strdup (strcmp (text, "-0") == 0 ? "0" : text);
}
