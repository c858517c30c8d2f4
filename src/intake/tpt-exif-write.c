/* Stamps pictures of our own making. */
#include "config.h"

#include <gexiv2/gexiv2.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-exif.h"

static void
set_text (GExiv2Metadata *metadata, const char *tag, const char *text, GError **error)
{
  if (text != NULL && *error == NULL)
    gexiv2_metadata_try_set_tag_string (metadata, tag, text, error);
}

static void
set_date (GExiv2Metadata *metadata, TptReading reading, GError **error)
{
  TptReading plain = { reading.clock_ms, TPT_NO_OFFSET };
  g_autofree char *date = tpt_reading_format (plain);
  char *fraction = strchr (date, '.');

  date[4] = date[7] = ':';
  date[10] = ' ';
  if (fraction != NULL)
    {
      *fraction = '\0';
      set_text (metadata, "Exif.Photo.SubSecTimeOriginal", fraction + 1, error);
      set_text (metadata, "Exif.Photo.SubSecTimeDigitized", fraction + 1, error);
    }
  set_text (metadata, "Exif.Photo.DateTimeOriginal", date, error);
  set_text (metadata, "Exif.Photo.DateTimeDigitized", date, error);
}

static void
set_offset (GExiv2Metadata *metadata, int offset_s, GError **error)
{
  g_autofree char *text = NULL;
  int minutes;

  if (offset_s == TPT_NO_OFFSET)
    return;
  minutes = ABS (offset_s) / 60;
  text = g_strdup_printf ("%c%02d:%02d", offset_s < 0 ? '-' : '+', minutes / 60, minutes % 60);
  set_text (metadata, "Exif.Photo.OffsetTimeOriginal", text, error);
  set_text (metadata, "Exif.Photo.OffsetTimeDigitized", text, error);
}

static void
set_numbers (GExiv2Metadata *metadata, const TptExifStamp *stamp, GError **error)
{
  if (!isnan (stamp->temperature_c) && *error == NULL)
    gexiv2_metadata_try_set_exif_tag_rational (metadata, "Exif.Photo.Temperature",
                                               (int) lround (stamp->temperature_c * 10.0), 10, error);
  if (stamp->flash >= 0 && *error == NULL)
    gexiv2_metadata_try_set_tag_long (metadata, "Exif.Photo.Flash", stamp->flash, error);
}

gboolean
tpt_exif_write_times (const char *path, const TptExifStamp *stamp, GError **error)
{
  g_autoptr (GExiv2Metadata) metadata = NULL;
  g_autoptr (GError) cause = NULL;
  g_autofree char *shown = g_filename_display_name (path);

  tpt_exif_init ();
  metadata = gexiv2_metadata_new ();
  if (gexiv2_metadata_open_path (metadata, path, &cause))
    {
      set_text (metadata, "Exif.Image.Make", stamp->make, &cause);
      set_text (metadata, "Exif.Image.Model", stamp->model, &cause);
      set_date (metadata, stamp->reading, &cause);
      set_offset (metadata, stamp->reading.offset_s, &cause);
      set_text (metadata, "Exif.Photo.BodySerialNumber", stamp->serial, &cause);
      set_numbers (metadata, stamp, &cause);
      if (cause == NULL)
        gexiv2_metadata_save_file (metadata, path, &cause);
    }
  if (cause == NULL)
    return TRUE;

  g_set_error (error, TPT_ERROR, TPT_ERROR_IO, _("The date could not be written into “%s”: %s"), shown,
               cause->message);
  return FALSE;
}
