/* The thin wrapper over SQLite: a connection, its statements, a transaction.
 *
 * One thread at a time uses a connection; it is opened in SQLite's serialized
 * mode all the same, because a progress question may come from another thread.
 * Statements are prepared once per connection and kept. Every failure comes
 * back as a GError with the words of SQLite and a code of tpt-error.h:
 * TPT_ERROR_BUSY after the busy wait, TPT_ERROR_PROJECT for a file that is no
 * database or damaged, TPT_ERROR_DATA for a broken constraint, TPT_ERROR_IO
 * for a full disk or failed device, G_IO_ERROR_CANCELLED when interrupted.
 */
#pragma once

#include <gio/gio.h>

#include "tpt-time.h"

G_BEGIN_DECLS

typedef struct _TptDb TptDb;
typedef struct _TptStmt TptStmt;
typedef struct _TptTransaction TptTransaction;
struct sqlite3;

/**
 * TptDbMode:
 * @TPT_DB_READ: read only; the file must exist
 * @TPT_DB_WRITE: read and write; the file must exist
 * @TPT_DB_CREATE: read and write; the file must not exist
 */
typedef enum {
  TPT_DB_READ,
  TPT_DB_WRITE,
  TPT_DB_CREATE,
} TptDbMode;

/* (transfer full) (nullable): foreign keys on, busy wait of five seconds
 * (TAPETUM_BUSY_MS overrides it), rollback journal. */
TptDb *tpt_db_open (const char *path, TptDbMode mode, GError **error);
void tpt_db_close (TptDb *db);
struct sqlite3 *tpt_db_get_handle (TptDb *db);

/* While set, a cancelled @cancellable interrupts whatever statement runs. */
void tpt_db_set_cancellable (TptDb *db, GCancellable *cancellable);

/* Runs every statement of @sql, which returns no rows anybody wants. */
gboolean tpt_db_exec (TptDb *db, const char *sql, GError **error);

/* The first column of the first row; 0 or NULL when there is none. */
gboolean tpt_db_query_int (TptDb *db, const char *sql, gint64 *value, GError **error);
char *tpt_db_query_text (TptDb *db, const char *sql, GError **error);

/**
 * tpt_db_prepare:
 * @sql: one statement; the text is the key of the connection's cache
 *
 * Returns: (transfer full) (nullable): the statement, rewound and with nothing
 *   bound. Letting go of it rewinds it again and puts it back into the cache.
 */
TptStmt *tpt_db_prepare (TptDb *db, const char *sql, GError **error);
void tpt_stmt_unref (TptStmt *stmt);

/* Parameters count from 1. NAN, NULL and %TPT_NO_INSTANT bind as NULL. Text is copied. */
void tpt_stmt_bind_int (TptStmt *stmt, int index, gint64 value);
void tpt_stmt_bind_double (TptStmt *stmt, int index, double value);
void tpt_stmt_bind_text (TptStmt *stmt, int index, const char *value);
void tpt_stmt_bind_blob (TptStmt *stmt, int index, const void *data, gsize size);
void tpt_stmt_bind_instant (TptStmt *stmt, int index, TptInstant value);
void tpt_stmt_bind_null (TptStmt *stmt, int index);

/* %TRUE while there is a row; %FALSE at the end, or with @error set. */
gboolean tpt_stmt_next (TptStmt *stmt, GError **error);

/* Runs to the end, then rewinds for the next binding. */
gboolean tpt_stmt_run (TptStmt *stmt, GError **error);

/* Columns count from 0; text and blobs live until the next step. */
gint64 tpt_stmt_int (TptStmt *stmt, int column);
double tpt_stmt_double (TptStmt *stmt, int column); /* NULL is NAN */
const char *tpt_stmt_text (TptStmt *stmt, int column);
const void *tpt_stmt_blob (TptStmt *stmt, int column, gsize *size);
TptInstant tpt_stmt_instant (TptStmt *stmt, int column);
gboolean tpt_stmt_is_null (TptStmt *stmt, int column);

gint64 tpt_db_last_id (TptDb *db);

/* Rows this connection has inserted, updated or deleted since it was opened. */
gint64 tpt_db_count_changes (TptDb *db);

/* Begins at once as the writer (waiting its turn). Freed without a commit, it
 * rolls back: what was done since is gone. */
TptTransaction *tpt_transaction_begin (TptDb *db, GError **error);
gboolean tpt_transaction_commit (TptTransaction *transaction, GError **error);
void tpt_transaction_free (TptTransaction *transaction);

/* Sets @error from the connection's last result code. */
void tpt_db_set_error (TptDb *db, int code, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptDb, tpt_db_close)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptStmt, tpt_stmt_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptTransaction, tpt_transaction_free)

G_END_DECLS
