/* Prints what tpt_exif_read() finds in each picture named: one a line, fields
 * separated by tabs, empty where nothing is known.
 *
 *   exif-driver PICTURE...
 *
 * file, source, reading, make, model, serial, orientation, flash, temperature
 * in tenths of a degree, file number, sequence, width, height, exposure value */
#include <glib.h>
#include <math.h>

#include "tpt-exif.h"

static char *
format_number (gboolean known, double value)
{
  return known ? g_strdup_printf ("%.10g", value) : g_strdup ("");
}

static const char *
get_text (const char *text)
{
  return text != NULL ? text : "";
}

static void
print_camera (const TptExif *exif)
{
  g_print ("\t%s\t%s\t%s", get_text (exif->make), get_text (exif->model), get_text (exif->serial));
}

static void
print_numbers (const TptExif *exif)
{
  const struct {
    gboolean known;
    double value;
  } numbers[] = {
    { exif->orientation > 0, exif->orientation },
    { exif->flash >= 0, exif->flash },
    { !isnan (exif->temperature_c), round (exif->temperature_c * 10.0) },
    { exif->file_number >= 0, (double) exif->file_number },
    { exif->sequence > 0, exif->sequence },
    { exif->width > 0, exif->width },
    { exif->height > 0, exif->height },
    { !isnan (exif->exposure_value), exif->exposure_value },
  };

  for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
    {
      g_autofree char *text = format_number (numbers[i].known, numbers[i].value);

      g_print ("\t%s", text);
    }
}

static gboolean
print_picture (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TptExif) exif = tpt_exif_read (path, TPT_NO_INSTANT, &error);
  g_autofree char *reading = NULL;

  if (exif == NULL)
    {
      g_printerr ("%s: %s\n", path, error->message);
      return FALSE;
    }
  reading = exif->source != TPT_TIME_NONE ? tpt_reading_format (exif->reading) : NULL;
  g_print ("%s\t%s\t%s", path, tpt_time_source_to_string (exif->source), get_text (reading));
  print_camera (exif);
  print_numbers (exif);
  g_print ("\n");
  return TRUE;
}

int
main (int argc, char **argv)
{
  gboolean good = TRUE;

  for (int i = 1; i < argc; i++)
    good = print_picture (argv[i]) && good;
  return good ? 0 : 1;
}
