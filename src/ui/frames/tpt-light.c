#include "tpt-light.h"

#include <math.h>

#define CHANNELS 3
#define SAMPLE_EVERY 7 /* pixels; odd, so that fine stripes do not fool it */

/* Frames with a mean below this count as dark; lifting aims at EASY_MEAN. Both
 * were judged by eye on night frames; common practice, no source. */
#define DARK_MEAN 0.22
#define EASY_MEAN 0.38
#define STRONGEST 2.2 /* the power's inverse at a lift of 1, less one */

double
tpt_light_measure (TptPicture *picture)
{
  const guint8 *pixels = g_bytes_get_data (picture->pixels, NULL);
  guint64 sum = 0, n = 0;

  for (int y = 0; y < picture->height; y += SAMPLE_EVERY)
    for (int x = 0; x < picture->width; x += SAMPLE_EVERY, n++)
      sum += pixels[(gsize) y * picture->stride + (gsize) x * CHANNELS + 1];
  return n > 0 ? (double) sum / (double) n / 255.0 : 0;
}

double
tpt_light_suggest (double mean)
{
  double power;

  if (!(mean < DARK_MEAN))
    return 0;
  power = log (EASY_MEAN) / log (MAX (mean, 0.002));
  return CLAMP ((1 / power - 1) / STRONGEST, 0, 1);
}

guint8
tpt_light_apply (double lift, guint8 value)
{
  return (guint8) (pow (value / 255.0, 1 / (1 + STRONGEST * CLAMP (lift, 0, 1))) * 255.0 + 0.5);
}

/* A pixel as the toolkit keeps it: one word, opaque. */
static void
convert_row (guint32 *to, const guint8 *from, int width, const guint32 table[3][256])
{
  for (int x = 0; x < width; x++, from += CHANNELS)
    to[x] = table[0][from[0]] | table[1][from[1]] | table[2][from[2]];
}

static void
fill_table (guint32 table[3][256], double lift)
{
  for (guint i = 0; i < 256; i++)
    {
      guint32 value = tpt_light_apply (lift, (guint8) i);

      table[0][i] = 0xff000000u | value << 16;
      table[1][i] = value << 8;
      table[2][i] = value;
    }
}

/* One word a pixel, alpha on top: whichever way the machine's bytes lie. */
#if G_BYTE_ORDER == G_LITTLE_ENDIAN
#define WORD_FORMAT GDK_MEMORY_B8G8R8A8_PREMULTIPLIED
#else
#define WORD_FORMAT GDK_MEMORY_A8R8G8B8_PREMULTIPLIED
#endif

GdkTexture *
tpt_light_make_texture (TptPicture *picture, const cairo_rectangle_int_t *part, double lift)
{
  const cairo_rectangle_int_t all = { 0, 0, picture->width, picture->height };
  const cairo_rectangle_int_t *area = part != NULL ? part : &all;
  const guint8 *pixels = g_bytes_get_data (picture->pixels, NULL);
  gsize stride = (gsize) area->width * sizeof (guint32);
  guint32 *words = g_malloc (stride * (gsize) area->height);
  g_autoptr (GBytes) bytes = g_bytes_new_take (words, stride * (gsize) area->height);
  guint32 table[3][256];

  fill_table (table, lift);
  for (int y = 0; y < area->height; y++)
    convert_row (words + (gsize) y * (gsize) area->width,
                 pixels + (gsize) (area->y + y) * picture->stride + (gsize) area->x * CHANNELS, area->width,
                 (const guint32 (*)[256]) table);
  return gdk_memory_texture_new (area->width, area->height, WORD_FORMAT, bytes, stride);
}
