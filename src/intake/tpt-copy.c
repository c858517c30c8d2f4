#include "config.h"

#include "tpt-copy.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <openssl/evp.h>
#include <stdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "tpt-copy-private.h"
#include "tpt-error.h"

#define BLOCK (256 * 1024)

typedef EVP_MD_CTX Digest;
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Digest, EVP_MD_CTX_free)

struct _TptCopy {
  char *source;               /* (owned): for words only */
  char *path;                 /* (owned): the temporary file; empty when it is gone */
  int fd;                     /* (owned): of the temporary file; holds its lock */
  char sha256[TPT_SHA256_SIZE];
  gint64 bytes;
  struct timespec mtime;
};

/* One pass over a file: what happens to each block. */
typedef struct {
  int in;
  const char *in_path;        /* (unowned) */
  int out;                    /* or -1 */
  const char *out_path;       /* (unowned) (nullable) */
  TptCopyTap tap;
  gpointer tap_data;
  GCancellable *cancellable;  /* (unowned) (nullable) */
  gboolean read_failed;
  gint64 bytes;
} Pass;

static int
open_source (const char *path, GError **error)
{
  int flags = O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK;
  struct stat st;
  int fd;

  if (!tpt_fault_point ("open", error))
    return -1;

  /* Only the owner of a file may leave its access time alone. */
  fd = open (path, flags | O_NOATIME);
  if (fd < 0 && errno == EPERM)
    fd = open (path, flags);
  if (fd < 0)
    {
      tpt_copy_fail (error, _("“%s” could not be opened"), path, errno);
      return -1;
    }
  if (fstat (fd, &st) != 0 || !S_ISREG (st.st_mode))
    {
      tpt_copy_fail (error, _("“%s” is not an ordinary file"), path, EINVAL);
      close (fd);
      return -1;
    }

  posix_fadvise (fd, 0, 0, POSIX_FADV_SEQUENTIAL);
  return fd;
}

static gboolean
write_block (Pass *pass, const guint8 *data, gsize length, GError **error)
{
  if (!tpt_fault_point ("write", error))
    return FALSE;

  while (length > 0)
    {
      gssize n = write (pass->out, data, length);

      if (n < 0 && errno == EINTR)
        continue;
      if (n < 0)
        return tpt_copy_fail (error, _("The copy of “%s” could not be written"), pass->in_path, errno);
      data += n;
      length -= n;
    }
  return TRUE;
}

/* -1 with @error; 0 at the end. */
static gssize
read_block (Pass *pass, guint8 *data, GError **error)
{
  gssize n;

  do
    n = read (pass->in, data, BLOCK);
  while (n < 0 && errno == EINTR);

  if (n < 0)
    {
      pass->read_failed = TRUE;
      tpt_copy_fail (error, _("“%s” could not be read"), pass->in_path, errno);
    }
  return n;
}

static gboolean
run_blocks (Pass *pass, Digest *digest, GError **error)
{
  g_autofree guint8 *data = g_malloc (BLOCK);
  gssize n;

  while ((n = read_block (pass, data, error)) > 0)
    {
      EVP_DigestUpdate (digest, data, n);
      if (pass->tap != NULL)
        pass->tap (data, n, pass->tap_data);
      if (pass->out >= 0 && !write_block (pass, data, n, error))
        return FALSE;
      pass->bytes += n;
      if (g_cancellable_set_error_if_cancelled (pass->cancellable, error))
        return FALSE;
    }
  return n == 0;
}

static gboolean
run_pass (Pass *pass, char sha256[TPT_SHA256_SIZE], GError **error)
{
  g_autoptr (Digest) digest = EVP_MD_CTX_new ();
  guint8 value[EVP_MAX_MD_SIZE];
  guint length = 0;

  if (digest == NULL || EVP_DigestInit_ex (digest, EVP_sha256 (), NULL) != 1)
    {
      g_set_error_literal (error, TPT_ERROR, TPT_ERROR_IO, _("The checksum SHA-256 is not available"));
      return FALSE;
    }
  if (!run_blocks (pass, digest, error))
    return FALSE;

  EVP_DigestFinal_ex (digest, value, &length);
  for (guint i = 0; i < length; i++)
    snprintf (sha256 + 2 * i, 3, "%02x", value[i]);
  return TRUE;
}

gboolean
tpt_copy_hash (const char *path, gboolean from_medium, TptCopyTap tap, gpointer tap_data,
               char sha256[TPT_SHA256_SIZE], gint64 *bytes, GCancellable *cancellable, GError **error)
{
  Pass pass = { .in_path = path, .out = -1, .tap = tap, .tap_data = tap_data, .cancellable = cancellable };
  gboolean good;

  pass.in = open_source (path, error);
  if (pass.in < 0)
    return FALSE;
  if (from_medium)
    posix_fadvise (pass.in, 0, 0, POSIX_FADV_DONTNEED);
  good = run_pass (&pass, sha256, error);
  close (pass.in);

  if (bytes != NULL)
    *bytes = pass.bytes;
  return good;
}

/* Between making the file and locking it, somebody's cleaning may take it. */
static gboolean
lock_temporary (int fd)
{
  struct stat st;

  if (flock (fd, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK)
    return FALSE;
  return fstat (fd, &st) == 0 && st.st_nlink > 0;
}

static gboolean
make_temporary (TptCopy *copy, const char *folder, GError **error)
{
  if (!tpt_fault_point ("open", error))
    return FALSE;

  for (guint tries = 0; tries < 100; tries++)
    {
      g_autofree char *path = g_build_filename (folder, TPT_COPY_TEMPORARY "XXXXXX", NULL);
      int fd = g_mkstemp_full (path, O_RDWR | O_CLOEXEC, 0644);

      if (fd < 0)
        return tpt_copy_fail (error, _("No file could be made in “%s”"), folder, errno);
      if (lock_temporary (fd))
        {
          copy->fd = fd;
          copy->path = g_steal_pointer (&path);
          return TRUE;
        }
      unlink (path);
      close (fd);
    }
  return tpt_copy_fail (error, _("No file could be made in “%s”"), folder, EBUSY);
}

static void
close_copy (TptCopy *copy)
{
  if (copy->fd >= 0)
    close (copy->fd);
  g_free (copy->source);
  g_free (copy->path);
  g_free (copy);
}

void
tpt_copy_free (TptCopy *copy)
{
  if (copy == NULL)
    return;
  if (copy->path != NULL)
    tpt_copy_remove (copy->path, NULL);
  close_copy (copy);
}

gboolean
tpt_copy_discard (TptCopy *copy, GError **error)
{
  gboolean good = tpt_copy_remove (copy->path, error);

  close_copy (copy);
  return good;
}

/* What was read is the file only if it kept still and was read to its end: a
 * copy of something else would verify all the same. */
static gboolean
check_still (Pass *pass, const struct stat *before, GError **error)
{
  g_autofree char *shown = NULL;
  struct stat after;

  if (fstat (pass->in, &after) == 0 && after.st_size == before->st_size && after.st_size == pass->bytes &&
      after.st_mtim.tv_sec == before->st_mtim.tv_sec && after.st_mtim.tv_nsec == before->st_mtim.tv_nsec)
    return TRUE;

  pass->read_failed = TRUE;
  shown = g_filename_display_name (pass->in_path);
  g_set_error (error, TPT_ERROR, TPT_ERROR_IO, _("“%s” changed or broke off while it was read"), shown);
  return FALSE;
}

static gboolean
fill_temporary (TptCopy *copy, Pass *pass, GError **error)
{
  struct stat st;

  if (fstat (pass->in, &st) != 0)
    return tpt_copy_fail (error, _("“%s” could not be read"), pass->in_path, errno);
  copy->mtime = st.st_mtim;
  pass->out = copy->fd;
  pass->out_path = copy->path;
  if (!run_pass (pass, copy->sha256, error) || !check_still (pass, &st, error))
    return FALSE;

  copy->bytes = pass->bytes;
  return TRUE;
}

TptCopy *
tpt_copy_begin (const char *source, const char *folder, TptCopyTap tap, gpointer tap_data,
                GCancellable *cancellable, gboolean *source_failed, GError **error)
{
  g_autoptr (TptCopy) copy = g_new0 (TptCopy, 1);
  Pass pass = { .in_path = source, .out = -1, .tap = tap, .tap_data = tap_data, .cancellable = cancellable };
  gboolean good;

  g_return_val_if_fail (source != NULL && folder != NULL, NULL);

  copy->fd = -1;
  copy->source = g_strdup (source);
  pass.in = open_source (source, error);
  if (source_failed != NULL)
    *source_failed = pass.in < 0;
  if (pass.in < 0)
    return NULL;

  good = make_temporary (copy, folder, error) && fill_temporary (copy, &pass, error);
  close (pass.in);
  if (source_failed != NULL)
    *source_failed = pass.read_failed;
  return good ? g_steal_pointer (&copy) : NULL;
}

const char *
tpt_copy_get_sha256 (TptCopy *copy)
{
  return copy->sha256;
}

gint64
tpt_copy_get_bytes (TptCopy *copy)
{
  return copy->bytes;
}

const char *
tpt_copy_get_path (TptCopy *copy)
{
  return copy->path;
}

static gboolean
sync_copy (TptCopy *copy, GError **error)
{
  const struct timespec times[2] = { { .tv_nsec = UTIME_OMIT }, copy->mtime };

  if (!tpt_fault_point ("fsync", error))
    return FALSE;
  /* A file system without room for this time keeps its own. */
  (void) futimens (copy->fd, times);
  if (fsync (copy->fd) != 0)
    return tpt_copy_fail (error, _("The copy of “%s” could not be written"), copy->source, errno);
  return TRUE;
}

static gboolean
read_back (TptCopy *copy, GCancellable *cancellable, GError **error)
{
  Pass pass = { .in = copy->fd, .in_path = copy->path, .out = -1, .cancellable = cancellable };
  char sha256[TPT_SHA256_SIZE];
  g_autofree char *shown = NULL;

  if (!tpt_fault_point ("read back", error))
    return FALSE;
  /* Written and synced, the pages can be dropped: what is read now comes from
   * the medium, as far as the system and the device let us. */
  posix_fadvise (copy->fd, 0, 0, POSIX_FADV_DONTNEED);
  lseek (copy->fd, 0, SEEK_SET);
  if (!run_pass (&pass, sha256, error))
    return FALSE;
  if (pass.bytes == copy->bytes && strcmp (sha256, copy->sha256) == 0)
    return TRUE;

  shown = g_filename_display_name (copy->source);
  g_set_error (error, TPT_ERROR, TPT_ERROR_IO,
               _("The copy of “%s” reads back differently; the disk or its connection is failing"), shown);
  return FALSE;
}

/* Where the kernel's own way is missing: link and unlink; where links are
 * missing too, a look first. 0 or an errno. */
static int
rename_by_hand (const char *from, const char *to)
{
  struct stat st;

  if (link (from, to) == 0)
    return unlink (from) == 0 ? 0 : errno;
  if (errno == EEXIST)
    return EEXIST;
  if (lstat (to, &st) == 0)
    return EEXIST;
  return rename (from, to) == 0 ? 0 : errno;
}

static gboolean
rename_copy (TptCopy *copy, const char *destination, gboolean *exists, GError **error)
{
  int error_number = 0;

  if (!tpt_fault_point ("rename", error))
    return FALSE;
  if (renameat2 (AT_FDCWD, copy->path, AT_FDCWD, destination, RENAME_NOREPLACE) != 0)
    error_number = errno;
  if (error_number == EINVAL || error_number == ENOSYS || error_number == ENOTSUP)
    error_number = rename_by_hand (copy->path, destination);
  if (error_number == 0)
    return TRUE;

  if (exists != NULL)
    *exists = error_number == EEXIST;
  return tpt_copy_fail (error, _("“%s” could not be given its name"), destination, error_number);
}

gboolean
tpt_copy_finish (TptCopy *copy, const char *destination, GCancellable *cancellable, gboolean *exists,
                 GError **error)
{
  g_autoptr (TptCopy) owned = copy;

  g_return_val_if_fail (copy != NULL && destination != NULL, FALSE);

  if (exists != NULL)
    *exists = FALSE;
  if (g_cancellable_set_error_if_cancelled (cancellable, error) || !sync_copy (copy, error) ||
      !read_back (copy, cancellable, error) || !rename_copy (copy, destination, exists, error))
    return FALSE;

  g_clear_pointer (&copy->path, g_free);
  return TRUE;
}
