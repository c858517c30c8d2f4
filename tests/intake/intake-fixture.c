#include "intake-fixture.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <sys/stat.h>

char *
fixture_make_folder (void)
{
  char *folder = g_dir_make_tmp ("intake-XXXXXX", NULL);

  g_assert_nonnull (folder);
  return folder;
}

void
fixture_remove_tree (const char *path)
{
  struct stat st;

  if (lstat (path, &st) == 0 && S_ISDIR (st.st_mode))
    {
      g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
      const char *name;

      while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
        {
          g_autofree char *child = g_build_filename (path, name, NULL);

          fixture_remove_tree (child);
        }
    }
  g_remove (path);
}

void
fixture_write (const char *folder, const char *name, gconstpointer data, gsize length)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autofree char *parent = g_path_get_dirname (path);
  FILE *file;

  g_assert_cmpint (g_mkdir_with_parents (parent, 0755), ==, 0);
  file = g_fopen (path, "wb");
  g_assert_nonnull (file);
  g_assert_cmpuint (fwrite (data, 1, length, file), ==, length);
  g_assert_cmpint (fclose (file), ==, 0);
}

GByteArray *
fixture_draw_jpeg (guint seed, int width, int height)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, width, height);
  guchar *pixels = gdk_pixbuf_get_pixels (pixbuf);
  guint state = seed * 2654435761u + 1;
  g_autoptr (GError) error = NULL;
  char *data = NULL;
  gsize length;

  for (gsize i = 0; i < gdk_pixbuf_get_byte_length (pixbuf); i++)
    {
      state = state * 1664525u + 1013904223u;
      pixels[i] = (guchar) (state >> 24);
    }
  gdk_pixbuf_save_to_buffer (pixbuf, &data, &length, "jpeg", &error, "quality", "90", NULL);
  g_assert_no_error (error);
  return g_byte_array_new_take ((guint8 *) data, length);
}

void
fixture_write_jpeg (const char *folder, const char *name, guint seed, const char *date)
{
  g_autoptr (GByteArray) jpeg = fixture_draw_jpeg (seed, 96, 64);
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autoptr (GError) error = NULL;
  TptExifStamp stamp = { .make = "Invented", .model = "Trail 1", .serial = "INV-7", .temperature_c = NAN, .flash = 1 };

  fixture_write (folder, name, jpeg->data, jpeg->len);
  if (date == NULL)
    return;
  tpt_reading_parse (date, &stamp.reading, &error);
  g_assert_no_error (error);
  tpt_exif_write_times (path, &stamp, &error);
  g_assert_no_error (error);
}

char *
fixture_hash_file (const char *path)
{
  g_autofree char *data = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &data, &length, NULL));
  return g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) data, length);
}

static void
list_into (GPtrArray *lines, const char *root, const char *below, gboolean with_times)
{
  g_autofree char *folder = g_build_filename (root, below, NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  g_assert_nonnull (dir);
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *child = *below != '\0' ? g_strconcat (below, "/", name, NULL) : g_strdup (name);
      g_autofree char *path = g_build_filename (root, child, NULL);
      g_autofree char *hash = NULL;
      struct stat st;

      g_assert_cmpint (lstat (path, &st), ==, 0);
      if (S_ISDIR (st.st_mode))
        {
          list_into (lines, root, child, with_times);
          continue;
        }
      hash = S_ISREG (st.st_mode) ? fixture_hash_file (path) : g_strdup ("-");
      g_ptr_array_add (lines,
                       g_strdup_printf ("%s %" G_GINT64_FORMAT " %s %" G_GINT64_FORMAT ".%09ld", child,
                                        (gint64) st.st_size, hash,
                                        with_times ? (gint64) st.st_mtim.tv_sec : (gint64) 0,
                                        with_times ? st.st_mtim.tv_nsec : 0L));
    }
}

static int
compare_lines_cb (gconstpointer a, gconstpointer b)
{
  return strcmp (*(char *const *) a, *(char *const *) b);
}

char *
fixture_list_tree (const char *folder, gboolean with_times)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func (g_free);

  list_into (lines, folder, "", with_times);
  g_ptr_array_sort (lines, compare_lines_cb);
  g_ptr_array_add (lines, NULL);
  return g_strjoinv ("\n", (char **) lines->pdata);
}
