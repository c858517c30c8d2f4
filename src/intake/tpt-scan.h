/* What is on a card: a listing of its pictures, clips and everything else.
 *
 * Only reads. Symbolic links are never followed, a folder inside itself is
 * noticed, and the order is the same on every run and every machine.
 *
 * Pictures and clips are told by their extension, whatever its case:
 *   JPEG   jpg jpeg jpe jfif
 *   RAW    3fr arw cr2 cr3 crw dcr dng erf fff heic heif hif iiq k25 kdc mef
 *          mos mrw nef nrw orf pef ptx raf raw rw2 rwl sr2 srf srw tif tiff x3f
 *   clip   3gp asf avi m2t m2ts m4v mkv mov mp4 mpeg mpg mts webm wmv
 * A file without extension is told by its first bytes.
 */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/**
 * TptScanKind:
 * @TPT_SCAN_OTHER: neither picture nor clip; listed so that nothing is passed over in silence
 * @TPT_SCAN_JPEG: a JPEG picture
 * @TPT_SCAN_RAW: a camera's RAW picture, or another picture that is no JPEG (TIFF, HEIF)
 * @TPT_SCAN_CLIP: a clip; a frame like the others, but without a date of its own
 */
typedef enum {
  TPT_SCAN_OTHER,
  TPT_SCAN_JPEG,
  TPT_SCAN_RAW,
  TPT_SCAN_CLIP,
} TptScanKind;

/**
 * TptScanFile:
 * @path: (owned): below the card, `/` between folders, the very bytes of the
 *   card (not always UTF-8); never absolute, never with a `.` or `..` part; a
 *   folder that was not looked into ends in `/`
 * @kind: what it is
 * @bytes: its size
 * @mtime_ms: its file time, milliseconds since 1970 UTC as the system tells it
 * @why: (owned) (nullable): for %TPT_SCAN_OTHER, why it is not taken, in words
 * @failed: whether it could not be read, so that frames may be missing
 */
typedef struct {
  char *path;
  TptScanKind kind;
  gint64 bytes;
  gint64 mtime_ms;
  char *why;
  gboolean failed;
} TptScanFile;

/**
 * TptScan:
 * @frames: (owned) (element-type TptScanFile): pictures and clips
 * @others: (owned) (element-type TptScanFile): the rest
 * @n_clips: clips among @frames
 * @bytes: size of all @frames together
 *
 * Both lists are in the order of tpt_scan_compare_paths().
 */
typedef struct {
  GPtrArray *frames;
  GPtrArray *others;
  guint n_clips;
  gint64 bytes;
} TptScan;

/**
 * tpt_scan_card:
 * @card: the card's folder
 * @cancellable: (nullable): checked at every entry
 * @error: return location
 *
 * A folder on the card that cannot be read is listed in @others; only the
 * card's own folder failing is an error.
 *
 * Returns: (transfer full) (nullable): the listing, or %NULL with
 *   %TPT_ERROR_IO or %G_IO_ERROR_CANCELLED
 */
TptScan *tpt_scan_card (const char *card, GCancellable *cancellable, GError **error);
void tpt_scan_free (TptScan *scan);

/* By folder and name, numbers in them by value: IMG_9 before IMG_10. A total
 * order: 0 only for equal bytes. */
int tpt_scan_compare_paths (const char *a, const char *b);

/* By the extension of @name alone; %TPT_SCAN_OTHER when it has none. */
TptScanKind tpt_scan_kind_from_name (const char *name);

/* (transfer none) (nullable): "jpeg", "raw", "clip", as it goes on record; %NULL for another. */
const char *tpt_scan_kind_to_string (TptScanKind kind);

/* By the first bytes of a file; 32 are enough. */
TptScanKind tpt_scan_kind_from_content (const guint8 *head, gsize length);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptScan, tpt_scan_free)

G_END_DECLS
