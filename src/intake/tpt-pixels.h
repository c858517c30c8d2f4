/* A decoded picture in memory: 8-bit red, green, blue; shrunk, cut and turned. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * TptPixels:
 * @data: (owned): rows from the top, @stride bytes each, 3 bytes a pixel
 * @width: pixels
 * @height: pixels
 * @stride: bytes
 * @full_width: of the whole picture that this was made from, turned like this; 0 unknown
 * @full_height: likewise
 * @partial: whether some of the picture could not be decoded and is grey
 */
typedef struct {
  guint8 *data;
  int width;
  int height;
  int stride;
  int full_width;
  int full_height;
  gboolean partial;
} TptPixels;

/* (transfer full) (nullable): mid-grey; %NULL when there is no memory for it. */
TptPixels *tpt_pixels_new (int width, int height);
void tpt_pixels_free (TptPixels *pixels);

/**
 * tpt_pixels_shrink:
 * @pixels: (transfer full): what there is
 * @size: the longer side asked for, pixels; 0 for no bound
 *
 * Every pixel of the result is the mean of those it covers. Never enlarges:
 * what is small enough already is handed back.
 *
 * Returns: (transfer full) (nullable): %NULL when there is no memory for it
 */
TptPixels *tpt_pixels_shrink (TptPixels *pixels, int size);

/**
 * tpt_pixels_turn:
 * @pixels: (transfer full): as stored
 * @orientation: Exif 2.32, tag 274: 1 to 8; anything else counts as 1
 *
 * Returns: (transfer full) (nullable): upright; %NULL when there is no memory for it
 */
TptPixels *tpt_pixels_turn (TptPixels *pixels, int orientation);

/* Keeps the part of @width by @height in the middle, in place. */
void tpt_pixels_crop_middle (TptPixels *pixels, int width, int height);

/* Whether every pixel in these rows and columns is nearly black. */
gboolean tpt_pixels_is_black (const TptPixels *pixels, int left, int top, int width, int height);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptPixels, tpt_pixels_free)

G_END_DECLS
