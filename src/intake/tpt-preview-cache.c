#include "tpt-preview-cache.h"

#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "tpt-error.h"
#include "tpt-preview-cache-private.h"

#define DEFAULT_MOST ((guint64) 512 << 20)

struct _TptPreviewCache {
  char *folder; /* (owned) */
  guint64 most;

  GMutex lock;     /* guards what follows; never held while a picture is read or written */
  gboolean counted;
  guint64 bytes;   /* in the folder, as far as is known */
  guint64 pending; /* of these, set aside and not written yet */
  guint64 written; /* since the folder was last looked through */
  gboolean trimming;
};

TptPreviewCache *
tpt_preview_cache_new (const char *folder, guint64 most)
{
  TptPreviewCache *cache = g_new0 (TptPreviewCache, 1);

  cache->folder = folder != NULL ? g_strdup (folder)
                                 : g_build_filename (g_get_user_cache_dir (), "tapetum", "previews", NULL);
  cache->most = most != 0 ? most : DEFAULT_MOST;
  g_mutex_init (&cache->lock);
  return cache;
}

void
tpt_preview_cache_free (TptPreviewCache *cache)
{
  if (cache == NULL)
    return;
  g_mutex_clear (&cache->lock);
  g_free (cache->folder);
  g_free (cache);
}

static gboolean
is_kept (const char *sha256, int size)
{
  return size > 0 && size <= TPT_PREVIEW_CACHE_SIDE && strlen (sha256) == 64 &&
         strspn (sha256, "0123456789abcdefABCDEF") == 64;
}

/* (transfer full): FOLDER/ab/abcd...-320.preview */
static char *
name_file (const TptPreviewCache *cache, const char *sha256, int size)
{
  g_autofree char *lower = g_ascii_strdown (sha256, -1);

  return g_strdup_printf ("%s/%.2s/%s-%d" TPT_PREVIEW_CACHE_SUFFIX, cache->folder, lower, lower, size);
}

TptPixels *
tpt_preview_cache_find (TptPreviewCache *cache, const char *sha256, int size)
{
  g_autofree char *path = NULL;
  g_autofree char *data = NULL;
  TptPixels *pixels;
  gsize length;

  if (!is_kept (sha256, size))
    return NULL;
  path = name_file (cache, sha256, size);
  if (!g_file_get_contents (path, &data, &length, NULL))
    return NULL;

  pixels = tpt_preview_cache_unpack ((const guint8 *) data, length);
  if (pixels == NULL)
    g_unlink (path);
  else
    utimensat (AT_FDCWD, path, NULL, 0); /* used just now */
  return pixels;
}

static gboolean
write_all (int fd, const GByteArray *data)
{
  gsize at = 0;

  while (at < data->len)
    {
      gssize n = write (fd, data->data + at, data->len - at);

      if (n <= 0)
        return FALSE;
      at += n;
    }
  return TRUE;
}

/* Beside its place, then renamed: whoever looks finds the old, the new or none.
 * Not flushed to the disk: after a power cut the checksum tells. */
static gboolean
write_file (const char *path, const GByteArray *data)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *beside = g_strconcat (path, ".XXXXXX", NULL);
  gboolean written;
  int fd;

  if (!tpt_fault_point ("preview", NULL) || g_mkdir_with_parents (folder, 0700) != 0)
    return FALSE;
  fd = g_mkstemp_full (beside, O_RDWR | O_CLOEXEC, 0600);
  if (fd < 0)
    return FALSE;
  written = write_all (fd, data);
  written = close (fd) == 0 && written && g_rename (beside, path) == 0;
  if (!written)
    g_unlink (beside);
  return written;
}

/* Whether to look through the folder before @bytes more are written: the first
 * time, when the bound is near, and now and then for what others wrote. */
static gboolean
claim_trim (TptPreviewCache *cache, guint64 bytes)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&cache->lock);

  if (cache->trimming ||
      (cache->counted && cache->bytes + bytes <= cache->most && cache->written + bytes <= cache->most / 16))
    return FALSE;
  cache->trimming = TRUE;
  return TRUE;
}

/* Down to seven eighths, so that it is not needed again for every picture. */
static void
trim (TptPreviewCache *cache, guint64 bytes)
{
  guint64 room = cache->most > bytes ? cache->most - bytes : 0;
  guint64 left = tpt_preview_cache_trim (cache->folder, room, MIN (room, cache->most / 8 * 7));
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&cache->lock);

  cache->bytes = left + cache->pending;
  cache->written = 0;
  cache->counted = TRUE;
  cache->trimming = FALSE;
}

/* Room for @bytes is set aside; FALSE when there is none, as while another
 * thread makes some. */
static gboolean
set_aside (TptPreviewCache *cache, guint64 bytes)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&cache->lock);

  if (!cache->counted || cache->trimming || cache->bytes + bytes > cache->most)
    return FALSE;
  cache->bytes += bytes;
  cache->pending += bytes;
  cache->written += bytes;
  return TRUE;
}

static void
settle (TptPreviewCache *cache, guint64 bytes, gboolean written)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&cache->lock);

  cache->pending -= bytes;
  if (!written)
    cache->bytes -= MIN (bytes, cache->bytes);
}

void
tpt_preview_cache_keep (TptPreviewCache *cache, const char *sha256, int size, const TptPixels *pixels)
{
  g_autoptr (GByteArray) data = NULL;
  g_autofree char *path = NULL;

  if (!is_kept (sha256, size) || pixels->partial || (data = tpt_preview_cache_pack (pixels)) == NULL)
    return;
  path = name_file (cache, sha256, size);
  if (claim_trim (cache, data->len))
    trim (cache, data->len);
  if (set_aside (cache, data->len))
    settle (cache, data->len, write_file (path, data));
}

guint64
tpt_preview_cache_get_bytes (TptPreviewCache *cache)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&cache->lock);

  return cache->bytes;
}
