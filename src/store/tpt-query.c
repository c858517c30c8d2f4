#include "config.h"

#include "tpt-query.h"

#include <string.h>

#include "tpt-geometry.h"
#include "tpt-store-private.h"

static gboolean
settle (GError *failure, GError **error)
{
  if (failure == NULL)
    return TRUE;
  g_propagate_error (error, failure);
  return FALSE;
}

/* An open end is put past every date that can be written with four digits. */
static void
bind_range (TptStmt *stmt, int parameter, TptRange range)
{
  if (range.from != TPT_NO_INSTANT)
    tpt_stmt_bind_instant (stmt, parameter, range.from);
  else
    tpt_stmt_bind_text (stmt, parameter, "");
  if (range.to != TPT_NO_INSTANT)
    tpt_stmt_bind_instant (stmt, parameter + 1, range.to);
  else
    tpt_stmt_bind_text (stmt, parameter + 1, "9999-12-31T23:59:59.999Z");
}

GArray *
tpt_store_read_sightings (TptStore *self, TptRange range, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT o.species_id, d.station_id, o.start_at, o.end_at, o.count FROM observations o"
                    " JOIN deployments d ON d.id = o.deployment_id WHERE o.species_id IS NOT NULL AND o.type = 'animal'"
                    " AND coalesce(o.opinion, 1) < 2 AND o.start_at >= ?1 AND o.start_at < ?2 ORDER BY o.species_id, d.station_id, o.start_at, o.id",
                    error);
  g_autoptr (GArray) rows = g_array_new (FALSE, FALSE, sizeof (TptSighting));
  GError *failure = NULL;

  if (stmt == NULL)
    return NULL;
  bind_range (stmt, 1, range);
  while (tpt_stmt_next (stmt, &failure))
    {
      TptSighting row = {
        .species_id = tpt_stmt_int (stmt, 0),
        .station_id = tpt_stmt_int (stmt, 1),
        .start = tpt_stmt_instant (stmt, 2),
        .end = tpt_stmt_instant (stmt, 3),
        .count = tpt_stmt_is_null (stmt, 4) ? 1 : (int) tpt_stmt_int (stmt, 4),
      };

      if (row.end == TPT_NO_INSTANT)
        row.end = row.start;
      g_array_append_val (rows, row);
    }
  return settle (failure, error) ? g_steal_pointer (&rows) : NULL;
}

GArray *
tpt_store_read_signs (TptStore *self, TptInstant on, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "WITH home AS (SELECT d.id AS id, max(coalesce((SELECT max(v.at) FROM visits v"
                    "   WHERE v.station_id = d.station_id AND v.at > d.start_at AND v.at <= ?1), ''),"
                    "  CASE WHEN d.end_at <= ?1 THEN d.end_at ELSE '' END) AS at FROM deployments d)"
                    " SELECT t.deployment_id, count(*), sum(t.frames), min(t.start_at), max(t.start_at)"
                    " FROM home h JOIN triggers t ON t.deployment_id = h.id AND t.start_at <= h.at AND t.frames > 0"
                    " JOIN batches b ON b.id = t.batch_id WHERE b.active GROUP BY t.deployment_id ORDER BY t.deployment_id",
                    error);
  g_autoptr (GArray) rows = g_array_new (FALSE, FALSE, sizeof (TptSigns));
  GError *failure = NULL;

  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_instant (stmt, 1, on);
  while (tpt_stmt_next (stmt, &failure))
    {
      TptSigns row = {
        .deployment_id = tpt_stmt_int (stmt, 0),
        .triggers = tpt_stmt_int (stmt, 1),
        .frames = tpt_stmt_int (stmt, 2),
        .first = tpt_stmt_instant (stmt, 3),
        .last = tpt_stmt_instant (stmt, 4),
      };
      g_array_append_val (rows, row);
    }
  return settle (failure, error) ? g_steal_pointer (&rows) : NULL;
}

gboolean
tpt_store_read_signs_of (TptStore *self, gint64 deployment_id, TptInstant until, TptSigns *signs, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT count(*), coalesce(sum(t.frames), 0), min(t.start_at), max(t.start_at) FROM triggers t"
                    " JOIN batches b ON b.id = t.batch_id WHERE t.deployment_id = ?1 AND t.start_at <= ?2 AND t.frames > 0 AND b.active",
                    error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, deployment_id);
  tpt_stmt_bind_instant (stmt, 2, until);
  if (!tpt_stmt_next (stmt, error))
    return FALSE;
  *signs = (TptSigns){ deployment_id, tpt_stmt_int (stmt, 0), tpt_stmt_int (stmt, 1), tpt_stmt_instant (stmt, 2),
                       tpt_stmt_instant (stmt, 3) };
  return TRUE;
}

TptInstant
tpt_store_read_last_sign (TptStore *self, gint64 deployment_id, TptInstant before, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT max(at) FROM (SELECT (SELECT f.at FROM frames f JOIN batches b ON b.id = f.batch_id"
                    "  WHERE f.deployment_id = ?1 AND f.at <= ?2 AND b.active ORDER BY f.at DESC LIMIT 1) AS at"
                    " UNION ALL SELECT (SELECT o.start_at FROM observations o WHERE o.deployment_id = ?1"
                    "  AND o.start_at <= ?2 AND coalesce(o.opinion, 1) < 2 ORDER BY o.start_at DESC LIMIT 1))",
                    error);

  if (stmt == NULL)
    return TPT_NO_INSTANT;
  tpt_stmt_bind_int (stmt, 1, deployment_id);
  tpt_stmt_bind_instant (stmt, 2, before);
  return tpt_stmt_next (stmt, error) ? tpt_stmt_instant (stmt, 0) : TPT_NO_INSTANT;
}

GArray *
tpt_store_read_frame_times (TptStore *self, gint64 station_id, TptRange range, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT f.at FROM deployments d JOIN frames f ON f.deployment_id = d.id JOIN batches b ON b.id = f.batch_id"
                    " WHERE d.station_id = ?1 AND f.at >= ?2 AND f.at < ?3 AND b.active ORDER BY f.at",
                    error);
  g_autoptr (GArray) times = g_array_new (FALSE, FALSE, sizeof (TptInstant));
  GError *failure = NULL;

  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_int (stmt, 1, station_id);
  bind_range (stmt, 2, range);
  while (tpt_stmt_next (stmt, &failure))
    {
      TptInstant at = tpt_stmt_instant (stmt, 0);
      g_array_append_val (times, at);
    }
  return settle (failure, error) ? g_steal_pointer (&times) : NULL;
}

GArray *
tpt_store_read_last_readings (TptStore *self, TptInstant on, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT unit_id, visit_id, at, volts, percent, action, state FROM ("
                    " SELECT r.unit_id, r.visit_id, v.at, r.volts, r.percent, r.action, r.state,"
                    "  row_number() OVER (PARTITION BY r.unit_id ORDER BY v.at DESC, v.id DESC) AS n"
                    " FROM readings r JOIN visits v ON v.id = r.visit_id WHERE v.at <= ?1) WHERE n = 1 ORDER BY unit_id",
                    error);
  g_autoptr (GArray) rows = g_array_new (FALSE, FALSE, sizeof (TptLastReading));
  GError *failure = NULL;

  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_instant (stmt, 1, on);
  while (tpt_stmt_next (stmt, &failure))
    {
      TptLastReading row = {
        .unit_id = tpt_stmt_int (stmt, 0),
        .visit_id = tpt_stmt_int (stmt, 1),
        .at = tpt_stmt_instant (stmt, 2),
        .volts = tpt_stmt_double (stmt, 3),
        .percent = tpt_stmt_double (stmt, 4),
      };

      if (!tpt_stmt_is_null (stmt, 5))
        g_strlcpy (row.action, tpt_stmt_text (stmt, 5), sizeof row.action);
      if (!tpt_stmt_is_null (stmt, 6))
        g_strlcpy (row.state, tpt_stmt_text (stmt, 6), sizeof row.state);
      g_array_append_val (rows, row);
    }
  return settle (failure, error) ? g_steal_pointer (&rows) : NULL;
}

GPtrArray *
tpt_store_list_tracks (TptStore *self, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, "SELECT id, uuid, name, kind, source, geom FROM tracks ORDER BY id", error);
  g_autoptr (GPtrArray) tracks = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_track_free);
  GError *failure = NULL;

  if (stmt == NULL)
    return NULL;
  while (tpt_stmt_next (stmt, &failure))
    {
      g_autoptr (TptTrack) track = tpt_track_new (tpt_stmt_text (stmt, 3), tpt_stmt_text (stmt, 2), FALSE);
      gsize size;
      const void *blob = tpt_stmt_blob (stmt, 5, &size);

      track->id = tpt_stmt_int (stmt, 0);
      track->uuid = g_strdup (tpt_stmt_text (stmt, 1));
      track->source = g_strdup (tpt_stmt_text (stmt, 4));
      if (tpt_geometry_to_lines (blob, size, track->points, track->lengths, &track->area))
        g_ptr_array_add (tracks, g_steal_pointer (&track));
    }
  return settle (failure, error) ? g_steal_pointer (&tracks) : NULL;
}

static gboolean
has_track (TptStore *self, const TptTrack *track, GBytes *geometry, gboolean *has, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db, "SELECT 1 FROM tracks WHERE name IS ?1 AND geom = ?2", error);
  GError *failure = NULL;
  gsize size;
  gconstpointer data = g_bytes_get_data (geometry, &size);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_text (stmt, 1, track->name);
  tpt_stmt_bind_blob (stmt, 2, data, size);
  *has = tpt_stmt_next (stmt, &failure);
  return settle (failure, error);
}

gboolean
tpt_store_add_track (TptStore *self, const TptTrack *track, gboolean *added, GError **error)
{
  g_autoptr (GBytes) geometry = tpt_geometry_from_lines ((const double *) (gpointer) track->points->data,
                                                         (const guint *) (gpointer) track->lengths->data,
                                                         track->lengths->len, track->area);
  g_autoptr (TptStmt) stmt = tpt_db_prepare (
    self->db, "INSERT INTO tracks (geom, uuid, name, kind, source) VALUES (?1, ?2, ?3, ?4, ?5)", error);
  g_autofree char *uuid = NULL;
  gsize size;
  gconstpointer data = g_bytes_get_data (geometry, &size);
  gboolean has = FALSE;

  g_return_val_if_fail (self->action != NULL, FALSE);

  if (stmt == NULL || !has_track (self, track, geometry, &has, error))
    return FALSE;
  *added = !has;
  if (has)
    return TRUE;
  uuid = tpt_store_new_uuid (self);
  tpt_stmt_bind_blob (stmt, 1, data, size);
  tpt_stmt_bind_text (stmt, 2, uuid);
  tpt_stmt_bind_text (stmt, 3, track->name);
  tpt_stmt_bind_text (stmt, 4, track->kind);
  tpt_stmt_bind_text (stmt, 5, track->source);
  return tpt_stmt_run (stmt, error);
}
