#include "config.h"

#include "tpt-demo.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>

#include "tpt-demo-private.h"
#include "tpt-error.h"
#include "tpt-exif.h"

/* An empty folder, made here if need be; @made says whether. */
static gboolean
prepare_folder (const char *folder, gboolean *made, GError **error)
{
  g_autoptr (GDir) dir = NULL;

  *made = !g_file_test (folder, G_FILE_TEST_EXISTS);
  if (*made && g_mkdir_with_parents (folder, 0777) != 0)
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_IO, _("The folder %s cannot be made"), folder);
      return FALSE;
    }
  dir = g_dir_open (folder, 0, NULL);
  if (dir == NULL || g_dir_read_name (dir) != NULL)
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("%s is not an empty folder; the demo writes only into an empty one"), folder);
      return FALSE;
    }
  return TRUE;
}

/* Only what the demo itself wrote lies there: the folder was empty. */
static void
remove_content (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      if (g_file_test (path, G_FILE_TEST_IS_DIR) && !g_file_test (path, G_FILE_TEST_IS_SYMLINK))
        {
          remove_content (path);
          g_rmdir (path);
        }
      else
        g_unlink (path);
    }
}

static gboolean
write_project (const char *folder, GCancellable *cancellable, GError **error)
{
  g_autofree char *path = g_build_filename (folder, TPT_DEMO_FILE, NULL);
  g_autoptr (TptStore) store =
    tpt_store_create (path, "Kelabau lodge", TPT_DEMO_ZONE, "kelabau demo", TPT_DEMO_NOW, error);

  tpt_exif_init ();
  return store != NULL && tpt_demo_fill (store, folder, cancellable, error);
}

gboolean
tpt_demo_write (const char *folder, GCancellable *cancellable, GError **error)
{
  gboolean made;

  if (!prepare_folder (folder, &made, error))
    return FALSE;
  if (write_project (folder, cancellable, error))
    return TRUE;
  remove_content (folder);
  if (made)
    g_rmdir (folder);
  return FALSE;
}
