/* What a JPEG's head says, without decoding. */
#include <string.h>

#include "tpt-jpeg-decode.h"

typedef struct {
  guint8 marker;
  const guint8 *body; /* (unowned) */
  gsize length;
} Segment;

/* Steps over one segment of the head; %FALSE at the end of what makes sense. */
static gboolean
take_segment (const guint8 *data, gsize length, gsize *at, Segment *segment)
{
  gsize n;

  while (*at + 1 < length && data[*at] == 0xff && data[*at + 1] == 0xff)
    (*at)++;
  if (*at + 4 > length || data[*at] != 0xff)
    return FALSE;
  n = data[*at + 2] << 8 | data[*at + 3];
  if (n < 2 || n > length - *at - 2)
    return FALSE;
  *segment = (Segment) { data[*at + 1], data + *at + 4, n - 2 };
  *at += 2 + n;
  return TRUE;
}

/* Frame headers that the decoder knows: ITU-T T.81, table B.1. */
static gboolean
is_frame_header (guint8 marker)
{
  return marker == 0xc0 || marker == 0xc1 || marker == 0xc2;
}

/* What may stand before the frame header: tables, comments, applications. */
static gboolean
is_before_frame (guint8 marker)
{
  return (marker >= 0xe0 && marker <= 0xef) || marker == 0xfe || marker == 0xdb || marker == 0xc4 || marker == 0xdd;
}

static void
note_exif (const Segment *segment, TptJpegMeasure *measure)
{
  if (segment->marker != 0xe1 || measure->app1 != NULL || segment->length < 6 ||
      memcmp (segment->body, "Exif\0\0", 6) != 0)
    return;
  measure->app1 = segment->body;
  measure->n_app1 = segment->length;
}

gboolean
tpt_jpeg_measure (const guint8 *data, gsize length, TptJpegMeasure *measure)
{
  Segment segment;
  gsize at = 2;

  *measure = (TptJpegMeasure) { 0 };
  if (length < 4 || data[0] != 0xff || data[1] != 0xd8)
    return FALSE;

  while (take_segment (data, length, &at, &segment))
    {
      if (is_frame_header (segment.marker))
        {
          if (segment.length < 6 || segment.body[0] != 8)
            return FALSE;
          measure->height = segment.body[1] << 8 | segment.body[2];
          measure->width = segment.body[3] << 8 | segment.body[4];
          return measure->width > 0 && measure->height > 0;
        }
      if (!is_before_frame (segment.marker))
        return FALSE;
      note_exif (&segment, measure);
    }
  return FALSE;
}
