#include "config.h"

#include "tpt-exif-field.h"

#include <math.h>
#include <string.h>

/* Where things are in a note, in bytes; numbers are little-endian. One maker
 * has published the three kinds there are (RCNX_MN10 and the papers after it);
 * we know them as the tag tables of exiftool 12.57 retell them. */
typedef struct {
  const char *mark;
  gsize mark_length;
  gsize length;        /* at least */
  gsize sequence_at;
  gsize date_at;
  gsize temperature_at; /* 16 bits, signed, whole degrees Celsius */
  gsize serial_at;
  gboolean wide;       /* words of 16 bits and text in UTF-16; else bytes */
  const char *order;   /* of the date's numbers; Y in bytes is 16 bits */
} Layout;

#define SERIAL_LETTERS 15

static const Layout layouts[] = {
  { "\x01\xf1\x02\x00", 4, 72, 14, 22, 40, 42, TRUE, "SMhmdY" },
  { "\x01\xf1\x03\x00", 4, 72, 14, 22, 40, 42, TRUE, "SMhmdY" },
  { "RECONYXUF\0", 10, 90, 0x35, 0x3b, 0x46, 0x4b, FALSE, "SMhdmY" },
  { "RECONYXH2\0", 10, 156, 0x36, 0x3e, 0x50, 0x7e, TRUE, "SMhdmY" },
};

static guint
get_16 (const guint8 *at)
{
  return at[0] | at[1] << 8;
}

static const Layout *
find_layout (const guint8 *note, gsize length)
{
  for (guint i = 0; i < G_N_ELEMENTS (layouts); i++)
    if (length >= layouts[i].length && memcmp (note, layouts[i].mark, layouts[i].mark_length) == 0)
      return &layouts[i];
  return NULL;
}

/* Some write the date's words the other way round; the year, its last, shows it. */
static gboolean
is_swapped (const guint8 *date)
{
  return get_16 (date + 10) > 9999;
}

static guint
take_number (const Layout *layout, const guint8 **at, char letter, gboolean swapped)
{
  guint value = layout->wide || letter == 'Y' ? get_16 (*at) : **at;

  *at += layout->wide || letter == 'Y' ? 2 : 1;
  return swapped ? GUINT16_SWAP_LE_BE (value) : value;
}

static void
read_date (const Layout *layout, const guint8 *at, TptExif *exif)
{
  gboolean swapped = layout->wide && is_swapped (at);
  guint parts[G_MAXUINT8 + 1] = { 0 };
  g_autofree char *text = NULL;
  g_autofree char *odd_offset = NULL;
  g_autofree char *why_not = NULL;

  for (const char *letter = layout->order; *letter != '\0'; letter++)
    parts[(guint8) *letter] = take_number (layout, &at, *letter, swapped);
  text = g_strdup_printf ("%04u:%02u:%02u %02u:%02u:%02u", parts['Y'], parts['m'], parts['d'], parts['h'], parts['M'],
                          parts['S']);
  if (tpt_exif_parse_date (text, NULL, NULL, &exif->reading, &why_not, &odd_offset))
    exif->source = TPT_TIME_NOTE;
  else if (exif->why_not == NULL)
    exif->why_not = g_steal_pointer (&why_not);
}

/* (transfer full) (nullable) */
static char *
read_serial (const Layout *layout, const guint8 *at)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < SERIAL_LETTERS; i++)
    {
      guint letter = layout->wide ? get_16 (at + 2 * i) : at[i];

      if (letter == 0)
        break;
      if (letter < 0x20 || letter > 0x7e)
        return NULL;
      g_string_append_c (text, (char) letter);
    }
  g_strstrip (text->str);
  return *text->str != '\0' ? g_strdup (text->str) : NULL;
}

gboolean
tpt_exif_field_read (const guint8 *note, gsize length, TptExif *exif)
{
  const Layout *layout = find_layout (note, length);
  int temperature;
  guint sequence;

  if (layout == NULL)
    return FALSE;

  sequence = layout->wide ? get_16 (note + layout->sequence_at) : note[layout->sequence_at];
  temperature = (gint16) get_16 (note + layout->temperature_at);
  if (exif->sequence == 0 && sequence < 10000)
    exif->sequence = (int) sequence;
  /* no camera worked outside these */
  if (isnan (exif->temperature_c) && temperature > -90 && temperature < 90)
    exif->temperature_c = temperature;
  if (exif->serial == NULL)
    exif->serial = read_serial (layout, note + layout->serial_at);
  if (exif->source == TPT_TIME_NONE)
    read_date (layout, note + layout->date_at, exif);
  return TRUE;
}
