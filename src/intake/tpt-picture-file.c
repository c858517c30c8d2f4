#include "tpt-picture-file.h"

#include <gdk-pixbuf/gdk-pixbuf.h>

#include "tpt-error.h"

/* Fixed, so that the same picture is the same bytes. */
#define JPEG_QUALITY "60"

gboolean
tpt_picture_file_write (const char *path, const guint8 *pixels, int width, int height, const TptExifStamp *stamp, GError **error)
{
  g_autoptr (GdkPixbuf) pixbuf =
    gdk_pixbuf_new_from_data (pixels, GDK_COLORSPACE_RGB, FALSE, 8, width, height, 3 * width, NULL, NULL);

  return tpt_fault_point ("picture", error) &&
         gdk_pixbuf_save (pixbuf, path, "jpeg", error, "quality", JPEG_QUALITY, NULL) &&
         tpt_exif_write_times (path, stamp, error);
}
