/* A verified copy of one file, in two halves.
 *
 * tpt_copy_begin() reads the source once, and hashes it, while writing a file
 * with a temporary name. Now the caller knows the content's SHA-256 and can
 * still decide. tpt_copy_finish() makes the data safe, reads them back from
 * the medium as far as the system lets us, compares, and only then gives the
 * file its name; tpt_copy_discard() throws it away. The halves may run in
 * different threads, one after the other.
 *
 * What is promised:
 * - The source is opened for reading only, without touching its access time
 *   where we may, and never written to.
 * - A file has its final name only when its content is verified and on disk
 *   (fsync before the rename). The name in the folder is safe after
 *   tpt_copy_sync_folder(); a run calls it once for each folder, at its end.
 * - Nothing is ever overwritten.
 * - After a failure or a kill at any moment there is at most a temporary file,
 *   `.tapetum-part-…`, which tpt_copy_clean() removes. The temporary file of a
 *   running copy is locked (flock), so two runs leave each other alone.
 *
 * Every step that opens, writes, syncs, renames or unlinks passes
 * tpt_fault_point() first. Errors are %TPT_ERROR_IO and name the file,
 * %TPT_ERROR_FAULT under test, or %G_IO_ERROR_CANCELLED.
 */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/* 64 hexadecimal digits, lower case, and the end. */
#define TPT_SHA256_SIZE 65

typedef struct _TptCopy TptCopy;

/* Sees each block once as it is read. */
typedef void (*TptCopyTap) (const guint8 *data, gsize length, gpointer user_data);

/**
 * tpt_copy_begin:
 * @source: the file to copy
 * @folder: existing folder for the temporary file, on the file system of the final place
 * @tap: (nullable) (scope call): shown every block
 * @tap_data: for @tap
 * @cancellable: (nullable): checked between blocks
 * @source_failed: (out) (optional): whether it was the source that failed
 * @error: return location
 *
 * A source that changes while it is read, or ends before its size says, has failed.
 *
 * Returns: (transfer full) (nullable): the copy under way; on failure nothing is left behind
 */
TptCopy *tpt_copy_begin (const char *source, const char *folder, TptCopyTap tap, gpointer tap_data,
                         GCancellable *cancellable, gboolean *source_failed, GError **error);

const char *tpt_copy_get_sha256 (TptCopy *copy);
gint64 tpt_copy_get_bytes (TptCopy *copy);

/* Where the content is until tpt_copy_finish(). */
const char *tpt_copy_get_path (TptCopy *copy);

/**
 * tpt_copy_finish:
 * @copy: (transfer full): the copy
 * @destination: the final file, in an existing folder
 * @cancellable: (nullable): checked between blocks
 * @exists: (out) (optional): whether it failed because @destination is there already
 * @error: return location
 *
 * The file's time becomes that of the source. On failure @destination is
 * untouched and the temporary file gone, if it can be removed.
 */
gboolean tpt_copy_finish (TptCopy *copy, const char *destination, GCancellable *cancellable, gboolean *exists,
                          GError **error);

/* (transfer full): removes the temporary file. */
gboolean tpt_copy_discard (TptCopy *copy, GError **error);

/* Frees after removing the temporary file, ignoring failure: for autoptr. */
void tpt_copy_free (TptCopy *copy);

/**
 * tpt_copy_hash:
 * @path: file to read
 * @tap: (nullable) (scope call): shown every block
 * @from_medium: ask the system to forget what it remembers of the file first
 * @bytes: (out) (optional): size read
 *
 * Reads and hashes without writing anything.
 */
gboolean tpt_copy_hash (const char *path, gboolean from_medium, TptCopyTap tap, gpointer tap_data,
                        char sha256[TPT_SHA256_SIZE], gint64 *bytes, GCancellable *cancellable, GError **error);

/* Removes what killed runs left in @folder; @removed may be %NULL. A folder
 * that does not exist is clean. */
gboolean tpt_copy_clean (const char *folder, guint *removed, GError **error);

/* %FALSE with %TPT_ERROR_IO, in words with both sizes, when @folder's file
 * system has less than @bytes and a reserve of 32 MB free. */
gboolean tpt_copy_check_space (const char *folder, gint64 bytes, GError **error);

gboolean tpt_copy_sync_folder (const char *folder, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptCopy, tpt_copy_free)

G_END_DECLS
