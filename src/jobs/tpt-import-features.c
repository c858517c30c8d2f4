#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-error.h"
#include "tpt-feature.h"
#include "tpt-geojson.h"
#include "tpt-gpx.h"
#include "tpt-import-private.h"
#include "tpt-query.h"
#include "tpt-records.h"

typedef struct {
  TptStore *store;
  const char *file;
  GHashTable *seen; /* (owned) (element-type utf8): names of waypoints met */
  TptImportCounts *counts;
  GPtrArray *refusals;
} Import;

static void
refuse (Import *self, const TptFeature *feature, const char *reason)
{
  g_autofree char *place = feature->line == 0 ? g_strdup_printf ("features[%u]", feature->index) : NULL;

  tpt_refusals_add (self->refusals, self->file, feature->line, place != NULL ? place : "name", reason);
}

static TptRecord *
make_station (Import *self, const TptFeature *feature, const char *name, GError **error)
{
  const TptVertex *vertex = &g_array_index (feature->vertices, TptVertex, 0);
  g_autoptr (TptRecord) station = NULL;
  GError *failure = NULL;

  station = tpt_store_find (self->store, TPT_TABLE_STATIONS, name, &failure);
  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return NULL;
    }
  if (station == NULL)
    {
      station = tpt_record_new (TPT_TABLE_STATIONS);
      tpt_record_set_text (station, "station", name);
      tpt_record_set_text (station, "notes", feature->comment != NULL ? feature->comment : feature->description);
    }
  tpt_record_set_real (station, "latitude", vertex->latitude);
  tpt_record_set_real (station, "longitude", vertex->longitude);
  if (isfinite (vertex->elevation))
    tpt_record_set_real (station, "elevation_m", vertex->elevation);
  return g_steal_pointer (&station);
}

static gboolean
take_point (Import *self, const TptFeature *feature, GError **error)
{
  g_autofree char *name = feature->name != NULL ? g_strstrip (g_strdup (feature->name)) : NULL;
  g_autoptr (TptRecord) station = NULL;
  GError *failure = NULL;
  TptSaved saved;

  if (name == NULL || *name == '\0')
    {
      refuse (self, feature, _("a waypoint needs a name to become a station"));
      return TRUE;
    }
  if (!g_hash_table_add (self->seen, g_strdup (name)))
    {
      refuse (self, feature, _("there are two waypoints of this name; a station’s name must be its own"));
      return TRUE;
    }
  station = make_station (self, feature, name, error);
  if (station == NULL)
    return FALSE;
  if (!tpt_store_save (self->store, station, &saved, NULL, &failure))
    {
      if (!g_error_matches (failure, TPT_ERROR, TPT_ERROR_DATA))
        {
          g_propagate_error (error, failure);
          return FALSE;
        }
      refuse (self, feature, failure->message);
      g_error_free (failure);
      return TRUE;
    }
  self->counts->added += saved == TPT_SAVED_ADDED;
  self->counts->updated += saved == TPT_SAVED_UPDATED;
  self->counts->unchanged += saved == TPT_SAVED_UNCHANGED;
  return TRUE;
}

static gboolean
take_line (Import *self, const TptFeature *feature, GError **error)
{
  gboolean area = feature->kind == TPT_FEATURE_AREA, added;
  const char *kind = tpt_track_guess_kind (feature->type, feature->name, area);
  g_autoptr (TptTrack) track = tpt_track_new (kind, feature->name, area);

  track->source = g_strdup (self->file);
  for (guint p = 0; p < feature->parts->len; p++)
    {
      guint n;
      const TptVertex *vertices = tpt_feature_get_part (feature, p, &n);

      for (guint i = 0; i < n; i++)
        tpt_track_add_point (track, vertices[i].latitude, vertices[i].longitude);
      tpt_track_end_line (track);
    }
  if (track->lengths->len == 0)
    return TRUE;
  if (!tpt_store_add_track (self->store, track, &added, error))
    return FALSE;
  self->counts->added += added;
  self->counts->unchanged += !added;
  return TRUE;
}

gboolean
tpt_import_features (TptStore *store, const char *path, gboolean geojson, TptImportCounts *counts, GPtrArray *refusals,
                     GCancellable *cancellable, GError **error)
{
  g_autofree char *file = g_path_get_basename (path);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GError) failure = NULL;
  g_autoptr (GPtrArray) features = geojson ? tpt_geojson_read_file (path, refusals, cancellable, &failure)
                                           : tpt_gpx_read_file (path, refusals, cancellable, &failure);
  Import self = { store, file, seen, counts, refusals };

  if (features == NULL)
    {
      if (g_error_matches (failure, TPT_ERROR, TPT_ERROR_DATA))
        {
          if (refusals->len == 0)
            tpt_refusals_add (refusals, file, 0, NULL, failure->message);
          return TRUE;
        }
      g_propagate_error (error, g_steal_pointer (&failure));
      return FALSE;
    }
  for (guint i = 0; i < features->len; i++)
    {
      const TptFeature *feature = features->pdata[i];

      if (g_cancellable_set_error_if_cancelled (cancellable, error) ||
          !(feature->kind == TPT_FEATURE_POINT ? take_point (&self, feature, error) : take_line (&self, feature, error)))
        return FALSE;
    }
  return TRUE;
}
