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

/* The rows above and below, or the columns beside, the middle of @width by @height;
 * but the last of them, where a bar's edge is blurred. */
static gboolean
has_bars (const TptPixels *pixels, int width, int height)
{
  int beside = (pixels->width - width) / 2 - 1, above = (pixels->height - height) / 2 - 1;

  if (beside > 0)
    return tpt_pixels_is_black (pixels, 0, 0, beside, pixels->height) &&
           tpt_pixels_is_black (pixels, pixels->width - beside, 0, beside, pixels->height);
  return above > 0 && tpt_pixels_is_black (pixels, 0, 0, pixels->width, above) &&
         tpt_pixels_is_black (pixels, 0, pixels->height - above, pixels->width, above);
}

gboolean
tpt_preview_cut_bars (TptPixels *pixels, int width, int height)
{
  int fit_width = MIN (pixels->width, (int) ((pixels->height * (gint64) width + height / 2) / height));
  int fit_height = MIN (pixels->height, (int) ((pixels->width * (gint64) height + width / 2) / width));

  if (pixels->width - fit_width <= pixels->width / 50 + 1 && pixels->height - fit_height <= pixels->height / 50 + 1)
    return TRUE;
  if (fit_width < 1 || fit_height < 1 || !has_bars (pixels, fit_width, fit_height))
    return FALSE;
  tpt_pixels_crop_middle (pixels, fit_width, fit_height);
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
  if (pixels == NULL || pixels->partial || !tpt_preview_cut_bars (pixels, measure->width, measure->height) ||
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
