#include "config.h"

#include "tpt-frames.h"
#include "tpt-frames-private.h"
#include "tpt-store-private.h"

static void
clear_progress (gpointer data)
{
  TptBatchProgress *progress = data;

  g_free (progress->batch);
  g_free (progress->deployment);
  g_free (progress->station);
  g_free (progress->station_name);
}

static void
fill_progress (TptStmt *stmt, gpointer row)
{
  *(TptBatchProgress *) row = (TptBatchProgress){
    .batch = g_strdup (tpt_stmt_text (stmt, 0)),
    .deployment = g_strdup (tpt_stmt_text (stmt, 1)),
    .station = g_strdup (tpt_stmt_text (stmt, 2)),
    .station_name = g_strdup (tpt_stmt_text (stmt, 3)),
    .taken_at = tpt_stmt_instant (stmt, 4),
    .first = tpt_stmt_instant (stmt, 5),
    .last = tpt_stmt_instant (stmt, 6),
    .frames = tpt_stmt_int (stmt, 7),
    .triggers = tpt_stmt_int (stmt, 8),
    .undecided = tpt_stmt_int (stmt, 9),
    .disagreements = tpt_stmt_int (stmt, 10),
    .scored = tpt_stmt_int (stmt, 11),
    .set_aside = tpt_stmt_int (stmt, 12),
  };
}

GArray *
tpt_store_read_progress (TptStore *self, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (
    self->db,
    "WITH spoken(trigger_id) AS MATERIALIZED (" TPT_SPOKEN_SQL "),"
    " contested(trigger_id) AS MATERIALIZED (" TPT_CONTESTED_SQL "),"
    " counted AS (SELECT t.batch_id AS batch_id, count(*) AS triggers, sum(t.id NOT IN spoken) AS undecided,"
    "   sum(t.id IN contested) AS contested, count(t.blank_score) AS scored FROM triggers t WHERE t.frames > 0"
    "   GROUP BY t.batch_id)"
    " SELECT b.batch, d.deployment, s.station, s.name, b.taken_at, b.first_at, b.last_at, b.frames,"
    "  coalesce(c.triggers, 0), coalesce(c.undecided, 0), coalesce(c.contested, 0), coalesce(c.scored, 0),"
    "  (SELECT count(*) FROM set_aside a WHERE a.batch_id = b.id)"
    " FROM batches b LEFT JOIN counted c ON c.batch_id = b.id LEFT JOIN deployments d ON d.id = b.deployment_id"
    " LEFT JOIN stations s ON s.id = d.station_id WHERE b.active ORDER BY b.id DESC",
    error);
  GArray *rows = tpt_store_read_rows (stmt, sizeof (TptBatchProgress), fill_progress, error);

  if (rows != NULL)
    g_array_set_clear_func (rows, clear_progress);
  return rows;
}
