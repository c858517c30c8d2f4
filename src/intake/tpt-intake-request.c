/* Which requests are refused before anything is touched. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-intake-private.h"

static gboolean
check_prefix (const char *prefix, GError **error)
{
  g_auto (GStrv) parts = g_strsplit (prefix, "/", -1);
  gboolean good = g_utf8_validate (prefix, -1, NULL);

  for (guint i = 0; *prefix != '\0' && good && parts[i] != NULL; i++)
    good = *parts[i] != '\0' && !g_str_equal (parts[i], ".") && !g_str_equal (parts[i], "..");
  if (!good)
    g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("“%s” is not a folder below the pictures' folder"), prefix);
  return good;
}

/* The destination, or the nearest folder above it that exists. */
static char *
find_existing (const char *path)
{
  g_autofree char *at = g_strdup (path);

  while (!g_file_test (at, G_FILE_TEST_EXISTS) && !g_str_equal (at, "/"))
    {
      char *parent = g_path_get_dirname (at);

      g_free (at);
      at = parent;
    }
  return realpath (at, NULL);
}

static gboolean
is_inside (const char *path, const char *folder)
{
  gsize n = strlen (folder);

  return strncmp (path, folder, n) == 0 && (path[n] == '\0' || path[n] == '/' || g_str_equal (folder, "/"));
}

gboolean
tpt_intake_check_request (const TptIntakeRequest *request, GError **error)
{
  g_autofree char *card = realpath (request->card, NULL);
  g_autofree char *destination = NULL;

  if (!g_path_is_absolute (request->destination))
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("The pictures' folder “%s” is not an absolute path"),
                   request->destination);
      return FALSE;
    }
  if (!check_prefix (request->prefix, error))
    return FALSE;

  destination = find_existing (request->destination);
  if (card != NULL && destination != NULL && is_inside (destination, card))
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE,
                   _("The pictures' folder “%s” lies on the card; nothing is ever written to a card"),
                   request->destination);
      return FALSE;
    }
  return TRUE;
}
