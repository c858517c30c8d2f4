#include "tpt-pixels.h"

#include <string.h>

#define GREY 128

/* Bars around a thumbnail are black; compression leaves a little noise. */
#define BLACK 24

TptPixels *
tpt_pixels_new (int width, int height)
{
  TptPixels *pixels;
  guint8 *data;

  g_return_val_if_fail (width > 0 && height > 0, NULL);

  data = g_try_malloc_n ((gsize) 3 * width, height);
  if (data == NULL)
    return NULL;
  memset (data, GREY, (gsize) 3 * width * height);
  pixels = g_new0 (TptPixels, 1);
  *pixels = (TptPixels) { .data = data, .width = width, .height = height, .stride = 3 * width };
  return pixels;
}

void
tpt_pixels_free (TptPixels *pixels)
{
  if (pixels == NULL)
    return;
  g_free (pixels->data);
  g_free (pixels);
}

/* What a pixel of the smaller side covers of the larger, in 256ths. */
typedef struct {
  int first;
  int n;
  guint16 *shares; /* (unowned): @n of them, 256 together */
} Cover;

/* (transfer full): one for each of @to pixels; the shares lie behind them. */
static Cover *
cover (int from, int to)
{
  int most = from / to + 2;
  Cover *covers = g_malloc ((gsize) to * (sizeof (Cover) + most * sizeof (guint16)));
  guint16 *shares = (guint16 *) (covers + to);

  for (int i = 0; i < to; i++)
    {
      gint64 start = (gint64) i * from, end = start + from, done = 0;
      Cover *at = &covers[i];

      *at = (Cover) { (int) (start / to), 0, shares + (gsize) i * most };
      for (gint64 from_pixel = at->first; from_pixel * to < end; from_pixel++)
        {
          gint64 upto = (MIN (end, (from_pixel + 1) * to) - start) * 256 / from;

          at->shares[at->n++] = (guint16) (upto - done);
          done = upto;
        }
    }
  return covers;
}

/* Adds up the rows below one row of the result, 256ths each. */
static void
add_rows (const TptPixels *from, const Cover *rows, guint32 *sums)
{
  int n = 3 * from->width;

  for (int row = 0; row < rows->n; row++)
    {
      const guint8 *data = from->data + (gsize) (rows->first + row) * from->stride;
      guint32 share = rows->shares[row];

      if (row == 0)
        for (int i = 0; i < n; i++)
          sums[i] = data[i] * share;
      else
        for (int i = 0; i < n; i++)
          sums[i] += data[i] * share;
    }
}

static void
add_columns (const guint32 *sums, const Cover *columns, int n, guint8 *to)
{
  for (int i = 0; i < n; i++)
    {
      const guint32 *at = sums + 3 * columns[i].first;
      guint32 red = 1 << 15, green = 1 << 15, blue = 1 << 15;

      for (int column = 0; column < columns[i].n; column++, at += 3)
        {
          guint32 share = columns[i].shares[column];

          red += at[0] * share;
          green += at[1] * share;
          blue += at[2] * share;
        }
      to[3 * i] = (guint8) (red >> 16);
      to[3 * i + 1] = (guint8) (green >> 16);
      to[3 * i + 2] = (guint8) (blue >> 16);
    }
}

static void
shrink_into (const TptPixels *from, TptPixels *to)
{
  g_autofree Cover *rows = cover (from->height, to->height);
  g_autofree Cover *columns = cover (from->width, to->width);
  g_autofree guint32 *sums = g_new (guint32, (gsize) 3 * from->width);

  for (int y = 0; y < to->height; y++)
    {
      add_rows (from, &rows[y], sums);
      add_columns (sums, columns, to->width, to->data + (gsize) y * to->stride);
    }
}

/* What is known of @from, for what was made of it. */
static void
hand_over (const TptPixels *from, TptPixels *to)
{
  to->full_width = from->full_width;
  to->full_height = from->full_height;
  to->partial = from->partial;
}

TptPixels *
tpt_pixels_shrink (TptPixels *pixels, int size)
{
  g_autoptr (TptPixels) from = pixels;
  gint64 longer = MAX (pixels->width, pixels->height);
  TptPixels *to;

  if (size <= 0 || longer <= size)
    return g_steal_pointer (&from);

  to = tpt_pixels_new (MAX (1, (int) ((pixels->width * (gint64) size + longer / 2) / longer)),
                       MAX (1, (int) ((pixels->height * (gint64) size + longer / 2) / longer)));
  if (to == NULL)
    return NULL;
  shrink_into (from, to);
  hand_over (from, to);
  return to;
}

/* Where the first pixel goes, and how far apart its neighbours to the right and
 * below lie afterwards, in bytes. */
typedef struct {
  gssize start;
  gssize right;
  gssize below;
} Walk;

static Walk
plan_walk (const TptPixels *to, int orientation)
{
  gssize right = 3, down = to->stride;
  gssize last_column = (gssize) 3 * (to->width - 1), last_row = (gssize) to->stride * (to->height - 1);

  switch (orientation)
    {
    case 2:
      return (Walk) { last_column, -right, down };
    case 3:
      return (Walk) { last_column + last_row, -right, -down };
    case 4:
      return (Walk) { last_row, right, -down };
    case 5:
      return (Walk) { 0, down, right };
    case 6:
      return (Walk) { last_column, down, -right };
    case 7:
      return (Walk) { last_column + last_row, -down, -right };
    case 8:
    default:
      return (Walk) { last_row, -down, right };
    }
}

/* In blocks, so that both sides stay in the processor's cache. */
static void
copy_walking (const TptPixels *from, TptPixels *to, Walk walk)
{
  const int block = 32;

  for (int top = 0; top < from->height; top += block)
    for (int left = 0; left < from->width; left += block)
      for (int y = top; y < MIN (top + block, from->height); y++)
        {
          const guint8 *in = from->data + (gsize) y * from->stride + (gsize) 3 * left;
          guint8 *out = to->data + walk.start + y * walk.below + left * walk.right;

          for (int x = left; x < MIN (left + block, from->width); x++, in += 3, out += walk.right)
            {
              out[0] = in[0];
              out[1] = in[1];
              out[2] = in[2];
            }
        }
}

TptPixels *
tpt_pixels_turn (TptPixels *pixels, int orientation)
{
  g_autoptr (TptPixels) from = pixels;
  gboolean aside = orientation >= 5;
  TptPixels *to;

  if (orientation < 2 || orientation > 8)
    return g_steal_pointer (&from);

  to = aside ? tpt_pixels_new (from->height, from->width) : tpt_pixels_new (from->width, from->height);
  if (to == NULL)
    return NULL;
  copy_walking (from, to, plan_walk (to, orientation));
  hand_over (from, to);
  if (aside)
    {
      to->full_width = from->full_height;
      to->full_height = from->full_width;
    }
  return to;
}

void
tpt_pixels_crop_middle (TptPixels *pixels, int width, int height)
{
  int left = (pixels->width - width) / 2, top = (pixels->height - height) / 2;

  g_return_if_fail (width > 0 && height > 0 && left >= 0 && top >= 0);

  for (int y = 0; y < height; y++)
    memmove (pixels->data + (gsize) 3 * y * width,
             pixels->data + (gsize) (top + y) * pixels->stride + (gsize) 3 * left, (gsize) 3 * width);
  pixels->width = width;
  pixels->height = height;
  pixels->stride = 3 * width;
}

gboolean
tpt_pixels_is_black (const TptPixels *pixels, int left, int top, int width, int height)
{
  for (int y = top; y < top + height; y++)
    {
      const guint8 *row = pixels->data + (gsize) y * pixels->stride;

      for (int i = 3 * left; i < 3 * (left + width); i++)
        if (row[i] > BLACK)
          return FALSE;
    }
  return TRUE;
}
