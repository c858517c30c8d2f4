#include "config.h"

#include "tpt-exif.h"

#include <gexiv2/gexiv2.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-exif-field.h"
#include "tpt-words.h"

const char *
tpt_time_source_to_string (TptTimeSource source)
{
  static const char *const words[] = { "none", "exif-original", "exif-digitized", "xmp", "maker-note", "file" };

  g_return_val_if_fail ((guint) source < G_N_ELEMENTS (words), NULL);
  return words[source];
}

void
tpt_exif_init (void)
{
  static gsize once;

  if (g_once_init_enter (&once))
    {
      gexiv2_initialize ();
      gexiv2_log_set_level (GEXIV2_LOG_LEVEL_MUTE);
      g_once_init_leave (&once, 1);
    }
}

void
tpt_exif_free (TptExif *exif)
{
  if (exif == NULL)
    return;
  g_free (exif->why_not);
  g_free (exif->odd_offset);
  g_free (exif->make);
  g_free (exif->model);
  g_free (exif->serial);
  g_free (exif);
}

/* (transfer full) (nullable): without padding; NULL for nothing but padding. */
static char *
get_text (GExiv2Metadata *metadata, const char *tag)
{
  g_autofree char *text = gexiv2_metadata_try_get_tag_string (metadata, tag, NULL);

  if (text == NULL)
    return NULL;
  g_strstrip (text);
  if (*text == '\0')
    return NULL;
  return g_utf8_make_valid (text, -1);
}

static char *
get_first_text (GExiv2Metadata *metadata, const char *const *tags)
{
  char *text = NULL;

  for (guint i = 0; tags[i] != NULL && text == NULL; i++)
    text = get_text (metadata, tags[i]);
  return text;
}

static gint64
get_number (GExiv2Metadata *metadata, const char *const *tags)
{
  for (guint i = 0; tags[i] != NULL; i++)
    {
      g_autofree char *text = get_text (metadata, tags[i]);

      if (text != NULL && g_ascii_isdigit (*text))
        return g_ascii_strtoll (text, NULL, 10);
    }
  return -1;
}

typedef struct {
  TptTimeSource source;
  const char *date;
  const char *subsec;
  const char *offset;
} DateTags;

/* OffsetTime (9010) belongs to ModifyDate, so it is not here. Some RAW formats
 * keep the date in the first directory, as TIFF/EP has it. */
static const DateTags date_tags[] = {
  { TPT_TIME_ORIGINAL, "Exif.Photo.DateTimeOriginal", "Exif.Photo.SubSecTimeOriginal",
    "Exif.Photo.OffsetTimeOriginal" },
  { TPT_TIME_ORIGINAL, "Exif.Image.DateTimeOriginal", "Exif.Photo.SubSecTimeOriginal",
    "Exif.Photo.OffsetTimeOriginal" },
  { TPT_TIME_DIGITIZED, "Exif.Photo.DateTimeDigitized", "Exif.Photo.SubSecTimeDigitized",
    "Exif.Photo.OffsetTimeDigitized" },
};

static gboolean
read_exif_date (GExiv2Metadata *metadata, const DateTags *tags, TptExif *exif)
{
  g_autofree char *date = get_text (metadata, tags->date);
  g_autofree char *subsec = get_text (metadata, tags->subsec);
  g_autofree char *offset = get_text (metadata, tags->offset);
  g_autofree char *why_not = NULL;
  g_autofree char *odd_offset = NULL;
  gboolean found = tpt_exif_parse_date (date, subsec, offset, &exif->reading, &why_not, &odd_offset);

  if (exif->why_not == NULL)
    exif->why_not = g_steal_pointer (&why_not);
  if (!found)
    return FALSE;

  exif->source = tags->source;
  exif->odd_offset = g_steal_pointer (&odd_offset);
  return TRUE;
}

static gboolean
read_xmp_date (GExiv2Metadata *metadata, TptExif *exif)
{
  g_autofree char *date = get_text (metadata, "Xmp.exif.DateTimeOriginal");

  if (date == NULL || g_str_has_prefix (date, "0000"))
    return FALSE;
  if (tpt_reading_parse (date, &exif->reading, NULL))
    {
      exif->source = TPT_TIME_XMP;
      return TRUE;
    }
  if (exif->why_not == NULL)
    {
      g_autofree char *shown = tpt_words_shorten (date);

      exif->why_not = g_strdup_printf (_("The picture’s date “%s” does not exist"), shown);
    }
  return FALSE;
}

static void
take_file_time (TptExif *exif, TptInstant file_time_ms)
{
  if (file_time_ms == TPT_NO_INSTANT)
    return;
  exif->reading.clock_ms = file_time_ms;
  exif->reading.offset_s = 0;
  exif->source = TPT_TIME_FILE;
}

static void
read_date (GExiv2Metadata *metadata, TptExif *exif)
{
  for (guint i = 0; i < G_N_ELEMENTS (date_tags); i++)
    if (read_exif_date (metadata, &date_tags[i], exif))
      return;
  read_xmp_date (metadata, exif);
}

/* The body's own number first; numbers of parts inside it last. */
static const char *const serial_tags[] = {
  "Exif.Photo.BodySerialNumber", "Exif.Canon.SerialNumber",           "Exif.Nikon3.SerialNumber",
  "Exif.Nikon3.SerialNO",        "Exif.Pentax.SerialNumber",          "Exif.PentaxDng.SerialNumber",
  "Exif.Sigma.SerialNumber",     "Exif.OlympusEq.SerialNumber",       "Exif.Fujifilm.SerialNumber",
  "Exif.Image.CameraSerialNumber", "Exif.OlympusEq.InternalSerialNumber", "Exif.Panasonic.InternalSerialNumber",
  "Exif.Canon.InternalSerialNumber", NULL,
};

/* Some makers keep the text as bytes of no type. */
static char *
get_bytes_as_text (GExiv2Metadata *metadata, const char *tag)
{
  g_autoptr (GBytes) bytes = gexiv2_metadata_try_get_tag_raw (metadata, tag, NULL);
  gsize length = 0;
  const char *data = bytes != NULL ? g_bytes_get_data (bytes, &length) : NULL;
  g_autofree char *text = g_strndup (data != NULL ? data : "", length);

  return g_utf8_make_valid (g_strstrip (text), -1);
}

/* One maker writes `NO= ` before the number, and one RAW format more numbers
 * after it. */
static char *
clean_serial (const char *tag, char *text)
{
  g_autofree char *owned = text;
  const char *start = g_str_has_prefix (text, "NO=") ? text + 3 : text;
  g_autofree char *serial = g_strstrip (g_strdup (start));

  if (g_str_equal (tag, "Exif.Canon.SerialNumber"))
    serial[strcspn (serial, " ")] = '\0';
  return serial[strspn (serial, "0 .?-")] != '\0' ? g_steal_pointer (&serial) : NULL;
}

static char *
read_serial (GExiv2Metadata *metadata)
{
  char *serial = NULL;

  for (guint i = 0; serial_tags[i] != NULL && serial == NULL; i++)
    {
      const char *tag = serial_tags[i];
      char *text = g_str_equal (tag, "Exif.Panasonic.InternalSerialNumber") ? get_bytes_as_text (metadata, tag)
                                                                            : get_text (metadata, tag);

      if (text != NULL)
        serial = clean_serial (tag, text);
    }
  return serial;
}

static double
parse_rational (const char *text)
{
  char *slash = NULL;
  double numerator, denominator;

  numerator = g_ascii_strtod (text, &slash);
  if (slash == text || *slash != '/')
    return NAN;
  denominator = g_ascii_strtod (slash + 1, NULL);
  return denominator != 0.0 ? numerator / denominator : NAN;
}

static double
read_temperature (GExiv2Metadata *metadata)
{
  g_autofree char *text = get_text (metadata, "Exif.Photo.Temperature");
  g_autofree char *in_note = get_text (metadata, "Exif.Sony2Fp.AmbientTemperature");
  double value = text != NULL ? parse_rational (text) : NAN;

  /* whole degrees */
  if (isnan (value) && in_note != NULL)
    value = g_ascii_strtod (in_note, NULL);

  /* Denominators of 0xffffffff stand for unknown; no camera worked outside these. */
  return value > -90.0 && value < 90.0 ? value : NAN;
}

/* Degrees, minutes, seconds, each a rational, and the letter that gives the sign. */
static double
read_angle (GExiv2Metadata *metadata, const char *tag, const char *ref_tag, char plus, char minus, double limit)
{
  g_autofree char *text = get_text (metadata, tag);
  g_autofree char *ref = get_text (metadata, ref_tag);
  g_auto (GStrv) parts = NULL;
  double value = 0.0, weight = 1.0;

  if (text == NULL || ref == NULL || (*ref != plus && *ref != minus))
    return NAN;

  parts = g_strsplit (text, " ", 4);
  if (g_strv_length (parts) != 3)
    return NAN;
  for (guint i = 0; i < 3; i++, weight /= 60.0)
    value += weight * parse_rational (parts[i]);
  if (!(value >= 0.0 && value <= limit))
    return NAN;
  return *ref == minus ? -value : value;
}

static void
read_position (GExiv2Metadata *metadata, TptExif *exif)
{
  double latitude = read_angle (metadata, "Exif.GPSInfo.GPSLatitude", "Exif.GPSInfo.GPSLatitudeRef", 'N', 'S', 90.0);
  double longitude =
    read_angle (metadata, "Exif.GPSInfo.GPSLongitude", "Exif.GPSInfo.GPSLongitudeRef", 'E', 'W', 180.0);

  if (isnan (latitude) || isnan (longitude) || (latitude == 0.0 && longitude == 0.0))
    return;
  exif->latitude = latitude;
  exif->longitude = longitude;
}

static void
read_counters (GExiv2Metadata *metadata, TptExif *exif)
{
  static const char *const numbers[] = { "Exif.CanonFi.FileNumber", "Exif.Canon.FileNumber",
                                         "Exif.NikonFi.FileNumber", "Exif.Image.ImageNumber", NULL };
  static const char *const sequences[] = { "Exif.Fujifilm.SequenceNumber", "Exif.Panasonic.SequenceNumber",
                                           "Exif.Sony1.SequenceNumber", "Exif.Sony2.SequenceNumber",
                                           "Exif.Casio2.SequenceNumber", "Exif.CanonSi.Sequence", NULL };
  static const char *const flashes[] = { "Exif.Photo.Flash", "Exif.Image.Flash", NULL };
  gint64 number = get_number (metadata, numbers);
  gint64 sequence = get_number (metadata, sequences);
  gint64 flash = get_number (metadata, flashes);

  if (number > 0)
    exif->file_number = number;
  /* 0 is a single picture, 65535 unknown. */
  if (sequence > 0 && sequence < 10000)
    exif->sequence = (int) sequence;
  if (flash >= 0)
    exif->flash = (int) (flash & 1);
}

static double
read_positive (GExiv2Metadata *metadata, const char *tag)
{
  g_autofree char *text = get_text (metadata, tag);
  double value = text != NULL ? parse_rational (text) : NAN;

  return value > 0 ? value : NAN;
}

/* Exif 2.32, annex C (APEX): exposure value = log2 (aperture² / time), here
 * brought to ISO 100. */
static double
read_exposure_value (GExiv2Metadata *metadata)
{
  static const char *const speeds[] = { "Exif.Photo.ISOSpeedRatings", NULL };
  double aperture = read_positive (metadata, "Exif.Photo.FNumber");
  double seconds = read_positive (metadata, "Exif.Photo.ExposureTime");
  gint64 iso = get_number (metadata, speeds);

  if (isnan (aperture) || isnan (seconds) || iso <= 0)
    return NAN;
  return log2 (aperture * aperture / seconds) - log2 ((double) iso / 100.0);
}

static void
read_camera (GExiv2Metadata *metadata, TptExif *exif)
{
  static const char *const makes[] = { "Exif.Image.Make", "Exif.PanasonicRaw.Make", NULL };
  static const char *const models[] = { "Exif.Image.Model", "Exif.PanasonicRaw.Model",
                                        "Exif.Image.UniqueCameraModel", NULL };

  exif->make = get_first_text (metadata, makes);
  exif->model = get_first_text (metadata, models);
  exif->serial = read_serial (metadata);
}

static void
read_picture (GExiv2Metadata *metadata, TptExif *exif)
{
  static const char *const orientations[] = { "Exif.Image.Orientation", "Exif.PanasonicRaw.Orientation", NULL };
  gint64 orientation = get_number (metadata, orientations);

  if (orientation >= 1 && orientation <= 8)
    exif->orientation = (int) orientation;
  exif->width = MAX (gexiv2_metadata_get_pixel_width (metadata), 0);
  exif->height = MAX (gexiv2_metadata_get_pixel_height (metadata), 0);
}

/* The library keeps the bytes of a maker note that it does not know. */
static void
read_field_note (GExiv2Metadata *metadata, TptExif *exif)
{
  g_autoptr (GBytes) bytes = gexiv2_metadata_try_get_tag_raw (metadata, "Exif.Photo.MakerNote", NULL);
  gsize length = 0;
  const guint8 *note = bytes != NULL ? g_bytes_get_data (bytes, &length) : NULL;

  if (note != NULL)
    tpt_exif_field_read (note, length, exif);
}

static TptExif *
new_exif (void)
{
  TptExif *exif = g_new0 (TptExif, 1);

  exif->reading.offset_s = TPT_NO_OFFSET;
  exif->temperature_c = NAN;
  exif->latitude = NAN;
  exif->longitude = NAN;
  exif->flash = -1;
  exif->file_number = -1;
  exif->exposure_value = NAN;
  return exif;
}

static TptExif *
read_all (GExiv2Metadata *metadata, TptInstant file_time_ms)
{
  TptExif *exif = new_exif ();

  read_date (metadata, exif);
  read_camera (metadata, exif);
  read_picture (metadata, exif);
  read_counters (metadata, exif);
  exif->temperature_c = read_temperature (metadata);
  exif->exposure_value = read_exposure_value (metadata);
  read_position (metadata, exif);
  read_field_note (metadata, exif);
  if (exif->source == TPT_TIME_NONE)
    take_file_time (exif, file_time_ms);
  return exif;
}

static TptExif *
fail_to_read (GError **error, const GError *cause)
{
  g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("The content is not that of a picture that can be read (%s)"),
               cause != NULL ? cause->message : _("no reason given"));
  return NULL;
}

TptExif *
tpt_exif_read (const char *path, TptInstant file_time_ms, GError **error)
{
  g_autoptr (GExiv2Metadata) metadata = NULL;
  g_autoptr (GError) cause = NULL;

  g_return_val_if_fail (path != NULL, NULL);

  tpt_exif_init ();
  metadata = gexiv2_metadata_new ();
  if (!gexiv2_metadata_open_path (metadata, path, &cause))
    return fail_to_read (error, cause);
  return read_all (metadata, file_time_ms);
}

/* The segment alone, made a JPEG again by its two markers. */
static GByteArray *
wrap_app1 (const guint8 *segment, gsize length)
{
  GByteArray *whole = g_byte_array_sized_new (length + 8);
  guint8 head[6] = { 0xff, 0xd8, 0xff, 0xe1, (guint8) ((length + 2) >> 8), (guint8) ((length + 2) & 0xff) };
  guint8 tail[2] = { 0xff, 0xd9 };

  g_byte_array_append (whole, head, sizeof head);
  g_byte_array_append (whole, segment, length);
  g_byte_array_append (whole, tail, sizeof tail);
  return whole;
}

TptExif *
tpt_exif_read_app1 (const guint8 *segment, gsize length, TptInstant file_time_ms, GError **error)
{
  g_autoptr (GExiv2Metadata) metadata = NULL;
  g_autoptr (GByteArray) whole = NULL;
  g_autoptr (GError) cause = NULL;

  g_return_val_if_fail (segment != NULL && length <= 65533, NULL);

  tpt_exif_init ();
  metadata = gexiv2_metadata_new ();
  whole = wrap_app1 (segment, length);
  if (!gexiv2_metadata_open_buf (metadata, whole->data, whole->len, &cause))
    return fail_to_read (error, cause);
  return read_all (metadata, file_time_ms);
}

TptExif *
tpt_exif_from_file_time (TptInstant file_time_ms)
{
  TptExif *exif = new_exif ();

  take_file_time (exif, file_time_ms);
  return exif;
}
