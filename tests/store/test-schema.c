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
                              "INSERT INTO stations (uuid, station) VALUES ('u', 'OLD');"
                              "INSERT INTO species (uuid, scientific_name) VALUES ('s', 'Lynx lynx');"
                              "INSERT INTO deployments (uuid, deployment, station_id, start_at) VALUES ('d', 'D1', 1, '2026-05-01T00:00:00.000Z');"
                              "INSERT INTO observations (uuid, observation, deployment_id, start_at, type, species_id)"
                              " VALUES ('o', 'O1', 1, '2026-05-02T00:00:00.000Z', 'animal', 1);",
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
  g_assert_cmpint (store_count (store, "SELECT count(*) FROM detections"), ==, 1);
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
      g_assert_true (tpt_db_query_int (db, "SELECT count(*) FROM sqlite_schema WHERE type = 'view'", &version, NULL));
      g_assert_cmpint (version, ==, 0);
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

/* Files that were never a project. */
static void
test_strangers (StoreFixture *f, gconstpointer data)
{
  g_autofree char *content = NULL, *path = g_build_filename (f->folder, "stranger.gpkg", NULL);
  gsize length;
  struct {
    const char *what;
    const char *content; /* NULL: another program's GeoPackage */
    gssize length;
  } cases[] = {
    { "a text", "station,name\nOAK,Old oak\n", -1 },
    { "an empty file", "", 0 },
    { "a project cut in half", NULL, 0 },
    { "a project cut within its first page", NULL, 1000 },
    { "noise of the right length", NULL, 0 },
    { "another program's database", NULL, -1 },
  };
  g_autofree char *noise = NULL;

  g_clear_pointer (&f->store, tpt_store_close);
  g_assert_true (g_file_get_contents (f->path, &content, &length, NULL));
  noise = g_memdup2 (content, length);
  for (gsize i = 0; i < length; i++)
    noise[i] = (char) (i * 31 + i / 7);
  cases[2].content = content;
  cases[2].length = (gssize) length / 2;
  cases[3].content = content;
  cases[4].content = noise;
  cases[4].length = (gssize) length;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *before = NULL, *after = NULL;
      gsize length_before, length_after;

      g_test_message ("%s", cases[i].what);
      g_remove (path);
      if (cases[i].content != NULL)
        g_assert_true (g_file_set_contents (path, cases[i].content, cases[i].length, NULL));
      else
        {
          g_autoptr (TptDb) db = tpt_db_open (path, TPT_DB_CREATE, NULL);
          g_assert_true (tpt_db_exec (db, "PRAGMA application_id = 0x47504B47; CREATE TABLE layer (id INTEGER PRIMARY KEY)", NULL));
        }
      g_assert_true (g_file_get_contents (path, &before, &length_before, NULL));
      g_assert_null (tpt_store_open (path, FALSE, &error));
      g_assert_error (error, TPT_ERROR, TPT_ERROR_PROJECT);
      g_assert_nonnull (strstr (error->message, "stranger.gpkg")); /* says which file */
      g_assert_true (g_file_get_contents (path, &after, &length_after, NULL));
      g_assert_cmpmem (after, length_after, before, length_before);
    }
  g_remove (path);
  {
    g_autoptr (GError) missing = NULL, folder = NULL;

    g_assert_null (tpt_store_open (path, FALSE, &missing));
    g_assert_error (missing, TPT_ERROR, TPT_ERROR_PROJECT);
    g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
    g_assert_null (tpt_store_open (f->folder, FALSE, &folder));
    g_assert_error (folder, TPT_ERROR, TPT_ERROR_PROJECT);
  }
}

/* What is there is never overwritten, and a failure leaves nothing behind. */
static void
test_create (StoreFixture *f, gconstpointer data)
{
  g_autofree char *path = g_build_filename (f->folder, "new.gpkg", NULL);
  int n;

  for (n = 1; n < 200; n++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (TptStore) store = NULL;

      tpt_fault_arm (n);
      store = tpt_store_create (path, "N", "UTC", NULL, 0, &error);
      tpt_fault_arm (0);
      if (store != NULL)
        break;
      g_assert_error (error, TPT_ERROR, TPT_ERROR_FAULT);
      g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
    }
  g_assert_cmpint (n, >, 5);
  g_remove (path);
  {
    g_autofree char *before = NULL, *after = NULL;
    g_autoptr (GError) error = NULL, zone = NULL;
    gsize length_before, length_after;

    g_assert_true (g_file_get_contents (f->path, &before, &length_before, NULL));
    g_assert_null (tpt_store_create (f->path, "N", "UTC", NULL, 0, &error));
    g_assert_error (error, TPT_ERROR, TPT_ERROR_USAGE);
    g_assert_true (g_file_get_contents (f->path, &after, &length_after, NULL));
    g_assert_cmpmem (after, length_after, before, length_before);
    g_assert_null (tpt_store_create (path, "N", "Mars/Base", NULL, 0, &zone));
    g_assert_error (zone, TPT_ERROR, TPT_ERROR_USAGE);
    g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  }
}

/* With a seed, the same calls write the same bytes. */
static void
test_seeded (StoreFixture *f, gconstpointer data)
{
  g_autofree char *first = NULL, *second = NULL, *path = g_build_filename (f->folder, "seeded.gpkg", NULL);
  gsize length_first, length_second;
  char **texts[] = { &first, &second };
  gsize *lengths[] = { &length_first, &length_second };

  for (gsize i = 0; i < 2; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (TptStore) store = tpt_store_create (path, "N", "UTC", "seed", TPT_DAY, &error);

      g_assert_no_error (error);
      store_put (store, "a", ROW (store, TPT_TABLE_STATIONS, "station", "A"));
      g_clear_pointer (&store, tpt_store_close);
      g_assert_true (g_file_get_contents (path, texts[i], lengths[i], NULL));
      g_remove (path);
    }
  g_assert_cmpmem (first, length_first, second, length_second);
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
  ADD ("strangers", test_strangers);
  ADD ("create", test_create);
  ADD ("seeded", test_seeded);
  ADD ("two-writers", test_two_writers);
  return g_test_run ();
}
