#include "config.h"

#include "tpt-error.h"
#include "tpt-figure-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

static gboolean
fail (const char *path,
      GError **error)
{
  int code = errno;

  g_set_error (error, TPT_ERROR, TPT_ERROR_IO, _("“%s” could not be written: %s."), path, g_strerror (code));
  return FALSE;
}

static gboolean
write_all (int fd,
           const char *data,
           gsize length)
{
  while (length > 0)
    {
      gssize written = write (fd, data, length);

      if (written < 0 && errno != EINTR)
        return FALSE;
      if (written > 0)
        {
          data += written;
          length -= written;
        }
    }

  return TRUE;
}

static gboolean
fill_beside (int fd,
             const char *path,
             const void *data,
             gsize length,
             GError **error)
{
  if (!tpt_fault_point ("write", error))
    return FALSE;
  if (!write_all (fd, data, length))
    return fail (path, error);
  if (!tpt_fault_point ("write", error))
    return FALSE;
  if (fsync (fd) != 0)
    return fail (path, error);
  return TRUE;
}

/* The name is only safe when its folder is; some file systems cannot, and then
 * the file is no worse than any other. */
static void
sync_folder (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  int fd = open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);

  if (fd < 0)
    return;
  fsync (fd);
  close (fd);
}

gboolean
tpt_file_replace (const char *path,
                  const void *data,
                  gsize length,
                  GError **error)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *name = g_path_get_basename (path);
  g_autofree char *hidden = g_strdup_printf (".%s.XXXXXX", name);
  g_autofree char *beside = g_build_filename (folder, hidden, NULL);
  gboolean done;
  int fd;

  if (!tpt_fault_point ("write", error))
    return FALSE;
  fd = g_mkstemp_full (beside, O_RDWR | O_CLOEXEC, 0666);
  if (fd < 0)
    return fail (path, error);

  done = fill_beside (fd, path, data, length, error);
  if (close (fd) != 0 && done)
    done = fail (path, error);
  if (done)
    done = tpt_fault_point ("write", error) && (g_rename (beside, path) == 0 || fail (path, error));
  if (!done)
    g_unlink (beside);
  else
    sync_folder (path);

  return done;
}

/* ISO 3309, as the PNG specification (third edition, annex D) asks for. */
static guint32
get_crc (const guint8 *data,
         gsize length)
{
  guint32 crc = 0xffffffffu;

  for (gsize i = 0; i < length; i++)
    {
      crc ^= data[i];
      for (int bit = 0; bit < 8; bit++)
        crc = (crc & 1) != 0 ? (crc >> 1) ^ 0xedb88320u : crc >> 1;
    }

  return ~crc;
}

static void
put_number (guint8 *at,
            guint32 number)
{
  guint32 big = GUINT32_TO_BE (number);

  memcpy (at, &big, sizeof big);
}

/* pHYs goes anywhere before the pixels: here right behind IHDR, which is 25
 * bytes long and follows a signature of 8. */
void
tpt_png_set_dpi (GByteArray *png,
                 double dpi)
{
  const guint at = 8 + 25;
  guint8 chunk[21] = { 0, 0, 0, 9, 'p', 'H', 'Y', 's' };
  guint32 per_metre = (guint32) round (dpi / 0.0254);
  guint rest = png->len - at;

  put_number (chunk + 8, per_metre);
  put_number (chunk + 12, per_metre);
  chunk[16] = 1;
  put_number (chunk + 17, get_crc (chunk + 4, 13));

  g_byte_array_set_size (png, png->len + sizeof chunk);
  memmove (png->data + at + sizeof chunk, png->data + at, rest);
  memcpy (png->data + at, chunk, sizeof chunk);
}
