#include "config.h"

#include "tpt-scores.h"

#include "tpt-batches.h"
#include "tpt-store-private.h"

#define WANTED "((?1 IS NULL OR b.batch = ?1) AND (?2 OR t.blank_score IS NULL))"

static void
fill_id (TptStmt *stmt, gpointer row)
{
  *(gint64 *) row = tpt_stmt_int (stmt, 0);
}

GArray *
tpt_store_list_unscored (TptStore *self, const char *batch, gboolean again, GError **error)
{
  g_autoptr (TptStmt) stmt = NULL;

  if (!tpt_store_check_batch (self, batch, error))
    return NULL;
  stmt = tpt_db_prepare (self->db,
                         "SELECT DISTINCT t.deployment_id FROM triggers t JOIN batches b ON b.id = t.batch_id"
                         " WHERE b.active AND t.frames > 0 AND t.start_at IS NOT NULL AND " WANTED " ORDER BY 1",
                         error);
  if (stmt != NULL)
    {
      tpt_stmt_bind_text (stmt, 1, batch);
      tpt_stmt_bind_int (stmt, 2, again);
    }
  return tpt_store_read_rows (stmt, sizeof (gint64), fill_id, error);
}

static void
fill_trigger (TptStmt *stmt, gpointer row)
{
  *(TptScoreTrigger *) row = (TptScoreTrigger){ .trigger_id = tpt_stmt_int (stmt, 0),
                                                .start = tpt_stmt_instant (stmt, 1),
                                                .frames = (int) tpt_stmt_int (stmt, 2),
                                                .wanted = tpt_stmt_int (stmt, 3) != 0 };
}

GArray *
tpt_store_read_score_triggers (TptStore *self, gint64 deployment_id, const char *batch, gboolean again, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT t.id, t.start_at, t.frames, " WANTED " FROM triggers t JOIN batches b ON b.id = t.batch_id"
                    " WHERE t.deployment_id = ?3 AND b.active AND t.frames > 0 AND t.start_at IS NOT NULL"
                    " ORDER BY t.start_at, t.id",
                    error);

  if (stmt != NULL)
    {
      tpt_stmt_bind_text (stmt, 1, batch);
      tpt_stmt_bind_int (stmt, 2, again);
      tpt_stmt_bind_int (stmt, 3, deployment_id);
    }
  return tpt_store_read_rows (stmt, sizeof (TptScoreTrigger), fill_trigger, error);
}

static void
clear_picture (gpointer data)
{
  g_free (((TptScorePicture *) data)->file);
}

static void
fill_picture (TptStmt *stmt, gpointer row)
{
  *(TptScorePicture *) row = (TptScorePicture){ .file = g_strdup (tpt_stmt_text (stmt, 0)),
                                                .flash = tpt_stmt_is_null (stmt, 1) ? -1 : tpt_stmt_int (stmt, 1) != 0 };
}

GArray *
tpt_store_read_score_pictures (TptStore *self, gint64 trigger_id, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db,
                                             "SELECT file, flash FROM frames WHERE trigger_id = ?1 AND kind IS NOT 'clip'"
                                             " ORDER BY at, id",
                                             error);
  GArray *rows;

  if (stmt != NULL)
    tpt_stmt_bind_int (stmt, 1, trigger_id);
  rows = tpt_store_read_rows (stmt, sizeof (TptScorePicture), fill_picture, error);
  if (rows != NULL)
    g_array_set_clear_func (rows, clear_picture);
  return rows;
}

static gboolean
write_score (TptStore *self, const TptScore *score, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, "UPDATE triggers SET blank_score = ?2 WHERE id = ?1 AND frames = ?3", error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, score->trigger_id);
  tpt_stmt_bind_double (stmt, 2, score->score);
  tpt_stmt_bind_int (stmt, 3, score->frames);
  return tpt_stmt_run (stmt, error);
}

gboolean
tpt_store_write_scores (TptStore *self, const TptScore *scores, gsize n, GError **error)
{
  g_autoptr (TptAction) action = tpt_action_begin (self, "score", error);

  if (action == NULL)
    return FALSE;
  tpt_action_pause (action);
  for (gsize i = 0; i < n; i++)
    if (!write_score (self, &scores[i], error))
      return FALSE;
  return tpt_action_commit (action, error);
}
