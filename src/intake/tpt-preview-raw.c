/* A RAW picture's pixels, through the JPEGs that the camera put into it. */
#include "config.h"

#include <gexiv2/gexiv2.h>
#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-exif.h"
#include "tpt-jpeg-decode.h"
#include "tpt-preview-private.h"

/* Below this many pixels on the longer side a preview is small, and it is worth
 * looking for a larger one. */
#define SMALL_SIDE 1024

/* Cameras put two or three into a picture; hundreds mean harm. */
#define MOST_INSIDES 32

/* One JPEG inside a RAW picture, wherever its bytes are. */
typedef struct {
  int width;
  int height;
  GExiv2PreviewProperties *properties; /* (unowned) (nullable): NULL for one at @at */
  gsize at;
} Inside;

static int
get_longer (const Inside *inside)
{
  return MAX (inside->width, inside->height);
}

static int
compare_insides_cb (gconstpointer a, gconstpointer b)
{
  return get_longer (a) - get_longer (b);
}

static void
add_inside (GArray *insides, Inside inside)
{
  if (insides->len < MOST_INSIDES && inside.width > 0 && inside.height > 0 &&
      (gint64) inside.width * inside.height <= TPT_MOST_PIXELS)
    g_array_append_val (insides, inside);
}

/* Those the library knows of. */
static void
list_known (GExiv2Metadata *metadata, GArray *insides)
{
  GExiv2PreviewProperties **properties = gexiv2_metadata_get_preview_properties (metadata);

  for (guint i = 0; properties != NULL && properties[i] != NULL; i++)
    if (g_strcmp0 (gexiv2_preview_properties_get_mime_type (properties[i]), "image/jpeg") == 0)
      add_inside (insides, (Inside) { (int) gexiv2_preview_properties_get_width (properties[i]),
                                      (int) gexiv2_preview_properties_get_height (properties[i]), properties[i], 0 });
}

/* Those that can be seen in the bytes: for formats that the library opens
 * without knowing where their JPEGs are. Coded data hold no two marks in a row,
 * so what looks like a head with a size is one. */
static void
list_seen (const guint8 *data, gsize length, GArray *insides)
{
  static const guint8 mark[] = { 0xff, 0xd8, 0xff };
  const guint8 *at = data;

  while ((at = memmem (at, data + length - at, mark, sizeof mark)) != NULL)
    {
      TptJpegMeasure measure;

      if (tpt_jpeg_measure (at, data + length - at, &measure))
        add_inside (insides, (Inside) { measure.width, measure.height, NULL, at - data });
      at += sizeof mark;
    }
}

static TptPixels *
decode_known (GExiv2Metadata *metadata, const Inside *inside, int size, int orientation, GError **error)
{
  g_autoptr (GExiv2PreviewImage) image = gexiv2_metadata_try_get_preview_image (metadata, inside->properties, error);
  const guint8 *data;
  guint32 length = 0;

  if (image == NULL)
    return NULL;
  data = gexiv2_preview_image_get_data (image, &length);
  return tpt_preview_from_jpeg (data, length, size, orientation, error);
}

typedef struct {
  GExiv2Metadata *metadata; /* (unowned) (nullable) */
  const guint8 *data;       /* (unowned) (nullable) */
  gsize length;
  int size;
  int orientation;
} Source;

static TptPixels *
decode_inside (const Source *source, const Inside *inside)
{
  if (inside->properties != NULL)
    return decode_known (source->metadata, inside, source->size, source->orientation, NULL);
  return tpt_preview_from_jpeg (source->data + inside->at, source->length - inside->at, source->size,
                                source->orientation, NULL);
}

/* What all of @insides, smallest first, say the whole is: the largest, turned. */
static void
note_full (const GArray *insides, TptPixels *pixels)
{
  const Inside *largest = &g_array_index (insides, Inside, insides->len - 1);
  gboolean aside = (pixels->height > pixels->width) != (largest->height > largest->width);

  pixels->full_width = aside ? largest->height : largest->width;
  pixels->full_height = aside ? largest->width : largest->height;
}

/* The smallest that is large enough, then larger ones, then the largest of the
 * small ones. A whole one comes before one that is damaged. */
static TptPixels *
decode_best (const Source *source, GArray *insides)
{
  g_autoptr (TptPixels) damaged = NULL;
  guint first = 0;

  g_array_sort (insides, compare_insides_cb);
  while (first < insides->len &&
         (source->size == 0 ? first + 1 < insides->len
                            : get_longer (&g_array_index (insides, Inside, first)) < source->size))
    first++;
  for (guint i = 0; i < insides->len; i++)
    {
      guint at = first + i < insides->len ? first + i : insides->len - 1 - i;
      TptPixels *pixels = decode_inside (source, &g_array_index (insides, Inside, at));

      if (pixels == NULL)
        continue;
      note_full (insides, pixels);
      tpt_preview_cut_bars (pixels, pixels->full_width, pixels->full_height);
      if (!pixels->partial)
        return pixels;
      if (damaged == NULL)
        damaged = pixels;
      else
        tpt_pixels_free (pixels);
    }
  return g_steal_pointer (&damaged);
}

/* Not every RAW format keeps it where the others do. */
static int
read_orientation (GExiv2Metadata *metadata)
{
  static const char *const tags[] = { "Exif.Image.Orientation", "Exif.PanasonicRaw.Orientation" };

  for (guint i = 0; i < G_N_ELEMENTS (tags); i++)
    {
      g_autofree char *text = gexiv2_metadata_try_get_tag_string (metadata, tags[i], NULL);
      gint64 orientation = text != NULL ? g_ascii_strtoll (text, NULL, 10) : 0;

      if (orientation >= 1 && orientation <= 8)
        return (int) orientation;
    }
  return 0;
}

/* What the library knows of, and what else there is when that is not much. */
static GBytes *
list_insides (Source *source, const char *path, GArray *insides, GError **error)
{
  g_autoptr (GBytes) bytes = NULL;

  if (source->metadata != NULL)
    list_known (source->metadata, insides);
  for (guint i = 0; i < insides->len; i++)
    if (get_longer (&g_array_index (insides, Inside, i)) >= SMALL_SIDE)
      return NULL;

  bytes = tpt_preview_read_file (path, error);
  if (bytes != NULL)
    {
      source->data = g_bytes_get_data (bytes, &source->length);
      list_seen (source->data, source->length, insides);
    }
  return g_steal_pointer (&bytes);
}

TptPixels *
tpt_preview_from_raw (const char *path, int size, GError **error)
{
  g_autoptr (GArray) insides = g_array_new (FALSE, FALSE, sizeof (Inside));
  g_autoptr (GExiv2Metadata) metadata = NULL;
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (GError) cause = NULL;
  Source source = { .size = size };
  TptPixels *pixels;

  tpt_exif_init ();
  metadata = gexiv2_metadata_new ();
  if (gexiv2_metadata_open_path (metadata, path, NULL))
    {
      source.metadata = metadata;
      source.orientation = read_orientation (metadata);
    }
  bytes = list_insides (&source, path, insides, &cause);
  pixels = decode_best (&source, insides);
  if (pixels == NULL && cause != NULL)
    g_propagate_error (error, g_steal_pointer (&cause));
  else if (pixels == NULL)
    g_set_error_literal (error, TPT_ERROR, TPT_ERROR_DATA,
                         _("No preview that can be shown is in this picture"));
  return pixels;
}
