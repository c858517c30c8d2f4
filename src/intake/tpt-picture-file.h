/* A JPEG of our own making: the demo's pictures, and those of tests. */
#pragma once

#include <glib.h>

#include "tpt-exif.h"

G_BEGIN_DECLS

/**
 * tpt_picture_file_write:
 * @pixels: 3 bytes red, green, blue per pixel, rows from the top, unpadded
 * @stamp: what the picture says about itself
 *
 * The same pixels and stamp give the same bytes.
 */
gboolean tpt_picture_file_write (const char *path, const guint8 *pixels, int width, int height, const TptExifStamp *stamp,
                                 GError **error);

G_END_DECLS
