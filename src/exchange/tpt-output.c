#include "config.h"

#include "tpt-output.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "tpt-error.h"

#define BLOCK_SIZE (64 * 1024)
#define NAME_TRIES 16

struct _TptOutput {
  char *target;    /* (owned) */
  char *temporary; /* (owned) (nullable): while it exists */
  int fd;          /* -1 when closed */
  GString *block;  /* (owned): not yet on disk */
  GError *failure; /* (owned) (nullable): the first one */
};

static void
set_io_error (GError **error, const char *path, int code)
{
  g_autofree char *name = g_filename_display_name (path);

  g_set_error (error, TPT_ERROR, TPT_ERROR_IO, _("“%s” could not be written: %s"), name, g_strerror (code));
}

/* Links are followed, so that the file and not the link is replaced. */
static char *
resolve_target (const char *path, struct stat *status, gboolean *exists, GError **error)
{
  g_autofree char *resolved = NULL;
  char *real = realpath (path, NULL);

  *exists = real != NULL;
  if (real == NULL)
    {
      if (errno == ENOENT)
        return g_strdup (path);
      set_io_error (error, path, errno);
      return NULL;
    }

  resolved = g_strdup (real);
  free (real);
  if (stat (resolved, status) != 0)
    {
      set_io_error (error, path, errno);
      return NULL;
    }
  if (!S_ISREG (status->st_mode))
    {
      g_autofree char *name = g_filename_display_name (path);
      g_set_error (error, TPT_ERROR, TPT_ERROR_IO, _("“%s” is not an ordinary file"), name);
      return NULL;
    }
  return g_steal_pointer (&resolved);
}

static gboolean
create_temporary (TptOutput *output, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (output->target);
  g_autofree char *name = g_path_get_basename (output->target);

  for (int i = 0; i < NAME_TRIES; i++)
    {
      g_autofree char *hidden = g_strdup_printf (".%s.%08x.part", name, g_random_int ());
      g_autofree char *path = g_build_filename (folder, hidden, NULL);

      output->fd = g_open (path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
      if (output->fd >= 0)
        {
          output->temporary = g_steal_pointer (&path);
          return TRUE;
        }
      if (errno != EEXIST)
        break;
    }
  set_io_error (error, output->target, errno);
  return FALSE;
}

TptOutput *
tpt_output_new (const char *path, GError **error)
{
  g_autoptr (TptOutput) output = NULL;
  struct stat status;
  gboolean exists;

  g_return_val_if_fail (path != NULL, NULL);

  output = g_new0 (TptOutput, 1);
  output->fd = -1;
  output->block = g_string_sized_new (BLOCK_SIZE);
  output->target = resolve_target (path, &status, &exists, error);
  if (output->target == NULL || !tpt_fault_point ("create", error) || !create_temporary (output, error))
    return NULL;
  if (exists && fchmod (output->fd, status.st_mode & 07777) != 0)
    {
      set_io_error (error, output->target, errno);
      return NULL;
    }
  return g_steal_pointer (&output);
}

static void
close_fd (TptOutput *output)
{
  if (output->fd >= 0)
    close (output->fd);
  output->fd = -1;
}

void
tpt_output_free (TptOutput *output)
{
  close_fd (output);
  if (output->temporary != NULL)
    g_unlink (output->temporary);
  g_free (output->temporary);
  g_free (output->target);
  g_string_free (output->block, TRUE);
  g_clear_error (&output->failure);
  g_free (output);
}

static gboolean
write_bytes (TptOutput *output, const char *data, gsize size, GError **error)
{
  while (size > 0)
    {
      gssize written = write (output->fd, data, size);

      if (written < 0 && errno == EINTR)
        continue;
      if (written < 0)
        {
          set_io_error (error, output->target, errno);
          return FALSE;
        }
      data += written;
      size -= written;
    }
  return TRUE;
}

static gboolean
flush_block (TptOutput *output, GError **error)
{
  if (output->block->len == 0)
    return TRUE;
  if (!tpt_fault_point ("write", error) || !write_bytes (output, output->block->str, output->block->len, error))
    return FALSE;
  g_string_truncate (output->block, 0);
  return TRUE;
}

/* Hands the first failure out, again and again. */
static gboolean
check_failure (TptOutput *output, GError **error)
{
  if (output->failure == NULL)
    return TRUE;
  if (error != NULL)
    *error = g_error_copy (output->failure);
  return FALSE;
}

gboolean
tpt_output_write (TptOutput *output, const char *data, gssize length, GError **error)
{
  g_return_val_if_fail (output->failure != NULL || output->fd >= 0, FALSE);

  if (!check_failure (output, error))
    return FALSE;
  g_string_append_len (output->block, data, length);
  if (output->block->len >= BLOCK_SIZE)
    flush_block (output, &output->failure);
  return check_failure (output, error);
}

static gboolean
sync_and_close (TptOutput *output, GError **error)
{
  int result;

  if (!tpt_fault_point ("sync", error))
    return FALSE;
  result = fsync (output->fd);
  if (result == 0)
    {
      result = close (output->fd);
      output->fd = -1;
    }
  if (result != 0)
    set_io_error (error, output->target, errno);
  return result == 0;
}

/* The name itself is on disk only with its folder; not every file system can
 * do that, and the file is whole either way. */
static void
sync_folder (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  int fd = g_open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);

  if (fd < 0)
    return;
  fsync (fd);
  close (fd);
}

static gboolean
rename_into_place (TptOutput *output, GError **error)
{
  if (!tpt_fault_point ("rename", error))
    return FALSE;
  if (g_rename (output->temporary, output->target) != 0)
    {
      set_io_error (error, output->target, errno);
      return FALSE;
    }
  g_clear_pointer (&output->temporary, g_free);
  sync_folder (output->target);
  return TRUE;
}

gboolean
tpt_output_commit (TptOutput *output, GError **error)
{
  g_return_val_if_fail (output->failure != NULL || output->fd >= 0, FALSE);

  if (output->failure == NULL)
    (void) (flush_block (output, &output->failure) && sync_and_close (output, &output->failure) &&
            rename_into_place (output, &output->failure));
  return check_failure (output, error);
}
