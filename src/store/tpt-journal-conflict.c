#include "config.h"

#include <string.h>

#define SQLITE_ENABLE_SESSION 1
#define SQLITE_ENABLE_PREUPDATE_HOOK 1
#include <sqlite3.h>

#include "tpt-store-private.h"

static gboolean
is_same_bytes (sqlite3_value *a, sqlite3_value *b)
{
  int size = sqlite3_value_bytes (a);

  return size == sqlite3_value_bytes (b) && (size == 0 || memcmp (sqlite3_value_blob (a), sqlite3_value_blob (b), (gsize) size) == 0);
}

static gboolean
is_same (sqlite3_value *a, sqlite3_value *b)
{
  if (sqlite3_value_type (a) != sqlite3_value_type (b))
    return FALSE;
  switch (sqlite3_value_type (a))
    {
    case SQLITE_NULL:
      return TRUE;
    case SQLITE_INTEGER:
      return sqlite3_value_int64 (a) == sqlite3_value_int64 (b);
    case SQLITE_FLOAT:
      return memcmp (&(double){ sqlite3_value_double (a) }, &(double){ sqlite3_value_double (b) }, sizeof (double)) == 0;
    default:
      return is_same_bytes (a, b);
    }
}

gboolean
tpt_journal_find_score (TptDb *db, int *column, GError **error)
{
  gint64 found = -1;

  if (!tpt_db_query_int (db, "SELECT cid FROM pragma_table_info('triggers') WHERE name = 'blank_score'", &found, error))
    return FALSE;
  *column = (int) found;
  return TRUE;
}

gboolean
tpt_journal_differs_by_score (sqlite3_changeset_iter *iter, int score_column)
{
  const char *table = NULL;
  int n_columns, operation;

  if (sqlite3changeset_op (iter, &table, &n_columns, &operation, NULL) != SQLITE_OK || strcmp (table, "triggers") != 0)
    return FALSE;
  for (int i = 0; i < n_columns; i++)
    {
      sqlite3_value *then = NULL, *now = NULL;

      if (i == score_column || sqlite3changeset_old (iter, i, &then) != SQLITE_OK || then == NULL)
        continue;
      if (sqlite3changeset_conflict (iter, i, &now) != SQLITE_OK || !is_same (then, now))
        return FALSE;
    }
  return TRUE;
}
