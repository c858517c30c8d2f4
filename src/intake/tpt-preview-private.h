/* The ways to pixels: see tpt-preview.h for what they have in common. */
#pragma once

#include "tpt-preview.h"

G_BEGIN_DECLS

/* The largest file that is read whole, in bytes. */
#define TPT_PREVIEW_MOST_BYTES ((gsize) 512 << 20)

/* @orientation: Exif's; 0 takes what the JPEG itself says. */
TptPixels *tpt_preview_from_jpeg (const guint8 *data, gsize length, int size, int orientation, GError **error);

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
