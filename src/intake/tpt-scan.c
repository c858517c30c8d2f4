#include "config.h"

#include "tpt-scan.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "tpt-error.h"

/* Cameras make two levels. More than this is a damaged card. */
#define DEEPEST 32

typedef struct {
  TptScan *scan;              /* (unowned) */
  GHashTable *seen;           /* (owned): folders, "device:inode" */
  GCancellable *cancellable;  /* (unowned) (nullable) */
} Search;

static const char *const system_folders[] = {
  "$recycle.bin", "system volume information", "lost.dir", "lost+found", "recycled", "recycler", "trash", NULL,
};

static const char *const system_files[] = { "thumbs.db", "desktop.ini", "autorun.inf", NULL };

/* What cameras write beside pictures: thumbnails and proxies of clips, indexes,
 * print orders, sound notes, side files. Common practice, no source. */
static const char *const side_extensions[] = {
  "bdm", "bim", "bnp", "cif", "cpi", "ctg", "dat", "idx", "ind", "inf", "int", "lrf", "lrv", "mpl", "mrk",
  "ppn", "thm", "txt", "wav", "xml", "xmp", NULL,
};

static void
free_file (gpointer data)
{
  TptScanFile *file = data;

  g_free (file->path);
  g_free (file->why);
  g_free (file);
}

void
tpt_scan_free (TptScan *scan)
{
  if (scan == NULL)
    return;
  g_ptr_array_unref (scan->frames);
  g_ptr_array_unref (scan->others);
  g_free (scan);
}

static gboolean
is_in_folded (const char *const *list, const char *name)
{
  g_autofree char *folded = g_ascii_strdown (name, -1);

  return g_strv_contains (list, folded);
}

static const char *
get_extension (const char *name)
{
  const char *dot = strrchr (name, '.');

  return dot != NULL ? dot + 1 : "";
}

static TptScanFile *
new_file (const char *path, const struct stat *st)
{
  TptScanFile *file = g_new0 (TptScanFile, 1);

  file->path = g_strdup (path);
  file->bytes = st->st_size;
  file->mtime_ms = (gint64) st->st_mtim.tv_sec * 1000 + st->st_mtim.tv_nsec / 1000000;
  return file;
}

static void
add_other (Search *search, const char *path, const struct stat *st, const char *why)
{
  TptScanFile *file = new_file (path, st);

  file->why = g_strdup (why);
  g_ptr_array_add (search->scan->others, file);
}

static void
add_failed (Search *search, const char *path, const struct stat *st, int error_number)
{
  TptScanFile *file = new_file (path, st);

  file->why = g_strdup_printf (_("Could not be read: %s"), g_strerror (error_number));
  file->failed = TRUE;
  g_ptr_array_add (search->scan->others, file);
}

static void
add_frame (Search *search, const char *path, const struct stat *st, TptScanKind kind)
{
  TptScanFile *file = new_file (path, st);

  file->kind = kind;
  search->scan->bytes += file->bytes;
  search->scan->n_clips += kind == TPT_SCAN_CLIP;
  g_ptr_array_add (search->scan->frames, file);
}

/* Only the owner of a file may leave its access time alone. */
static int
open_quietly (int folder, const char *name, int flags)
{
  int fd = openat (folder, name, flags | O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NOATIME);

  if (fd < 0 && errno == EPERM)
    fd = openat (folder, name, flags | O_RDONLY | O_CLOEXEC | O_NOFOLLOW);
  return fd;
}

static TptScanKind
look_inside (int folder, const char *name)
{
  guint8 head[32];
  int fd = open_quietly (folder, name, O_NONBLOCK);
  gssize n;

  if (fd < 0)
    return TPT_SCAN_OTHER;
  n = read (fd, head, sizeof head);
  close (fd);
  return n > 0 ? tpt_scan_kind_from_content (head, n) : TPT_SCAN_OTHER;
}

static void
take_file (Search *search, int folder, const char *name, const char *path, const struct stat *st)
{
  const char *extension = get_extension (name);
  TptScanKind kind = TPT_SCAN_OTHER;

  if (name[0] == '.' || is_in_folded (system_files, name))
    {
      add_other (search, path, st, _("A system file, no picture"));
      return;
    }

  kind = *extension == '\0' ? look_inside (folder, name) : tpt_scan_kind_from_name (name);
  if (kind != TPT_SCAN_OTHER)
    add_frame (search, path, st, kind);
  else if (*extension == '\0')
    add_other (search, path, st, _("Neither a picture nor a clip by its content"));
  else if (is_in_folded (side_extensions, extension))
    add_other (search, path, st, _("An index or side file of the camera"));
  else
    add_other (search, path, st, _("Neither a picture nor a clip by its name"));
}

static gboolean
is_new_folder (Search *search, const struct stat *st)
{
  char *key = g_strdup_printf ("%" G_GUINT64_FORMAT ":%" G_GUINT64_FORMAT, (guint64) st->st_dev,
                               (guint64) st->st_ino);

  return g_hash_table_add (search->seen, key);
}

static gboolean walk_folder (Search *search, int fd, const char *path, guint depth, GError **error);

static gboolean
take_folder (Search *search, int parent, const char *name, const char *path, const struct stat *st, guint depth,
             GError **error)
{
  g_autofree char *shown = g_strconcat (path, "/", NULL);
  g_autoptr (GError) local_error = NULL;
  int fd;

  if (name[0] == '.' || is_in_folded (system_folders, name))
    add_other (search, shown, st, _("A system folder; not looked into"));
  else if (depth >= DEEPEST)
    add_other (search, shown, st, _("Folders within folders, too deep for a card; not looked into"));
  else if (!is_new_folder (search, st))
    add_other (search, shown, st, _("A folder that leads back to one already seen; not looked into"));
  else if ((fd = open_quietly (parent, name, O_DIRECTORY)) < 0)
    add_failed (search, shown, st, errno);
  else if (!walk_folder (search, fd, path, depth + 1, &local_error))
    {
      if (g_error_matches (local_error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        {
          g_propagate_error (error, g_steal_pointer (&local_error));
          return FALSE;
        }
      add_failed (search, shown, st, local_error->code);
    }
  return TRUE;
}

static gboolean
take_entry (Search *search, int folder, const char *name, const char *prefix, guint depth, GError **error)
{
  g_autofree char *path = *prefix != '\0' ? g_strconcat (prefix, "/", name, NULL) : g_strdup (name);
  struct stat st;

  if (fstatat (folder, name, &st, AT_SYMLINK_NOFOLLOW) != 0)
    {
      int error_number = errno;

      memset (&st, 0, sizeof st);
      add_failed (search, path, &st, error_number);
    }
  else if (S_ISDIR (st.st_mode))
    return take_folder (search, folder, name, path, &st, depth, error);
  else if (S_ISREG (st.st_mode))
    take_file (search, folder, name, path, &st);
  else if (S_ISLNK (st.st_mode))
    add_other (search, path, &st, _("A link; links are not followed"));
  else
    add_other (search, path, &st, _("Not an ordinary file"));
  return TRUE;
}

/* Takes @fd. A folder that cannot be read to its end gives an error of domain
 * G_FILE_ERROR whose code is the errno: the caller decides what it means. */
static gboolean
walk_folder (Search *search, int fd, const char *path, guint depth, GError **error)
{
  DIR *dir = fdopendir (fd);
  struct dirent *entry;
  gboolean good = TRUE;
  int error_number;

  if (dir == NULL)
    {
      g_set_error_literal (error, G_FILE_ERROR, errno, g_strerror (errno));
      close (fd);
      return FALSE;
    }

  while (good && (errno = 0, entry = readdir (dir)) != NULL)
    {
      if (g_str_equal (entry->d_name, ".") || g_str_equal (entry->d_name, ".."))
        continue;
      good = !g_cancellable_set_error_if_cancelled (search->cancellable, error) &&
             take_entry (search, dirfd (dir), entry->d_name, path, depth, error);
    }
  error_number = errno;
  closedir (dir);

  if (good && error_number != 0)
    {
      g_set_error_literal (error, G_FILE_ERROR, error_number, g_strerror (error_number));
      return FALSE;
    }
  return good;
}

static int
compare_files_cb (gconstpointer a, gconstpointer b)
{
  const TptScanFile *first = *(TptScanFile *const *) a;
  const TptScanFile *second = *(TptScanFile *const *) b;

  return tpt_scan_compare_paths (first->path, second->path);
}

static gboolean
set_card_error (GError **error, const char *card, const char *reason)
{
  g_autofree char *shown = g_filename_display_name (card);

  g_set_error (error, TPT_ERROR, TPT_ERROR_IO, _("The card “%s” could not be read: %s"), shown, reason);
  return FALSE;
}

static gboolean
walk_card (Search *search, const char *card, GError **error)
{
  g_autoptr (GError) local_error = NULL;
  struct stat st;
  int fd = open (card, O_RDONLY | O_DIRECTORY | O_CLOEXEC);

  if (fd < 0)
    return set_card_error (error, card, g_strerror (errno));
  if (fstat (fd, &st) == 0)
    is_new_folder (search, &st);
  if (walk_folder (search, fd, "", 0, &local_error))
    return TRUE;

  if (local_error->domain == G_FILE_ERROR)
    return set_card_error (error, card, local_error->message);
  g_propagate_error (error, g_steal_pointer (&local_error));
  return FALSE;
}

TptScan *
tpt_scan_card (const char *card, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptScan) scan = g_new0 (TptScan, 1);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  Search search = { scan, seen, cancellable };

  g_return_val_if_fail (card != NULL, NULL);

  scan->frames = g_ptr_array_new_with_free_func (free_file);
  scan->others = g_ptr_array_new_with_free_func (free_file);
  if (!walk_card (&search, card, error))
    return NULL;

  g_ptr_array_sort (scan->frames, compare_files_cb);
  g_ptr_array_sort (scan->others, compare_files_cb);
  return g_steal_pointer (&scan);
}
