#include "tpt-name-counts.h"
#include "tpt-names-private.h"

struct _TptNamer {
  TptStore *store;   /* (unowned) */
  char *language;    /* (owned) (nullable) */
  GHashTable *known; /* (owned) (element-type gint64 utf8): "" for none */
};

TptNamer *
tpt_namer_new (TptStore *store, const char *language)
{
  TptNamer *self = g_new0 (TptNamer, 1);

  self->store = store;
  self->language = g_strdup (language);
  self->known = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  return self;
}

void
tpt_namer_free (TptNamer *self)
{
  g_hash_table_unref (self->known);
  g_free (self->language);
  g_free (self);
}

static const char *
find_in (GArray *names, guint first, guint n, const char *language)
{
  for (guint i = first; i < first + n; i++)
    if (g_ascii_strncasecmp (g_array_index (names, TptCommonName, i).language, language, 2) == 0)
      return g_array_index (names, TptCommonName, i).name;
  return NULL;
}

/* "es_MX.UTF-8", "es_MX", "es", "C": the first two letters will do. */
const char *
tpt_namer_choose (GArray *names, guint first, guint n, const char *language)
{
  const char *const only[] = { language, NULL };
  const char *const *wanted = language != NULL ? only : g_get_language_names ();
  const char *name = NULL;

  for (guint i = 0; name == NULL && wanted[i] != NULL; i++)
    if (wanted[i][0] != '\0' && wanted[i][1] != '\0')
      name = find_in (names, first, n, wanted[i]);
  return name != NULL ? name : find_in (names, first, n, "en");
}

const char *
tpt_namer_get (TptNamer *self, gint64 species_id, GError **error)
{
  const char *known = g_hash_table_lookup (self->known, &species_id);

  if (known == NULL)
    {
      g_autoptr (GArray) names = tpt_store_read_common_names (self->store, species_id, error);
      char *chosen;

      if (names == NULL)
        return NULL;
      chosen = g_strdup (tpt_namer_choose (names, 0, names->len, self->language));
      known = chosen != NULL ? chosen : g_strdup ("");
      g_hash_table_insert (self->known, g_memdup2 (&species_id, sizeof species_id), (gpointer) known);
    }
  return *known != '\0' ? known : NULL;
}
