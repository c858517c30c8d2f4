#include "config.h"

#include "tpt-preview.h"

#include <errno.h>
#include <fcntl.h>
#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "tpt-error.h"
#include "tpt-preview-private.h"
#include "tpt-scan.h"

#define HEAD 32

static void
fail_to_read (const char *path, int error_number, GError **error)
{
  g_autofree char *shown = g_filename_display_name (path);

  g_set_error (error, TPT_ERROR, TPT_ERROR_IO, _("“%s” cannot be read: %s"), shown, g_strerror (error_number));
}

/* Reads at most @length bytes; how many, or -1 with the system's error number. */
static gssize
read_up_to (int fd, guint8 *data, gsize length)
{
  gsize at = 0;

  while (at < length)
    {
      gssize n = read (fd, data + at, length - at);

      if (n < 0 && errno == EINTR)
        continue;
      if (n < 0)
        return -1;
      if (n == 0)
        break;
      at += n;
    }
  return at;
}

/* The descriptor, or -1 with an error. Nothing but a regular file, so that
 * opening never waits. */
static int
open_to_read (const char *path, struct stat *st, GError **error)
{
  int fd = g_open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK, 0);

  if (fd >= 0 && fstat (fd, st) == 0 && S_ISREG (st->st_mode))
    return fd;
  if (fd < 0)
    fail_to_read (path, errno, error);
  else
    {
      g_set_error_literal (error, TPT_ERROR, TPT_ERROR_DATA, _("This is no picture"));
      close (fd);
    }
  return -1;
}

GBytes *
tpt_preview_read_file (const char *path, GError **error)
{
  g_autofree guint8 *data = NULL;
  struct stat st;
  gssize n = -1;
  int fd = open_to_read (path, &st, error);

  if (fd < 0)
    return NULL;
  if ((guint64) st.st_size > TPT_PREVIEW_MOST_BYTES)
    g_set_error_literal (error, TPT_ERROR, TPT_ERROR_DATA, _("The file is too large to be shown"));
  else if ((data = g_try_malloc (st.st_size + 1)) == NULL || (n = read_up_to (fd, data, st.st_size)) < 0)
    fail_to_read (path, data == NULL ? ENOMEM : errno, error);
  close (fd);
  return n >= 0 ? g_bytes_new_take (g_steal_pointer (&data), n) : NULL;
}

static gssize
read_head (const char *path, guint8 *head, GError **error)
{
  struct stat st;
  gssize n;
  int fd = open_to_read (path, &st, error);

  if (fd < 0)
    return -1;
  n = read_up_to (fd, head, HEAD);
  if (n < 0)
    fail_to_read (path, errno, error);
  close (fd);
  return n;
}

static gboolean
is_jpeg (const guint8 *head, gsize length)
{
  return length >= 2 && head[0] == 0xff && head[1] == 0xd8;
}

/* Many RAW formats begin like a TIFF, and a TIFF loader then finds a stamp-sized
 * picture in them; so only what is called a TIFF is one. */
static gboolean
is_called_raw (const char *path)
{
  static const char *const plain[] = { ".tif", ".tiff", ".heic", ".heif", ".hif", ".png" };
  g_autofree char *lower = g_ascii_strdown (path, -1);

  for (guint i = 0; i < G_N_ELEMENTS (plain); i++)
    if (g_str_has_suffix (lower, plain[i]))
      return FALSE;
  return tpt_scan_kind_from_name (path) == TPT_SCAN_RAW;
}

static TptPixels *
decode_whole_file (const char *path, const char *type, int size, GError **error)
{
  g_autoptr (GBytes) bytes = tpt_preview_read_file (path, error);
  const guint8 *data;
  gsize length;

  if (bytes == NULL)
    return NULL;
  data = g_bytes_get_data (bytes, &length);
  if (type != NULL)
    return tpt_preview_from_loader (data, length, type, size, error);
  return tpt_preview_from_jpeg (data, length, size, 0, error);
}

static TptPixels *
decode_other (const char *path, const guint8 *head, gsize n, int size, GError **error)
{
  const char *loader = is_called_raw (path) ? NULL : tpt_preview_find_loader (head, n);

  if (loader != NULL)
    return decode_whole_file (path, loader, size, error);
  if (tpt_scan_kind_from_content (head, n) == TPT_SCAN_RAW || tpt_scan_kind_from_name (path) == TPT_SCAN_RAW)
    return tpt_preview_from_raw (path, size, error);
  g_set_error_literal (error, TPT_ERROR, TPT_ERROR_DATA, _("This is no picture"));
  return NULL;
}

static gboolean
is_clip (const char *path, const guint8 *head, gsize n)
{
  return tpt_scan_kind_from_name (path) == TPT_SCAN_CLIP ||
         (tpt_scan_kind_from_name (path) != TPT_SCAN_RAW && tpt_scan_kind_from_content (head, n) == TPT_SCAN_CLIP);
}

static TptPixels *
decode_any (const char *path, int size, GError **error)
{
  guint8 head[HEAD] = { 0 };
  gssize n = read_head (path, head, error);

  if (n < 0)
    return NULL;
  if (is_jpeg (head, n))
    return decode_whole_file (path, NULL, size, error);
  if (!is_clip (path, head, n))
    return decode_other (path, head, n, size, error);
  g_set_error_literal (error, TPT_ERROR, TPT_ERROR_DATA, _("A clip; it is counted but not shown"));
  return NULL;
}

TptPixels *
tpt_preview_decode (const char *path, int size, GError **error)
{
  g_autoptr (GError) cause = NULL;
  TptPixels *pixels;

  g_return_val_if_fail (path != NULL && size >= 0, NULL);

  pixels = decode_any (path, size, &cause);
  if (cause != NULL)
    g_propagate_error (error, g_steal_pointer (&cause));
  else if (pixels == NULL)
    fail_to_read (path, ENOMEM, error);
  return pixels;
}
