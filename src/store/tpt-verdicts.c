#include "config.h"

#include "tpt-verdicts.h"

#include "tpt-store-private.h"

static void
fill_firing (TptStmt *stmt, gpointer row)
{
  *(TptFiring *) row = (TptFiring){ tpt_stmt_int (stmt, 0), tpt_stmt_instant (stmt, 1), tpt_stmt_instant (stmt, 2) };
}

GArray *
tpt_store_read_firings (TptStore *self, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT t.deployment_id, t.start_at, coalesce(t.end_at, t.start_at) FROM triggers t"
                    " JOIN batches b ON b.id = t.batch_id WHERE b.active AND t.frames > 0 AND t.start_at IS NOT NULL"
                    " ORDER BY t.deployment_id, t.start_at, t.id",
                    error);

  return tpt_store_read_rows (stmt, sizeof (TptFiring), fill_firing, error);
}

static void
fill_verdict (TptStmt *stmt, gpointer row)
{
  *(TptVerdict *) row = (TptVerdict){ tpt_stmt_int (stmt, 0), tpt_stmt_instant (stmt, 1), tpt_stmt_instant (stmt, 2),
                                      tpt_stmt_int (stmt, 3) != 0 };
}

GArray *
tpt_store_read_verdicts (TptStore *self, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT o.deployment_id, coalesce(t.start_at, f.at, o.start_at) AS start,"
                    "  coalesce(t.end_at, t.start_at, f.at, o.end_at, o.start_at), o.type = 'blank'"
                    " FROM observations o LEFT JOIN frames f ON f.id = o.frame_id"
                    " LEFT JOIN triggers t ON t.id = coalesce(o.trigger_id, f.trigger_id) WHERE o.type <> 'unclassified'"
                    "  AND coalesce(o.opinion, 1) < 2"
                    " ORDER BY o.deployment_id, start, o.id",
                    error);

  return tpt_store_read_rows (stmt, sizeof (TptVerdict), fill_verdict, error);
}
