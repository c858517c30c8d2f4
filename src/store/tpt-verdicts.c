#include "config.h"

#include "tpt-verdicts.h"

#include "tpt-store-private.h"

GArray *
tpt_store_read_firings (TptStore *self, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT t.deployment_id, t.start_at, coalesce(t.end_at, t.start_at) FROM triggers t"
                    " JOIN batches b ON b.id = t.batch_id WHERE b.active AND t.start_at IS NOT NULL"
                    " ORDER BY t.deployment_id, t.start_at, t.id",
                    error);
  g_autoptr (GArray) rows = g_array_new (FALSE, FALSE, sizeof (TptFiring));
  GError *failure = NULL;

  if (stmt == NULL)
    return NULL;
  while (tpt_stmt_next (stmt, &failure))
    {
      TptFiring row = { tpt_stmt_int (stmt, 0), tpt_stmt_instant (stmt, 1), tpt_stmt_instant (stmt, 2) };

      g_array_append_val (rows, row);
    }
  if (failure == NULL)
    return g_steal_pointer (&rows);
  g_propagate_error (error, failure);
  return NULL;
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
                    " ORDER BY o.deployment_id, start, o.id",
                    error);
  g_autoptr (GArray) rows = g_array_new (FALSE, FALSE, sizeof (TptVerdict));
  GError *failure = NULL;

  if (stmt == NULL)
    return NULL;
  while (tpt_stmt_next (stmt, &failure))
    {
      TptVerdict row = { tpt_stmt_int (stmt, 0), tpt_stmt_instant (stmt, 1), tpt_stmt_instant (stmt, 2),
                         tpt_stmt_int (stmt, 3) != 0 };

      g_array_append_val (rows, row);
    }
  if (failure == NULL)
    return g_steal_pointer (&rows);
  g_propagate_error (error, failure);
  return NULL;
}
