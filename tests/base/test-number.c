#include "config.h"

#include <float.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-number.h"

static void
test_parse_real (void)
{
  static const struct {
    const char *text;
    double min, max;
    double value;
    const char *reason; /* NULL: taken */
  } cases[] = {
    { "1.5", -INFINITY, INFINITY, 1.5, NULL },
    { " -47.25 ", -90, 90, -47.25, NULL },
    { "\n8.1", -180, 180, 8.1, NULL },
    { "+3", -INFINITY, INFINITY, 3, NULL },
    { ".5", -INFINITY, INFINITY, 0.5, NULL },
    { "5.", -INFINITY, INFINITY, 5, NULL },
    { "1e3", -INFINITY, INFINITY, 1000, NULL },
    { "1E-3", -INFINITY, INFINITY, 0.001, NULL },
    { "47.12345678901234567890123", -90, 90, 47.12345678901234567890123, NULL },
    { "90", -90, 90, 90, NULL },
    { "90.0000001", -90, 90, 0, "not between -90 and 90" },
    { "-0.1", 0, INFINITY, 0, "less than 0" },
    { "2", -INFINITY, 1, 0, "more than 1" },
    { "1,5", -INFINITY, INFINITY, 0, "comma" },
    { "1.234,5", -INFINITY, INFINITY, 0, "comma" },
    { "", -INFINITY, INFINITY, 0, "no number" },
    { "   ", -INFINITY, INFINITY, 0, "no number" },
    { "nan", -INFINITY, INFINITY, 0, "not a number" },
    { "NaN", -90, 90, 0, "not a number" },
    { "inf", -INFINITY, INFINITY, 0, "not a number" },
    { "-Infinity", -INFINITY, INFINITY, 0, "not a number" },
    { "1e999", -INFINITY, INFINITY, 0, "too large" },
    { "0x1p3", -INFINITY, INFINITY, 0, "not a number" },
    { "0x10", -INFINITY, INFINITY, 0, "not a number" },
    { "1 5", -INFINITY, INFINITY, 0, "not a number" },
    { "1.5.2", -INFINITY, INFINITY, 0, "not a number" },
    { "12a", -INFINITY, INFINITY, 0, "not a number" },
    { "1e", -INFINITY, INFINITY, 0, "not a number" },
    { "1e+", -INFINITY, INFINITY, 0, "not a number" },
    { "--1", -INFINITY, INFINITY, 0, "not a number" },
    { "- 1", -INFINITY, INFINITY, 0, "not a number" },
    { ".", -INFINITY, INFINITY, 0, "not a number" },
    { "1\xC2\xA0", -INFINITY, INFINITY, 0, "not a number" }, /* a no-break space */
    { "\xE9", -INFINITY, INFINITY, 0, "not a number" },      /* not UTF-8 */
    { "a text that is much too long to be shown as a whole in a message", -INFINITY, INFINITY, 0, "…" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      double value = 77;
      gboolean good = tpt_number_parse_real (cases[i].text, cases[i].min, cases[i].max, &value, &error);

      if (cases[i].reason == NULL)
        {
          g_assert_no_error (error);
          g_assert_true (good);
          g_assert_cmpfloat (value, ==, cases[i].value);
        }
      else
        {
          g_assert_false (good);
          g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
          g_assert_nonnull (strstr (error->message, cases[i].reason));
          g_assert_true (g_utf8_validate (error->message, -1, NULL));
          g_assert_cmpfloat (value, ==, 77);
        }
    }
}

static void
test_parse_integer (void)
{
  static const struct {
    const char *text;
    gint64 min, max;
    gint64 value;
    const char *reason;
  } cases[] = {
    { "0", 0, 10, 0, NULL },
    { " 007 ", 0, 10, 7, NULL },
    { "-3", -5, 5, -3, NULL },
    { "+3", -5, 5, 3, NULL },
    { "9223372036854775807", G_MININT64, G_MAXINT64, G_MAXINT64, NULL },
    { "-9223372036854775808", G_MININT64, G_MAXINT64, G_MININT64, NULL },
    { "9223372036854775808", G_MININT64, G_MAXINT64, 0, "not between" },
    { "11", 0, 10, 0, "not between 0 and 10" },
    { "-1", 0, 10, 0, "not between 0 and 10" },
    { "3.0", 0, 10, 0, "whole number" },
    { "1e1", 0, 10, 0, "whole number" },
    { "3,5", 0, 10, 0, "comma" },
    { "0x3", 0, 10, 0, "not a number" },
    { "", 0, 10, 0, "no number" },
    { "three", 0, 10, 0, "not a number" },
    { "1 0", 0, 10, 0, "not a number" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      gint64 value = 77;
      gboolean good = tpt_number_parse_integer (cases[i].text, cases[i].min, cases[i].max, &value, &error);

      g_assert_cmpint (good, ==, cases[i].reason == NULL);
      g_assert_cmpint (value, ==, good ? cases[i].value : 77);
      if (!good)
        {
          g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
          g_assert_nonnull (strstr (error->message, cases[i].reason));
        }
    }
}

static void
test_format_real (void)
{
  static const struct {
    double value;
    const char *text;
  } cases[] = {
    { 0, "0" },
    { 1, "1" },
    { 0.1, "0.1" },
    { -47.2, "-47.2" },
    { 1.0 / 3, "0.3333333333333333" },
    { 0.1 + 0.2, "0.30000000000000004" },
    { 1e21, "1e+21" },
    { NAN, "" },
  };
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = tpt_number_format_real (cases[i].value);
      g_assert_cmpstr (text, ==, cases[i].text);
    }

  for (int i = 0; i < 10000; i++)
    {
      union { guint64 bits; double value; } any = { ((guint64) g_rand_int (rand) << 32) | g_rand_int (rand) };
      g_autofree char *text = NULL;
      double back;

      if (!isfinite (any.value))
        continue;
      text = tpt_number_format_real (any.value);
      g_assert_true (tpt_number_parse_real (text, -INFINITY, INFINITY, &back, NULL));
      g_assert_cmpfloat (back, ==, any.value);
    }
}

static void
test_format_fixed (void)
{
  static const struct {
    double value;
    int decimals;
    const char *text;
  } cases[] = {
    { 8.1, 7, "8.1" },
    { 8.123456789, 7, "8.1234568" },
    { 8, 7, "8" },
    { 100, 0, "100" },
    { -0.00000001, 7, "0" },
    { -179.99999999, 7, "-180" },
    { 612.407043, 2, "612.41" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = tpt_number_format_fixed (cases[i].value, cases[i].decimals);
      g_assert_cmpstr (text, ==, cases[i].text);
    }
}

/* Where the machine has such a locale, it changes nothing. */
static void
test_comma_locale (void)
{
  double value;
  g_autofree char *text = NULL;

  if (setlocale (LC_NUMERIC, "de_DE.UTF-8") == NULL)
    {
      g_test_skip ("No locale with a decimal comma is installed");
      return;
    }
  g_assert_true (tpt_number_parse_real ("1.5", -INFINITY, INFINITY, &value, NULL));
  g_assert_cmpfloat (value, ==, 1.5);
  g_assert_false (tpt_number_parse_real ("1,5", -INFINITY, INFINITY, &value, NULL));
  text = tpt_number_format_real (1.5);
  g_assert_cmpstr (text, ==, "1.5");
  setlocale (LC_NUMERIC, "C");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/number/parse-real", test_parse_real);
  g_test_add_func ("/number/parse-integer", test_parse_integer);
  g_test_add_func ("/number/format-real", test_format_real);
  g_test_add_func ("/number/format-fixed", test_format_fixed);
  g_test_add_func ("/number/comma-locale", test_comma_locale);
  return g_test_run ();
}
