#include "config.h"

#include "tpt-blank-pictures.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-error.h"
#include "tpt-preview.h"

/* Camera thumbnails are mostly 160 pixels wide (Exif 2.32, 4.5.3: recommended size of
 * thumbnails 160 by 120). */
#define DECODED_SIDE 160
#define NARROWEST 36

/* The mean of each colour over the part of @pixels that pixel (@x, @y) of a
 * picture of @width by @height covers, border pixels by their share. */
static void
average (const TptPixels *pixels, int width, int height, int x, int y, double *sums)
{
  double left = (double) x * pixels->width / width, right = (double) (x + 1) * pixels->width / width;
  double top = (double) y * pixels->height / height, foot = (double) (y + 1) * pixels->height / height, area = 0;

  sums[0] = sums[1] = sums[2] = 0;
  for (int row = (int) top; row < pixels->height && row < foot; row++)
    for (int column = (int) left; column < pixels->width && column < right; column++)
      {
        const guint8 *at = pixels->data + (gsize) row * (gsize) pixels->stride + 3 * column;
        double share = (MIN (foot, row + 1) - MAX (top, row)) * (MIN (right, column + 1) - MAX (left, column));

        for (int colour = 0; colour < 3; colour++)
          sums[colour] += share * at[colour];
        area += share;
      }
  for (int colour = 0; colour < 3; colour++)
    sums[colour] /= area;
}

/* Luma of ITU-R BT.601. */
static guint8
to_grey (const double *colours)
{
  return (guint8) lround (0.299 * colours[0] + 0.587 * colours[1] + 0.114 * colours[2]);
}

static TptBlankPicture *
shrink (const TptPixels *pixels, int width, int height, int flash)
{
  gsize n = (gsize) width * (gsize) height;
  TptBlankPicture *picture = g_malloc (sizeof *picture + n);
  g_autofree guint8 *rgb = g_malloc (3 * n);
  double colours[3];

  picture->width = width;
  picture->height = height;
  for (gsize i = 0; i < n; i++)
    {
      average (pixels, width, height, (int) (i % (gsize) width), (int) (i / (gsize) width), colours);
      for (int colour = 0; colour < 3; colour++)
        rgb[3 * i + (gsize) colour] = (guint8) lround (colours[colour]);
      picture->grey[i] = to_grey (colours);
    }
  picture->light = sci_light_kind (rgb, width, height, flash);
  return picture;
}

/* The shape of the whole picture, so that a thumbnail rounded otherwise comes in
 * the same size. */
static void
find_size (const TptPixels *pixels, int *width, int *height)
{
  int full_width = pixels->full_width > 0 ? pixels->full_width : pixels->width;
  int full_height = pixels->full_height > 0 ? pixels->full_height : pixels->height;
  double scale = (double) TPT_BLANK_SIDE / MAX (full_width, full_height);

  *width = (int) lround (full_width * scale);
  *height = (int) lround (full_height * scale);
}

TptBlankPicture *
tpt_blank_picture_load (const char *path, int flash, GError **error)
{
  g_autoptr (TptPixels) pixels = tpt_preview_decode (path, DECODED_SIDE, error);
  int width, height;

  if (pixels == NULL)
    return NULL;
  find_size (pixels, &width, &height);
  if (pixels->partial || MIN (width, height) < NARROWEST || MAX (pixels->width, pixels->height) < TPT_BLANK_SIDE)
    {
      g_autofree char *shown = g_filename_display_name (path);

      g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("“%s” is too small or too damaged to compare"), shown);
      return NULL;
    }
  return shrink (pixels, width, height, flash);
}
