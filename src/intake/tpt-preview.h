/* One picture's pixels at the size that is needed, from whatever the camera wrote.
 *
 * A JPEG is scaled while it is decoded, or its Exif thumbnail taken when that is
 * large enough. A RAW picture is shown through the JPEGs that the camera put into
 * it: the smallest that is large enough, else the largest. TIFF, PNG and HEIF are
 * shown when gdk-pixbuf has a loader for them. Clips are not shown.
 *
 * Files are opened for reading only. Nothing is remembered, so calls may come
 * from several threads.
 */
#pragma once

#include <glib.h>

#include "tpt-pixels.h"

G_BEGIN_DECLS

/**
 * tpt_preview_decode:
 * @path: a picture
 * @size: the longer side asked for, pixels; 0 for all there is
 * @error: return location
 *
 * The result is upright, and its longer side is @size or up to a sixteenth less;
 * less than that only when the file holds no larger picture. Its `full_width` and
 * `full_height` are what @size 0 gives: of a RAW picture, the largest JPEG in it.
 * A damaged JPEG gives what can be decoded, with `partial` set.
 *
 * Returns: (transfer full) (nullable): %NULL with %TPT_ERROR_DATA for a clip,
 *   something that is no picture, or one with too many pixels (see
 *   %TPT_MOST_PIXELS); %TPT_ERROR_IO when the file cannot be read
 */
TptPixels *tpt_preview_decode (const char *path, int size, GError **error);

G_END_DECLS
