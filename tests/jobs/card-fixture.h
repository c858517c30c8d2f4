/* Cards of small pictures beside a project. */
#pragma once

#include <gdk-pixbuf/gdk-pixbuf.h>

#include "jobs-fixture.h"
#include "tpt-exif.h"

/* Differs from another @seed's in every pixel. */
static inline void
card_write_picture (const char *path, guint seed, const char *date, const char *serial)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 48, 32);
  TptExifStamp stamp = { .make = "Invented", .model = "Trail 1", .serial = serial, .temperature_c = 21.5, .flash = 1 };
  g_autofree char *folder = g_path_get_dirname (path);
  g_autoptr (GError) error = NULL;

  g_mkdir_with_parents (folder, 0755);
  for (guint i = 0; i < 48 * 32; i++)
    memset (gdk_pixbuf_get_pixels (pixbuf) + i / 48 * (guint) gdk_pixbuf_get_rowstride (pixbuf) + i % 48 * 3, (int) (i * (seed + 3) % 251), 3);
  gdk_pixbuf_save (pixbuf, path, "jpeg", &error, NULL);
  g_assert_no_error (error);
  tpt_reading_parse (date, &stamp.reading, &error);
  tpt_exif_write_times (path, &stamp, &error);
  g_assert_no_error (error);
}

/* A card below the project's folder; @dates is %NULL-terminated. Returns its path. */
static inline char *
card_write (JobsFixture *f, const char *name, const char *const *dates, const char *serial)
{
  for (guint i = 0; dates[i] != NULL; i++)
    {
      g_autofree char *file = g_strdup_printf ("A%04u.JPG", i + 1);
      g_autofree char *path = g_build_filename (f->folder, name, "DCIM", "100", file, NULL);

      card_write_picture (path, i, dates[i], serial);
    }
  return jobs_path (f, name);
}
