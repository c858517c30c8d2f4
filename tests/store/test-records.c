#include "config.h"

#include "store-fixture.h"
#include "tpt-geometry.h"

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
test_remove (StoreFixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TptRecord) station = NULL;
  g_autoptr (TptAction) action = NULL;

  store_put (f->store, "a", ROW (f->store, TPT_TABLE_STATIONS, "station", "A"));
  store_put (f->store, "d", ROW (f->store, TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "A", "start", "2026-05-01"));
  station = tpt_store_find (f->store, TPT_TABLE_STATIONS, "A", NULL);
  action = tpt_action_begin (f->store, "remove", NULL);
  g_assert_false (tpt_store_remove (f->store, station, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
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

/* The hand example of CHECKS C3, deer at S1: three detections by the gap from
 * the last frame; computed there twice by different code. */
static void
test_detections_view (StoreFixture *f, gconstpointer data)
{
  static const char *const times[] = { "06:00:00", "06:20:00", "06:40:00", "07:00:00", "07:30:00", "07:59:59", "08:29:59" };

  store_put (f->store, "a", ROW (f->store, TPT_TABLE_STATIONS, "station", "S1"));
  store_put (f->store, "d", ROW (f->store, TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "S1", "start", "2026-05-01"));
  store_put (f->store, "s", ROW (f->store, TPT_TABLE_SPECIES, "scientific_name", "Cervus elaphus"));
  for (gsize i = 0; i < G_N_ELEMENTS (times); i++)
    {
      g_autofree char *code = g_strdup_printf ("O%u", (guint) i), *at = g_strdup_printf ("2026-05-02T%s", times[i]);

      store_put (f->store, "o", ROW (f->store, TPT_TABLE_OBSERVATIONS, "observation", code, "deployment", "D1", "start", at, "type", "animal",
                                     "scientific_name", "Cervus elaphus"));
    }
  g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM detections"), ==, 3);
  g_assert_cmpint (store_count (f->store, "SELECT detections FROM station_detections"), ==, 3);
  g_assert_cmpint (store_count (f->store, "SELECT detections FROM species_station_detections"), ==, 3);
}

/* A point of every byte pattern that can be cut off, and noise: never a crash. */
static void
test_geometry (StoreFixture *f, gconstpointer data)
{
  const double line[] = { 1, 2, 3, 4, 5, 6, 7, 8 };
  const guint lengths[] = { 2, 2 };
  g_autoptr (GBytes) point = tpt_geometry_from_point (-16.85, 179.9996);
  g_autoptr (GBytes) lines = tpt_geometry_from_lines (line, lengths, 2, FALSE);
  g_autoptr (GRand) chance = g_rand_new_with_seed (7);
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GArray) parts = g_array_new (FALSE, FALSE, sizeof (guint));
  double latitude, longitude;
  gboolean area;
  gsize size;
  const guint8 *bytes = g_bytes_get_data (point, &size);

  g_assert_cmpuint (size, ==, 29); /* OGC 12-128r17, clause 2.1.3: 8 of header, 21 of WKB */
  g_assert_true (tpt_geometry_to_point (bytes, size, &latitude, &longitude));
  g_assert_cmpfloat (latitude, ==, -16.85);
  g_assert_cmpfloat (longitude, ==, 179.9996);
  for (gsize cut = 0; cut < size; cut++)
    g_assert_false (tpt_geometry_to_point (bytes, cut, &latitude, &longitude));

  bytes = g_bytes_get_data (lines, &size);
  g_assert_true (tpt_geometry_to_lines (bytes, size, points, parts, &area));
  g_assert_cmpmem (points->data, points->len * sizeof (double), line, sizeof line);
  g_assert_cmpuint (parts->len, ==, 2);
  for (int i = 0; i < 2000; i++)
    {
      g_autofree guint8 *noise = g_memdup2 (bytes, size);
      gsize cut = (gsize) g_rand_int_range (chance, 0, (gint32) size + 1);

      for (int k = 0; k < 4; k++)
        noise[g_rand_int_range (chance, 0, (gint32) size)] = (guint8) g_rand_int (chance);
      tpt_geometry_to_lines (noise, cut, points, parts, &area);
      tpt_geometry_to_point (noise, cut, &latitude, &longitude);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD(name, function) g_test_add ("/records/" name, StoreFixture, NULL, store_set_up, function, store_tear_down)
  ADD ("save", test_save);
  ADD ("refused", test_refused);
  ADD ("remove", test_remove);
  ADD ("names", test_names);
  ADD ("detections-view", test_detections_view);
  ADD ("geometry", test_geometry);
  return g_test_run ();
}
