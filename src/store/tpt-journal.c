#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define SQLITE_ENABLE_SESSION 1
#define SQLITE_ENABLE_PREUPDATE_HOOK 1
#include <sqlite3.h>

#include "tpt-error.h"
#include "tpt-schema.h"
#include "tpt-store-private.h"

/* Everything a user changes by hand. Frames, triggers and files set aside come
 * and go with their batch. */
static const char *const journaled[] = {
  "settings", "stations", "tracks",  "units",        "deployments", "fittings",
  "visits",   "readings", "species", "common_names", "batches",     "observations",
  "unit_log", "stock",    "frames",  "triggers",     "frame_marks", "clock_pieces",
};

static gboolean
start_session (TptAction *self, GError **error)
{
  sqlite3 *handle = tpt_db_get_handle (self->store->db);
  int code = sqlite3session_create (handle, "main", &self->session);

  for (gsize i = 0; code == SQLITE_OK && i < G_N_ELEMENTS (journaled); i++)
    code = sqlite3session_attach (self->session, journaled[i]);
  if (code == SQLITE_OK)
    return TRUE;
  tpt_db_set_error (self->store->db, code, error);
  return FALSE;
}

static TptAction *
begin_action (TptStore *store, const char *kind, GError **error)
{
  g_autoptr (TptAction) self = NULL;

  g_return_val_if_fail (store->action == NULL, NULL);

  if (store->read_only)
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_PROJECT, _("%s can be read but not written here"), store->path);
      return NULL;
    }

  self = g_new0 (TptAction, 1);
  self->store = store;
  store->action = self;
  self->kind = kind;
  self->transaction = tpt_transaction_begin (store->db, error);
  if (self->transaction == NULL || !start_session (self, error))
    return NULL;
  return g_steal_pointer (&self);
}

TptAction *
tpt_action_begin (TptStore *store, const char *what, GError **error)
{
  TptAction *self = begin_action (store, "do", error);

  if (self != NULL)
    self->what = g_strdup (what);
  return self;
}

void
tpt_action_pause (TptAction *self)
{
  sqlite3session_enable (self->session, 0);
}

void
tpt_action_resume (TptAction *self)
{
  sqlite3session_enable (self->session, 1);
}

gboolean
tpt_action_mark (TptAction *self, GError **error)
{
  return tpt_db_exec (self->store->db, "SAVEPOINT mark", error);
}

gboolean
tpt_action_return_to_mark (TptAction *self, GError **error)
{
  return tpt_db_exec (self->store->db, "ROLLBACK TO mark", error);
}

/* Says in the file's contents when a table last changed. */
static gboolean
touch_contents (TptStore *store, int size, void *changeset, GError **error)
{
  sqlite3_changeset_iter *iter = NULL;
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  gboolean good = TRUE;

  if (sqlite3changeset_start (&iter, size, changeset) != SQLITE_OK)
    return TRUE;
  while (good && sqlite3changeset_next (iter) == SQLITE_ROW)
    {
      g_autoptr (TptStmt) stmt = NULL;
      const char *table = NULL;
      int columns, operation;

      sqlite3changeset_op (iter, &table, &columns, &operation, NULL);
      if (!g_hash_table_add (seen, (gpointer) g_intern_string (table)))
        continue;
      stmt = tpt_db_prepare (store->db, "UPDATE gpkg_contents SET last_change = ?1 WHERE table_name = ?2", error);
      good = stmt != NULL;
      if (!good)
        break;
      tpt_stmt_bind_instant (stmt, 1, tpt_store_get_now (store));
      tpt_stmt_bind_text (stmt, 2, table);
      good = tpt_stmt_run (stmt, error);
    }
  sqlite3changeset_finalize (iter);
  return good;
}

static gboolean
write_entry (TptAction *self, int size, const void *changeset, GError **error)
{
  TptStore *store = self->store;
  g_autofree char *uuid = tpt_store_new_uuid (store);
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (store->db,
                    "INSERT INTO journal (uuid, at, who, what, kind, of_id, schema, changeset)"
                    " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
                    error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_text (stmt, 1, uuid);
  tpt_stmt_bind_instant (stmt, 2, tpt_store_get_now (store));
  tpt_stmt_bind_text (stmt, 3, store->seed != NULL ? store->seed : g_get_user_name ());
  tpt_stmt_bind_text (stmt, 4, self->what);
  tpt_stmt_bind_text (stmt, 5, self->kind);
  if (self->of_id != 0)
    tpt_stmt_bind_int (stmt, 6, self->of_id);
  tpt_stmt_bind_int (stmt, 7, TPT_SCHEMA_VERSION);
  tpt_stmt_bind_blob (stmt, 8, changeset, (gsize) size);
  return tpt_stmt_run (stmt, error);
}

gboolean
tpt_action_commit (TptAction *self, GError **error)
{
  void *changeset = NULL;
  int size = 0;
  int code = sqlite3session_changeset (self->session, &size, &changeset);
  gboolean good;

  if (code != SQLITE_OK)
    {
      tpt_db_set_error (self->store->db, code, error);
      return FALSE;
    }

  sqlite3session_enable (self->session, 0);
  good = size == 0 || (touch_contents (self->store, size, changeset, error) && write_entry (self, size, changeset, error));
  sqlite3_free (changeset);
  return good && tpt_transaction_commit (self->transaction, error);
}

void
tpt_action_free (TptAction *self)
{
  if (self->session != NULL)
    sqlite3session_delete (self->session);
  g_clear_pointer (&self->transaction, tpt_transaction_free);
  self->store->action = NULL;
  g_free (self->what);
  g_free (self);
}

typedef struct {
  gint64 id;
  gint64 of_id;
  gint64 schema;
  char kind;
} Entry;

/* The stacks follow from the journal alone: a new action ends what could be
 * redone, an undo moves its entry over, a redo moves it back. Entries of
 * another file version stay where they are: their changes may not fit. */
static void
replay (const Entry *entry, GArray *undo, GArray *redo)
{
  if (entry->kind == 'd')
    {
      g_array_append_val (undo, entry->id);
      g_array_set_size (redo, 0);
    }
  else if (entry->kind == 'u' && undo->len > 0)
    {
      g_array_set_size (undo, undo->len - 1);
      g_array_append_val (redo, entry->of_id);
    }
  else if (entry->kind == 'r' && redo->len > 0)
    {
      g_array_set_size (redo, redo->len - 1);
      g_array_append_val (undo, entry->of_id);
    }
  if (entry->schema != TPT_SCHEMA_VERSION)
    {
      g_array_set_size (undo, 0);
      g_array_set_size (redo, 0);
    }
}

/* What was replayed is remembered, so that the thousandth undo in a row costs no
 * more than the first. It holds as long as the last entry of it is the same: an
 * entry that was read before its action was dropped is not. */
static gboolean
check_replayed (TptStore *self, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, "SELECT uuid FROM journal WHERE id = ?1", error);
  GError *failure = NULL;

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, self->replayed);
  if (tpt_stmt_next (stmt, &failure) && g_strcmp0 (tpt_stmt_text (stmt, 0), self->replayed_uuid) == 0)
    return TRUE;
  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  g_array_set_size (self->undo, 0);
  g_array_set_size (self->redo, 0);
  self->replayed = 0;
  g_clear_pointer (&self->replayed_uuid, g_free);
  return TRUE;
}

static gboolean
read_stacks (TptStore *self, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (
    self->db, "SELECT id, coalesce(of_id, 0), schema, kind, uuid FROM journal WHERE id > ?1 ORDER BY id", error);
  GError *failure = NULL;

  if (stmt == NULL || !check_replayed (self, error))
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, self->replayed);
  while (tpt_stmt_next (stmt, &failure))
    {
      Entry entry = { tpt_stmt_int (stmt, 0), tpt_stmt_int (stmt, 1), tpt_stmt_int (stmt, 2), *tpt_stmt_text (stmt, 3) };

      replay (&entry, self->undo, self->redo);
      self->replayed = entry.id;
      g_free (self->replayed_uuid);
      self->replayed_uuid = g_strdup (tpt_stmt_text (stmt, 4));
    }
  if (failure != NULL)
    g_propagate_error (error, failure);
  return failure == NULL;
}

/* The top of the undo or the redo stack; 0 when it is empty. */
static gint64
find_top (TptStore *self, gboolean want_redo, GError **error)
{
  GArray *stack = want_redo ? self->redo : self->undo;

  if (!read_stacks (self, error) || stack->len == 0)
    return 0;
  return g_array_index (stack, gint64, stack->len - 1);
}

static char *
read_what (TptStore *self, gint64 id, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, "SELECT what FROM journal WHERE id = ?1", error);

  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_int (stmt, 1, id);
  return tpt_stmt_next (stmt, error) ? g_strdup (tpt_stmt_text (stmt, 0)) : NULL;
}

char *
tpt_store_peek_undo (TptStore *self, GError **error)
{
  gint64 id = find_top (self, FALSE, error);

  return id != 0 ? read_what (self, id, error) : NULL;
}

char *
tpt_store_peek_redo (TptStore *self, GError **error)
{
  gint64 id = find_top (self, TRUE, error);

  return id != 0 ? read_what (self, id, error) : NULL;
}

typedef struct {
  int score_column;
  int kind; /* of the conflict that stopped it, or 0 */
} Conflict;

/* Scores are worked out anew at any time, past the journal: one that came since
 * gives way. */
static int
judge_conflict_cb (void *data, int kind, sqlite3_changeset_iter *iter)
{
  Conflict *conflict = data;

  if (kind == SQLITE_CHANGESET_DATA && tpt_journal_differs_by_score (iter, conflict->score_column))
    return SQLITE_CHANGESET_REPLACE;
  conflict->kind = kind;
  return SQLITE_CHANGESET_ABORT;
}

static gboolean
apply (TptStore *self, const void *changeset, int size, gboolean backwards, int *conflict, GError **error)
{
  void *inverted = NULL;
  Conflict found = { 0 };
  int inverted_size = 0;
  int code;

  *conflict = 0;
  if (!tpt_fault_point ("apply", error) || !tpt_journal_find_score (self->db, &found.score_column, error))
    return FALSE;
  if (backwards)
    {
      code = sqlite3changeset_invert (size, changeset, &inverted_size, &inverted);
      if (code != SQLITE_OK)
        {
          tpt_db_set_error (self->db, code, error);
          return FALSE;
        }
    }
  code = sqlite3changeset_apply (tpt_db_get_handle (self->db), backwards ? inverted_size : size,
                                 backwards ? inverted : (void *) changeset, NULL, judge_conflict_cb, &found);
  sqlite3_free (inverted);
  *conflict = found.kind;
  if (code == SQLITE_OK)
    return TRUE;
  if (*conflict != 0)
    g_set_error_literal (error, TPT_ERROR, TPT_ERROR_CONFLICT,
                         _("This can no longer be taken back or done again: what it touched has been changed since"));
  else
    tpt_db_set_error (self->db, code, error);
  return FALSE;
}

static GBytes *
read_changeset (TptStore *self, gint64 id, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, "SELECT changeset FROM journal WHERE id = ?1", error);
  gconstpointer data;
  gsize size;

  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_int (stmt, 1, id);
  if (!tpt_stmt_next (stmt, error))
    return NULL;
  data = tpt_stmt_blob (stmt, 0, &size);
  return g_bytes_new (data, size);
}

/* A deployment whose pictures were withdrawn by an earlier undo is still
 * referred to by them. When that stands in the way they go for good: the
 * pictures themselves stay in their folder and can be taken in again. */
static gboolean
apply_entry (TptAction *action, gboolean backwards, GError **error)
{
  TptStore *self = action->store;
  g_autoptr (GBytes) changeset = read_changeset (self, action->of_id, error);
  g_autoptr (GError) failure = NULL;
  gconstpointer data;
  gsize size;
  int conflict;

  if (changeset == NULL)
    return FALSE;
  data = g_bytes_get_data (changeset, &size);
  if (apply (self, data, (int) size, backwards, &conflict, &failure))
    return TRUE;
  if (conflict != SQLITE_CHANGESET_FOREIGN_KEY)
    {
      g_propagate_error (error, g_steal_pointer (&failure));
      return FALSE;
    }
  tpt_action_pause (action);
  if (!tpt_store_purge_withdrawn (self, error))
    return FALSE;
  tpt_action_resume (action);
  return apply (self, data, (int) size, backwards, &conflict, error);
}

/* Which entry it is can be said only once nobody else may write. */
static gboolean
choose_entry (TptAction *action, gboolean backwards, GError **error)
{
  GError *failure = NULL;

  action->of_id = find_top (action->store, !backwards, &failure);
  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  if (action->of_id == 0)
    {
      g_set_error_literal (error, TPT_ERROR, TPT_ERROR_USAGE,
                           backwards ? _("There is nothing to undo") : _("There is nothing to redo"));
      return FALSE;
    }
  action->what = read_what (action->store, action->of_id, error);
  return action->what != NULL;
}

static gboolean
undo_or_redo (TptStore *self, gboolean backwards, GError **error)
{
  g_autoptr (TptAction) action = begin_action (self, backwards ? "undo" : "redo", error);

  return action != NULL && choose_entry (action, backwards, error) && apply_entry (action, backwards, error) &&
         tpt_action_commit (action, error);
}

gboolean
tpt_store_undo (TptStore *self, GError **error)
{
  return undo_or_redo (self, TRUE, error);
}

gboolean
tpt_store_redo (TptStore *self, GError **error)
{
  return undo_or_redo (self, FALSE, error);
}

gboolean
tpt_store_purge_withdrawn (TptStore *self, GError **error)
{
  return tpt_db_exec (self->db,
                      "DELETE FROM frames WHERE batch_id IN (SELECT id FROM batches WHERE NOT active);"
                      "DELETE FROM triggers WHERE batch_id IN (SELECT id FROM batches WHERE NOT active);"
                      "DELETE FROM batches WHERE NOT active;",
                      error);
}
