/* A project of its own for each case, and comparing what is in two moments. */
#pragma once

#include <glib/gstdio.h>

#include "tpt-batches.h"
#include "tpt-error.h"
#include "tpt-query.h"
#include "tpt-records.h"
#include "tpt-store.h"

typedef struct {
  char *folder;    /* (owned) */
  char *path;      /* (owned) */
  TptStore *store; /* (owned) */
} StoreFixture;

static inline void
store_set_up (StoreFixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  f->folder = g_dir_make_tmp ("store-XXXXXX", NULL);
  f->path = g_build_filename (f->folder, "valley.gpkg", NULL);
  f->store = tpt_store_create (f->path, "Valley", "Europe/Bucharest", NULL, 0, &error);
  g_assert_no_error (error);
}

static inline void
store_tear_down (StoreFixture *f, gconstpointer data)
{
  g_autofree char *journal = g_strconcat (f->path, "-journal", NULL);

  tpt_fault_arm (0);
  g_clear_pointer (&f->store, tpt_store_close);
  g_remove (f->path);
  g_remove (journal);
  g_rmdir (f->folder);
  g_free (f->path);
  g_free (f->folder);
}

static inline TptRecord *
store_make (TptStore *store, TptTableId table, const char *const *cells)
{
  TptRecord *record = tpt_record_new (table);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; cells[i] != NULL; i += 2)
    {
      tpt_record_set_from_string (record, cells[i], cells[i + 1], tpt_store_get_zone (store), &error);
      g_assert_no_error (error);
    }
  return record;
}

#define ROW(store, table, ...) store_make (store, table, (const char *const[]){ __VA_ARGS__, NULL })

/* One row as one action. */
static inline void
store_put (TptStore *store, const char *what, TptRecord *record)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TptRecord) owned = record;
  g_autoptr (TptAction) action = tpt_action_begin (store, what, &error);

  g_assert_no_error (error);
  tpt_store_save (store, owned, NULL, NULL, &error);
  g_assert_no_error (error);
  tpt_action_commit (action, &error);
  g_assert_no_error (error);
}

static inline gint64
store_count (TptStore *store, const char *sql)
{
  g_autoptr (GError) error = NULL;
  gint64 n = -1;

  tpt_db_query_int (tpt_store_get_db (store), sql, &n, &error);
  g_assert_no_error (error);
  return n;
}

/* Every row of every journaled table with all its columns, as text: what undo
 * must bring back. */
static inline char *
store_dump (TptStore *store)
{
  static const char *const tables[] = {
    "settings", "stations", "tracks",  "units",        "deployments", "fittings",
    "visits",   "readings", "species", "common_names", "batches",     "observations",
  };
  TptDb *db = tpt_store_get_db (store);
  g_autoptr (GString) all = g_string_new (NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      g_autofree char *ask = g_strdup_printf ("SELECT group_concat('quote(\"' || name || '\")', '||''|''||') FROM pragma_table_info('%s')", tables[i]);
      g_autofree char *columns = tpt_db_query_text (db, ask, NULL);
      g_autofree char *sql = g_strdup_printf ("SELECT group_concat(line, x'0a') FROM (SELECT %s AS line FROM %s ORDER BY 1)", columns, tables[i]);
      g_autofree char *text = tpt_db_query_text (db, sql, NULL);

      g_assert_nonnull (columns);
      g_string_append_printf (all, "%s:\n%s\n", tables[i], text != NULL ? text : "");
    }
  return g_string_free (g_steal_pointer (&all), FALSE);
}

static inline void
store_assert_sound (TptStore *store)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) problems = tpt_store_check (store, &error);

  g_assert_no_error (error);
  if (problems->len > 0)
    g_test_message ("%s", (char *) problems->pdata[0]);
  g_assert_cmpuint (problems->len, ==, 0);
}

/* STATION, D1 running there, and a batch of two frames in one trigger. */
static inline void
store_put_batch (TptStore *store, const char *code)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TptAction) action = NULL;
  g_autoptr (TptRecord) deployment = tpt_store_find (store, TPT_TABLE_DEPLOYMENTS, "D1", NULL);
  TptInstant at = tpt_instant_parse ("2026-05-01T10:00:00Z", NULL, NULL);
  TptNewFrame frames[] = {
    { .file = "pictures/a.jpg", .at = at, .sha256 = "aa00000000000000000000000000000000000000000000000000000000000001", .bytes = 5, .trigger = 0 },
    { .file = "pictures/b.jpg", .at = at + 900, .sha256 = "bb00000000000000000000000000000000000000000000000000000000000002", .bytes = 7, .trigger = 0 },
  };
  TptNewBatch batch = { .batch = code, .deployment_id = tpt_record_get_id (deployment), .clock_true = TPT_NO_INSTANT, .frames = frames, .n_frames = 2 };

  action = tpt_action_begin (store, "Take in a card", &error);
  g_assert_no_error (error);
  tpt_store_add_batch (store, &batch, &error);
  g_assert_no_error (error);
  tpt_action_commit (action, &error);
  g_assert_no_error (error);
}
