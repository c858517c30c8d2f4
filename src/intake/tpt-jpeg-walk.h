/* Is a JPEG whole? Told from its bytes as they pass by, in blocks of any size,
 * without decoding: segment by segment to the start of scan, through the coded
 * data to the end marker. No length in the file is trusted beyond what came.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * TptJpegState:
 * @TPT_JPEG_NOT: does not begin like a JPEG, or breaks off before both Exif and coded data
 * @TPT_JPEG_CUT: begins well, but the end marker never comes, or no coded data before it
 * @TPT_JPEG_HOLED: ends well, but the coded data hold a run of 4096 zeros or FFs,
 *   as a card leaves that lost clusters, or a marker that has no place there
 * @TPT_JPEG_WHOLE: whole
 */
typedef enum {
  TPT_JPEG_NOT,
  TPT_JPEG_CUT,
  TPT_JPEG_HOLED,
  TPT_JPEG_WHOLE,
} TptJpegState;

typedef struct _TptJpegWalk TptJpegWalk;

TptJpegWalk *tpt_jpeg_walk_new (void);
void tpt_jpeg_walk_free (TptJpegWalk *walk);
void tpt_jpeg_walk_feed (TptJpegWalk *walk, const guint8 *data, gsize length);

/* What is known after the last block. */
TptJpegState tpt_jpeg_walk_get_state (TptJpegWalk *walk);

/* Bytes of coded picture data seen: 0 means that nothing of the picture is there. */
gint64 tpt_jpeg_walk_get_scan_bytes (TptJpegWalk *walk);

/* (transfer none) (nullable): the first whole Exif APP1 body, from `Exif`. */
const guint8 *tpt_jpeg_walk_get_exif (TptJpegWalk *walk, gsize *length);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptJpegWalk, tpt_jpeg_walk_free)

G_END_DECLS
