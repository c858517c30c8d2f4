/* What a picture says about itself: when, with what, how warm, where.
 *
 * The date is taken from Exif DateTimeOriginal, else Exif DateTimeDigitized,
 * else XMP exif:DateTimeOriginal, else a field camera's maker note, else the
 * file's time, and the source is always told. Exif ModifyDate is never used: editing changes it.
 *
 * gexiv2 must have been set up by tpt_exif_init(). Every call works on its own
 * metadata object, so calls may come from several threads.
 */
#pragma once

#include <glib.h>

#include "tpt-time.h"

G_BEGIN_DECLS

/**
 * TptTimeSource: where a frame's reading comes from, best first.
 * @TPT_TIME_NONE: there is none
 * @TPT_TIME_ORIGINAL: Exif DateTimeOriginal
 * @TPT_TIME_DIGITIZED: Exif DateTimeDigitized
 * @TPT_TIME_XMP: XMP exif:DateTimeOriginal
 * @TPT_TIME_NOTE: the maker note of a field camera that writes no Exif date
 * @TPT_TIME_FILE: the file system; the reading is UTC (offset 0) as the system
 *   tells it, which for a card is the camera's clock read in the computer's zone
 */
typedef enum {
  TPT_TIME_NONE,
  TPT_TIME_ORIGINAL,
  TPT_TIME_DIGITIZED,
  TPT_TIME_XMP,
  TPT_TIME_NOTE,
  TPT_TIME_FILE,
} TptTimeSource;

/* Stable word for files and databases: "none", "exif-original",
 * "exif-digitized", "xmp", "maker-note", "file". */
const char *tpt_time_source_to_string (TptTimeSource source);

/**
 * TptExif:
 * @reading: what the camera's clock showed; offset only from a sound
 *   OffsetTimeOriginal (OffsetTimeDigitized for that date; the zone of an XMP date)
 * @source: where @reading comes from; with %TPT_TIME_NONE it means nothing
 * @why_not: (owned) (nullable): why a better source was passed over, in words,
 *   such as an impossible date; %NULL when there simply was none
 * @odd_offset: (owned) (nullable): the offset's text when it made no sense
 * @make: (owned) (nullable):
 * @model: (owned) (nullable):
 * @serial: (owned) (nullable): of the body, from Exif or the maker note
 * @orientation: Exif 1 to 8; 0 unknown
 * @width: pixels as stored, before @orientation; 0 unknown
 * @height: likewise
 * @temperature_c: ambient, degrees Celsius; NaN unknown
 * @latitude: degrees north, WGS 84; NaN unknown. Exactly 0, 0 and a number without its N/S or E/W count as unknown
 * @longitude: degrees east; NaN unknown
 * @flash: 1 fired, 0 not, -1 unknown
 * @file_number: the camera's own running number from the maker note; -1 unknown
 * @sequence: place in its burst, from 1, from the maker note; 0 unknown
 * @exposure_value: what the exposure was right for, at ISO 100, in steps of two (APEX): about 15 in
 *   sunlight, 0 where 1 s at f/1 was needed; NaN unless time, aperture and sensitivity are all told
 */
typedef struct {
  TptReading reading;
  TptTimeSource source;
  char *why_not;
  char *odd_offset;
  char *make;
  char *model;
  char *serial;
  int orientation;
  int width;
  int height;
  double temperature_c;
  double latitude;
  double longitude;
  int flash;
  gint64 file_number;
  int sequence;
  double exposure_value;
} TptExif;

/* Sets up gexiv2, silently, once; safe to call again and from any thread. */
void tpt_exif_init (void);

/**
 * tpt_exif_read:
 * @path: a picture
 * @file_time_ms: the file's time to fall back on, milliseconds since 1970 UTC,
 *   or %TPT_NO_INSTANT for none
 * @error: return location
 *
 * Reads the metadata, not the pixels. The file is opened for reading only.
 *
 * Returns: (transfer full) (nullable): what was found, perhaps nothing but the
 *   file time; %NULL with %TPT_ERROR_DATA when the file is no picture that can be read
 */
TptExif *tpt_exif_read (const char *path, TptInstant file_time_ms, GError **error);

/**
 * tpt_exif_read_app1:
 * @segment: the body of a JPEG's APP1 segment, from the letters `Exif`
 * @length: at most 65533
 *
 * For a picture cut off after its Exif block. Otherwise as tpt_exif_read().
 */
TptExif *tpt_exif_read_app1 (const guint8 *segment, gsize length, TptInstant file_time_ms, GError **error);

/* (transfer full): nothing known but perhaps the file's time: for clips. */
TptExif *tpt_exif_from_file_time (TptInstant file_time_ms);
void tpt_exif_free (TptExif *exif);

/**
 * tpt_exif_parse_date:
 * @date: (nullable): Exif date text, `YYYY:MM:DD HH:MM:SS`
 * @subsec: (nullable): digits of the fraction of a second, any number of them
 * @offset: (nullable): `±HH:MM` up to 14:00 or `Z`
 * @reading: (out): the reading
 * @why_not: (out) (transfer full) (nullable): for an impossible date, why
 * @odd_offset: (out) (transfer full) (nullable): an offset that makes no sense
 *
 * Returns: %FALSE for no date: missing, blank, zeros, or impossible
 */
gboolean tpt_exif_parse_date (const char *date, const char *subsec, const char *offset, TptReading *reading,
                              char **why_not, char **odd_offset);

/**
 * TptExifStamp: what tpt_exif_write_times() writes.
 * @reading: DateTimeOriginal and DateTimeDigitized; a part of a second becomes
 *   SubSecTimeOriginal; an offset, if any, OffsetTimeOriginal
 * @make: (nullable):
 * @model: (nullable):
 * @serial: (nullable): BodySerialNumber
 * @temperature_c: Temperature, to a tenth; NaN leaves it out
 * @flash: 1 or 0; -1 leaves it out
 */
typedef struct {
  TptReading reading;
  const char *make;
  const char *model;
  const char *serial;
  double temperature_c;
  int flash;
} TptExifStamp;

/**
 * tpt_exif_write_times:
 * @path: a picture of our own making; never one of a card
 * @stamp: what to write
 * @error: return location
 *
 * Changes the file in place. The same picture and stamp give the same bytes.
 *
 * Returns: %FALSE with %TPT_ERROR_IO
 */
gboolean tpt_exif_write_times (const char *path, const TptExifStamp *stamp, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptExif, tpt_exif_free)

G_END_DECLS
