/* Notes of field cameras, the harm that befalls them included. The layouts are
 * those of the maker's papers as exiftool 12.57 retells them; test_makers.py
 * compares whole pictures with exiftool itself. */
#include <math.h>
#include <string.h>

#include "tpt-exif-field.h"

typedef struct {
  guint at;
  guint8 value;
} Patch;

typedef struct {
  const char *what;
  int kind;               /* which of the notes below */
  gsize length;           /* 0: all of it */
  Patch patches[6];       /* until both are 0 */
  gboolean known;
  const char *reading;    /* NULL: none */
  double temperature_c;   /* NAN: none */
  const char *serial;     /* NULL: none */
  int sequence;
} Case;

static void
put_16 (guint8 *note, gsize at, guint value)
{
  note[at] = value & 0xff;
  note[at + 1] = value >> 8;
}

static void
put_wide (guint8 *note, gsize at, const char *text)
{
  for (; *text != '\0'; text++, at += 2)
    note[at] = *text;
}

/* All three say 2026-05-14 07:30:05, -7 degrees, second of its burst, number F1234. */
static gsize
make_note (int kind, guint8 note[200])
{
  static const guint words[2][6] = { { 5, 30, 7, 5, 14, 2026 }, { 5, 30, 7, 14, 5, 2026 } };
  static const guint8 bytes[] = { 5, 30, 7, 14, 5, 0xea, 0x07 };

  memset (note, 0, 200);
  if (kind == 2)
    {
      memcpy (note, "RECONYXUF", 9);
      note[0x35] = 2;
      memcpy (note + 0x3b, bytes, sizeof bytes);
      put_16 (note, 0x46, 0xfff9);
      memcpy (note + 0x4b, "F1234", 5);
      return 90;
    }
  if (kind == 3)
    memcpy (note, "RECONYXH2", 9);
  else
    memcpy (note, "\x01\xf1\x03\x00", 4);
  put_16 (note, kind == 3 ? 0x36 : 14, 2);
  for (guint i = 0; i < 6; i++)
    put_16 (note, (kind == 3 ? 0x3e : 22) + 2 * i, words[kind == 3][i]);
  put_16 (note, kind == 3 ? 0x50 : 40, 0xfff9);
  put_wide (note, kind == 3 ? 0x7e : 42, "F1234");
  return kind == 3 ? 156 : 72;
}

#define READ "2026-05-14T07:30:05"

static const Case cases[] = {
  { "words", 1, 0, { { 0 } }, TRUE, READ, -7, "F1234", 2 },
  { "words, older", 1, 0, { { 2, 2 } }, TRUE, READ, -7, "F1234", 2 },
  { "words, of a kind that is not told of", 1, 0, { { 2, 9 } }, FALSE, NULL, NAN, NULL, 0 },
  { "bytes", 2, 0, { { 0 } }, TRUE, READ, -7, "F1234", 2 },
  { "words, the third kind", 3, 0, { { 0 } }, TRUE, READ, -7, "F1234", 2 },
  { "words, cut short", 1, 71, { { 0 } }, FALSE, NULL, NAN, NULL, 0 },
  { "bytes, cut short", 2, 89, { { 0 } }, FALSE, NULL, NAN, NULL, 0 },
  { "third kind, cut short", 3, 155, { { 0 } }, FALSE, NULL, NAN, NULL, 0 },
  { "hardly a mark", 3, 9, { { 0 } }, FALSE, NULL, NAN, NULL, 0 },
  { "another maker's", 2, 0, { { 0, 'X' } }, FALSE, NULL, NAN, NULL, 0 },
  { "a month 13", 2, 0, { { 0x3f, 13 } }, TRUE, NULL, -7, "F1234", 2 },
  { "no date", 2, 0, { { 0x3b, 0 }, { 0x3c, 0 }, { 0x3e, 0 }, { 0x3f, 0 }, { 0x40, 0 }, { 0x41, 0 } }, TRUE, NULL, -7, "F1234", 2 },
  { "a temperature of 32767", 1, 0, { { 40, 0xff }, { 41, 0x7f } }, TRUE, READ, NAN, "F1234", 2 },
  { "a temperature of 0", 3, 0, { { 0x50, 0 }, { 0x51, 0 } }, TRUE, READ, 0, "F1234", 2 },
  { "a number that is no text", 2, 0, { { 0x4c, 0x07 } }, TRUE, READ, -7, NULL, 2 },
  { "a wide letter that is none of ours", 1, 0, { { 45, 0x30 } }, TRUE, READ, -7, NULL, 2 },
  { "no number", 2, 0, { { 0x4b, 0 } }, TRUE, READ, -7, NULL, 2 },
  { "a sequence of 65535", 1, 0, { { 14, 0xff }, { 15, 0xff } }, TRUE, READ, -7, "F1234", 0 },
};

static TptExif *
read_note (const guint8 *note, gsize length, gboolean *known)
{
  TptExif *exif = tpt_exif_from_file_time (TPT_NO_INSTANT);
  /* of the very length, so that a reader going past it is caught by the sanitizers */
  g_autofree guint8 *copy = g_memdup2 (note, length);

  *known = tpt_exif_field_read (copy, length, exif);
  return exif;
}

static void
check_case (const Case *c)
{
  guint8 note[200];
  gsize length = make_note (c->kind, note);
  g_autoptr (TptExif) exif = NULL;
  g_autofree char *reading = NULL;
  gboolean known;

  g_test_message ("%s", c->what);
  for (guint i = 0; i < G_N_ELEMENTS (c->patches); i++)
    if (c->patches[i].at != 0 || c->patches[i].value != 0)
      note[c->patches[i].at] = c->patches[i].value;
  exif = read_note (note, c->length != 0 ? c->length : length, &known);
  g_assert_cmpint (known, ==, c->known);
  g_assert_cmpint (exif->source, ==, c->reading != NULL ? TPT_TIME_NOTE : TPT_TIME_NONE);
  reading = c->reading != NULL ? tpt_reading_format (exif->reading) : NULL;
  g_assert_cmpstr (reading, ==, c->reading);
  g_assert_true (isnan (c->temperature_c) ? isnan (exif->temperature_c) : exif->temperature_c == c->temperature_c);
  g_assert_cmpstr (exif->serial, ==, c->serial);
  g_assert_cmpint (exif->sequence, ==, c->sequence);
}

static void
test_notes (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    check_case (&cases[i]);
}

/* The date's words the other way round, also on the full hour, when most are 0. */
static void
test_swapped (void)
{
  static const guint times[][3] = { { 5, 30, 7 }, { 0, 0, 7 }, { 0, 0, 0 } };
  static const guint day[] = { 5, 14, 2026 };
  static const char *const wanted[] = { READ, "2026-05-14T07:00:00", "2026-05-14T00:00:00" };

  for (guint i = 0; i < G_N_ELEMENTS (times); i++)
    {
      guint8 note[200];
      gsize length = make_note (1, note);
      g_autoptr (TptExif) exif = NULL;
      g_autofree char *reading = NULL;
      gboolean known;

      for (guint j = 0; j < 6; j++)
        {
          guint word = j < 3 ? times[i][j] : day[j - 3];

          put_16 (note, 22 + 2 * j, GUINT16_SWAP_LE_BE (word));
        }
      exif = read_note (note, length, &known);
      reading = tpt_reading_format (exif->reading);
      g_assert_cmpstr (reading, ==, wanted[i]);
    }
}

/* Exif itself goes first. */
static void
test_known_already (void)
{
  guint8 note[200];
  gsize length = make_note (2, note);
  g_autoptr (TptExif) exif = tpt_exif_from_file_time (1000);

  exif->serial = g_strdup ("BODY-1");
  exif->temperature_c = 12.5;
  exif->sequence = 7;
  exif->source = TPT_TIME_ORIGINAL;
  g_assert_true (tpt_exif_field_read (note, length, exif));
  g_assert_cmpstr (exif->serial, ==, "BODY-1");
  g_assert_cmpfloat (exif->temperature_c, ==, 12.5);
  g_assert_cmpint (exif->sequence, ==, 7);
  g_assert_cmpint (exif->source, ==, TPT_TIME_ORIGINAL);
  g_assert_cmpint (exif->reading.clock_ms, ==, 1000);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/exif-field/notes", test_notes);
  g_test_add_func ("/exif-field/swapped", test_swapped);
  g_test_add_func ("/exif-field/known-already", test_known_already);
  return g_test_run ();
}
