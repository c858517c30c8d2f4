#include "config.h"

#include "tpt-query-due.h"

#include <string.h>

#include "tpt-store-private.h"

GArray *
tpt_store_read_rows (TptStmt *stmt, guint size, TptFillFunc fill, GError **error)
{
  g_autoptr (GArray) rows = g_array_new (FALSE, TRUE, size);
  GError *failure = NULL;

  if (stmt == NULL)
    return NULL;
  while (tpt_stmt_next (stmt, &failure))
    {
      g_array_set_size (rows, rows->len + 1);
      fill (stmt, rows->data + (gsize) (rows->len - 1) * size);
    }
  if (failure == NULL)
    return g_steal_pointer (&rows);
  g_propagate_error (error, failure);
  return NULL;
}

static void
copy_word (char *word, gsize size, TptStmt *stmt, int column)
{
  const char *text = tpt_stmt_text (stmt, column);

  if (text != NULL)
    g_strlcpy (word, text, size);
}

static void
fill_visit (TptStmt *stmt, gpointer data)
{
  TptVisitRow *row = data;

  row->id = tpt_stmt_int (stmt, 0);
  row->station_id = tpt_stmt_int (stmt, 1);
  row->at = tpt_stmt_instant (stmt, 2);
  row->frames_on_card = tpt_stmt_is_null (stmt, 3) ? -1 : tpt_stmt_int (stmt, 3);
  copy_word (row->found, sizeof row->found, stmt, 4);
}

GArray *
tpt_store_read_visit_rows (TptStore *self, TptInstant on, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (
    self->db,
    "SELECT id, station_id, at, frames_on_card, found FROM visits WHERE at <= ?1 ORDER BY station_id, at, id", error);

  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_instant (stmt, 1, on);
  return tpt_store_read_rows (stmt, sizeof (TptVisitRow), fill_visit, error);
}

static void
fill_fitting (TptStmt *stmt, gpointer data)
{
  TptFittingRow *row = data;

  row->unit_id = tpt_stmt_int (stmt, 0);
  row->deployment_id = tpt_stmt_int (stmt, 1);
  row->from = tpt_stmt_instant (stmt, 2);
  row->to = tpt_stmt_instant (stmt, 3);
}

GArray *
tpt_store_read_fitting_rows (TptStore *self, TptInstant on, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT unit_id, deployment_id, from_at, CASE WHEN to_at <= ?1 THEN to_at END FROM fittings"
                    " WHERE from_at <= ?1 ORDER BY unit_id, from_at, id",
                    error);

  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_instant (stmt, 1, on);
  return tpt_store_read_rows (stmt, sizeof (TptFittingRow), fill_fitting, error);
}

static void
fill_reading (TptStmt *stmt, gpointer data)
{
  TptReadingRow *row = data;

  row->unit_id = tpt_stmt_int (stmt, 0);
  row->visit_id = tpt_stmt_int (stmt, 1);
  row->at = TPT_NO_INSTANT;
  row->volts = tpt_stmt_double (stmt, 2);
  row->percent = tpt_stmt_double (stmt, 3);
  copy_word (row->action, sizeof row->action, stmt, 4);
  copy_word (row->state, sizeof row->state, stmt, 5);
}

GArray *
tpt_store_read_reading_rows (TptStore *self, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db, "SELECT unit_id, visit_id, volts, percent, action, state FROM readings ORDER BY unit_id", error);

  return tpt_store_read_rows (stmt, sizeof (TptReadingRow), fill_reading, error);
}

static void
fill_trigger (TptStmt *stmt, gpointer data)
{
  TptTriggerRow *row = data;

  row->deployment_id = tpt_stmt_int (stmt, 0);
  row->at = tpt_stmt_instant (stmt, 1);
}

GArray *
tpt_store_read_trigger_rows (TptStore *self, TptInstant from, TptInstant on, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT t.deployment_id, t.start_at FROM deployments d CROSS JOIN triggers t ON t.deployment_id = d.id"
                    " WHERE t.start_at >= ?1 AND t.start_at <= ?2 AND t.frames > 0"
                    " AND t.batch_id IN (SELECT id FROM batches WHERE active) ORDER BY t.deployment_id, t.start_at",
                    error);

  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_instant (stmt, 1, from);
  tpt_stmt_bind_instant (stmt, 2, on);
  return tpt_store_read_rows (stmt, sizeof (TptTriggerRow), fill_trigger, error);
}

static void
fill_card (TptStmt *stmt, gpointer data)
{
  TptCardRow *row = data;

  row->deployment_id = tpt_stmt_int (stmt, 0);
  row->frames = tpt_stmt_int (stmt, 1);
  row->bytes = tpt_stmt_int (stmt, 2);
}

GArray *
tpt_store_read_card_rows (TptStore *self, TptInstant on, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT deployment_id, sum(frames), sum(bytes) FROM batches WHERE active AND deployment_id IS NOT NULL"
                    " AND last_at <= ?1 GROUP BY deployment_id ORDER BY deployment_id",
                    error);

  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_instant (stmt, 1, on);
  return tpt_store_read_rows (stmt, sizeof (TptCardRow), fill_card, error);
}
