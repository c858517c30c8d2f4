/* The limits between triggers, moved by hand. */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-error.h"
#include "tpt-frames.h"
#include "tpt-opinions.h"
#include "tpt-store-private.h"

/* Runs @sql with up to two keys. */
static gboolean
run_with_keys (TptStore *self, const char *sql, gint64 first, gint64 second, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, sql, error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, first);
  tpt_stmt_bind_int (stmt, 2, second);
  return tpt_stmt_run (stmt, error);
}

/* Its span and number follow from its frames; one without frames keeps its span. */
static gboolean
measure_trigger (TptStore *self, gint64 trigger_id, GError **error)
{
  return run_with_keys (self,
                        "UPDATE triggers SET start_at = coalesce(m.first, start_at), end_at = coalesce(m.last, end_at),"
                        " frames = m.n, blank_score = NULL FROM (SELECT min(at) AS first, max(at) AS last, count(*) AS n"
                        "  FROM frames WHERE trigger_id = ?1) m WHERE triggers.id = ?1 AND ?2 = ?2",
                        trigger_id, 0, error);
}

/* What was said of the trigger is said of its present span. */
static gboolean
stretch_opinions (TptStore *self, gint64 trigger_id, GError **error)
{
  return run_with_keys (self,
                        "UPDATE observations SET start_at = t.start_at, end_at = t.end_at FROM triggers t"
                        " WHERE t.id = ?1 AND observations.trigger_id = ?1 AND observations.frame_id IS NULL AND ?2 = ?2",
                        trigger_id, 0, error);
}

static gboolean
add_trigger_beside (TptStore *self, gint64 trigger_id, gint64 *added, GError **error)
{
  g_autofree char *uuid = tpt_store_new_uuid (self);
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db,
                                             "INSERT INTO triggers (uuid, batch_id, deployment_id, start_at, end_at, frames)"
                                             " SELECT ?2, batch_id, deployment_id, start_at, end_at, 0 FROM triggers WHERE id = ?1",
                                             error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, trigger_id);
  tpt_stmt_bind_text (stmt, 2, uuid);
  if (!tpt_stmt_run (stmt, error))
    return FALSE;
  *added = tpt_db_last_id (self->db);
  return TRUE;
}

static gboolean
refuse (GError **error, const char *why)
{
  g_set_error_literal (error, TPT_ERROR, TPT_ERROR_DATA, why);
  return FALSE;
}

/* The trigger of a frame, which must not be its first frame. */
static gboolean
find_later_part (TptStore *self, gint64 frame_id, gint64 *trigger_id, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db,
                                             "SELECT f.trigger_id, EXISTS (SELECT 1 FROM frames e WHERE e.trigger_id = f.trigger_id"
                                             " AND (e.at < f.at OR (e.at = f.at AND e.id < f.id))) FROM frames f"
                                             " JOIN batches b ON b.id = f.batch_id WHERE f.id = ?1 AND b.active",
                                             error);
  GError *failure = NULL;

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, frame_id);
  if (!tpt_stmt_next (stmt, &failure))
    {
      if (failure == NULL)
        return refuse (error, _("This frame is no longer on record"));
      g_propagate_error (error, failure);
      return FALSE;
    }
  if (tpt_stmt_is_null (stmt, 0))
    return refuse (error, _("This frame has no time and belongs to no trigger"));
  if (tpt_stmt_int (stmt, 1) == 0)
    return refuse (error, _("This is the first frame of its trigger: nothing lies before it to split off"));
  *trigger_id = tpt_stmt_int (stmt, 0);
  return TRUE;
}

/* Observations of single frames that moved name the frame and go with it. */
static const char move_later_sql[] =
  "UPDATE frames SET trigger_id = ?2 WHERE trigger_id = (SELECT trigger_id FROM frames WHERE id = ?1) AND id IN ("
  " SELECT e.id FROM frames f JOIN frames e ON e.trigger_id = f.trigger_id WHERE f.id = ?1"
  " AND (e.at > f.at OR (e.at = f.at AND e.id >= f.id)))";
static const char follow_frames_sql[] =
  "UPDATE observations SET trigger_id = ?2 WHERE trigger_id = ?1 AND frame_id IN (SELECT id FROM frames WHERE trigger_id = ?2)";

gboolean
tpt_store_split_trigger (TptStore *self, gint64 frame_id, gint64 *trigger_id, GError **error)
{
  gint64 old;

  g_return_val_if_fail (self->action != NULL, FALSE);

  return find_later_part (self, frame_id, &old, error) && add_trigger_beside (self, old, trigger_id, error) &&
         run_with_keys (self, move_later_sql, frame_id, *trigger_id, error) &&
         run_with_keys (self, follow_frames_sql, old, *trigger_id, error) && measure_trigger (self, old, error) &&
         measure_trigger (self, *trigger_id, error) && stretch_opinions (self, old, error) &&
         stretch_opinions (self, *trigger_id, error);
}

static gboolean
find_before (TptStore *self, gint64 trigger_id, gint64 *before, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT p.id FROM triggers t JOIN triggers p ON p.batch_id = t.batch_id AND p.frames > 0"
                    " AND (p.start_at < t.start_at OR (p.start_at = t.start_at AND p.id < t.id))"
                    " WHERE t.id = ?1 ORDER BY p.start_at DESC, p.id DESC LIMIT 1",
                    error);
  GError *failure = NULL;

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, trigger_id);
  if (tpt_stmt_next (stmt, &failure))
    {
      *before = tpt_stmt_int (stmt, 0);
      return TRUE;
    }
  if (failure == NULL)
    return refuse (error, _("This is the first trigger of its card: there is none before it to join"));
  g_propagate_error (error, failure);
  return FALSE;
}

/* Rows of the same rank and person: ?2 is not used. */
#define SAME "m.trigger_id = ?1 AND coalesce(m.opinion, 1) = coalesce(o.opinion, 1) AND m.identified_by IS o.identified_by"

/* The greater number stays: one trigger may show the same herd twice. */
static const char greatest_sql[] =
  "UPDATE observations AS o SET count = (SELECT max(m.count) FROM observations m WHERE " SAME
  " AND m.type = o.type AND m.species_id IS o.species_id) WHERE o.trigger_id = ?1 AND ?2 = ?2";
static const char once_sql[] =
  "DELETE FROM observations AS o WHERE o.trigger_id = ?1 AND ?2 = ?2 AND o.frame_id IS NULL AND (EXISTS (SELECT 1"
  " FROM observations m WHERE " SAME " AND m.frame_id IS NULL AND m.type = o.type AND m.species_id IS o.species_id"
  "  AND m.individual IS o.individual AND m.id < o.id)"
  " OR (o.type IN ('blank', 'unclassified') AND EXISTS (SELECT 1 FROM observations m WHERE " SAME
  "  AND m.type NOT IN ('blank', 'unclassified'))))";

gboolean
tpt_store_join_trigger (TptStore *self, gint64 *trigger_id, GError **error)
{
  TptTriggerFacts facts;
  gint64 later = *trigger_id, before;
  GError *failure = NULL;

  g_return_val_if_fail (self->action != NULL, FALSE);

  if (!tpt_store_read_trigger (self, later, &facts, &failure))
    {
      if (failure == NULL)
        return refuse (error, _("This trigger is no longer on record"));
      g_propagate_error (error, failure);
      return FALSE;
    }
  if (!find_before (self, later, &before, error))
    return FALSE;
  *trigger_id = before;
  return run_with_keys (self, "UPDATE frames SET trigger_id = ?2 WHERE trigger_id = ?1", later, before, error) &&
         run_with_keys (self, "UPDATE observations SET trigger_id = ?2 WHERE trigger_id = ?1", later, before, error) &&
         measure_trigger (self, later, error) && measure_trigger (self, before, error) &&
         stretch_opinions (self, before, error) && run_with_keys (self, greatest_sql, before, 0, error) &&
         run_with_keys (self, once_sql, before, 0, error);
}
