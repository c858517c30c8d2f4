/* The sets of hours of CHECKS D: five invented samples by a seeded generator, see tests/data/science/README.md. */
#pragma once

#include "rows.h"

#define MOST_HOURS 128

typedef struct {
  gsize n;
  double hours[MOST_HOURS];
} Hours;

static inline void
read_hours (const char *set, Hours *self)
{
  g_autofree char *name = g_strdup_printf ("activity_%s.csv", set);
  g_autofree char *path = g_build_filename (g_getenv ("TEST_DATA"), "science", name, NULL);
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  lines = g_strsplit (g_strchomp (text), "\n", -1);
  self->n = 0;
  for (gsize i = 1; lines[i] != NULL; i++)
    {
      g_assert_cmpuint (self->n, <, MOST_HOURS);
      self->hours[self->n++] = row_real (lines[i]);
    }
}
