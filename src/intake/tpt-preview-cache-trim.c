/* What leaves the cache when it is full. */
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

#include "tpt-preview-cache-private.h"

typedef struct {
  char *path; /* (owned) */
  guint64 bytes;
  gint64 used_ns; /* since 1970 */
} File;

static void
clear_file (gpointer data)
{
  g_free (((File *) data)->path);
}

static int
compare_files_cb (gconstpointer a, gconstpointer b)
{
  const File *x = a, *y = b;

  return (x->used_ns > y->used_ns) - (x->used_ns < y->used_ns);
}

static void
list_folder (const char *folder, GArray *files)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      struct stat st;

      if (strstr (name, TPT_PREVIEW_CACHE_SUFFIX) == NULL || lstat (path, &st) != 0 || !S_ISREG (st.st_mode))
        continue;
      g_array_append_val (files, ((File) { g_steal_pointer (&path), (guint64) st.st_size,
                                           st.st_mtim.tv_sec * G_GINT64_CONSTANT (1000000000) + st.st_mtim.tv_nsec }));
    }
}

/* In folders of two hexadecimal digits, and nowhere else. */
static GArray *
list_files (const char *folder)
{
  GArray *files = g_array_new (FALSE, FALSE, sizeof (File));

  g_array_set_clear_func (files, clear_file);
  for (int i = 0; i < 256; i++)
    {
      g_autofree char *below = g_strdup_printf ("%s/%02x", folder, i);

      list_folder (below, files);
    }
  return files;
}

guint64
tpt_preview_cache_trim (const char *folder, guint64 most, guint64 target)
{
  g_autoptr (GArray) files = list_files (folder);
  guint64 bytes = 0;

  for (guint i = 0; i < files->len; i++)
    bytes += g_array_index (files, File, i).bytes;
  if (bytes <= most)
    return bytes;

  g_array_sort (files, compare_files_cb);
  for (guint i = 0; i < files->len && bytes > target; i++)
    {
      const File *file = &g_array_index (files, File, i);

      /* Another program may have been quicker. */
      if (g_unlink (file->path) == 0 || g_access (file->path, F_OK) != 0)
        bytes -= file->bytes;
    }
  return bytes;
}
