/* Shared by the store's own files and their tests. */
#pragma once

#include "tpt-store.h"

struct sqlite3_session;
struct sqlite3_changeset_iter;

struct _TptStore {
  TptDb *db;       /* (owned) */
  char *path;      /* (owned) */
  char *folder;    /* (owned) */
  TptZone *zone;   /* (owned) */
  gboolean read_only;

  char *seed;      /* (owned) (nullable) */
  guint64 counter; /* identifiers given out from the seed */
  TptInstant now;  /* where the clock of this project stands, or TPT_NO_INSTANT */

  TptAction *action; /* (unowned) (nullable): the one in progress */

  GArray *undo, *redo; /* (owned): entries, as far as the journal has been replayed */
  gint64 replayed;     /* the last of these entries */
  char *replayed_uuid; /* (owned) (nullable) */

  gpointer memo; /* (owned) (nullable): of the content at the two counts below */
  GDestroyNotify memo_destroy;
  gint64 memo_version, memo_changes;
};

struct _TptAction {
  TptStore *store;             /* (unowned) */
  TptTransaction *transaction; /* (owned) */
  struct sqlite3_session *session;
  char *what;       /* (owned) */
  const char *kind; /* do, undo, redo */
  gint64 of_id;     /* the entry undone or redone, else 0 */
};

/* (transfer full): @stem and the first number, after @dash, for which @sql, a
 * count of rows with code ?1, gives none. */
char *tpt_store_find_free_code (TptStore *self, const char *sql, const char *stem, const char *dash, GError **error);

/* Fills one row from the statement's present row. */
typedef void (*TptFillFunc) (TptStmt *stmt, gpointer row);

/* (transfer full): every row of @stmt, each of @size bytes, zeroed before it is
 * filled; %NULL with @error, also when @stmt is %NULL because it could not be
 * prepared. */
GArray *tpt_store_read_rows (TptStmt *stmt, guint size, TptFillFunc fill, GError **error);

/* Frees frames, triggers and set-aside files of batches that no undo or redo
 * can bring back. Inside an action, paused. */
gboolean tpt_store_purge_withdrawn (TptStore *self, GError **error);

/* The place of a trigger's score for being empty among its columns. */
gboolean tpt_journal_find_score (TptDb *db, int *column, GError **error);

/* Whether a row of a changeset cannot be applied for no other reason than that a
 * trigger has another score now; in a conflict of SQLITE_CHANGESET_DATA. */
gboolean tpt_journal_differs_by_score (struct sqlite3_changeset_iter *iter, int score_column);
