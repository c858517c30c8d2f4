#include "config.h"

#include "tpt-intake-place.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <string.h>
#include <sys/stat.h>

#include "tpt-copy-private.h"
#include "tpt-error.h"

/* Bytes of one name: file systems take 255, and the suffix needs room. */
#define LONGEST_NAME 200
#define MOST_NAMESAKES 10000

struct _TptIntakePlaces {
  char *destination;    /* (owned) */
  char *prefix;         /* (owned): ends in `/` unless empty */
  GHashTable *taken;    /* (owned): names given in this run, without case */
  GHashTable *folders;  /* (owned): absolute paths to sync */
};

TptIntakePlaces *
tpt_intake_places_new (const char *destination, const char *prefix)
{
  TptIntakePlaces *places = g_new0 (TptIntakePlaces, 1);

  places->destination = g_strdup (destination);
  places->prefix = *prefix != '\0' ? g_strconcat (prefix, "/", NULL) : g_strdup ("");
  places->taken = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  places->folders = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  return places;
}

void
tpt_intake_places_free (TptIntakePlaces *places)
{
  if (places == NULL)
    return;
  g_free (places->destination);
  g_free (places->prefix);
  g_hash_table_unref (places->taken);
  g_hash_table_unref (places->folders);
  g_free (places);
}

/* The dot before the extension of the last part of @path, or its end. */
static gsize
find_extension (const char *path)
{
  const char *slash = strrchr (path, '/');
  const char *name = slash != NULL ? slash + 1 : path;
  const char *dot = strrchr (name, '.');

  return dot != NULL && dot != name ? (gsize) (dot - path) : strlen (path);
}

static void
clean_bytes (GString *out, const char *part)
{
  const char *end = part + strlen (part);
  const char *valid_end;

  while (part < end)
    {
      g_utf8_validate (part, end - part, &valid_end);
      g_string_append_len (out, part, valid_end - part);
      if (valid_end < end)
        g_string_append_c (out, '_');
      part = valid_end + 1;
    }
}

static char *
shorten (const char *part)
{
  gsize dot = find_extension (part);
  gsize extension = strlen (part) - dot;
  gsize stem = extension < LONGEST_NAME ? LONGEST_NAME - extension : 0;
  const char *cut;

  if (strlen (part) <= LONGEST_NAME || stem == 0)
    return g_strndup (part, MIN (strlen (part), LONGEST_NAME));
  cut = g_utf8_find_prev_char (part, part + stem + 1);
  return g_strdup_printf ("%.*s%s", (int) (cut - part), part, part + dot);
}

static char *
clean_part (const char *part)
{
  g_autoptr (GString) out = g_string_new (NULL);
  gsize last;

  clean_bytes (out, part);
  for (gsize i = 0; i < out->len; i++)
    if ((guint8) out->str[i] < 0x20 || out->str[i] == 0x7f || strchr ("\\:*?\"<>|", out->str[i]) != NULL)
      out->str[i] = '_';
  /* Windows drops a blank or a dot at the end of a name. */
  last = out->len > 0 ? out->len - 1 : 0;
  if (out->len > 0 && strchr (" .", out->str[last]) != NULL)
    out->str[last] = '_';
  return shorten (out->str);
}

char *
tpt_intake_places_clean_path (const char *path)
{
  g_auto (GStrv) parts = g_strsplit (path, "/", -1);

  for (guint i = 0; parts[i] != NULL; i++)
    {
      char *clean = clean_part (parts[i]);

      g_free (parts[i]);
      parts[i] = clean;
    }
  return g_strjoinv ("/", parts);
}

static char *
name_candidate (TptIntakePlaces *places, const char *source, gboolean aside, guint number)
{
  g_autofree char *clean = tpt_intake_places_clean_path (source);
  gsize dot = find_extension (clean);
  const char *folder = aside ? TPT_INTAKE_ASIDE "/" : "";

  if (number == 1)
    return g_strconcat (places->prefix, folder, clean, NULL);
  return g_strdup_printf ("%s%s%.*s-%u%s", places->prefix, folder, (int) dot, clean, number, clean + dot);
}

char *
tpt_intake_places_get_path (TptIntakePlaces *places, const char *file)
{
  return g_build_filename (places->destination, file, NULL);
}

static gboolean
has_size (TptIntakePlaces *places, const char *file, gint64 bytes)
{
  g_autofree char *path = tpt_intake_places_get_path (places, file);
  struct stat st;

  return lstat (path, &st) == 0 && S_ISREG (st.st_mode) && st.st_size == bytes;
}

gboolean
tpt_intake_places_may_have (TptIntakePlaces *places, const char *source, gint64 bytes)
{
  g_autofree char *frame = name_candidate (places, source, FALSE, 1);
  g_autofree char *aside = name_candidate (places, source, TRUE, 1);

  return has_size (places, frame, bytes) || has_size (places, aside, bytes);
}

static gboolean
has_content (TptIntakePlaces *places, const char *file, const char *sha256, gint64 bytes, GCancellable *cancellable,
             GError **error)
{
  g_autofree char *path = tpt_intake_places_get_path (places, file);
  char found[TPT_SHA256_SIZE];

  if (!has_size (places, file, bytes))
    return FALSE;
  return tpt_copy_hash (path, TRUE, NULL, NULL, found, NULL, cancellable, error) && strcmp (found, sha256) == 0;
}

static gboolean
is_there (TptIntakePlaces *places, const char *file)
{
  g_autofree char *path = tpt_intake_places_get_path (places, file);
  struct stat st;

  return lstat (path, &st) == 0;
}

static gboolean
is_taken (TptIntakePlaces *places, const char *file)
{
  g_autofree char *folded = g_utf8_casefold (file, -1);

  return g_hash_table_contains (places->taken, folded);
}

void
tpt_intake_places_take (TptIntakePlaces *places, const char *file)
{
  g_hash_table_add (places->taken, g_utf8_casefold (file, -1));
}

TptIntakePlace
tpt_intake_places_find (TptIntakePlaces *places, const char *source, gboolean aside, const char *sha256,
                        gint64 bytes, char **file, GCancellable *cancellable, GError **error)
{
  for (guint number = 1; number <= MOST_NAMESAKES; number++)
    {
      g_autofree char *candidate = name_candidate (places, source, aside, number);
      g_autoptr (GError) local_error = NULL;
      TptIntakePlace found = TPT_PLACE_FREE;

      if (is_taken (places, candidate))
        continue;
      if (has_content (places, candidate, sha256, bytes, cancellable, &local_error))
        found = TPT_PLACE_SAME;
      else if (local_error != NULL)
        {
          g_propagate_error (error, g_steal_pointer (&local_error));
          return TPT_PLACE_FAILED;
        }
      else if (is_there (places, candidate))
        continue;

      *file = g_steal_pointer (&candidate);
      return found;
    }

  tpt_copy_fail (error, _("“%s” could not be given a name of its own"), source, EEXIST);
  return TPT_PLACE_FAILED;
}

static void
remember_folder (TptIntakePlaces *places, const char *path)
{
  if (!g_hash_table_contains (places->folders, path))
    g_hash_table_add (places->folders, g_strdup (path));
}

static gboolean
make_folder (TptIntakePlaces *places, const char *path, GError **error)
{
  g_autofree char *parent = g_path_get_dirname (path);

  if (g_hash_table_contains (places->folders, path))
    return TRUE;
  if (g_file_test (path, G_FILE_TEST_IS_DIR))
    {
      remember_folder (places, path);
      return TRUE;
    }

  if (!make_folder (places, parent, error) || !tpt_fault_point ("mkdir", error))
    return FALSE;
  if (mkdir (path, 0755) != 0 && errno != EEXIST)
    return tpt_copy_fail (error, _("The folder “%s” could not be made"), path, errno);
  remember_folder (places, path);
  return TRUE;
}

gboolean
tpt_intake_places_make_folders (TptIntakePlaces *places, const char *file, GError **error)
{
  g_autofree char *path = tpt_intake_places_get_path (places, file);
  g_autofree char *folder = g_path_get_dirname (path);

  return make_folder (places, folder, error);
}

gboolean
tpt_intake_places_sync (TptIntakePlaces *places, GError **error)
{
  GHashTableIter iter;
  gpointer folder;

  g_hash_table_iter_init (&iter, places->folders);
  while (g_hash_table_iter_next (&iter, &folder, NULL))
    if (!tpt_copy_sync_folder (folder, error))
      return FALSE;
  return TRUE;
}
