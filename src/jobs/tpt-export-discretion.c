#include "config.h"

#include "tpt-export-discretion-private.h"

#include <math.h>

#include "sci-generalise.h"
#include "tpt-people.h"
#include "tpt-records.h"

struct _TptExportDiscretion {
  gboolean exact;
  int floor;
  GHashTable *people;      /* (owned): codes of frames */
  GHashTable *deployments; /* (owned) (element-type utf8 utf8): station by deployment */
  GHashTable *species;     /* (owned) (element-type utf8 int): decimals by scientific name */
  GHashTable *stations;    /* (owned) (element-type utf8 int): decimals by station, of the species seen there */
};

/* What can tell a place or a person, by table. */
static const struct {
  TptTableId table;
  const char *columns[6];
} withheld[] = {
  { TPT_TABLE_STATIONS, { "name", "access", "elevation_m", "notes", NULL } },
  { TPT_TABLE_UNITS, { "serial", "notes", NULL } },
  { TPT_TABLE_DEPLOYMENTS, { "notes", NULL } },
  { TPT_TABLE_VISITS, { "people", "left", "notes", NULL } },
  { TPT_TABLE_READINGS, { "notes", NULL } },
  { TPT_TABLE_OBSERVATIONS, { "identified_by", "notes", NULL } },
  { TPT_TABLE_UNIT_LOG, { "by", "notes", NULL } },
  { TPT_TABLE_STOCK, { "place", "notes", NULL } },
};

static gboolean
note_deployment_cb (TptRecord *record, gpointer data, GError **error)
{
  TptExportDiscretion *self = data;

  g_hash_table_insert (self->deployments, g_strdup (tpt_record_get_code (record)),
                       g_strdup (tpt_record_get_text (record, "station")));
  return TRUE;
}

static gboolean
note_species_cb (TptRecord *record, gpointer data, GError **error)
{
  TptExportDiscretion *self = data;

  g_hash_table_insert (self->species, g_strdup (tpt_record_get_code (record)),
                       GINT_TO_POINTER (tpt_discretion_decimals (record)));
  return TRUE;
}

/* A station is as secret as the most sensitive species anybody has seen there. */
static gboolean
note_observation_cb (TptRecord *record, gpointer data, GError **error)
{
  TptExportDiscretion *self = data;
  const char *station = g_hash_table_lookup (self->deployments, tpt_record_get_text (record, "deployment"));
  const char *species = tpt_record_get_text (record, "scientific_name");
  gpointer decimals, least;

  if (station == NULL || species == NULL || !g_hash_table_lookup_extended (self->species, species, NULL, &decimals))
    return TRUE;
  if (!g_hash_table_lookup_extended (self->stations, station, NULL, &least) || GPOINTER_TO_INT (decimals) < GPOINTER_TO_INT (least))
    g_hash_table_insert (self->stations, g_strdup (station), decimals);
  return TRUE;
}

TptExportDiscretion *
tpt_export_discretion_new (TptStore *store, gboolean exact, GError **error)
{
  g_autoptr (TptExportDiscretion) self = g_new0 (TptExportDiscretion, 1);

  self->exact = exact;
  self->floor = tpt_discretion_floor (store);
  self->deployments = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->species = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->stations = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->people = tpt_store_read_people (store, error);
  if (self->people == NULL)
    return NULL;
  if (!exact && (!tpt_store_each (store, TPT_TABLE_DEPLOYMENTS, note_deployment_cb, self, error) ||
                 !tpt_store_each (store, TPT_TABLE_SPECIES, note_species_cb, self, error) ||
                 !tpt_store_each (store, TPT_TABLE_OBSERVATIONS, note_observation_cb, self, error)))
    return NULL;
  return g_steal_pointer (&self);
}

void
tpt_export_discretion_free (TptExportDiscretion *self)
{
  g_clear_pointer (&self->people, g_hash_table_unref);
  g_clear_pointer (&self->deployments, g_hash_table_unref);
  g_clear_pointer (&self->species, g_hash_table_unref);
  g_clear_pointer (&self->stations, g_hash_table_unref);
  g_free (self);
}

gboolean
tpt_export_discretion_allows (TptExportDiscretion *self, TptRecord *record)
{
  TptTableId table = tpt_record_get_table (record)->id;

  if (table == TPT_TABLE_FRAMES)
    return !g_hash_table_contains (self->people, tpt_record_get_code (record));
  return table != TPT_TABLE_OBSERVATIONS || g_strcmp0 (tpt_record_get_text (record, "type"), "human") != 0;
}

static gboolean
soften_place (TptExportDiscretion *self, TptRecord *record)
{
  SciPlace place = { tpt_record_get_real (record, "latitude"), tpt_record_get_real (record, "longitude") };
  int decimals = MIN (self->floor, tpt_discretion_decimals (record));
  double uncertainty = tpt_record_get_real (record, "uncertainty_m");
  gpointer seen;

  if (!tpt_record_is_set (record, "latitude"))
    return FALSE;
  if (g_hash_table_lookup_extended (self->stations, tpt_record_get_code (record), NULL, &seen))
    decimals = MIN (decimals, GPOINTER_TO_INT (seen));
  if (decimals <= 0)
    {
      tpt_record_set_real (record, "latitude", NAN);
      tpt_record_set_real (record, "longitude", NAN);
      tpt_record_set_real (record, "uncertainty_m", NAN);
      return TRUE;
    }
  place = sci_generalise_centre (place, decimals);
  tpt_record_set_real (record, "latitude", place.latitude);
  tpt_record_set_real (record, "longitude", place.longitude);
  /* Rounded up, so that what was known of the position before does not show. */
  tpt_record_set_real (record, "uncertainty_m",
                       ceil (((isnan (uncertainty) ? 0 : uncertainty) + sci_generalise_half_diagonal (place.latitude, decimals)) / 10) * 10);
  return TRUE;
}

gboolean
tpt_export_discretion_soften (TptExportDiscretion *self, TptRecord *record)
{
  TptTableId table = tpt_record_get_table (record)->id;

  if (self->exact)
    return FALSE;
  for (gsize t = 0; t < G_N_ELEMENTS (withheld); t++)
    for (guint i = 0; withheld[t].table == table && withheld[t].columns[i] != NULL; i++)
      tpt_record_set_from_string (record, withheld[t].columns[i], NULL, NULL, NULL);
  return table == TPT_TABLE_STATIONS && soften_place (self, record);
}
