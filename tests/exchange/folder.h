/* A folder of a test's own, and what is in it. */
#pragma once

#include <glib.h>
#include <glib/gstdio.h>

static inline char *
make_folder (void)
{
  g_autoptr (GError) error = NULL;
  char *folder = g_dir_make_tmp ("tapetum-exchange-XXXXXX", &error);

  g_assert_no_error (error);
  return folder;
}

static inline void
remove_folder (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_unlink (path);
    }
  g_rmdir (folder);
}

static inline guint
count_files (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static inline char *
read_file (const char *path)
{
  g_autoptr (GError) error = NULL;
  char *text = NULL;

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  return text;
}
