#include "config.h"

#include <string.h>

#include "store-fixture.h"

static TptSaved
save (TptStore *store, TptRecord *record, const char **column, GError **error)
{
  g_autoptr (TptAction) action = tpt_action_begin (store, "save", NULL);
  g_autoptr (TptRecord) owned = record;
  TptSaved saved = TPT_SAVED_UNCHANGED;

  if (tpt_store_save (store, owned, &saved, column, error))
    g_assert_true (tpt_action_commit (action, NULL));
  return saved;
}

static void
test_save (StoreFixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TptRecord) found = NULL;

  g_assert_cmpint (save (f->store, ROW (f->store, TPT_TABLE_STATIONS, "station", "A", "latitude", "-16.85", "longitude", "179.9996"), NULL, &error), ==, TPT_SAVED_ADDED);
  g_assert_cmpint (save (f->store, ROW (f->store, TPT_TABLE_STATIONS, "station", "A", "latitude", "-16.85", "longitude", "179.9996"), NULL, &error), ==, TPT_SAVED_UNCHANGED);
  g_assert_cmpint (save (f->store, ROW (f->store, TPT_TABLE_STATIONS, "station", "A", "name", "Alder"), NULL, &error), ==, TPT_SAVED_UPDATED);
  g_assert_cmpint (save (f->store, ROW (f->store, TPT_TABLE_STATIONS, "station", "A", "name", "Alder", "latitude", "1", "longitude", "2"), NULL, &error), ==, TPT_SAVED_UPDATED);
  g_assert_no_error (error);
  g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM journal"), ==, 3);
  found = tpt_store_find (f->store, TPT_TABLE_STATIONS, "A", &error);
  g_assert_cmpfloat (tpt_record_get_real (found, "latitude"), ==, 1);
  g_assert_cmpstr (tpt_record_get_text (found, "name"), ==, "Alder");
  g_assert_null (tpt_store_find (f->store, TPT_TABLE_STATIONS, "nobody", &error));
  g_assert_no_error (error);
}

/* Refused rows: the column that is named. */
static void
test_refused (StoreFixture *f, gconstpointer data)
{
  struct {
    TptRecord *record;
    const char *column;
  } cases[] = {
    { ROW (f->store, TPT_TABLE_DEPLOYMENTS, "deployment", "D9", "station", "nobody", "start", "2026-05-01"), "station" },
    { ROW (f->store, TPT_TABLE_DEPLOYMENTS, "deployment", "D9", "station", "A", "start", "2026-05-02", "end", "2026-05-01"), "end" },
    { ROW (f->store, TPT_TABLE_DEPLOYMENTS, "deployment", "D9", "station", "A"), "start" },
    { ROW (f->store, TPT_TABLE_STATIONS, "station", "B", "latitude", "1"), "longitude" },
    { ROW (f->store, TPT_TABLE_FITTINGS, "deployment", "D2", "unit", "K1", "from", "2026-05-10"), "unit" }, /* in D1 already */
    { ROW (f->store, TPT_TABLE_READINGS, "visit", "none", "unit", "K1"), "visit" },
    { ROW (f->store, TPT_TABLE_OBSERVATIONS, "observation", "O", "deployment", "D1", "start", "2026-05-02", "type", "blank", "scientific_name", "Sus scrofa"), "scientific_name" },
    { ROW (f->store, TPT_TABLE_VISITS, "visit", "V", "station", "A", "at", "2026-05-02", "camera_clock", "2026-05-02T10:00"), "true_clock" },
  };

  store_put (f->store, "a", ROW (f->store, TPT_TABLE_STATIONS, "station", "A"));
  store_put (f->store, "k", ROW (f->store, TPT_TABLE_UNITS, "unit", "K1", "kind", "camera"));
  store_put (f->store, "d", ROW (f->store, TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "A", "start", "2026-05-01"));
  store_put (f->store, "d", ROW (f->store, TPT_TABLE_DEPLOYMENTS, "deployment", "D2", "station", "A", "start", "2026-05-01"));
  store_put (f->store, "f", ROW (f->store, TPT_TABLE_FITTINGS, "deployment", "D1", "unit", "K1", "from", "2026-05-01"));
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      const char *column = NULL;

      save (f->store, cases[i].record, &column, &error);
      g_test_message ("row %u", (guint) i);
      g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
      g_assert_cmpstr (column, ==, cases[i].column);
    }
  store_assert_sound (f->store);
}

static void
test_names (StoreFixture *f, gconstpointer data)
{
  TptRecord *fox = ROW (f->store, TPT_TABLE_SPECIES, "scientific_name", "Vulpes vulpes");
  g_autoptr (TptRecord) found = NULL, again = NULL;

  tpt_record_set_name (fox, "en", "Red fox");
  tpt_record_set_name (fox, "es", "Zorro");
  store_put (f->store, "fox", fox);
  found = tpt_store_find (f->store, TPT_TABLE_SPECIES, "Vulpes vulpes", NULL);
  g_assert_cmpstr (g_hash_table_lookup (tpt_record_get_names (found), "es"), ==, "Zorro");
  tpt_record_set_name (found, "es", NULL);
  store_put (f->store, "fox", g_object_ref (found));
  again = tpt_store_find (f->store, TPT_TABLE_SPECIES, "Vulpes vulpes", NULL);
  g_assert_cmpuint (g_hash_table_size (tpt_record_get_names (again)), ==, 1);
}

/* A row of each table, with every kind of value; references first. */
static const struct {
  TptTableId table;
  const char *cells;
} rows[] = {
  { TPT_TABLE_STATIONS, "station=A|name=Alder|latitude=-16.85|longitude=179.9996|uncertainty_m=4.5|sensitivity=high|notes=two\nlines" },
  { TPT_TABLE_UNITS, "unit=K1|kind=camera|acquired=2024-02-29|chemistry=nimh|cells_series=4|cell_mah=1900.5|label=Don't \"quote\" me" },
  { TPT_TABLE_SPECIES, "scientific_name=Lynx lynx|rank=species|sensitivity=extreme" },
  { TPT_TABLE_DEPLOYMENTS, "deployment=D1|station=A|start=2026-05-01|end=2026-06-01|frames_per_trigger=3|camera_clock_offset_s=-0.25" },
  { TPT_TABLE_FITTINGS, "deployment=D1|unit=K1|from=2026-05-01T00:00:00.001Z|to=2026-06-01" },
  { TPT_TABLE_VISITS, "visit=V1|station=A|at=2026-05-10|found=card-full|camera_clock=2026-05-10T09:00|true_clock=2026-05-10T10:00|left=armed" },
  { TPT_TABLE_READINGS, "visit=V1|unit=K1|state=working|volts=5.8|percent=0|action=none" },
  { TPT_TABLE_OBSERVATIONS, "observation=O1|deployment=D1|start=2026-05-02|type=animal|scientific_name=Lynx lynx|count=2|certainty=0.3" },
};

static TptRecord *
make_row (TptStore *store, gsize i)
{
  g_auto (GStrv) cells = g_strsplit_set (rows[i].cells, "|=", -1);
  TptRecord *record = store_make (store, rows[i].table, (const char *const *) cells);

  if (rows[i].table == TPT_TABLE_SPECIES)
    tpt_record_set_name (record, "en", "Lynx");
  return record;
}

/* Saved, found by its key, listed, saved again without a trace, removed. */
static void
test_every_table (StoreFixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  gint64 entries;

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    g_assert_cmpint (save (f->store, make_row (f->store, i), NULL, &error), ==, TPT_SAVED_ADDED);
  entries = store_count (f->store, "SELECT count(*) FROM journal");
  g_assert_cmpint (entries, ==, G_N_ELEMENTS (rows));

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (TptRecord) row = make_row (f->store, i);
      g_autoptr (TptRecord) found = tpt_store_find_like (f->store, row, &error);
      g_autoptr (GPtrArray) all = tpt_store_list (f->store, rows[i].table, NULL, NULL, &error);
      const char *first = tpt_record_get_table (row)->columns[0].name;
      g_autoptr (GPtrArray) some = tpt_store_list (f->store, rows[i].table, first, tpt_record_get_code (row), &error);
      g_autoptr (GPtrArray) none = tpt_store_list (f->store, rows[i].table, first, "nobody", &error);

      g_test_message ("%s", rows[i].cells);
      g_assert_no_error (error);
      g_assert_true (tpt_record_equal (found, row));
      g_assert_cmpint (tpt_record_get_id (found), >, 0);
      g_assert_true (g_uuid_string_is_valid (tpt_record_get_uuid (found)));
      g_assert_cmpuint (all->len, ==, 1);
      g_assert_true (tpt_record_equal (all->pdata[0], row));
      g_assert_cmpuint (some->len, ==, 1);
      g_assert_cmpuint (none->len, ==, 0);
      g_assert_cmpint (save (f->store, g_object_ref (row), NULL, &error), ==, TPT_SAVED_UNCHANGED);
      g_assert_cmpint (save (f->store, g_object_ref (found), NULL, &error), ==, TPT_SAVED_UNCHANGED);
    }
  g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM journal"), ==, entries);
  store_assert_sound (f->store);
}

static gboolean
remove_row (TptStore *store, gsize i, GError **error)
{
  g_autoptr (TptAction) action = tpt_action_begin (store, "remove", NULL);
  g_autoptr (TptRecord) like = make_row (store, i);
  g_autoptr (TptRecord) found = tpt_store_find_like (store, like, NULL);

  return tpt_store_remove (store, found, error) && tpt_action_commit (action, error);
}

/* While something refers to a row it stays; from the last to the first each
 * can go, and undo brings each back with all it had. */
static void
test_remove_all (StoreFixture *f, gconstpointer data)
{
  static const gboolean referred[] = { TRUE, TRUE, TRUE, TRUE, FALSE, TRUE, FALSE, FALSE };
  g_autofree char *before = NULL, *after = NULL;
  g_autoptr (GError) error = NULL;

  G_STATIC_ASSERT (G_N_ELEMENTS (referred) == G_N_ELEMENTS (rows));
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    save (f->store, make_row (f->store, i), NULL, NULL);
  before = store_dump (f->store);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GError) refusal = NULL;
      g_autofree char *left = NULL;

      if (!referred[i])
        continue;
      g_assert_false (remove_row (f->store, i, &refusal));
      g_assert_error (refusal, TPT_ERROR, TPT_ERROR_DATA);
      g_assert_nonnull (strstr (refusal->message, "history"));
      left = store_dump (f->store);
      g_assert_cmpstr (left, ==, before);
    }
  for (gsize i = G_N_ELEMENTS (rows); i > 0; i--)
    {
      g_test_message ("%s", rows[i - 1].cells);
      remove_row (f->store, i - 1, &error);
      g_assert_no_error (error);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    g_assert_true (tpt_store_undo (f->store, &error));
  after = store_dump (f->store);
  g_assert_cmpstr (after, ==, before);
  store_assert_sound (f->store);
}

/* When a unit is free for another rig, with that rig's months. */
static void
test_one_rig (StoreFixture *f, gconstpointer data)
{
  static const struct {
    const char *from;
    const char *to; /* "": until further notice */
    gboolean good;
  } cases[] = {
    { "2026-05-01", "2026-05-10", TRUE }, /* K1 is in D1 from the 10th to the 20th */
    { "2026-05-20", "", TRUE },
    { "2026-05-01", "2026-05-10T00:00:00.001", FALSE },
    { "2026-05-19T23:59:59.999", "", FALSE },
    { "2026-05-01", "", FALSE },
    { "2026-05-12", "2026-05-13", FALSE },
  };

  store_put (f->store, "a", ROW (f->store, TPT_TABLE_STATIONS, "station", "A"));
  store_put (f->store, "k", ROW (f->store, TPT_TABLE_UNITS, "unit", "K1", "kind", "camera"));
  store_put (f->store, "d", ROW (f->store, TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "A", "start", "2026-05-01"));
  store_put (f->store, "d", ROW (f->store, TPT_TABLE_DEPLOYMENTS, "deployment", "D2", "station", "A", "start", "2026-05-01"));
  store_put (f->store, "f", ROW (f->store, TPT_TABLE_FITTINGS, "deployment", "D1", "unit", "K1", "from", "2026-05-10", "to", "2026-05-20"));
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptAction) action = tpt_action_begin (f->store, "fit", NULL);
      g_autoptr (TptRecord) row = ROW (f->store, TPT_TABLE_FITTINGS, "deployment", "D2", "unit", "K1", "from", cases[i].from, "to", cases[i].to);
      g_autoptr (GError) error = NULL;
      const char *column = NULL;

      g_test_message ("%s to %s", cases[i].from, cases[i].to);
      g_assert_cmpint (tpt_store_save (f->store, row, NULL, &column, &error), ==, cases[i].good);
      g_assert_cmpstr (column, ==, cases[i].good ? NULL : "unit");
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD(name, function) g_test_add ("/records/" name, StoreFixture, NULL, store_set_up, function, store_tear_down)
  ADD ("save", test_save);
  ADD ("refused", test_refused);
  ADD ("names", test_names);
  ADD ("every-table", test_every_table);
  ADD ("remove-all", test_remove_all);
  ADD ("one-rig", test_one_rig);
  return g_test_run ();
}
