/* Cards and pictures made for the tests of intake/. */
#pragma once

#include <glib.h>

#include "tpt-exif.h"

/* (transfer full): an empty folder of its own. */
char *fixture_make_folder (void);
void fixture_remove_tree (const char *path);

/* Writes @length bytes to @folder/@name, making folders in between. */
void fixture_write (const char *folder, const char *name, gconstpointer data, gsize length);

/* (transfer full): a JPEG of noise, the same for the same @seed, different for others. */
GByteArray *fixture_draw_jpeg (guint seed, int width, int height);

/* Writes such a JPEG with a date; @date as in tpt_reading_parse(), NULL for a picture without Exif. */
void fixture_write_jpeg (const char *folder, const char *name, guint seed, const char *date);

/* (transfer full): every file below @folder, its size, time to the nanosecond
 * and SHA-256, one a line, sorted. Two equal texts are two equal trees. */
char *fixture_list_tree (const char *folder, gboolean with_times);

/* (transfer full): SHA-256 of a file, by another implementation than the program's. */
char *fixture_hash_file (const char *path);
