#include "config.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "db.h"
#include "tpt-error.h"

typedef struct {
  char *dir;
  char *path;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  f->dir = g_dir_make_tmp ("tapetum-db-XXXXXX", NULL);
  f->path = g_build_filename (f->dir, "a.db", NULL);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  g_autofree char *journal = g_strconcat (f->path, "-journal", NULL);

  tpt_fault_arm (0);
  g_remove (f->path);
  g_remove (journal);
  g_rmdir (f->dir);
  g_free (f->path);
  g_free (f->dir);
}

static TptDb *
make_table (Fixture *f)
{
  g_autoptr (GError) error = NULL;
  TptDb *db = tpt_db_open (f->path, TPT_DB_CREATE, &error);

  g_assert_no_error (error);
  g_assert_true (tpt_db_exec (db, "CREATE TABLE t (id INTEGER PRIMARY KEY, a INTEGER UNIQUE, b REAL, c TEXT, d TEXT)", &error));
  return db;
}

static gint64
count (TptDb *db)
{
  gint64 n;

  g_assert_true (tpt_db_query_int (db, "SELECT count(*) FROM t", &n, NULL));
  return n;
}

static void
test_values (Fixture *f, gconstpointer data)
{
  g_autoptr (TptDb) db = make_table (f);
  g_autoptr (GError) error = NULL;
  g_autoptr (TptStmt) in = tpt_db_prepare (db, "INSERT INTO t (a, b, c, d) VALUES (?, ?, ?, ?)", &error);
  g_autoptr (TptStmt) out = NULL;

  tpt_stmt_bind_int (in, 1, G_MAXINT64);
  tpt_stmt_bind_double (in, 2, NAN);
  tpt_stmt_bind_text (in, 3, "wallow \xc3\xa9");
  tpt_stmt_bind_instant (in, 4, -1);
  g_assert_true (tpt_stmt_run (in, &error));

  out = tpt_db_prepare (db, "SELECT a, b, c, d FROM t", &error);
  g_assert_true (tpt_stmt_next (out, &error));
  g_assert_cmpint (tpt_stmt_int (out, 0), ==, G_MAXINT64);
  g_assert_true (isnan (tpt_stmt_double (out, 1)));
  g_assert_cmpstr (tpt_stmt_text (out, 2), ==, "wallow \xc3\xa9");
  g_assert_cmpint (tpt_stmt_instant (out, 3), ==, -1);
  g_assert_false (tpt_stmt_next (out, &error));
  g_assert_no_error (error);
}

static void
test_transaction (Fixture *f, gconstpointer data)
{
  g_autoptr (TptDb) db = make_table (f);

  {
    g_autoptr (TptTransaction) dropped = tpt_transaction_begin (db, NULL);
    g_assert_true (tpt_db_exec (db, "INSERT INTO t (a) VALUES (1)", NULL));
  }
  g_assert_cmpint (count (db), ==, 0);

  {
    g_autoptr (TptTransaction) kept = tpt_transaction_begin (db, NULL);
    g_assert_true (tpt_db_exec (db, "INSERT INTO t (a) VALUES (1)", NULL));
    g_assert_true (tpt_transaction_commit (kept, NULL));
  }
  g_assert_cmpint (count (db), ==, 1);
}

/* The same text twice at once: the second gets a statement of its own. */
static void
test_nested (Fixture *f, gconstpointer data)
{
  g_autoptr (TptDb) db = make_table (f);
  int pairs = 0;

  g_assert_true (tpt_db_exec (db, "INSERT INTO t (a) VALUES (1), (2), (3)", NULL));
  {
    g_autoptr (TptStmt) outer = tpt_db_prepare (db, "SELECT a FROM t", NULL);
    while (tpt_stmt_next (outer, NULL))
      {
        g_autoptr (TptStmt) inner = tpt_db_prepare (db, "SELECT a FROM t", NULL);
        while (tpt_stmt_next (inner, NULL))
          pairs++;
      }
  }
  g_assert_cmpint (pairs, ==, 9);
}

static void
test_errors (Fixture *f, gconstpointer data)
{
  g_autoptr (TptDb) db = make_table (f);
  g_autoptr (TptDb) other = NULL;
  g_autoptr (TptTransaction) hold = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text_file = g_build_filename (f->dir, "text", NULL);

  g_assert_true (tpt_db_exec (db, "INSERT INTO t (a) VALUES (1)", NULL));
  g_assert_false (tpt_db_exec (db, "INSERT INTO t (a) VALUES (1)", &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
  g_clear_error (&error);

  g_assert_null (tpt_db_open (f->path, TPT_DB_CREATE, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_USAGE);
  g_clear_error (&error);

  g_assert_null (tpt_db_open (f->dir, TPT_DB_WRITE, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_PROJECT);
  g_clear_error (&error);

  g_setenv ("TAPETUM_BUSY_MS", "10", TRUE);
  other = tpt_db_open (f->path, TPT_DB_WRITE, NULL);
  hold = tpt_transaction_begin (db, NULL);
  g_assert_null (tpt_transaction_begin (other, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_BUSY);
  g_clear_error (&error);

  g_assert_true (g_file_set_contents (text_file, "this is a letter, and a long one, and no database at all", -1, NULL));
  {
    g_autoptr (TptDb) letter = tpt_db_open (text_file, TPT_DB_WRITE, NULL);
    gint64 value;
    g_assert_false (tpt_db_query_int (letter, "SELECT count(*) FROM sqlite_schema", &value, &error));
    g_assert_error (error, TPT_ERROR, TPT_ERROR_PROJECT);
  }
  g_remove (text_file);
}

static void
test_cancel (Fixture *f, gconstpointer data)
{
  g_autoptr (TptDb) db = make_table (f);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  gint64 n;

  g_cancellable_cancel (cancellable);
  tpt_db_set_cancellable (db, cancellable);
  g_assert_false (tpt_db_query_int (db, "WITH RECURSIVE c(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM c WHERE x < 1000000) SELECT count(*) FROM c",
                                    &n, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  tpt_db_set_cancellable (db, NULL);
  g_assert_cmpint (count (db), ==, 0);
}

/* Each writing step of a small transaction fails once; nothing stays behind. */
static void
test_faults (Fixture *f, gconstpointer data)
{
  g_autoptr (TptDb) db = make_table (f);

  for (int n = 1; n <= 3; n++)
    {
      g_autoptr (GError) error = NULL;
      tpt_fault_arm (n);
      {
        g_autoptr (TptTransaction) transaction = tpt_transaction_begin (db, &error);
        if (transaction != NULL && tpt_db_exec (db, "INSERT INTO t (a) VALUES (7)", &error))
          tpt_transaction_commit (transaction, &error);
      }
      g_assert_error (error, TPT_ERROR, TPT_ERROR_FAULT);
      tpt_fault_arm (0);
      g_assert_cmpint (count (db), ==, 0);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD(name, function) g_test_add ("/db/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("values", test_values);
  ADD ("transaction", test_transaction);
  ADD ("nested", test_nested);
  ADD ("errors", test_errors);
  ADD ("cancel", test_cancel);
  ADD ("faults", test_faults);
  return g_test_run ();
}
