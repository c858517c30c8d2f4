/* Pictures are taken apart and put together wrongly; the structure is that of
 * ITU-T T.81 (1992), annex B. */
#include <glib.h>
#include <string.h>

#include "intake-fixture.h"
#include "tpt-jpeg-walk.h"

typedef enum { CUT_NONE, CUT_END, CUT_HALF, CUT_HEAD, CUT_TWO, ZERO_TAIL, ZERO_MIDDLE, FF_MIDDLE, SOF_MIDDLE,
               ALL_FF, ALL_ZERO, TRAILING, EMPTY, LYING_LENGTH, LONG_LENGTH, FILL_BYTES } Wound;

typedef struct {
  const char *name;
  Wound wound;
  TptJpegState state;
} Case;

static const Case cases[] = {
  { "whole", CUT_NONE, TPT_JPEG_WHOLE },
  { "without its end marker", CUT_END, TPT_JPEG_CUT },
  { "half", CUT_HALF, TPT_JPEG_CUT },
  { "cut in the tables", CUT_HEAD, TPT_JPEG_NOT },
  { "two bytes", CUT_TWO, TPT_JPEG_NOT },
  { "second half zeros", ZERO_TAIL, TPT_JPEG_CUT },
  { "zeros in the middle", ZERO_MIDDLE, TPT_JPEG_HOLED },
  { "FFs in the middle", FF_MIDDLE, TPT_JPEG_HOLED },
  { "a start of frame in the middle", SOF_MIDDLE, TPT_JPEG_HOLED },
  { "all FF", ALL_FF, TPT_JPEG_NOT },
  { "all zeros", ALL_ZERO, TPT_JPEG_NOT },
  { "more after the end", TRAILING, TPT_JPEG_WHOLE },
  { "nothing", EMPTY, TPT_JPEG_NOT },
  { "first segment's length too small", LYING_LENGTH, TPT_JPEG_WHOLE },
  { "first segment's length past the end", LONG_LENGTH, TPT_JPEG_NOT },
  { "fill bytes before a marker", FILL_BYTES, TPT_JPEG_WHOLE },
};

static void
wound_middle (GByteArray *jpeg, Wound wound)
{
  guint8 *middle = jpeg->data + jpeg->len / 2;

  if (wound == SOF_MIDDLE)
    memcpy (middle, "\x11\xff\xc0\x11", 4);
  else
    memset (middle, wound == ZERO_MIDDLE ? 0 : 0xff, 8192);
}

static void
apply (GByteArray *jpeg, Wound wound)
{
  switch (wound)
    {
    case CUT_END: g_byte_array_set_size (jpeg, jpeg->len - 2); break;
    case CUT_HALF: g_byte_array_set_size (jpeg, jpeg->len / 2); break;
    case CUT_HEAD: g_byte_array_set_size (jpeg, 100); break;
    case CUT_TWO: g_byte_array_set_size (jpeg, 2); break;
    case ZERO_TAIL: memset (jpeg->data + jpeg->len / 2, 0, jpeg->len - jpeg->len / 2); break;
    case ZERO_MIDDLE:
    case FF_MIDDLE:
    case SOF_MIDDLE: wound_middle (jpeg, wound); break;
    case ALL_FF: memset (jpeg->data, 0xff, jpeg->len); break;
    case ALL_ZERO: memset (jpeg->data, 0, jpeg->len); break;
    case TRAILING: g_byte_array_append (jpeg, (const guint8 *) "\xff\xd8 and so on", 12); break;
    case EMPTY: g_byte_array_set_size (jpeg, 0); break;
    case LYING_LENGTH: jpeg->data[5] = 4; break;
    case LONG_LENGTH: jpeg->data[4] = 0xff; g_byte_array_set_size (jpeg, 60000); break;
    case FILL_BYTES:
      g_byte_array_append (jpeg, (const guint8 *) "\0\0\0", 3);
      memmove (jpeg->data + 5, jpeg->data + 2, jpeg->len - 5);
      memset (jpeg->data + 2, 0xff, 3);
      break;
    case CUT_NONE:
    default: break;
    }
}

static TptJpegState
walk (const GByteArray *jpeg, gsize block)
{
  g_autoptr (TptJpegWalk) walk = tpt_jpeg_walk_new ();

  for (gsize at = 0; at < jpeg->len; at += block)
    tpt_jpeg_walk_feed (walk, jpeg->data + at, MIN (block, jpeg->len - at));
  return tpt_jpeg_walk_get_state (walk);
}

static void
test_states (void)
{
  static const gsize blocks[] = { 1, 2, 7, 1000, 4096, 1 << 24 };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GByteArray) jpeg = fixture_draw_jpeg (1, 320, 240);

      g_assert_cmpuint (jpeg->len, >, 60000);
      apply (jpeg, cases[i].wound);
      for (guint j = 0; j < G_N_ELEMENTS (blocks); j++)
        {
          g_test_message ("%s, by %" G_GSIZE_FORMAT, cases[i].name, blocks[j]);
          g_assert_cmpint (walk (jpeg, blocks[j]), ==, cases[i].state);
        }
    }
}

/* Cut anywhere, it is never whole; and nothing is read that is not there. */
static void
test_every_cut (void)
{
  g_autoptr (GByteArray) jpeg = fixture_draw_jpeg (2, 24, 16);

  for (guint length = 0; length < jpeg->len; length++)
    {
      g_autofree guint8 *exact = g_memdup2 (jpeg->data, length);
      g_autoptr (TptJpegWalk) walk = tpt_jpeg_walk_new ();

      tpt_jpeg_walk_feed (walk, exact, length);
      g_assert_cmpint (tpt_jpeg_walk_get_state (walk), <, TPT_JPEG_HOLED);
    }
}

/* An even grey picture, the plainest there is, is no hole. */
static void
test_even_grey (void)
{
  g_autoptr (GByteArray) jpeg = fixture_draw_jpeg (0, 16, 16);
  g_autofree guint8 *coded = g_malloc (100000);
  g_autoptr (TptJpegWalk) walk = tpt_jpeg_walk_new ();
  guint scan = 0;

  while (!(jpeg->data[scan] == 0xff && jpeg->data[scan + 1] == 0xda))
    scan++;
  tpt_jpeg_walk_feed (walk, jpeg->data, scan + 14);
  /* T.81 tables K.3 and K.5: difference 0 is 00, end of block 1010 */
  for (guint i = 0; i < 100000; i++)
    coded[i] = "\x28\xa2\x8a"[i % 3];
  tpt_jpeg_walk_feed (walk, coded, 100000);
  tpt_jpeg_walk_feed (walk, (const guint8 *) "\xff\xd9", 2);
  g_assert_cmpint (tpt_jpeg_walk_get_state (walk), ==, TPT_JPEG_WHOLE);
}

static void
test_exif (void)
{
  static const guint8 head[] = { 0xff, 0xd8, 0xff, 0xe1, 0, 10, 'E', 'x', 'i', 'f', 0, 0, 'I', 'I' };
  g_autoptr (TptJpegWalk) walk = tpt_jpeg_walk_new ();
  const guint8 *exif;
  gsize length = 0;

  tpt_jpeg_walk_feed (walk, head, sizeof head - 1);
  g_assert_null (tpt_jpeg_walk_get_exif (walk, &length));
  tpt_jpeg_walk_feed (walk, head + sizeof head - 1, 1);
  exif = tpt_jpeg_walk_get_exif (walk, &length);
  g_assert_cmpmem (exif, length, "Exif\0\0II", 8);
  g_assert_cmpint (tpt_jpeg_walk_get_state (walk), ==, TPT_JPEG_CUT);
  g_assert_cmpint (tpt_jpeg_walk_get_scan_bytes (walk), ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/jpeg-walk/states", test_states);
  g_test_add_func ("/jpeg-walk/every-cut", test_every_cut);
  g_test_add_func ("/jpeg-walk/even-grey", test_even_grey);
  g_test_add_func ("/jpeg-walk/exif", test_exif);
  return g_test_run ();
}
