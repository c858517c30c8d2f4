#include "config.h"

#include "tpt-settings.h"

#define KEEP_RECENT 10

static const struct {
  const char *key;
  const char *value; /* as GVariant text */
} defaults[] = {
  { "recent-projects", "@as []" },
  { "window-width", "1280" },
  { "window-height", "800" },
  { "window-maximized", "false" },
  { "last-page", "'field'" },
  { "color-scheme", "'follow'" },
  { "lift-dark", "false" },
  { "naming-details", "false" },
  { "person", "''" },
};

/* (transfer none) (nullable) */
static GSettings *
find_store (const char *key)
{
  static GSettings *store = NULL;
  static gboolean looked = FALSE;
  GSettingsSchemaSource *source = g_settings_schema_source_get_default ();
  g_autoptr (GSettingsSchema) schema =
    source != NULL ? g_settings_schema_source_lookup (source, APPLICATION_ID, TRUE) : NULL;

  if (!looked && schema != NULL)
    store = g_settings_new (APPLICATION_ID);
  looked = TRUE;
  return store != NULL && g_settings_schema_has_key (schema, key) ? store : NULL;
}

/* For keys that are not stored anywhere. */
static GHashTable *
find_memory (void)
{
  static GHashTable *memory = NULL;

  if (memory == NULL)
    memory = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_variant_unref);
  return memory;
}

static GVariant *
make_default (const char *key)
{
  for (gsize i = 0; i < G_N_ELEMENTS (defaults); i++)
    if (g_str_equal (defaults[i].key, key))
      return g_variant_parse (NULL, defaults[i].value, NULL, NULL, NULL);
  g_return_val_if_reached (NULL);
}

/* (transfer full) */
static GVariant *
read_key (const char *key)
{
  GSettings *store = find_store (key);
  GVariant *kept;

  if (store != NULL)
    return g_settings_get_value (store, key);
  kept = g_hash_table_lookup (find_memory (), key);
  return kept != NULL ? g_variant_ref (kept) : g_variant_ref_sink (make_default (key));
}

static void
write_key (const char *key, GVariant *value)
{
  GSettings *store = find_store (key);
  g_autoptr (GVariant) owned = g_variant_ref_sink (value);

  if (store != NULL)
    g_settings_set_value (store, key, owned);
  else
    g_hash_table_replace (find_memory (), g_strdup (key), g_steal_pointer (&owned));
}

int
tpt_settings_get_int (const char *key)
{
  g_autoptr (GVariant) value = read_key (key);

  return g_variant_get_int32 (value);
}

gboolean
tpt_settings_get_flag (const char *key)
{
  g_autoptr (GVariant) value = read_key (key);

  return g_variant_get_boolean (value);
}

char *
tpt_settings_get_text (const char *key)
{
  g_autoptr (GVariant) value = read_key (key);

  return g_variant_dup_string (value, NULL);
}

GStrv
tpt_settings_get_list (const char *key)
{
  g_autoptr (GVariant) value = read_key (key);

  return g_variant_dup_strv (value, NULL);
}

void
tpt_settings_set_int (const char *key, int value)
{
  write_key (key, g_variant_new_int32 (value));
}

void
tpt_settings_set_flag (const char *key, gboolean value)
{
  write_key (key, g_variant_new_boolean (value));
}

void
tpt_settings_set_text (const char *key, const char *value)
{
  write_key (key, g_variant_new_string (value));
}

void
tpt_settings_add_recent (const char *path)
{
  g_auto (GStrv) old = tpt_settings_get_list ("recent-projects");
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  g_auto (GStrv) list = NULL;
  guint n = 1;

  g_strv_builder_add (builder, path);
  for (guint i = 0; old[i] != NULL && n < KEEP_RECENT; i++)
    if (!g_str_equal (old[i], path))
      {
        g_strv_builder_add (builder, old[i]);
        n++;
      }
  list = g_strv_builder_end (builder);
  write_key ("recent-projects", g_variant_new_strv ((const char *const *) list, -1));
}
