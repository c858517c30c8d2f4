#include "config.h"

#include "tpt-input.h"

#include <glib/gi18n-lib.h>

#include "tpt-error.h"

GFileInputStream *
tpt_input_open (const char *path, char **name, GError **error)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GError) reason = NULL;
  g_autofree char *called = g_filename_display_basename (path);
  GFileInputStream *stream = g_file_read (file, NULL, &reason);

  if (stream == NULL)
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_IO, _("“%s” could not be read: %s"), called, reason->message);
      return NULL;
    }
  *name = g_steal_pointer (&called);
  return stream;
}
