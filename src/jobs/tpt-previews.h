/* Pictures at the size a window needs, decoded off the main thread, the newest
 * request first, and remembered within bounds.
 *
 * RAW pictures are shown through the preview the camera put into them, JPEGs
 * are scaled while they are decoded. Small pictures are also remembered on disk,
 * in a cache that may be deleted at any time and is bounded too. Clips have no
 * picture. Pictures come upright (Exif orientation applied).
 *
 * Work is done by as many threads as there are processors, at least two and at
 * most eight; one of them never decodes ahead, so that whoever asks need not wait
 * for that. In memory are at most the pixels that are remembered and, while they
 * work, one file and one picture per thread.
 */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/**
 * TptPicture: 8-bit RGB, reference counted, never changed once made.
 * @pixels: (owned): rows of @stride bytes
 * @width: pixels
 * @height: pixels
 * @full_width: of what size 0 gives, upright; 0 unknown. Of a RAW picture that is
 *   the largest preview in it
 * @full_height: likewise
 * @partial: whether some of the picture could not be decoded and is grey
 */
typedef struct {
  GBytes *pixels;
  int width;
  int height;
  int stride;
  int full_width;
  int full_height;
  gboolean partial;
} TptPicture;

#define TPT_TYPE_PICTURE (tpt_picture_get_type ())
GType tpt_picture_get_type (void);
TptPicture *tpt_picture_ref (TptPicture *self);
void tpt_picture_unref (TptPicture *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptPicture, tpt_picture_unref)

#define TPT_TYPE_PREVIEWS (tpt_previews_get_type ())
G_DECLARE_FINAL_TYPE (TptPreviews, tpt_previews, TPT, PREVIEWS, GObject)

/**
 * tpt_previews_new:
 * @folder: (nullable): of the disk cache; %NULL for the user's own
 * @memory: most bytes of pixels to remember; 0 for 192 MiB. A picture that is
 *   larger than that by itself is handed out but not remembered
 * @disk: most bytes on disk; 0 for 512 MiB
 */
TptPreviews *tpt_previews_new (const char *folder, gsize memory, guint64 disk);

/* (transfer none): the one that the whole program shares; main thread. */
TptPreviews *tpt_previews_get_default (void);

/* Sizes asked for: the longer side in pixels; it comes as that or up to a
 * sixteenth less, and never enlarged. 0 is the whole picture. */
#define TPT_PREVIEW_SMALL 320
#define TPT_PREVIEW_LARGE 2048

/* (transfer full) (nullable): only from memory, at once. @key: the picture's
 * SHA-256, else its path. */
TptPicture *tpt_previews_peek (TptPreviews *self, const char *path, const char *key, int size);

/* @size as above. Errors: TPT_ERROR_DATA for what is no picture or a clip,
 * TPT_ERROR_IO when the file is gone, or cancelled. Requests that nobody waits
 * for any more are dropped. @callback is called from the main context that is
 * the caller's default, never before this returns. */
void tpt_previews_load_async (TptPreviews *self, const char *path, const char *key, int size, GCancellable *cancellable,
                              GAsyncReadyCallback callback, gpointer data);
/* (transfer full) (nullable) */
TptPicture *tpt_previews_load_finish (TptPreviews *self, GAsyncResult *result, GError **error);

/* Decodes ahead, behind everything somebody waits for. Replaces what was asked
 * ahead before. @paths and @keys: (array length=n). */
void tpt_previews_ahead (TptPreviews *self, const char *const *paths, const char *const *keys, guint n, int size);

/* Bytes of pixels in memory now, and the most ever. */
gsize tpt_previews_get_memory (TptPreviews *self, gsize *most);

G_END_DECLS
