/* Corner cases of the store that need two programs on one file, or an undo
 * before the next step. Common practice, no source. */
#include <glib/gstdio.h>

#include "tpt-batches.h"
#include "tpt-error.h"
#include "tpt-records.h"
#include "tpt-schema.h"

/* Long enough for the other thread to reach the lock, short for the wait. */
#define HELD_US (300 * 1000)

typedef struct {
  char *folder; /* (owned) */
  char *path;   /* (owned) */
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (TptStore) store = NULL;
  g_autoptr (GError) error = NULL;

  f->folder = g_dir_make_tmp ("store-XXXXXX", NULL);
  f->path = g_build_filename (f->folder, "valley.gpkg", NULL);
  store = tpt_store_create (f->path, "Valley", "UTC", NULL, tpt_instant_now (), &error);
  g_assert_no_error (error);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  g_remove (f->path);
  g_rmdir (f->folder);
  g_free (f->path);
  g_free (f->folder);
}

static TptStore *
open_store (const char *path)
{
  g_autoptr (GError) error = NULL;
  TptStore *store = tpt_store_open (path, FALSE, &error);

  g_assert_no_error (error);
  return store;
}

static void
save_station (TptStore *store, const char *code)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_STATIONS);
  g_autoptr (GError) error = NULL;

  tpt_record_set_text (record, "station", code);
  tpt_store_save (store, record, NULL, NULL, &error);
  g_assert_no_error (error);
}

static void
commit (TptAction *action)
{
  g_autoptr (GError) error = NULL;

  tpt_action_commit (action, &error);
  g_assert_no_error (error);
}

static void
add_station (TptStore *store, const char *code)
{
  g_autoptr (TptAction) action = tpt_action_begin (store, code, NULL);

  g_assert_nonnull (action);
  save_station (store, code);
  commit (action);
}

static gboolean
has_station (TptStore *store, const char *code)
{
  g_autoptr (TptRecord) found = tpt_store_find (store, TPT_TABLE_STATIONS, code, NULL);

  return found != NULL;
}

static gint64
add_deployment (TptStore *store)
{
  g_autoptr (TptAction) action = tpt_action_begin (store, "Set out", NULL);
  g_autoptr (TptRecord) deployment = tpt_record_new (TPT_TABLE_DEPLOYMENTS);
  g_autoptr (GError) error = NULL;

  tpt_record_set_text (deployment, "deployment", "D1");
  tpt_record_set_text (deployment, "station", "OAK");
  tpt_record_set_instant (deployment, "start", 0);
  tpt_store_save (store, deployment, NULL, NULL, &error);
  g_assert_no_error (error);
  commit (action);
  return tpt_record_get_id (deployment);
}

static void
add_batch (TptStore *store, gint64 deployment_id)
{
  g_autoptr (TptAction) action = tpt_action_begin (store, "Take in", NULL);
  g_autoptr (GError) error = NULL;
  TptNewFrame frame = { .file = "a.jpg", .frame = "F1", .at = 1000, .bytes = -1 };
  TptNewBatch batch = {
    .batch = "B1",
    .deployment_id = deployment_id,
    .clock_true = TPT_NO_INSTANT,
    .frames = &frame,
    .n_frames = 1,
  };

  tpt_store_add_batch (store, &batch, &error);
  g_assert_no_error (error);
  commit (action);
}

/* A frame of a withdrawn batch is on record for nobody; redo brings it back. */
static void
test_withdrawn (Fixture *f, gconstpointer data)
{
  g_autoptr (TptStore) store = open_store (f->path);
  g_autoptr (TptRecord) like = tpt_record_new (TPT_TABLE_FRAMES);
  g_autoptr (GError) error = NULL;
  static const struct {
    gboolean (*step) (TptStore *, GError **);
    gboolean there;
  } steps[] = {
    { NULL, TRUE },
    { tpt_store_undo, FALSE },
    { tpt_store_redo, TRUE },
  };

  add_station (store, "OAK");
  add_batch (store, add_deployment (store));
  tpt_record_set_text (like, "frame", "F1");
  for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      g_autoptr (TptRecord) by_code = NULL, by_key = NULL;

      if (steps[i].step != NULL)
        steps[i].step (store, &error);
      g_assert_no_error (error);
      by_code = tpt_store_find (store, TPT_TABLE_FRAMES, "F1", &error);
      by_key = tpt_store_find_like (store, like, &error);
      g_assert_no_error (error);
      g_assert_cmpint (by_code != NULL, ==, steps[i].there);
      g_assert_cmpint (by_key != NULL, ==, steps[i].there);
    }
}

static gpointer
undo_thread (gpointer path)
{
  g_autoptr (TptStore) store = open_store (path);
  g_autoptr (GError) error = NULL;

  tpt_store_undo (store, &error);
  g_assert_no_error (error);
  return NULL;
}

/* What is undone is the newest action at the moment the lock is had, not at
 * the moment it was asked for. */
static void
test_undo_waits (Fixture *f, gconstpointer data)
{
  g_autoptr (TptStore) store = open_store (f->path);
  g_autoptr (TptAction) action = NULL;
  GThread *other;

  add_station (store, "ASH");
  action = tpt_action_begin (store, "Add OAK", NULL);
  save_station (store, "OAK");
  other = g_thread_new ("undo", undo_thread, f->path);
  g_usleep (HELD_US);
  commit (action);
  g_thread_join (other);

  g_assert_true (has_station (store, "ASH"));
  g_assert_false (has_station (store, "OAK"));
}

static gpointer
open_thread (gpointer path)
{
  tpt_store_close (open_store (path));
  return NULL;
}

static void
make_old_file (Fixture *f, TptDb **db)
{
  g_autoptr (TptTransaction) transaction = NULL;
  g_autoptr (GError) error = NULL;

  g_remove (f->path);
  *db = tpt_db_open (f->path, TPT_DB_CREATE, &error);
  g_assert_no_error (error);
  transaction = tpt_transaction_begin (*db, &error);
  tpt_schema_migrate (*db, 0, 1, 0, &error);
  g_assert_no_error (error);
  tpt_transaction_commit (transaction, &error);
  g_assert_no_error (error);
}

/* Two programs open an older file at once: one brings it up to date, the
 * other finds it so. */
static void
test_migrate_waits (Fixture *f, gconstpointer data)
{
  g_autoptr (TptDb) db = NULL;
  g_autoptr (TptTransaction) transaction = NULL;
  g_autoptr (GError) error = NULL;
  GThread *other;

  make_old_file (f, &db);
  transaction = tpt_transaction_begin (db, &error);
  other = g_thread_new ("open", open_thread, f->path);
  g_usleep (HELD_US);
  tpt_schema_migrate (db, 1, TPT_SCHEMA_VERSION, 0, &error);
  g_assert_no_error (error);
  tpt_transaction_commit (transaction, &error);
  g_assert_no_error (error);
  g_thread_join (other);
}

/* A version no program ever wrote is damage, not something to migrate from. */
static void
test_impossible_version (Fixture *f, gconstpointer data)
{
  static const char *const versions[] = { "0", "-1", "-99999999999", "" };

  for (gsize i = 0; i < G_N_ELEMENTS (versions); i++)
    {
      g_autoptr (TptDb) db = tpt_db_open (f->path, TPT_DB_WRITE, NULL);
      g_autoptr (TptStore) store = NULL;
      g_autoptr (GError) error = NULL;
      g_autofree char *sql = g_strdup_printf ("UPDATE settings SET value = '%s' WHERE key = 'schema'", versions[i]);

      tpt_db_exec (db, sql, &error);
      g_assert_no_error (error);
      store = tpt_store_open (f->path, FALSE, &error);
      g_assert_error (error, TPT_ERROR, TPT_ERROR_PROJECT);
      g_assert_null (store);
      g_assert_nonnull (strstr (error->message, "version"));
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);

  g_test_add ("/store/withdrawn-frames", Fixture, NULL, set_up, test_withdrawn, tear_down);
  g_test_add ("/store/undo-waits", Fixture, NULL, set_up, test_undo_waits, tear_down);
  g_test_add ("/store/migrate-waits", Fixture, NULL, set_up, test_migrate_waits, tear_down);
  g_test_add ("/store/impossible-version", Fixture, NULL, set_up, test_impossible_version, tear_down);
  return g_test_run ();
}
