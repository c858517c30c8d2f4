/* Reading the plain tables of tests/data/science: no quotes, one header. */
#pragma once

#include <glib.h>
#include <stdlib.h>

/* The cells of each line but the first: call @check with them. */
static inline void
each_row (const char *name, guint n_columns, guint n_rows, void (*check) (char **cells))
{
  g_autofree char *path = g_build_filename (g_getenv ("TEST_DATA"), "science", name, NULL);
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  g_autoptr (GError) error = NULL;
  guint n = 0;

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  lines = g_strsplit (text, "\n", -1);
  for (gsize i = 1; lines[i] != NULL && *lines[i] != '\0'; i++)
    {
      g_auto (GStrv) cells = g_strsplit (g_strchomp (lines[i]), ",", -1);

      g_assert_cmpuint (g_strv_length (cells), ==, n_columns);
      check (cells);
      n++;
    }
  g_assert_cmpuint (n, ==, n_rows);
}

/* "2027-10-10T07:22:27Z" in milliseconds. */
static inline gint64
row_instant (const char *text)
{
  g_autoptr (GDateTime) time = g_date_time_new_from_iso8601 (text, NULL);

  g_assert_nonnull (time);
  return g_date_time_to_unix (time) * 1000;
}

static inline double
row_real (const char *text)
{
  return g_ascii_strtod (text, NULL);
}
