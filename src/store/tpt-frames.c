#include "config.h"

#include "tpt-frames.h"

#include <math.h>

#include "tpt-geometry.h"
#include "tpt-store-private.h"

void
tpt_frame_detail_clear (TptFrameDetail *facts)
{
  g_free (facts->frame);
  g_free (facts->file);
  g_free (facts->sha256);
  g_free (facts->kind);
  g_free (facts->camera_time);
  g_free (facts->time_source);
  g_free (facts->damage);
  g_free (facts->station);
  g_free (facts->station_name);
  g_free (facts->deployment);
  g_free (facts->batch);
  *facts = (TptFrameDetail){ 0 };
}

static void
read_position (TptStmt *stmt, int column, TptFrameDetail *facts)
{
  gsize size;
  const void *point = tpt_stmt_blob (stmt, column, &size);

  if (!tpt_geometry_to_point (point, size, &facts->latitude, &facts->longitude))
    facts->latitude = facts->longitude = NAN;
}

static void
fill_facts (TptStmt *stmt, TptFrameDetail *facts)
{
  *facts = (TptFrameDetail){
    .frame_id = tpt_stmt_int (stmt, 0),
    .trigger_id = tpt_stmt_int (stmt, 1),
    .frame = g_strdup (tpt_stmt_text (stmt, 2)),
    .file = g_strdup (tpt_stmt_text (stmt, 3)),
    .sha256 = g_strdup (tpt_stmt_text (stmt, 4)),
    .kind = g_strdup (tpt_stmt_text (stmt, 5)),
    .camera_time = g_strdup (tpt_stmt_text (stmt, 6)),
    .time_source = g_strdup (tpt_stmt_text (stmt, 7)),
    .damage = g_strdup (tpt_stmt_text (stmt, 8)),
    .at = tpt_stmt_instant (stmt, 9),
    .temperature_c = tpt_stmt_double (stmt, 10),
    .flash = tpt_stmt_is_null (stmt, 11) ? -1 : tpt_stmt_int (stmt, 11) != 0,
    .n_frames = (int) tpt_stmt_int (stmt, 12),
    .blank_score = tpt_stmt_double (stmt, 13),
    .place = (int) tpt_stmt_int (stmt, 14),
    .station = g_strdup (tpt_stmt_text (stmt, 15)),
    .station_name = g_strdup (tpt_stmt_text (stmt, 16)),
    .deployment = g_strdup (tpt_stmt_text (stmt, 18)),
    .batch = g_strdup (tpt_stmt_text (stmt, 19)),
    .marked = tpt_stmt_int (stmt, 20) != 0,
  };
  read_position (stmt, 17, facts);
}

gboolean
tpt_store_read_frame (TptStore *self, gint64 frame_id, TptFrameDetail *facts, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (
    self->db,
    "SELECT f.id, coalesce(f.trigger_id, 0), f.frame, f.file, f.sha256, f.kind, f.camera_time, f.time_source, f.damage, f.at,"
    " f.temperature_c, f.flash, coalesce(t.frames, 1), t.blank_score,"
    " (SELECT count(*) FROM frames e WHERE e.trigger_id = f.trigger_id AND (e.at < f.at OR (e.at = f.at AND e.id < f.id))),"
    " s.station, s.name, s.geom, d.deployment, b.batch,"
    " EXISTS (SELECT 1 FROM frame_marks m WHERE m.frame_id = f.id AND m.mark = 'guests')"
    " FROM frames f JOIN batches b ON b.id = f.batch_id JOIN deployments d ON d.id = f.deployment_id"
    " JOIN stations s ON s.id = d.station_id LEFT JOIN triggers t ON t.id = f.trigger_id"
    " WHERE f.id = ?1 AND b.active",
    error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, frame_id);
  if (!tpt_stmt_next (stmt, error))
    return FALSE;
  fill_facts (stmt, facts);
  return TRUE;
}

static void
fill_id (TptStmt *stmt, gpointer row)
{
  *(gint64 *) row = tpt_stmt_int (stmt, 0);
}

GArray *
tpt_store_list_trigger_frames (TptStore *self, gint64 trigger_id, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db,
                                             "SELECT f.id FROM frames f JOIN batches b ON b.id = f.batch_id"
                                             " WHERE f.trigger_id = ?1 AND b.active ORDER BY f.at, f.id",
                                             error);

  if (stmt != NULL)
    tpt_stmt_bind_int (stmt, 1, trigger_id);
  return tpt_store_read_rows (stmt, sizeof (gint64), fill_id, error);
}

gint64
tpt_store_find_frame_id (TptStore *self, const char *code, gint64 *trigger_id, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db,
                                             "SELECT f.id, coalesce(f.trigger_id, 0) FROM frames f"
                                             " JOIN batches b ON b.id = f.batch_id WHERE f.frame = ?1 AND b.active",
                                             error);

  if (stmt == NULL)
    return 0;
  tpt_stmt_bind_text (stmt, 1, code);
  if (!tpt_stmt_next (stmt, error))
    return 0;
  *trigger_id = tpt_stmt_int (stmt, 1);
  return tpt_stmt_int (stmt, 0);
}

/* The trigger that holds the start, else the next one within the span: each a
 * look-up in the index by deployment and start. */
#define NEAREST \
  "coalesce(" \
  " (SELECT CASE WHEN n.end_at >= o.start_at THEN n.id END FROM (SELECT t.id, t.end_at FROM triggers t" \
  "   JOIN batches b ON b.id = t.batch_id WHERE t.deployment_id = o.deployment_id AND t.start_at <= o.start_at" \
  "   AND t.frames > 0 AND b.active ORDER BY t.start_at DESC LIMIT 1) n)," \
  " (SELECT t.id FROM triggers t JOIN batches b ON b.id = t.batch_id WHERE t.deployment_id = o.deployment_id" \
  "   AND t.start_at > o.start_at AND t.start_at <= o.end_at AND t.frames > 0 AND b.active ORDER BY t.start_at LIMIT 1))"

gboolean
tpt_store_link_observations (TptStore *self, gint64 deployment_id, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "UPDATE observations SET trigger_id = l.trigger_id FROM (SELECT o.id AS id, " NEAREST " AS trigger_id"
                    "  FROM observations o WHERE o.trigger_id IS NULL AND o.frame_id IS NULL"
                    "  AND (?1 = 0 OR o.deployment_id = ?1)) l"
                    " WHERE observations.id = l.id AND l.trigger_id IS NOT NULL",
                    error);

  g_return_val_if_fail (self->action != NULL, FALSE);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, deployment_id);
  return tpt_stmt_run (stmt, error);
}

gboolean
tpt_store_unlink_stray (TptStore *self, gint64 observation_id, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "UPDATE observations AS o SET trigger_id = NULL WHERE o.id = ?1 AND o.trigger_id > 0 AND o.frame_id IS NULL"
                    " AND NOT EXISTS (SELECT 1 FROM triggers t WHERE t.id = o.trigger_id AND t.deployment_id = o.deployment_id"
                    "  AND t.start_at <= coalesce(o.end_at, o.start_at) AND t.end_at >= o.start_at)",
                    error);

  g_return_val_if_fail (self->action != NULL, FALSE);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, observation_id);
  return tpt_stmt_run (stmt, error);
}
