/* JPEGs scaled while they are decoded, as far as they can be decoded.
 *
 * Every call works for itself, so calls may come from several threads.
 */
#pragma once

#include <glib.h>

#include "tpt-pixels.h"

G_BEGIN_DECLS

/* The largest picture that is decoded, in pixels. The largest sensors in shops
 * have some 150 million (common practice, no source); what claims more is damaged
 * or means harm. */
#define TPT_MOST_PIXELS (160 * 1000 * 1000)

/**
 * TptJpegMeasure: what a JPEG's head says.
 * @width: pixels
 * @height: pixels
 * @app1: (unowned) (nullable): the first Exif segment's body, from the letters `Exif`
 * @n_app1: its bytes
 */
typedef struct {
  int width;
  int height;
  const guint8 *app1;
  gsize n_app1;
} TptJpegMeasure;

/* Reads markers only, up to the frame header. %FALSE for what is no JPEG of
 * 8 bits that the decoder knows (baseline, extended, progressive). */
gboolean tpt_jpeg_measure (const guint8 *data, gsize length, TptJpegMeasure *measure);

/**
 * tpt_jpeg_decode:
 * @data: a JPEG, perhaps cut off or damaged
 * @length: bytes
 * @size: the longer side asked for, pixels; 0 for the whole picture
 * @error: return location
 *
 * The decoder scales to the nearest eighth that is @size or up to a sixteenth
 * less, and the rest is averaged away. So the longer side is @size, or up to a
 * sixteenth less, or that of the picture when it is smaller. Not turned.
 * Where data are missing the picture is grey, and `partial` is set.
 *
 * Returns: (transfer full) (nullable): %NULL with %TPT_ERROR_DATA when nothing
 *   of it can be decoded, it is too large, or its colours are none of a screen
 */
TptPixels *tpt_jpeg_decode (const guint8 *data, gsize length, int size, GError **error);

G_END_DECLS
