#include "config.h"

#include <string.h>

#include "store-fixture.h"
#include "tpt-schema.h"

static void
test_new (StoreFixture *f, gconstpointer data)
{
  store_assert_sound (f->store);
  g_assert_cmpint (store_count (f->store, "PRAGMA application_id"), ==, 0x47504B47); /* OGC 12-128r17: 'GPKG' */
  g_assert_cmpint (store_count (f->store, "PRAGMA user_version"), ==, 10300);        /* version 1.3.0 */
  g_assert_cmpint (store_count (f->store, "PRAGMA foreign_keys"), ==, 1);
  g_assert_cmpint (store_count (f->store, "SELECT value FROM settings WHERE key = 'schema'"), ==, TPT_SCHEMA_VERSION);
}

/* A file as the first version wrote it, with a station in it. */
static char *
make_old (StoreFixture *f)
{
  g_autoptr (GError) error = NULL;
  char *path = g_build_filename (f->folder, "old.gpkg", NULL);
  g_autoptr (TptDb) db = tpt_db_open (path, TPT_DB_CREATE, &error);

  g_assert_no_error (error);
  g_assert_true (tpt_schema_migrate (db, 0, 1, 0, &error));
  g_assert_true (tpt_db_exec (db,
                              "INSERT INTO settings VALUES ('zone', 'UTC');"
                              "INSERT INTO stations (uuid, station) VALUES ('u', 'OLD');",
                              &error));
  return path;
}

static void
test_migrate (StoreFixture *f, gconstpointer data)
{
  g_autofree char *path = make_old (f);
  g_autoptr (GError) error = NULL;
  g_autoptr (TptStore) store = tpt_store_open (path, FALSE, &error);

  g_assert_no_error (error);
  g_assert_cmpint (store_count (store, "SELECT count(*) FROM detections"), ==, 0);
  g_assert_cmpint (store_count (store, "SELECT count(*) FROM stations WHERE station = 'OLD'"), ==, 1);
  store_assert_sound (store);
  g_remove (path);
}

/* Each step of the way fails once: wholly the old version, then wholly the new. */
static void
test_migrate_faults (StoreFixture *f, gconstpointer data)
{
  g_autofree char *path = make_old (f);
  int n;

  for (n = 1; n < 100; n++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (TptStore) store = NULL;
      g_autoptr (TptDb) db = NULL;
      gint64 version;

      tpt_fault_arm (n);
      store = tpt_store_open (path, FALSE, &error);
      tpt_fault_arm (0);
      if (store != NULL)
        break;
      g_assert_error (error, TPT_ERROR, TPT_ERROR_FAULT);
      db = tpt_db_open (path, TPT_DB_READ, NULL);
      g_assert_true (tpt_schema_read_version (db, &version, NULL));
      g_assert_cmpint (version, ==, 1);
    }
  g_assert_cmpint (n, >, 3);
  g_remove (path);
}

static void
spoil (StoreFixture *f, const char *path, const char *sql)
{
  g_autofree char *content = NULL;
  gsize length;
  g_autoptr (TptDb) db = NULL;

  g_assert_true (g_file_get_contents (f->path, &content, &length, NULL));
  g_assert_true (g_file_set_contents (path, content, (gssize) length, NULL));
  db = tpt_db_open (path, TPT_DB_WRITE, NULL);
  g_assert_true (tpt_db_exec (db, sql, NULL));
}

/* Files that cannot be used: the code, and not a byte changed. */
static void
test_refused (StoreFixture *f, gconstpointer data)
{
  static const struct {
    const char *sql;
    int code;
    const char *says;
  } cases[] = {
    { "UPDATE settings SET value = '99' WHERE key = 'schema'", TPT_ERROR_NEWER, "newer" },
    { "PRAGMA application_id = 7", TPT_ERROR_PROJECT, "not a Tapetum project" },
    { "DROP TABLE journal", TPT_ERROR_PROJECT, "another program" },
    { "UPDATE settings SET value = 'Mars/Base' WHERE key = 'zone'", TPT_ERROR_USAGE, "time zone" },
  };
  g_autofree char *path = g_build_filename (f->folder, "spoilt.gpkg", NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *before = NULL, *after = NULL;
      gsize length_before, length_after;

      spoil (f, path, cases[i].sql);
      g_assert_true (g_file_get_contents (path, &before, &length_before, NULL));
      g_assert_null (tpt_store_open (path, FALSE, &error));
      g_assert_error (error, TPT_ERROR, cases[i].code);
      g_assert_nonnull (strstr (error->message, cases[i].says));
      g_assert_true (g_file_get_contents (path, &after, &length_after, NULL));
      g_assert_cmpmem (after, length_after, before, length_before);
    }
  g_remove (path);
}

/* Two writers: the second waits its turn, and past the wait is told so. */
static void
test_two_writers (StoreFixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TptStore) other = NULL;
  g_autoptr (TptAction) holding = NULL;
  gint64 version;

  g_setenv ("TAPETUM_BUSY_MS", "20", TRUE);
  other = tpt_store_open (f->path, FALSE, &error);
  g_assert_no_error (error);
  version = tpt_store_get_data_version (other);
  holding = tpt_action_begin (f->store, "hold", &error);
  g_assert_null (tpt_action_begin (other, "wait", &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_BUSY);
  g_clear_pointer (&holding, tpt_action_free);
  store_put (f->store, "a", ROW (f->store, TPT_TABLE_STATIONS, "station", "A"));
  g_assert_cmpint (tpt_store_get_data_version (other), !=, version);
  g_unsetenv ("TAPETUM_BUSY_MS");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD(name, function) g_test_add ("/schema/" name, StoreFixture, NULL, store_set_up, function, store_tear_down)
  ADD ("new", test_new);
  ADD ("migrate", test_migrate);
  ADD ("migrate-faults", test_migrate_faults);
  ADD ("refused", test_refused);
  ADD ("two-writers", test_two_writers);
  return g_test_run ();
}
