/* A JPEG's pixels, or those of the Exif thumbnail in it. */
#include "config.h"

#include <gexiv2/gexiv2.h>

#include "tpt-exif.h"
#include "tpt-jpeg-decode.h"
#include "tpt-preview-private.h"

/* A thumbnail with more than this is none: pixels of the longer side. */
#define MOST_THUMBNAIL 1024

/* (transfer full) (nullable): what the Exif segment says. */
static GExiv2Metadata *
open_exif (const TptJpegMeasure *measure)
{
  g_autoptr (GExiv2Metadata) metadata = NULL;

  if (measure->app1 == NULL)
    return NULL;
  tpt_exif_init ();
  metadata = gexiv2_metadata_new ();
  if (!gexiv2_metadata_from_app1_segment (metadata, measure->app1, measure->n_app1, NULL))
    return NULL;
  return g_steal_pointer (&metadata);
}

/* Thumbnails are often 4 by 3 whatever the picture's shape, with black bars. Cuts
 * them off; FALSE when the shapes differ and there are no such bars, so that it
 * may be a thumbnail of something else. */
static gboolean
cut_bars (TptPixels *pixels, int width, int height)
{
  int inner_width = MIN (pixels->width, (int) ((pixels->height * (gint64) width + height / 2) / height));
  int inner_height = MIN (pixels->height, (int) ((pixels->width * (gint64) height + width / 2) / width));
  int beside = (pixels->width - inner_width) / 2, above = (pixels->height - inner_height) / 2;

  if (inner_width < 1 || inner_height < 1)
    return FALSE;
  /* One pixel is rounding; and the edge of a bar is blurred. */
  if (beside > 1 && !(tpt_pixels_is_black (pixels, 0, 0, beside - 1, pixels->height) &&
                      tpt_pixels_is_black (pixels, pixels->width - beside + 1, 0, beside - 1, pixels->height)))
    return FALSE;
  if (above > 1 && !(tpt_pixels_is_black (pixels, 0, 0, pixels->width, above - 1) &&
                     tpt_pixels_is_black (pixels, 0, pixels->height - above + 1, pixels->width, above - 1)))
    return FALSE;
  tpt_pixels_crop_middle (pixels, inner_width, inner_height);
  return TRUE;
}

/* (transfer full) (nullable): NULL when there is none that serves. */
static TptPixels *
take_thumbnail (GExiv2Metadata *metadata, const TptJpegMeasure *measure, int size)
{
  g_autoptr (TptPixels) pixels = NULL;
  g_autofree guint8 *data = NULL;
  TptJpegMeasure inside;
  int length = 0;

  if (size <= 0 || size > MOST_THUMBNAIL || !gexiv2_metadata_get_exif_thumbnail (metadata, &data, &length) ||
      !tpt_jpeg_measure (data, length, &inside) || MAX (inside.width, inside.height) < size ||
      MAX (inside.width, inside.height) > MOST_THUMBNAIL)
    return NULL;

  pixels = tpt_jpeg_decode (data, length, 0, NULL);
  if (pixels == NULL || pixels->partial || !cut_bars (pixels, measure->width, measure->height) ||
      MAX (pixels->width, pixels->height) < size)
    return NULL;
  pixels->full_width = measure->width;
  pixels->full_height = measure->height;
  return tpt_pixels_shrink (g_steal_pointer (&pixels), size);
}

TptPixels *
tpt_preview_from_jpeg (const guint8 *data, gsize length, int size, int orientation, GError **error)
{
  g_autoptr (GExiv2Metadata) metadata = NULL;
  TptPixels *pixels = NULL;
  TptJpegMeasure measure;

  if (tpt_jpeg_measure (data, length, &measure))
    metadata = open_exif (&measure);
  if (metadata != NULL)
    pixels = take_thumbnail (metadata, &measure, size);
  if (pixels == NULL)
    pixels = tpt_jpeg_decode (data, length, size, error);
  if (pixels != NULL && orientation == 0 && metadata != NULL)
    orientation = (int) gexiv2_metadata_try_get_orientation (metadata, NULL);
  return pixels != NULL ? tpt_pixels_turn (pixels, orientation) : NULL;
}
