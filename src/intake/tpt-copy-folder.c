/* What a verified copy needs of the folder around it. */
#include "config.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <sys/file.h>
#include <sys/statvfs.h>
#include <unistd.h>

#include "tpt-copy-private.h"
#include "tpt-copy.h"
#include "tpt-error.h"

#define RESERVE (32 * 1024 * 1024)

static const char *
explain (int error_number)
{
  switch (error_number)
    {
    case ENOSPC:
    case EDQUOT:
      return _("the disk is full");
    case EIO:
    case ENODEV:
    case ENXIO:
      return _("the device failed or was taken out");
    default:
      return g_strerror (error_number);
    }
}

gboolean
tpt_copy_fail (GError **error, const char *doing, const char *path, int error_number)
{
  g_autofree char *shown = g_filename_display_name (path);
  g_autoptr (GString) text = g_string_new (doing);

  g_string_replace (text, "%s", shown, 1);
  /* Translators: first what failed, naming the file; then why */
  g_set_error (error, TPT_ERROR, TPT_ERROR_IO, _("%s: %s"), text->str, explain (error_number));
  return FALSE;
}

gboolean
tpt_copy_remove (const char *path, GError **error)
{
  if (!tpt_fault_point ("unlink", error))
    return FALSE;
  if (unlink (path) != 0 && errno != ENOENT)
    return tpt_copy_fail (error, _("The temporary file “%s” could not be removed"), path, errno);
  return TRUE;
}

/* Somebody's copy that is still running holds the lock. */
static gboolean
is_abandoned (const char *path)
{
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK);
  gboolean abandoned;

  if (fd < 0)
    return FALSE;
  abandoned = flock (fd, LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK;
  close (fd);
  return abandoned;
}

gboolean
tpt_copy_clean (const char *folder, guint *removed, GError **error)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  guint n = 0;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      if (!g_str_has_prefix (name, TPT_COPY_TEMPORARY) || !is_abandoned (path))
        continue;
      if (!tpt_copy_remove (path, error))
        return FALSE;
      n++;
    }

  if (removed != NULL)
    *removed = n;
  return TRUE;
}

gboolean
tpt_copy_check_space (const char *folder, gint64 bytes, GError **error)
{
  struct statvfs fs;
  guint64 free_bytes;
  g_autofree char *shown = NULL;
  g_autofree char *needed = NULL;
  g_autofree char *there = NULL;

  if (statvfs (folder, &fs) != 0)
    return tpt_copy_fail (error, _("The folder “%s” could not be used"), folder, errno);

  free_bytes = (guint64) fs.f_bavail * fs.f_frsize;
  if (bytes == 0 || free_bytes >= (guint64) bytes + RESERVE)
    return TRUE;

  shown = g_filename_display_name (folder);
  needed = g_format_size (bytes + RESERVE);
  there = g_format_size (free_bytes);
  g_set_error (error, TPT_ERROR, TPT_ERROR_IO,
               _("There is too little space in “%s”: %s are needed, %s are free"), shown, needed, there);
  return FALSE;
}

gboolean
tpt_copy_sync_folder (const char *folder, GError **error)
{
  int fd, status, error_number;

  if (!tpt_fault_point ("fsync", error))
    return FALSE;
  fd = open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (fd < 0)
    return tpt_copy_fail (error, _("The folder “%s” could not be used"), folder, errno);

  status = fsync (fd);
  error_number = errno;
  close (fd);
  /* Some file systems know no syncing of folders; nothing is lost by that. */
  if (status != 0 && error_number != EINVAL && error_number != ENOTSUP)
    return tpt_copy_fail (error, _("The folder “%s” could not be written"), folder, error_number);
  return TRUE;
}
