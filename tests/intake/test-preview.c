/* Decoding one picture. What each orientation does: Exif 2.32 (CIPA DC-008-2019)
 * 4.6.5, tag 274. Markers of a JPEG: ITU-T T.81, table B.1. PNG: ISO/IEC 15948,
 * 11.2.2. What a damaged card does to files is common practice, no source. RAW
 * pictures of many makers are in test_previews.py. */
#include <gdk-pixbuf/gdk-pixbuf.h>
#include <gexiv2/gexiv2.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

#include "intake-fixture.h"
#include "tpt-error.h"
#include "tpt-jpeg-decode.h"
#include "tpt-preview-private.h"

typedef guint32 Colour;

#define BLUE 0x2040c0
#define RED 0xc03020
#define BLACK 0x000000

static void
fill (GdkPixbuf *pixbuf, int left, int top, int width, int height, Colour colour)
{
  g_autoptr (GdkPixbuf) part = gdk_pixbuf_new_subpixbuf (pixbuf, left, top, width, height);

  gdk_pixbuf_fill (part, colour << 8 | 0xff);
}

/* (transfer full): @type as gdk-pixbuf calls it. */
static GByteArray *
save (GdkPixbuf *pixbuf, const char *type)
{
  g_autoptr (GError) error = NULL;
  char *data = NULL;
  gsize length;

  gdk_pixbuf_save_to_buffer (pixbuf, &data, &length, type, &error, NULL);
  g_assert_no_error (error);
  return g_byte_array_new_take ((guint8 *) data, length);
}

static GByteArray *
draw_flat (int width, int height, Colour colour, const char *type)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, width, height);

  fill (pixbuf, 0, 0, width, height, colour);
  return save (pixbuf, type);
}

/* JPEG rounds; flat colours come back within this. */
static gboolean
is_near (const TptPixels *pixels, int x, int y, Colour colour)
{
  const guint8 *at = pixels->data + (gsize) y * pixels->stride + (gsize) 3 * x;

  return ABS (at[0] - (int) (colour >> 16)) <= 6 && ABS (at[1] - (int) (colour >> 8 & 0xff)) <= 6 &&
         ABS (at[2] - (int) (colour & 0xff)) <= 6;
}

/* Six pixels, told apart by their red: 1 2 3 above 4 5 6. */
static TptPixels *
make_six (void)
{
  TptPixels *pixels = tpt_pixels_new (3, 2);

  for (int i = 0; i < 6; i++)
    pixels->data[3 * i] = (guint8) (i + 1);
  pixels->full_width = 30;
  pixels->full_height = 20;
  pixels->partial = TRUE;
  return pixels;
}

static void
test_turn (void)
{
  static const struct {
    int orientation;
    const char *rows;
  } cases[] = {
    { 0, "123/456" }, { 1, "123/456" },   { 2, "321/654" },   { 3, "654/321" },   { 4, "456/123" },
    { 5, "14/25/36" }, { 6, "41/52/63" }, { 7, "63/52/41" }, { 8, "36/25/14" }, { 9, "123/456" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptPixels) pixels = tpt_pixels_turn (make_six (), cases[i].orientation);
      g_autoptr (GString) rows = g_string_new (NULL);

      for (int y = 0; y < pixels->height; y++)
        for (int x = 0; x <= pixels->width; x++)
          g_string_append_c (rows, x < pixels->width ? (char) ('0' + pixels->data[y * pixels->stride + 3 * x]) : '/');
      g_string_truncate (rows, rows->len - 1);
      g_assert_cmpstr (rows->str, ==, cases[i].rows);
      g_assert_cmpint (pixels->full_width, ==, pixels->width == 3 ? 30 : 20);
      g_assert_cmpint (pixels->full_height, ==, pixels->width == 3 ? 20 : 30);
      g_assert_true (pixels->partial);
    }
}

/* Larger than the blocks it is done in, and back again. */
static void
test_turn_back (void)
{
  static const int back[] = { 0, 1, 2, 3, 4, 5, 8, 7, 6 };

  for (int orientation = 1; orientation <= 8; orientation++)
    {
      TptPixels *pixels = tpt_pixels_new (101, 67);
      g_autofree guint8 *before = NULL;
      gsize n = 3 * 101 * 67;

      for (gsize i = 0; i < n; i++)
        pixels->data[i] = (guint8) (i * 37 + i / 251);
      before = g_memdup2 (pixels->data, n);
      pixels = tpt_pixels_turn (tpt_pixels_turn (pixels, orientation), back[orientation]);
      g_assert_cmpmem (pixels->data, n, before, n);
      tpt_pixels_free (pixels);
    }
}

/* Against a mean in floating point, pixel by pixel. */
static void
test_shrink (void)
{
  static const struct {
    int width, height, size, to_width, to_height;
  } cases[] = {
    { 40, 30, 20, 20, 15 }, { 40, 30, 13, 13, 10 }, { 41, 29, 40, 40, 28 }, { 7, 300, 100, 2, 100 },
    { 300, 1, 100, 100, 1 }, { 40, 30, 40, 40, 30 }, { 40, 30, 0, 40, 30 },  { 40, 30, 100, 40, 30 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptPixels *from = tpt_pixels_new (cases[i].width, cases[i].height);
      g_autoptr (TptPixels) to = NULL;
      g_autofree guint8 *data = NULL;
      gsize n = (gsize) from->stride * from->height;

      for (gsize k = 0; k < n; k++)
        from->data[k] = (guint8) (k * k * 2654435761u >> 13);
      data = g_memdup2 (from->data, n);
      to = tpt_pixels_shrink (from, cases[i].size);
      g_assert_cmpint (to->width, ==, cases[i].to_width);
      g_assert_cmpint (to->height, ==, cases[i].to_height);
      for (int y = 0; y < to->height; y++)
        for (int x = 0; x < 3 * to->width; x++)
          {
            double across = (double) cases[i].width / to->width, down = (double) cases[i].height / to->height, sum = 0;

            for (int v = 0; v < cases[i].height; v++)
              for (int u = 0; u < cases[i].width; u++)
                sum += data[3 * (v * cases[i].width + u) + x % 3] *
                       MAX (0, MIN (u + 1, (x / 3 + 1) * across) - MAX (u, x / 3 * across)) *
                       MAX (0, MIN (v + 1, (y + 1) * down) - MAX (v, y * down));
            /* shares are rounded to 256ths, in both directions: at most 2 of 255 */
            g_assert_cmpfloat (ABS (to->data[y * to->stride + x] - sum / across / down), <=, 2);
          }
    }
}

static void
test_sizes (void)
{
  static const struct {
    int width, height, size, to_width, to_height;
  } cases[] = {
    { 800, 600, 0, 800, 600 },   { 800, 600, 2048, 800, 600 }, { 800, 600, 400, 400, 300 },
    { 800, 600, 410, 400, 300 }, /* within a sixteenth: not worth decoding four times as much */
    { 800, 600, 430, 430, 323 }, { 800, 600, 300, 300, 225 },  { 800, 600, 100, 100, 75 },
    { 800, 600, 10, 10, 8 },     { 600, 800, 300, 225, 300 },  { 801, 1, 100, 100, 1 },
    { 17, 13, 1, 1, 1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GByteArray) jpeg = draw_flat (cases[i].width, cases[i].height, BLUE, "jpeg");
      g_autoptr (GError) error = NULL;
      g_autoptr (TptPixels) pixels = tpt_jpeg_decode (jpeg->data, jpeg->len, cases[i].size, &error);

      g_assert_no_error (error);
      g_assert_cmpint (pixels->width, ==, cases[i].to_width);
      g_assert_cmpint (pixels->height, ==, cases[i].to_height);
      g_assert_cmpint (pixels->full_width, ==, cases[i].width);
      g_assert_cmpint (pixels->full_height, ==, cases[i].height);
      g_assert_false (pixels->partial);
      g_assert_true (is_near (pixels, pixels->width / 2, pixels->height / 2, BLUE));
      g_assert_true (is_near (pixels, pixels->width - 1, pixels->height - 1, BLUE));
    }
}

/* Cut off after so many hundredths: what was there is shown as it is, the rest is grey. */
static void
test_cut (void)
{
  g_autoptr (GByteArray) jpeg = fixture_draw_jpeg (5, 640, 480);
  g_autoptr (TptPixels) whole = tpt_jpeg_decode (jpeg->data, jpeg->len, 0, NULL);

  for (guint hundredths = 5; hundredths < 100; hundredths += 10)
    {
      gsize length = jpeg->len * hundredths / 100;
      g_autoptr (GError) error = NULL;
      g_autoptr (TptPixels) cut = tpt_jpeg_decode (jpeg->data, length, 0, &error);
      int shown = 480 * ((int) hundredths - 4) / 100; /* noise takes the same bytes everywhere, but for the head */

      g_assert_no_error (error);
      g_assert_true (cut->partial);
      g_assert_cmpint (cut->height, ==, 480);
      shown -= 32; /* the row of blocks it breaks off in, and what is blended with the next */
      if (shown > 0)
        g_assert_cmpmem (cut->data, (gsize) shown * cut->stride, whole->data, (gsize) shown * cut->stride);
      for (int x = 0; x < 640; x++)
        g_assert_true (is_near (cut, x, 479, 0x808080));
    }
}

/* Nothing of the picture itself is there. */
static void
test_cut_in_head (void)
{
  g_autoptr (GByteArray) jpeg = fixture_draw_jpeg (5, 640, 480);
  const guint8 scan[] = { 0xff, 0xda };
  const guint8 *at = memmem (jpeg->data, jpeg->len, scan, 2);
  gsize coded = at - jpeg->data + 2 + (at[2] << 8 | at[3]);

  for (gsize length = 0; length <= coded; length += length < coded - 40 ? 23 : 1)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (tpt_jpeg_decode (jpeg->data, length, 320, &error));
      g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
    }
}

/* Holes and noise anywhere never do harm. Only some are noticed: nearly all bits
 * are a code of something, and a decoder that ends up with too much or too little
 * of them at the end cannot tell where it went wrong. */
static void
test_damaged (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  guint n_shown = 0, n_noticed = 0;

  for (guint i = 0; i < 400; i++)
    {
      g_autoptr (GByteArray) jpeg = fixture_draw_jpeg (i, 160, 120);
      gsize at = g_rand_int_range (rand, 2, (int) jpeg->len - 300);
      g_autoptr (GError) error = NULL;
      g_autoptr (TptPixels) pixels = NULL;

      for (gsize k = at; k < at + 256; k++)
        jpeg->data[k] = i % 2 == 0 ? 0 : (guint8) g_rand_int (rand);
      pixels = tpt_jpeg_decode (jpeg->data, jpeg->len, i % 3 == 0 ? 0 : 100, &error);
      g_assert_true ((pixels == NULL) == (error != NULL));
      n_shown += pixels != NULL;
      n_noticed += pixels == NULL || pixels->partial;
    }
  g_assert_cmpuint (n_shown, >, 300);
  g_assert_cmpuint (n_noticed, >, 80);
}

/* A small file that says it is huge costs nothing. */
static void
test_hostile_size (void)
{
  static const struct {
    guint width, height;
    gboolean refused;
  } cases[] = { { 65500, 65500, TRUE }, { 20000, 8001, TRUE }, { 65500, 1, FALSE }, { 0, 100, TRUE }, { 1000, 900, FALSE } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GByteArray) jpeg = fixture_draw_jpeg (1, 64, 64);
      const guint8 frame[] = { 0xff, 0xc0 };
      guint8 *at = memmem (jpeg->data, jpeg->len, frame, 2);
      g_autoptr (GError) error = NULL;
      g_autoptr (TptPixels) pixels = NULL;
      gint64 start = g_get_monotonic_time ();

      at[5] = (guint8) (cases[i].height >> 8);
      at[6] = (guint8) cases[i].height;
      at[7] = (guint8) (cases[i].width >> 8);
      at[8] = (guint8) cases[i].width;
      pixels = tpt_jpeg_decode (jpeg->data, jpeg->len, 320, &error);
      g_assert_cmpint (pixels == NULL, ==, cases[i].refused);
      if (cases[i].refused)
        g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
      g_assert_cmpint (g_get_monotonic_time () - start, <, 5 * G_USEC_PER_SEC);
    }
}

static void
test_measure (void)
{
  g_autoptr (GByteArray) jpeg = draw_flat (123, 45, RED, "jpeg");
  TptJpegMeasure measure;

  g_assert_true (tpt_jpeg_measure (jpeg->data, jpeg->len, &measure));
  g_assert_cmpint (measure.width, ==, 123);
  g_assert_cmpint (measure.height, ==, 45);
  g_assert_null (measure.app1);
  for (gsize length = 0; length < 20; length++)
    {
      g_autofree guint8 *copy = g_memdup2 (jpeg->data, MAX (length, 1));

      g_assert_false (tpt_jpeg_measure (copy, length, &measure));
    }
}

/* A blue picture with a red thumbnail, its bars @bars rows high, above and below. */
static void
write_with_thumbnail (const char *path, int width, int height, int thumb_width, int thumb_height, int bars, Colour bar)
{
  g_autoptr (GByteArray) jpeg = draw_flat (width, height, BLUE, "jpeg");
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, thumb_width, thumb_height);
  g_autoptr (GByteArray) thumb = NULL;
  g_autoptr (GExiv2Metadata) metadata = gexiv2_metadata_new ();
  g_autoptr (GError) error = NULL;

  fill (pixbuf, 0, 0, thumb_width, thumb_height, RED);
  if (bars > 0)
    {
      fill (pixbuf, 0, 0, thumb_width, bars, bar);
      fill (pixbuf, 0, thumb_height - bars, thumb_width, bars, bar);
    }
  thumb = save (pixbuf, "jpeg");
  g_assert_true (g_file_set_contents (path, (char *) jpeg->data, jpeg->len, NULL));
  gexiv2_metadata_open_path (metadata, path, &error);
  g_assert_no_error (error);
  gexiv2_metadata_try_set_exif_thumbnail_from_buffer (metadata, thumb->data, (int) thumb->len, &error);
  g_assert_no_error (error);
  gexiv2_metadata_try_set_orientation (metadata, GEXIV2_ORIENTATION_ROT_90, &error);
  gexiv2_metadata_save_file (metadata, path, &error);
  g_assert_no_error (error);
}

static void
test_thumbnail (void)
{
  static const struct {
    int width, height, thumb_width, thumb_height, bars;
    Colour bar;
    int size;
    gboolean taken;
    int to_width, to_height; /* upright: these pictures lie on their side */
  } cases[] = {
    { 1280, 960, 320, 240, 0, 0, 320, TRUE, 240, 320 },
    { 1280, 960, 320, 240, 0, 0, 160, TRUE, 120, 160 },
    { 1280, 960, 320, 240, 0, 0, 321, FALSE, 240, 320 }, /* a quarter of it: a sixteenth less is allowed */
    { 1280, 960, 160, 120, 0, 0, 320, FALSE, 240, 320 },
    { 1280, 960, 320, 240, 0, 0, 0, FALSE, 960, 1280 },
    { 1280, 720, 320, 240, 30, BLACK, 320, TRUE, 180, 320 },
    { 1280, 720, 320, 240, 30, BLUE, 320, FALSE, 180, 320 }, /* bars, but not black: not this picture's */
    { 1280, 720, 320, 240, 0, 0, 320, FALSE, 180, 320 },
    { 1280, 953, 320, 240, 0, 0, 320, TRUE, 240, 320 }, /* a little is rounding */
  };
  g_autofree char *folder = fixture_make_folder ();
  g_autofree char *path = g_build_filename (folder, "a.jpg", NULL);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (TptPixels) pixels = NULL;

      write_with_thumbnail (path, cases[i].width, cases[i].height, cases[i].thumb_width, cases[i].thumb_height, cases[i].bars,
                            cases[i].bar);
      pixels = tpt_preview_decode (path, cases[i].size, &error);
      g_assert_no_error (error);
      g_test_message ("case %u: %d by %d", i, pixels->width, pixels->height);
      g_assert_cmpint (pixels->width, ==, cases[i].to_width);
      g_assert_cmpint (pixels->height, ==, cases[i].to_height);
      g_assert_cmpint (pixels->full_width, ==, cases[i].height);
      g_assert_cmpint (pixels->full_height, ==, cases[i].width);
      g_assert_true (is_near (pixels, pixels->width / 2, pixels->height / 2, cases[i].taken ? RED : BLUE));
      /* nothing is left of the bars */
      g_assert_true (is_near (pixels, 4, pixels->height / 2, cases[i].taken ? RED : BLUE));
      g_assert_true (is_near (pixels, pixels->width - 5, pixels->height / 2, cases[i].taken ? RED : BLUE));
    }
  fixture_remove_tree (folder);
}

static void
check_file (const char *folder, const char *name, const GByteArray *content, int size, Colour colour)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (TptPixels) pixels = NULL;

  fixture_write (folder, name, content->data, content->len);
  pixels = tpt_preview_decode (path, size, &error);
  g_assert_no_error (error);
  g_assert_cmpint (pixels->width, ==, size == 0 ? 400 : size);
  g_assert_cmpint (pixels->full_width, ==, 400);
  g_assert_cmpint (pixels->full_height, ==, 300);
  g_assert_true (is_near (pixels, pixels->width / 3, pixels->height / 2, colour));
}

static gboolean
has_loader (const char *type)
{
  g_autoptr (GSList) formats = gdk_pixbuf_get_formats ();
  gboolean found = FALSE;

  for (GSList *at = formats; at != NULL; at = at->next)
    {
      g_autofree char *name = gdk_pixbuf_format_get_name (at->data);

      found = found || g_str_equal (name, type);
    }
  return found;
}

static void
test_plain_formats (void)
{
  g_autofree char *folder = fixture_make_folder ();
  g_autoptr (GdkPixbuf) clear = gdk_pixbuf_new (GDK_COLORSPACE_RGB, TRUE, 8, 400, 300);
  g_autoptr (GByteArray) png = draw_flat (400, 300, RED, "png");
  g_autoptr (GByteArray) transparent = NULL;

  gdk_pixbuf_fill (clear, 0x10203000);
  transparent = save (clear, "png");
  for (int size = 0; size <= 200; size += 100)
    {
      check_file (folder, "a.png", png, size, RED);
      check_file (folder, "b.png", transparent, size, 0xffffff);
      if (has_loader ("tiff"))
        {
          g_autoptr (GByteArray) tiff = draw_flat (400, 300, RED, "tiff");

          check_file (folder, "a.tif", tiff, size, RED);
          check_file (folder, "A.TIFF", tiff, size, RED);
        }
    }
  fixture_remove_tree (folder);
}

/* A box that nobody knows, two JPEGs in it, and noise between, as a new RAW format would be. */
static void
test_unknown_raw (void)
{
  g_autofree char *folder = fixture_make_folder ();
  g_autoptr (GByteArray) large = draw_flat (400, 300, RED, "jpeg");
  g_autoptr (GByteArray) small = draw_flat (160, 120, BLUE, "jpeg");
  g_autoptr (GByteArray) noise = fixture_draw_jpeg (9, 64, 64);
  g_autoptr (GByteArray) file = g_byte_array_new ();
  g_autofree char *path = g_build_filename (folder, "a.cr3", NULL);
  g_autoptr (TptPixels) pixels = NULL;

  g_byte_array_append (file, (const guint8 *) "\0\0\0\x18" "ftypcrx ", 12);
  g_byte_array_append (file, noise->data + 600, 1000);
  g_byte_array_append (file, small->data, small->len);
  g_byte_array_append (file, noise->data + 600, 1000);
  g_byte_array_append (file, large->data, large->len);
  g_byte_array_append (file, noise->data + 600, 1000);
  check_file (folder, "a.cr3", file, 0, RED);
  check_file (folder, "a.cr3", file, 320, RED);
  check_file (folder, "a.cr3", file, 160, BLUE);
  check_file (folder, "a.cr3", file, 100, BLUE);
  pixels = tpt_preview_decode (path, 2048, NULL);
  g_assert_cmpint (pixels->width, ==, 400);
  fixture_remove_tree (folder);
}

static void
test_refused (void)
{
  static const struct {
    const char *name;
    const char *content;
    gsize length;
    int code;
    const char *words;
  } cases[] = {
    { "clip.mp4", "\0\0\0\x18" "ftypisom", 12, TPT_ERROR_DATA, "A clip; it is counted but not shown" },
    { "CLIP.AVI", "", 0, TPT_ERROR_DATA, "A clip; it is counted but not shown" },
    { "clip.jpg", "\0\0\0\x18" "ftypisom", 12, TPT_ERROR_DATA, "A clip; it is counted but not shown" },
    { "empty.jpg", "", 0, TPT_ERROR_DATA, "This is no picture" },
    { "words.jpg", "Just words.", 11, TPT_ERROR_DATA, "This is no picture" },
    { "drawing.png", "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'/>", 62, TPT_ERROR_DATA, "This is no picture" },
    { "drawing.tif", "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'/>", 62, TPT_ERROR_DATA, "No preview" },
    { "a.nef", "II*\0\x08\0\0\0\0\0\0\0\0\0", 14, TPT_ERROR_DATA, "No preview" },
    { "two.jpg", "\xff\xd8", 2, TPT_ERROR_DATA, "damaged" },
    /* a PNG of 100,000 by 100,000 pixels; its checksum is right */
    { "huge.png", "\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\x01\x86\xa0\0\x01\x86\xa0\x08\x02\0\0\0\x27\x30\x9c\x9f\0\0\x10\0IDAT", 41,
      TPT_ERROR_DATA, "cannot be shown" },
  };
  g_autofree char *folder = fixture_make_folder ();
  g_autofree char *gone = g_build_filename (folder, "gone.jpg", NULL);
  g_autofree char *pipe = g_build_filename (folder, "pipe.jpg", NULL);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = g_build_filename (folder, cases[i].name, NULL);

      g_test_message ("%s", cases[i].name);
      fixture_write (folder, cases[i].name, cases[i].content, cases[i].length);
      g_assert_null (tpt_preview_decode (path, 320, &error));
      g_assert_error (error, TPT_ERROR, cases[i].code);
      g_assert_nonnull (strstr (error->message, cases[i].words));
      g_clear_error (&error);
    }
  g_assert_null (tpt_preview_decode (gone, 320, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_IO);
  g_clear_error (&error);
  g_assert_null (tpt_preview_decode (folder, 320, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
  g_clear_error (&error);
  g_assert_cmpint (mkfifo (pipe, 0600), ==, 0);
  g_assert_null (tpt_preview_decode (pipe, 320, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
  fixture_remove_tree (folder);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  tpt_exif_init ();
  g_test_add_func ("/preview/turn", test_turn);
  g_test_add_func ("/preview/turn-back", test_turn_back);
  g_test_add_func ("/preview/shrink", test_shrink);
  g_test_add_func ("/preview/sizes", test_sizes);
  g_test_add_func ("/preview/cut", test_cut);
  g_test_add_func ("/preview/cut-in-head", test_cut_in_head);
  g_test_add_func ("/preview/damaged", test_damaged);
  g_test_add_func ("/preview/hostile-size", test_hostile_size);
  g_test_add_func ("/preview/measure", test_measure);
  g_test_add_func ("/preview/thumbnail", test_thumbnail);
  g_test_add_func ("/preview/plain-formats", test_plain_formats);
  g_test_add_func ("/preview/unknown-raw", test_unknown_raw);
  g_test_add_func ("/preview/refused", test_refused);
  return g_test_run ();
}
