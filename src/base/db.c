#include "config.h"

#include "db.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <sqlite3.h>
#include <stdlib.h>

#include "tpt-error.h"

/* Opcodes of SQLite's virtual machine between two looks at the cancellable: a
 * few tenths of a millisecond. */
#define PROGRESS_OPS 20000

struct _TptDb {
  sqlite3 *handle;
  char *path;                /* (owned) */
  GHashTable *statements;    /* (owned) (element-type utf8 TptStmt) */
  GCancellable *cancellable; /* (owned) (nullable) */
};

struct _TptStmt {
  TptDb *db;            /* (unowned) */
  sqlite3_stmt *handle; /* finalized with the statement */
  gboolean cached;
  gboolean in_use;
};

struct _TptTransaction {
  TptDb *db; /* (unowned) */
  gboolean open;
};

static int
error_code_for (int code)
{
  switch (code & 0xff)
    {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return TPT_ERROR_BUSY;
    case SQLITE_CONSTRAINT:
    case SQLITE_MISMATCH:
    case SQLITE_TOOBIG:
      return TPT_ERROR_DATA;
    case SQLITE_FULL:
    case SQLITE_IOERR:
    case SQLITE_READONLY:
      return TPT_ERROR_IO;
    default:
      return TPT_ERROR_PROJECT;
    }
}

void
tpt_db_set_error (TptDb *db, int code, GError **error)
{
  if ((code & 0xff) == SQLITE_INTERRUPT)
    g_set_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, _("Cancelled"));
  else if ((code & 0xff) == SQLITE_BUSY)
    g_set_error (error, TPT_ERROR, TPT_ERROR_BUSY, _("%s is in use by another program; try again in a moment"), db->path);
  else if ((code & 0xff) == SQLITE_NOTADB)
    g_set_error (error, TPT_ERROR, TPT_ERROR_PROJECT, _("%s is not a Tapetum project"), db->path);
  else if ((code & 0xff) == SQLITE_CORRUPT)
    g_set_error (error, TPT_ERROR, TPT_ERROR_PROJECT, _("%s is damaged (%s)"), db->path, sqlite3_errmsg (db->handle));
  else
    g_set_error (error, TPT_ERROR, error_code_for (code), "%s: %s", db->path,
                 db->handle != NULL ? sqlite3_errmsg (db->handle) : sqlite3_errstr (code));
}

static void
free_statement (gpointer data)
{
  TptStmt *stmt = data;

  sqlite3_finalize (stmt->handle);
  g_free (stmt);
}

static int
busy_wait_ms (void)
{
  const char *value = g_getenv ("TAPETUM_BUSY_MS");

  return value != NULL ? atoi (value) : 5000;
}

TptDb *
tpt_db_open (const char *path, TptDbMode mode, GError **error)
{
  g_autoptr (TptDb) db = NULL;
  gboolean exists = g_file_test (path, G_FILE_TEST_EXISTS);
  int flags = SQLITE_OPEN_FULLMUTEX | SQLITE_OPEN_EXRESCODE;
  int code;

  if (mode == TPT_DB_CREATE && exists)
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("%s exists already and is left as it is"), path);
      return NULL;
    }
  if (mode != TPT_DB_CREATE && !g_file_test (path, G_FILE_TEST_IS_REGULAR))
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_PROJECT, exists ? _("%s is not a file") : _("There is no file %s"), path);
      return NULL;
    }
  flags |= mode == TPT_DB_READ ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE;
  if (mode == TPT_DB_CREATE)
    flags |= SQLITE_OPEN_CREATE;

  db = g_new0 (TptDb, 1);
  db->path = g_strdup (path);
  db->statements = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, free_statement);
  code = sqlite3_open_v2 (path, &db->handle, flags, NULL);
  if (code != SQLITE_OK)
    {
      tpt_db_set_error (db, code, error);
      return NULL;
    }

  sqlite3_busy_timeout (db->handle, busy_wait_ms ());
  if (!tpt_db_exec (db, "PRAGMA foreign_keys = ON; PRAGMA temp_store = MEMORY;", error))
    return NULL;
  return g_steal_pointer (&db);
}

void
tpt_db_close (TptDb *db)
{
  g_hash_table_unref (db->statements);
  sqlite3_close (db->handle);
  g_clear_object (&db->cancellable);
  g_free (db->path);
  g_free (db);
}

sqlite3 *
tpt_db_get_handle (TptDb *db)
{
  return db->handle;
}

static int
ask_cancelled_cb (gpointer data)
{
  return g_cancellable_is_cancelled (data);
}

void
tpt_db_set_cancellable (TptDb *db, GCancellable *cancellable)
{
  g_set_object (&db->cancellable, cancellable);
  sqlite3_progress_handler (db->handle, cancellable != NULL ? PROGRESS_OPS : 0, ask_cancelled_cb, cancellable);
}

gboolean
tpt_db_exec (TptDb *db, const char *sql, GError **error)
{
  int code;

  if (!tpt_fault_point ("sql", error))
    return FALSE;
  code = sqlite3_exec (db->handle, sql, NULL, NULL, NULL);
  if (code != SQLITE_OK)
    {
      tpt_db_set_error (db, code, error);
      return FALSE;
    }
  return TRUE;
}

gboolean
tpt_db_query_int (TptDb *db, const char *sql, gint64 *value, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (db, sql, error);
  GError *failure = NULL;

  *value = 0;
  if (stmt == NULL)
    return FALSE;
  if (tpt_stmt_next (stmt, &failure))
    *value = tpt_stmt_int (stmt, 0);
  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  return TRUE;
}

char *
tpt_db_query_text (TptDb *db, const char *sql, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (db, sql, error);

  if (stmt == NULL || !tpt_stmt_next (stmt, error))
    return NULL;
  return g_strdup (tpt_stmt_text (stmt, 0));
}

static TptStmt *
compile (TptDb *db, const char *sql, GError **error)
{
  TptStmt *stmt;
  sqlite3_stmt *handle = NULL;
  int code = sqlite3_prepare_v3 (db->handle, sql, -1, SQLITE_PREPARE_PERSISTENT, &handle, NULL);

  if (code != SQLITE_OK)
    {
      tpt_db_set_error (db, code, error);
      return NULL;
    }

  stmt = g_new0 (TptStmt, 1);
  stmt->db = db;
  stmt->handle = handle;
  return stmt;
}

TptStmt *
tpt_db_prepare (TptDb *db, const char *sql, GError **error)
{
  TptStmt *stmt = g_hash_table_lookup (db->statements, sql);

  if (stmt != NULL && !stmt->in_use)
    {
      stmt->in_use = TRUE;
      return stmt;
    }

  /* A text that is in use already (a query inside the same query's loop) gets
   * a statement of its own that is not kept. */
  if (stmt != NULL)
    return compile (db, sql, error);

  stmt = compile (db, sql, error);
  if (stmt != NULL)
    {
      stmt->cached = TRUE;
      stmt->in_use = TRUE;
      g_hash_table_insert (db->statements, g_strdup (sql), stmt);
    }
  return stmt;
}

void
tpt_stmt_unref (TptStmt *stmt)
{
  if (!stmt->cached)
    {
      free_statement (stmt);
      return;
    }
  sqlite3_reset (stmt->handle);
  sqlite3_clear_bindings (stmt->handle);
  stmt->in_use = FALSE;
}

void
tpt_stmt_bind_int (TptStmt *stmt, int index, gint64 value)
{
  sqlite3_bind_int64 (stmt->handle, index, value);
}

void
tpt_stmt_bind_double (TptStmt *stmt, int index, double value)
{
  if (isnan (value))
    sqlite3_bind_null (stmt->handle, index);
  else
    sqlite3_bind_double (stmt->handle, index, value);
}

void
tpt_stmt_bind_text (TptStmt *stmt, int index, const char *value)
{
  sqlite3_bind_text (stmt->handle, index, value, -1, SQLITE_TRANSIENT);
}

void
tpt_stmt_bind_blob (TptStmt *stmt, int index, const void *data, gsize size)
{
  sqlite3_bind_blob64 (stmt->handle, index, data, size, SQLITE_TRANSIENT);
}

void
tpt_stmt_bind_instant (TptStmt *stmt, int index, TptInstant value)
{
  g_autofree char *text = NULL;

  if (value != TPT_NO_INSTANT)
    text = tpt_instant_to_gpkg (value);
  tpt_stmt_bind_text (stmt, index, text);
}

void
tpt_stmt_bind_null (TptStmt *stmt, int index)
{
  sqlite3_bind_null (stmt->handle, index);
}

gboolean
tpt_stmt_next (TptStmt *stmt, GError **error)
{
  int code;

  if (!sqlite3_stmt_readonly (stmt->handle) && !tpt_fault_point ("sql", error))
    return FALSE;
  code = sqlite3_step (stmt->handle);
  if (code == SQLITE_ROW)
    return TRUE;
  if (code != SQLITE_DONE)
    tpt_db_set_error (stmt->db, code, error);
  return FALSE;
}

gboolean
tpt_stmt_run (TptStmt *stmt, GError **error)
{
  GError *failure = NULL;

  while (tpt_stmt_next (stmt, &failure))
    ;
  sqlite3_reset (stmt->handle);
  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  return TRUE;
}

gint64
tpt_stmt_int (TptStmt *stmt, int column)
{
  return sqlite3_column_int64 (stmt->handle, column);
}

double
tpt_stmt_double (TptStmt *stmt, int column)
{
  if (tpt_stmt_is_null (stmt, column))
    return NAN;
  return sqlite3_column_double (stmt->handle, column);
}

const char *
tpt_stmt_text (TptStmt *stmt, int column)
{
  return (const char *) sqlite3_column_text (stmt->handle, column);
}

const void *
tpt_stmt_blob (TptStmt *stmt, int column, gsize *size)
{
  const void *data = sqlite3_column_blob (stmt->handle, column);

  *size = (gsize) sqlite3_column_bytes (stmt->handle, column);
  return data;
}

TptInstant
tpt_stmt_instant (TptStmt *stmt, int column)
{
  return tpt_instant_from_gpkg (tpt_stmt_text (stmt, column));
}

gboolean
tpt_stmt_is_null (TptStmt *stmt, int column)
{
  return sqlite3_column_type (stmt->handle, column) == SQLITE_NULL;
}

gint64
tpt_db_last_id (TptDb *db)
{
  return sqlite3_last_insert_rowid (db->handle);
}

gint64
tpt_db_count_changes (TptDb *db)
{
  return sqlite3_total_changes64 (db->handle);
}

TptTransaction *
tpt_transaction_begin (TptDb *db, GError **error)
{
  TptTransaction *transaction;

  if (!tpt_db_exec (db, "BEGIN IMMEDIATE", error))
    return NULL;
  transaction = g_new0 (TptTransaction, 1);
  transaction->db = db;
  transaction->open = TRUE;
  return transaction;
}

gboolean
tpt_transaction_commit (TptTransaction *transaction, GError **error)
{
  if (!tpt_db_exec (transaction->db, "COMMIT", error))
    return FALSE;
  transaction->open = FALSE;
  return TRUE;
}

/* Rolling back goes past the fault points: it is what SQLite does by itself
 * when the program dies, so a failure here leaves the same state. */
void
tpt_transaction_free (TptTransaction *transaction)
{
  if (transaction->open && !sqlite3_get_autocommit (transaction->db->handle))
    sqlite3_exec (transaction->db->handle, "ROLLBACK", NULL, NULL, NULL);
  g_free (transaction);
}
