#include "tpt-jpeg-walk.h"

#include <string.h>

/* Marker codes of ITU-T T.81, table B.1. */
enum {
  MARKER_DHT = 0xc4,
  MARKER_RST0 = 0xd0,
  MARKER_SOI = 0xd8,
  MARKER_EOI = 0xd9,
  MARKER_SOS = 0xda,
  MARKER_APP0 = 0xe0,
  MARKER_APP1 = 0xe1,
  MARKER_COM = 0xfe,
};

/* Coded data have no such runs with the tables cameras use: even an even grey
 * codes to a pattern of ones and zeros. A lost cluster of a card is 4 KiB or more. */
#define HOLE 4096

typedef enum {
  STEP_FIRST,      /* before the first byte */
  STEP_SECOND,     /* 0xff seen */
  STEP_MARKER,     /* between segments, looking for 0xff */
  STEP_CODE,       /* 0xff seen, the code follows */
  STEP_LENGTH_HI,
  STEP_LENGTH_LO,
  STEP_BODY,
  STEP_SCAN,       /* in coded data */
  STEP_SCAN_FF,    /* 0xff seen in coded data */
  STEP_DONE,
  STEP_REFUSED,
} Step;

struct _TptJpegWalk {
  Step step;
  guint8 marker;
  guint left;         /* of the segment */
  gint64 scan_bytes;
  gsize run;          /* zeros, or FFs, up to here in coded data */
  gboolean holed;
  GByteArray *exif;   /* (owned) (nullable): complete when the step has left the segment */
  gboolean has_exif;
};

TptJpegWalk *
tpt_jpeg_walk_new (void)
{
  return g_new0 (TptJpegWalk, 1);
}

void
tpt_jpeg_walk_free (TptJpegWalk *walk)
{
  if (walk == NULL)
    return;
  g_clear_pointer (&walk->exif, g_byte_array_unref);
  g_free (walk);
}

static void
end_segment (TptJpegWalk *walk)
{
  if (walk->marker == MARKER_APP1 && !walk->has_exif && walk->exif != NULL)
    walk->has_exif = walk->exif->len >= 6 && memcmp (walk->exif->data, "Exif\0\0", 6) == 0;
  walk->step = walk->marker == MARKER_SOS ? STEP_SCAN : STEP_MARKER;
  walk->run = 0;
}

static void
begin_segment (TptJpegWalk *walk)
{
  if (walk->marker == MARKER_APP1 && !walk->has_exif)
    {
      g_clear_pointer (&walk->exif, g_byte_array_unref);
      walk->exif = g_byte_array_new ();
    }
  walk->step = STEP_BODY;
  if (walk->left == 0)
    end_segment (walk);
}

static void
take_code (TptJpegWalk *walk, guint8 code)
{
  if (code == 0xff)
    return;

  walk->marker = code;
  if (code == MARKER_EOI)
    walk->step = STEP_DONE;
  else if (code == 0 || code == 1 || (code >= MARKER_RST0 && code <= MARKER_SOI))
    walk->step = STEP_MARKER;
  else
    walk->step = STEP_LENGTH_HI;
}

static void
take_length (TptJpegWalk *walk, guint8 byte)
{
  if (walk->step == STEP_LENGTH_HI)
    {
      walk->left = byte << 8;
      walk->step = STEP_LENGTH_LO;
      return;
    }

  walk->left |= byte;
  if (walk->left < 2)
    {
      walk->step = STEP_MARKER;
      return;
    }
  walk->left -= 2;
  begin_segment (walk);
}

static gsize
take_body (TptJpegWalk *walk, const guint8 *data, gsize length)
{
  gsize n = MIN (length, walk->left);

  if (walk->marker == MARKER_APP1 && !walk->has_exif)
    g_byte_array_append (walk->exif, data, n);
  walk->left -= n;
  if (walk->left == 0)
    end_segment (walk);
  return n;
}

static gsize
count_zeros_at_end (const guint8 *data, gsize length)
{
  gsize n = 0;

  while (n < length && data[length - 1 - n] == 0)
    n++;
  return n;
}

static void
count_zeros (TptJpegWalk *walk, const guint8 *data, gsize length)
{
  if (walk->run + length < HOLE)
    {
      gsize n = count_zeros_at_end (data, length);

      walk->run = n == length ? walk->run + n : n;
      return;
    }

  for (gsize i = 0; i < length; i++)
    {
      walk->run = data[i] == 0 ? walk->run + 1 : 0;
      walk->holed |= walk->run >= HOLE;
    }
}

static gsize
take_scan (TptJpegWalk *walk, const guint8 *data, gsize length)
{
  const guint8 *end = memchr (data, 0xff, length);
  gsize n = end != NULL ? (gsize) (end - data) : length;

  walk->scan_bytes += n;
  count_zeros (walk, data, n);
  if (end == NULL)
    return n;

  walk->step = STEP_SCAN_FF;
  walk->run = 1;
  return n + 1;
}

/* Which markers may follow coded data: tables, another scan, DNL, comments and
 * applications' segments. The start of a frame may not. */
static gboolean
may_follow_scan (guint8 code)
{
  return code == MARKER_DHT || (code >= MARKER_SOS && code <= 0xdd) || (code >= MARKER_APP0 && code <= 0xef) ||
         code == MARKER_COM;
}

static void
take_after_ff (TptJpegWalk *walk, guint8 code)
{
  if (code == 0xff)
    {
      walk->run++;
      walk->holed |= walk->run >= HOLE;
      return;
    }

  walk->run = 0;
  walk->marker = code;
  if (code == MARKER_EOI)
    walk->step = STEP_DONE;
  else if (may_follow_scan (code))
    walk->step = STEP_LENGTH_HI;
  else
    {
      walk->holed |= code != 0 && (code < MARKER_RST0 || code > MARKER_RST0 + 7);
      walk->scan_bytes++;
      walk->step = STEP_SCAN;
    }
}

static gsize
take_some (TptJpegWalk *walk, const guint8 *data, gsize length)
{
  switch (walk->step)
    {
    case STEP_FIRST:
      walk->step = *data == 0xff ? STEP_SECOND : STEP_REFUSED;
      return 1;
    case STEP_SECOND:
      walk->step = *data == MARKER_SOI ? STEP_MARKER : STEP_REFUSED;
      return 1;
    case STEP_MARKER:
      walk->step = *data == 0xff ? STEP_CODE : STEP_MARKER;
      return 1;
    case STEP_CODE:
      take_code (walk, *data);
      return 1;
    case STEP_LENGTH_HI:
    case STEP_LENGTH_LO:
      take_length (walk, *data);
      return 1;
    case STEP_BODY:
      return take_body (walk, data, length);
    case STEP_SCAN:
      return take_scan (walk, data, length);
    case STEP_SCAN_FF:
      take_after_ff (walk, *data);
      return 1;
    case STEP_DONE:
    case STEP_REFUSED:
    default:
      return length;
    }
}

void
tpt_jpeg_walk_feed (TptJpegWalk *walk, const guint8 *data, gsize length)
{
  while (length > 0)
    {
      gsize n = take_some (walk, data, length);

      data += n;
      length -= n;
    }
}

TptJpegState
tpt_jpeg_walk_get_state (TptJpegWalk *walk)
{
  if (walk->step <= STEP_SECOND || walk->step == STEP_REFUSED)
    return TPT_JPEG_NOT;
  if (walk->scan_bytes == 0 && !walk->has_exif)
    return TPT_JPEG_NOT;
  if (walk->step != STEP_DONE || walk->scan_bytes == 0)
    return TPT_JPEG_CUT;
  return walk->holed ? TPT_JPEG_HOLED : TPT_JPEG_WHOLE;
}

gint64
tpt_jpeg_walk_get_scan_bytes (TptJpegWalk *walk)
{
  return walk->scan_bytes;
}

const guint8 *
tpt_jpeg_walk_get_exif (TptJpegWalk *walk, gsize *length)
{
  if (!walk->has_exif)
    return NULL;
  *length = walk->exif->len;
  return walk->exif->data;
}
