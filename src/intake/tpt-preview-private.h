/* The ways to pixels: see tpt-preview.h for what they have in common. */
#pragma once

#include "tpt-preview.h"

G_BEGIN_DECLS

/* The largest file that is read whole, in bytes. */
#define TPT_PREVIEW_MOST_BYTES ((gsize) 512 << 20)

/* @orientation: Exif's; 0 takes what the JPEG itself says. */
TptPixels *tpt_preview_from_jpeg (const guint8 *data, gsize length, int size, int orientation, GError **error);

/**
 * tpt_preview_cut_bars:
 * @pixels: a small picture of a larger one; what is cut off is cut in place
 * @width: of the larger one
 * @height: likewise
 *
 * Small pictures are often 4 by 3 whatever the larger one's shape, with black bars.
 *
 * Returns: %FALSE when the shapes differ by more than a fiftieth and there are no
 *   bars, so that it may be a picture of something else
 */
gboolean tpt_preview_cut_bars (TptPixels *pixels, int width, int height);

/* Through the JPEGs in it. */
TptPixels *tpt_preview_from_raw (const char *path, int size, GError **error);

/* (transfer none) (nullable): the type of the loader for a file with these first
 * bytes: "png", "tiff", "heif/avif"; %NULL when it is none of them or there is no loader. */
const char *tpt_preview_find_loader (const guint8 *head, gsize length);

/* Through gdk-pixbuf's loader of that type, and no other. */
TptPixels *tpt_preview_from_loader (const guint8 *data, gsize length, const char *type, int size, GError **error);

/* (transfer full) (nullable): the whole file; %NULL with %TPT_ERROR_IO, or
 * %TPT_ERROR_DATA for more than %TPT_PREVIEW_MOST_BYTES. */
GBytes *tpt_preview_read_file (const char *path, GError **error);

G_END_DECLS
