#include "config.h"

#include "store-fixture.h"

/* Steps as letters: A, B and C are three different actions, u undoes, r redoes.
 * After each step the project is what the table says it is. */
static void
act (TptStore *store, char letter)
{
  char code[2] = { letter, '\0' };

  store_put (store, code, ROW (store, TPT_TABLE_STATIONS, "station", code, "latitude", "45.5", "longitude", "25.25"));
}

static void
test_sequences (StoreFixture *f, gconstpointer data)
{
  static const struct {
    const char *steps;
    const char *left;      /* stations on record */
    const char *next_undo; /* NULL: nothing */
    const char *next_redo;
  } cases[] = {
    { "A", "A", "A", NULL },
    { "Au", "", NULL, "A" },
    { "Aur", "A", "A", NULL },
    { "ABuu", "", NULL, "A" },
    { "ABuur", "A", "A", "B" },
    { "ABuurr", "AB", "B", NULL },
    { "ABuC", "AC", "C", NULL }, /* a new action ends what could be redone */
    { "ABuCu", "A", "A", "C" },
    { "ABuCuu", "", NULL, "A" },
    { "ABurur", "AB", "B", NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      StoreFixture own;
      g_autofree char *left = NULL, *undo = NULL, *redo = NULL;
      g_autoptr (GError) error = NULL;

      store_set_up (&own, NULL);
      for (const char *step = cases[i].steps; *step != '\0'; step++)
        {
          if (*step == 'u')
            tpt_store_undo (own.store, &error);
          else if (*step == 'r')
            tpt_store_redo (own.store, &error);
          else
            act (own.store, *step);
          g_assert_no_error (error);
        }
      g_test_message ("%s", cases[i].steps);
      left = tpt_db_query_text (tpt_store_get_db (own.store),
                                "SELECT coalesce(group_concat(station, ''), '') FROM (SELECT station FROM stations ORDER BY station)", NULL);
      undo = tpt_store_peek_undo (own.store, NULL);
      redo = tpt_store_peek_redo (own.store, NULL);
      g_assert_cmpstr (left, ==, cases[i].left);
      g_assert_cmpstr (undo, ==, cases[i].next_undo);
      g_assert_cmpstr (redo, ==, cases[i].next_redo);
      store_assert_sound (own.store);
      store_tear_down (&own, NULL);
    }
}

/* Two programs at the same file: what the one remembers of the journal holds
 * only as far as the other has not gone on. */
static void
test_two_writers (StoreFixture *f, gconstpointer data)
{
  static const struct {
    guint store;
    char step;
    const char *left;
  } steps[] = {
    { 0, 'A', "A" }, { 1, 'B', "AB" }, { 0, 'u', "A" }, { 1, 'C', "AC" }, { 0, 'u', "A" }, { 1, 'r', "AC" },
    { 1, 'u', "A" }, { 0, 'u', "" },   { 1, 'r', "A" },  { 0, 'r', "AC" }, { 0, 'D', "ACD" }, { 1, 'u', "AC" },
  };
  g_autoptr (GError) error = NULL;
  TptStore *stores[2] = { f->store, tpt_store_open (f->path, FALSE, &error) };

  g_assert_no_error (error);
  for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      TptStore *store = stores[steps[i].store];
      g_autofree char *left = NULL;

      if (steps[i].step == 'u')
        tpt_store_undo (store, &error);
      else if (steps[i].step == 'r')
        tpt_store_redo (store, &error);
      else
        act (store, steps[i].step);
      g_assert_no_error (error);
      left = tpt_db_query_text (tpt_store_get_db (store),
                                "SELECT coalesce(group_concat(station, ''), '') FROM (SELECT station FROM stations ORDER BY station)", NULL);
      g_assert_cmpstr (left, ==, steps[i].left);
    }
  tpt_store_close (stores[1]);
}

/* An action that looked at the journal and was dropped leaves nothing behind. */
static void
test_dropped_look (StoreFixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *next = NULL;

  act (f->store, 'A');
  for (guint fault = 1; fault <= 3; fault++)
    {
      g_autofree char *within = NULL;

      tpt_fault_arm ((int) fault);
      tpt_store_undo (f->store, &error);
      tpt_fault_arm (0);
      g_clear_error (&error);
      within = tpt_store_peek_undo (f->store, &error);
      g_assert_no_error (error);
      if (within == NULL) /* that many steps it did not take */
        tpt_store_redo (f->store, &error);
      g_assert_no_error (error);
    }
  act (f->store, 'B');
  next = tpt_store_peek_undo (f->store, &error);
  g_assert_cmpstr (next, ==, "B");
}

static void
test_entries (StoreFixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM journal"), ==, 0);
  act (f->store, 'A');
  g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM journal WHERE kind = 'do'"), ==, 1);
  {
    g_autoptr (TptAction) empty = tpt_action_begin (f->store, "nothing", &error);
    g_assert_true (tpt_action_commit (empty, &error));
  }
  g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM journal"), ==, 1);
  {
    g_autoptr (TptAction) dropped = tpt_action_begin (f->store, "dropped", &error);
    g_autoptr (TptRecord) row = ROW (f->store, TPT_TABLE_STATIONS, "station", "Z");
    g_assert_true (tpt_store_save (f->store, row, NULL, NULL, &error));
  }
  g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM stations"), ==, 1);
  g_assert_false (tpt_store_redo (f->store, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_USAGE);
}

/* Row by row the same after undo as before, and after redo as after. */
static void
test_rows (StoreFixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *before = NULL, *after = NULL, *undone = NULL, *redone = NULL;

  act (f->store, 'A');
  before = store_dump (f->store);
  {
    g_autoptr (TptAction) action = tpt_action_begin (f->store, "Set out", &error);
    TptRecord *rows[] = {
      ROW (f->store, TPT_TABLE_STATIONS, "station", "A", "name", "Alder", "latitude", "45.6", "longitude", "25.2"),
      ROW (f->store, TPT_TABLE_UNITS, "unit", "K1", "kind", "camera"),
      ROW (f->store, TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "A", "start", "2026-05-01"),
      ROW (f->store, TPT_TABLE_FITTINGS, "deployment", "D1", "unit", "K1", "from", "2026-05-01"),
      ROW (f->store, TPT_TABLE_VISITS, "visit", "V1", "station", "A", "at", "2026-05-02", "found", "working"),
      ROW (f->store, TPT_TABLE_READINGS, "visit", "V1", "unit", "K1", "percent", "71.5"),
      ROW (f->store, TPT_TABLE_SPECIES, "scientific_name", "Vulpes vulpes"),
    };

    tpt_record_set_name (rows[6], "en", "Red fox");
    for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
      {
        g_assert_true (tpt_store_save (f->store, rows[i], NULL, NULL, &error));
        g_object_unref (rows[i]);
      }
    g_assert_true (tpt_store_set_setting (f->store, "independence_min", "45", &error));
    g_assert_true (tpt_action_commit (action, &error));
  }
  after = store_dump (f->store);
  g_assert_cmpstr (before, !=, after);
  g_assert_true (tpt_store_undo (f->store, &error));
  undone = store_dump (f->store);
  g_assert_cmpstr (undone, ==, before);

  /* Also after the program was closed in between. */
  g_clear_pointer (&f->store, tpt_store_close);
  f->store = tpt_store_open (f->path, FALSE, &error);
  g_assert_no_error (error);
  g_assert_true (tpt_store_redo (f->store, &error));
  redone = store_dump (f->store);
  g_assert_cmpstr (redone, ==, after);
  store_assert_sound (f->store);
}

/* A change by hand between an action and its undo or redo: what stands in its
 * way is left, and so is everything else. */
static void
test_conflicts (StoreFixture *f, gconstpointer data)
{
  static const struct {
    const char *steps;  /* before the change by hand */
    const char *change;
    gboolean redo;
    gboolean conflict;
  } cases[] = {
    { "A", "UPDATE stations SET name = 'by hand'", FALSE, TRUE },
    { "A", "DELETE FROM stations", FALSE, TRUE },
    { "AB", "UPDATE stations SET name = 'by hand' WHERE station = 'A'", FALSE, FALSE }, /* another row */
    { "A", "INSERT INTO deployments (uuid, deployment, station_id, start_at) SELECT 'd', 'D', id, '2026-05-01T00:00:00.000Z' FROM stations", FALSE, TRUE },
    { "Au", "INSERT INTO stations (uuid, station) VALUES ('x', 'A')", TRUE, TRUE }, /* its code is taken */
    { "Au", "INSERT INTO stations (uuid, station) VALUES ('x', 'Z')", TRUE, FALSE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      StoreFixture own;
      g_autoptr (TptStore) other = NULL;
      g_autoptr (GError) error = NULL;
      g_autofree char *before = NULL, *after = NULL;
      gint64 entries;

      store_set_up (&own, NULL);
      for (const char *step = cases[i].steps; *step != '\0'; step++)
        if (*step == 'u')
          g_assert_true (tpt_store_undo (own.store, NULL));
        else
          act (own.store, *step);
      other = tpt_store_open (own.path, FALSE, NULL);
      g_assert_true (tpt_db_exec (tpt_store_get_db (other), cases[i].change, &error));
      before = store_dump (own.store);
      entries = store_count (own.store, "SELECT count(*) FROM journal");

      g_test_message ("%s, %s", cases[i].steps, cases[i].change);
      g_assert_cmpint ((cases[i].redo ? tpt_store_redo : tpt_store_undo) (own.store, &error), ==, !cases[i].conflict);
      if (cases[i].conflict)
        {
          g_assert_error (error, TPT_ERROR, TPT_ERROR_CONFLICT);
          after = store_dump (own.store);
          g_assert_cmpstr (after, ==, before);
          g_assert_cmpint (store_count (own.store, "SELECT count(*) FROM journal"), ==, entries);
        }
      store_assert_sound (own.store);
      g_clear_pointer (&other, tpt_store_close);
      store_tear_down (&own, NULL);
    }
}

/* A batch is withdrawn and comes back as a whole. */
static void
test_batch (StoreFixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  TptSigns signs;
  gboolean known;
  gint64 id;

  act (f->store, 'A');
  store_put (f->store, "Set out", ROW (f->store, TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "A", "start", "2026-05-01"));
  store_put_batch (f->store, "D1-B01");
  id = store_count (f->store, "SELECT id FROM deployments");
  for (int round = 0; round < 2; round++)
    {
      g_assert_true (tpt_store_read_signs_of (f->store, id, G_MAXINT64 / 4, &signs, &error));
      g_assert_cmpint (signs.triggers, ==, 1);
      g_assert_cmpint (signs.frames, ==, 2);
      g_assert_true (tpt_store_undo (f->store, &error));
      g_assert_true (tpt_store_read_signs_of (f->store, id, G_MAXINT64 / 4, &signs, &error));
      g_assert_cmpint (signs.triggers, ==, 0);
      g_assert_true (tpt_store_knows_content (f->store, "aa00000000000000000000000000000000000000000000000000000000000001", &known, &error));
      g_assert_false (known);
      store_assert_sound (f->store);
      g_assert_true (tpt_store_redo (f->store, &error));
    }
  /* Undone and then done anew: the withdrawn frames make room. */
  g_assert_true (tpt_store_undo (f->store, &error));
  store_put_batch (f->store, "D1-B01");
  g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM frames"), ==, 2);
  store_assert_sound (f->store);
}

/* Undoing the deployment after its pictures were withdrawn. */
static void
test_batch_and_deployment (StoreFixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  act (f->store, 'A');
  store_put (f->store, "Set out", ROW (f->store, TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "A", "start", "2026-05-01"));
  store_put_batch (f->store, "D1-B01");
  g_assert_true (tpt_store_undo (f->store, &error));
  g_assert_true (tpt_store_undo (f->store, &error));
  g_assert_no_error (error);
  g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM deployments"), ==, 0);
  store_assert_sound (f->store);

  /* The rig comes back; the frames made room for its going, and say so. */
  g_assert_true (tpt_store_redo (f->store, &error));
  g_assert_false (tpt_store_redo (f->store, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_CONFLICT);
  g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM deployments"), ==, 1);
  store_put_batch (f->store, "D1-B01");
  store_assert_sound (f->store);
}

/* Each step of an undo fails once; the project is before or after. */
static void
test_faults (StoreFixture *f, gconstpointer data)
{
  g_autofree char *before = NULL;
  int n = 1;

  act (f->store, 'A');
  act (f->store, 'B');
  before = store_dump (f->store);
  for (;; n++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *after = NULL;
      gboolean done;

      tpt_fault_arm (n);
      done = tpt_store_undo (f->store, &error);
      tpt_fault_arm (0);
      if (done)
        break;
      g_assert_error (error, TPT_ERROR, TPT_ERROR_FAULT);
      after = store_dump (f->store);
      g_assert_cmpstr (after, ==, before);
      store_assert_sound (f->store);
    }
  g_assert_cmpint (n, >, 3);
  g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM stations"), ==, 1);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD(name, function) g_test_add ("/journal/" name, StoreFixture, NULL, store_set_up, function, store_tear_down)
  ADD ("sequences", test_sequences);
  ADD ("entries", test_entries);
  ADD ("two-writers", test_two_writers);
  ADD ("dropped-look", test_dropped_look);
  ADD ("rows", test_rows);
  ADD ("conflicts", test_conflicts);
  ADD ("batch", test_batch);
  ADD ("batch-and-deployment", test_batch_and_deployment);
  ADD ("faults", test_faults);
  return g_test_run ();
}
