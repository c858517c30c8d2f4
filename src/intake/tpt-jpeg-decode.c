#include "config.h"

#include "tpt-jpeg-decode.h"

#include <setjmp.h>
#include <stdio.h>
#include <string.h>

/* jpeglib.h needs <stdio.h> before it */
#include <jpeglib.h>
#include <jerror.h>

#include <glib/gi18n-lib.h>

#include "tpt-error.h"

/* What the decoder may use besides the picture itself: a progressive picture is
 * kept as coefficients until its last scan. */
#define MOST_DECODER_BYTES (512L << 20)

/* A progressive picture has about ten scans; thousands mean harm. */
#define MOST_SCANS 200

typedef struct {
  struct jpeg_error_mgr manager;
  struct jpeg_progress_mgr progress;
  jmp_buf escape;
  gboolean damaged;
} Trouble;

/* Outside the function that sets the mark to jump back to, so that all is well
 * defined after the jump. */
typedef struct {
  struct jpeg_decompress_struct decoder;
  Trouble trouble;
  TptPixels *pixels; /* (owned) (nullable) */
} Decoding;

static void
escape_cb (j_common_ptr common)
{
  Trouble *trouble = (Trouble *) common->err;

  longjmp (trouble->escape, 1);
}

/* The decoder's warnings; some are about nothing that shows. */
static void
note_cb (j_common_ptr common, int level)
{
  Trouble *trouble = (Trouble *) common->err;
  int code = trouble->manager.msg_code;

  if (level < 0 && code != JWRN_EXTRANEOUS_DATA && code != JWRN_ADOBE_XFORM && code != JWRN_JFIF_MAJOR)
    trouble->damaged = TRUE;
}

static void
be_silent_cb (j_common_ptr common)
{
}

static void
count_scans_cb (j_common_ptr common)
{
  if (((j_decompress_ptr) common)->input_scan_number > MOST_SCANS)
    escape_cb (common);
}

static void
watch_trouble (Decoding *decoding)
{
  Trouble *trouble = &decoding->trouble;

  decoding->decoder.err = jpeg_std_error (&trouble->manager);
  trouble->manager.error_exit = escape_cb;
  trouble->manager.emit_message = note_cb;
  trouble->manager.output_message = be_silent_cb;
  trouble->progress.progress_monitor = count_scans_cb;
}

/* Of eighths, the fewest that are enough. Only one, two, four and eight are
 * quick in the decoder: the others take longer than the whole. */
static int
choose_eighths (int width, int height, int size)
{
  gint64 longer = MAX (width, height);

  for (int eighths = 1; eighths < 8 && size > 0; eighths *= 2)
    if (longer * eighths / 8 >= size - size / 16)
      return eighths;
  return 8;
}

static gboolean
is_bounded (j_decompress_ptr decoder)
{
  return (gint64) decoder->image_width * decoder->image_height <= TPT_MOST_PIXELS;
}

static gboolean
has_screen_colours (j_decompress_ptr decoder)
{
  return decoder->jpeg_color_space == JCS_GRAYSCALE || decoder->jpeg_color_space == JCS_YCbCr ||
         decoder->jpeg_color_space == JCS_RGB;
}

/* Whether any data come after the head. The decoder puts an end marker of its own
 * behind what is cut off, and makes up a first block without any. */
static gboolean
has_coded_data (j_decompress_ptr decoder, const guint8 *data, gsize length)
{
  const guint8 *next = decoder->src->next_input_byte;

  return next >= data && next < data + length;
}

static void
read_rows (j_decompress_ptr decoder, TptPixels *pixels)
{
  pixels->full_width = decoder->image_width;
  pixels->full_height = decoder->image_height;
  while (decoder->output_scanline < decoder->output_height)
    {
      JSAMPROW row = pixels->data + (gsize) decoder->output_scanline * pixels->stride;

      jpeg_read_scanlines (decoder, &row, 1);
    }
}

/* Leaves by the escape when the decoder gives up. */
static void
decode_all (Decoding *decoding, const guint8 *data, gsize length, int size)
{
  j_decompress_ptr decoder = &decoding->decoder;

  jpeg_create_decompress (decoder);
  decoder->progress = &decoding->trouble.progress;
  decoder->mem->max_memory_to_use = MOST_DECODER_BYTES;
  jpeg_mem_src (decoder, data, length);
  jpeg_read_header (decoder, TRUE);
  if (!is_bounded (decoder) || !has_screen_colours (decoder) || !has_coded_data (decoder, data, length))
    return;

  decoder->scale_num = choose_eighths (decoder->image_width, decoder->image_height, size);
  decoder->scale_denom = 8;
  decoder->out_color_space = JCS_RGB;
  jpeg_start_decompress (decoder);
  decoding->pixels = tpt_pixels_new (decoder->output_width, decoder->output_height);
  if (decoding->pixels != NULL)
    read_rows (decoder, decoding->pixels);
}

static void
try_to_decode (Decoding *decoding, const guint8 *data, gsize length, int size)
{
  if (setjmp (decoding->trouble.escape) == 0)
    decode_all (decoding, data, length, size);
  else
    decoding->trouble.damaged = TRUE;
}

/* The decoder leaves grey what it has no data for, as we do. */
static gboolean
is_all_grey (const TptPixels *pixels)
{
  gsize n = (gsize) pixels->stride * pixels->height;

  return pixels->data[0] == 128 && memcmp (pixels->data, pixels->data + 1, n - 1) == 0;
}

static void
tell_why_not (j_decompress_ptr decoder, GError **error)
{
  gint64 n = (gint64) decoder->image_width * decoder->image_height;

  if (n > TPT_MOST_PIXELS)
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA,
                 _("The picture says that it has %.0f million pixels, which is too many to show"), n / 1e6);
  else if (n > 0 && !has_screen_colours (decoder))
    g_set_error_literal (error, TPT_ERROR, TPT_ERROR_DATA, _("The picture’s colours are for printing and are not shown"));
  else
    g_set_error_literal (error, TPT_ERROR, TPT_ERROR_DATA,
                         _("Nothing of the picture can be shown: it is damaged, or of an unusual kind"));
}

TptPixels *
tpt_jpeg_decode (const guint8 *data, gsize length, int size, GError **error)
{
  g_autofree Decoding *decoding = g_new0 (Decoding, 1);
  g_autoptr (TptPixels) pixels = NULL;

  g_return_val_if_fail (data != NULL, NULL);

  watch_trouble (decoding);
  try_to_decode (decoding, data, length, size);
  pixels = g_steal_pointer (&decoding->pixels);
  if (pixels != NULL && decoding->trouble.damaged && is_all_grey (pixels))
    g_clear_pointer (&pixels, tpt_pixels_free);
  if (pixels != NULL)
    pixels->partial = decoding->trouble.damaged;
  else
    tell_why_not (&decoding->decoder, error);
  jpeg_destroy_decompress (&decoding->decoder);

  return pixels != NULL ? tpt_pixels_shrink (g_steal_pointer (&pixels), size) : NULL;
}
