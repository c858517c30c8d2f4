/* A picture as the content of a file: a line of text, then a JPEG.
 *
 *   tapetum-preview 1 FULL_WIDTH FULL_HEIGHT CHECKSUM\n
 *
 * The checksum is the SHA-256 of the two sizes and the JPEG.
 */
#include <gdk-pixbuf/gdk-pixbuf.h>
#include <stdio.h>
#include <string.h>

#include "tpt-jpeg-decode.h"
#include "tpt-preview-cache-private.h"

#define MARK "tapetum-preview 1"
#define QUALITY "85"

/* A line is no longer than this. */
#define MOST_LINE 160

static char *
sum_up (int full_width, int full_height, const guint8 *jpeg, gsize length)
{
  g_autoptr (GChecksum) checksum = g_checksum_new (G_CHECKSUM_SHA256);
  g_autofree char *sizes = g_strdup_printf ("%d %d", full_width, full_height);

  g_checksum_update (checksum, (const guchar *) sizes, -1);
  g_checksum_update (checksum, jpeg, length);
  return g_strdup (g_checksum_get_string (checksum));
}

GByteArray *
tpt_preview_cache_pack (const TptPixels *pixels)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new_from_data (pixels->data, GDK_COLORSPACE_RGB, FALSE, 8, pixels->width,
                                                           pixels->height, pixels->stride, NULL, NULL);
  g_autofree char *jpeg = NULL;
  g_autofree char *sum = NULL;
  g_autofree char *line = NULL;
  GByteArray *whole;
  gsize length;

  if (!gdk_pixbuf_save_to_buffer (pixbuf, &jpeg, &length, "jpeg", NULL, "quality", QUALITY, NULL))
    return NULL;
  sum = sum_up (pixels->full_width, pixels->full_height, (const guint8 *) jpeg, length);
  line = g_strdup_printf (MARK " %d %d %s\n", pixels->full_width, pixels->full_height, sum);
  whole = g_byte_array_sized_new (strlen (line) + length);
  g_byte_array_append (whole, (const guint8 *) line, strlen (line));
  g_byte_array_append (whole, (const guint8 *) jpeg, length);
  return whole;
}

TptPixels *
tpt_preview_cache_unpack (const guint8 *data, gsize length)
{
  const guint8 *end = memchr (data, '\n', MIN (length, MOST_LINE));
  g_autofree char *line = end != NULL ? g_strndup ((const char *) data, end - data) : NULL;
  g_autofree char *sum = NULL;
  char told[65] = "";
  int full_width, full_height;
  TptPixels *pixels;

  if (line == NULL || sscanf (line, MARK " %d %d %64s", &full_width, &full_height, told) != 3)
    return NULL;
  data = end + 1;
  length -= strlen (line) + 1;
  sum = sum_up (full_width, full_height, data, length);
  if (!g_str_equal (sum, told))
    return NULL;

  pixels = tpt_jpeg_decode (data, length, 0, NULL);
  if (pixels != NULL)
    {
      pixels->full_width = full_width;
      pixels->full_height = full_height;
    }
  return pixels;
}
