/* Pixels of the few plain formats that gdk-pixbuf has loaders for. */
#include "config.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-jpeg-decode.h"
#include "tpt-preview-private.h"

#define BLOCK ((gsize) 1 << 16)

/* PNG: ISO/IEC 15948, 5.2. TIFF 6.0, section 2. HEIF: ISO/IEC 23008-12, annex B. */
static const struct {
  guint offset;
  guint length;
  const char *bytes;
  const char *type;
} marks[] = {
  { 0, 8, "\x89PNG\r\n\x1a\n", "png" },     { 0, 4, "II*\0", "tiff" },          { 0, 4, "MM\0*", "tiff" },
  { 4, 8, "ftypheic", "heif/avif" },        { 4, 8, "ftypheix", "heif/avif" },  { 4, 8, "ftypmif1", "heif/avif" },
};

/* (transfer none) (nullable): the type's own name when there is a loader. */
static const char *
find_type (const char *type)
{
  GSList *formats = gdk_pixbuf_get_formats ();
  const char *found = NULL;

  for (GSList *at = formats; at != NULL && found == NULL; at = at->next)
    {
      g_autofree char *name = gdk_pixbuf_format_get_name (at->data);

      if (g_str_equal (name, type) && !gdk_pixbuf_format_is_disabled (at->data))
        found = type;
    }
  g_slist_free (formats);
  return found;
}

const char *
tpt_preview_find_loader (const guint8 *head, gsize length)
{
  for (guint i = 0; i < G_N_ELEMENTS (marks); i++)
    if (marks[i].offset + marks[i].length <= length &&
        memcmp (head + marks[i].offset, marks[i].bytes, marks[i].length) == 0)
      return find_type (marks[i].type);
  return NULL;
}

typedef struct {
  int size;
  int width;
  int height;
  gboolean refused;
} Wish;

static void
size_prepared_cb (GdkPixbufLoader *loader, int width, int height, gpointer data)
{
  Wish *wish = data;
  gint64 longer = MAX (width, height);

  wish->width = width;
  wish->height = height;
  wish->refused = (gint64) width * height > TPT_MOST_PIXELS;
  if (wish->refused)
    gdk_pixbuf_loader_set_size (loader, 0, 0); /* the loader then gives up before it asks for memory */
  else if (wish->size > 0 && longer > wish->size)
    gdk_pixbuf_loader_set_size (loader, MAX (1, (int) ((gint64) width * wish->size / longer)),
                                MAX (1, (int) ((gint64) height * wish->size / longer)));
}

/* What there is after all data, or after the last that made sense. */
static void
feed (GdkPixbufLoader *loader, const guint8 *data, gsize length, const Wish *wish, GError **error)
{
  g_autoptr (GError) cause = NULL;

  for (gsize at = 0; at < length && cause == NULL && !wish->refused; at += BLOCK)
    gdk_pixbuf_loader_write (loader, data + at, MIN (BLOCK, length - at), &cause);
  gdk_pixbuf_loader_close (loader, cause == NULL ? &cause : NULL);
  if (cause != NULL)
    g_propagate_error (error, g_steal_pointer (&cause));
}

/* What is transparent becomes white. */
static TptPixels *
copy_pixels (GdkPixbuf *pixbuf)
{
  int width = gdk_pixbuf_get_width (pixbuf), height = gdk_pixbuf_get_height (pixbuf);
  int n = gdk_pixbuf_get_n_channels (pixbuf), stride = gdk_pixbuf_get_rowstride (pixbuf);
  const guint8 *data = gdk_pixbuf_read_pixels (pixbuf);
  TptPixels *pixels = tpt_pixels_new (width, height);

  for (int y = 0; pixels != NULL && y < height; y++)
    for (int x = 0; x < width; x++)
      {
        const guint8 *in = data + (gsize) y * stride + (gsize) n * x;
        guint8 *out = pixels->data + (gsize) y * pixels->stride + (gsize) 3 * x;
        int alpha = n == 4 ? in[3] : 255;

        for (int i = 0; i < 3; i++)
          out[i] = (guint8) ((in[i] * alpha + 255 * (255 - alpha)) / 255);
      }
  return pixels;
}

/* As the loader tells it; HEIF's turns its pictures itself. */
static int
find_orientation (GdkPixbuf *pixbuf)
{
  const char *text = gdk_pixbuf_get_option (pixbuf, "orientation");

  return text != NULL ? (int) g_ascii_strtoll (text, NULL, 10) : 1;
}

TptPixels *
tpt_preview_from_loader (const guint8 *data, gsize length, const char *type, int size, GError **error)
{
  Wish wish = { .size = size };
  g_autoptr (GdkPixbufLoader) loader = gdk_pixbuf_loader_new_with_type (type, error);
  g_autoptr (GError) cause = NULL;
  GdkPixbuf *pixbuf;
  TptPixels *pixels;

  if (loader == NULL)
    return NULL;
  g_signal_connect (loader, "size-prepared", G_CALLBACK (size_prepared_cb), &wish);
  feed (loader, data, length, &wish, &cause);
  pixbuf = gdk_pixbuf_loader_get_pixbuf (loader);
  if (wish.refused || pixbuf == NULL)
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("The picture cannot be shown (%s)"),
                   wish.refused ? _("too many pixels") : cause != NULL ? cause->message : _("no reason given"));
      return NULL;
    }

  pixels = copy_pixels (pixbuf);
  if (pixels == NULL)
    return NULL;
  pixels->full_width = wish.width;
  pixels->full_height = wish.height;
  pixels->partial = cause != NULL;
  return tpt_pixels_turn (pixels, find_orientation (pixbuf));
}
