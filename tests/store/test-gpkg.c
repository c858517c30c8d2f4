/* The project file before other programs' eyes: GDAL's own check of the rules
 * of OGC 12-128 and what its driver makes of the layers. */
#include "config.h"

#include <string.h>

#include "store-fixture.h"

static const char *const python = "/usr/bin/python3";

static void
put_track (TptStore *store, const char *name, gboolean area)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TptAction) action = tpt_action_begin (store, "track", &error);
  g_autoptr (TptTrack) track = tpt_track_new (area ? "boundary" : "trail", name, area);
  static const double ring[] = { 45, 25, 45, 25.1, 45.1, 25.1, 45, 25 };
  gboolean added;

  for (gsize i = 0; i < G_N_ELEMENTS (ring); i += 2)
    tpt_track_add_point (track, ring[i], ring[i + 1]);
  tpt_track_end_line (track);
  g_assert_true (tpt_store_add_track (store, track, &added, &error));
  g_assert_true (tpt_action_commit (action, &error));
}

/* Something in every table, and an undo and a redo behind it. */
static void
set_up (StoreFixture *f, gconstpointer data)
{
  TptRecord *fox;

  store_set_up (f, data);
#define PUT(table, ...) store_put (f->store, "put", ROW (f->store, table, __VA_ARGS__))
  PUT (TPT_TABLE_STATIONS, "station", "A", "latitude", "45.5", "longitude", "25.25", "name", "Arțar", "elevation_m", "800.5");
  PUT (TPT_TABLE_STATIONS, "station", "B", "latitude", "-16.85", "longitude", "179.9996");
  PUT (TPT_TABLE_STATIONS, "station", "C"); /* nowhere yet */
  PUT (TPT_TABLE_UNITS, "unit", "K1", "kind", "camera", "acquired", "2024-02-29", "cell_mah", "1900");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "A", "start", "2026-05-01", "end", "2026-06-01");
  PUT (TPT_TABLE_FITTINGS, "deployment", "D1", "unit", "K1", "from", "2026-05-01");
  PUT (TPT_TABLE_VISITS, "visit", "V1", "station", "A", "at", "2026-05-10", "found", "working");
  PUT (TPT_TABLE_READINGS, "visit", "V1", "unit", "K1", "percent", "71.5");
  fox = ROW (f->store, TPT_TABLE_SPECIES, "scientific_name", "Vulpes vulpes");
  tpt_record_set_name (fox, "en", "Red fox");
  store_put (f->store, "fox", fox);
  PUT (TPT_TABLE_OBSERVATIONS, "observation", "O1", "deployment", "D1", "start", "2026-05-02T03:00", "type", "animal", "scientific_name",
       "Vulpes vulpes", "count", "1", "certainty", "0.9");
  put_track (f->store, "Ridge", FALSE);
  put_track (f->store, "Reserve", TRUE);
  store_put_batch (f->store, "D1-B01");
  g_assert_true (tpt_store_undo (f->store, NULL));
  g_assert_true (tpt_store_redo (f->store, NULL));
  store_assert_sound (f->store);
  g_clear_pointer (&f->store, tpt_store_close);
}

/* (transfer full): what a program said, on both its streams. */
static char *
ask (const char *const *argv)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *out = NULL, *err = NULL;
  int status;

  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, &err, &status, &error);
  g_assert_no_error (error);
  g_test_message ("%s%s", out, err);
  g_assert_cmpint (status, ==, 0);
  return g_strconcat (out, err, NULL);
}

static void
assert_quiet (const char *said)
{
  static const char *const words[] = { "warning", "error", "invalid", "failed", "traceback" };
  g_autofree char *lower = g_ascii_strdown (said, -1);

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    g_assert_null (strstr (lower, words[i]));
}

static gboolean
has_validator (void)
{
  const char *const argv[] = { python, "-c", "import osgeo_utils.samples.validate_gpkg", NULL };
  int status = 1;

  return g_file_test (python, G_FILE_TEST_IS_EXECUTABLE) &&
         g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, NULL, NULL, &status,
                       NULL) &&
         status == 0;
}

static void
test_validator (StoreFixture *f, gconstpointer data)
{
  const char *const argv[] = { python, "-m", "osgeo_utils.samples.validate_gpkg", "-k", "--extra", f->path, NULL };
  g_autofree char *said = NULL;

  if (!has_validator ())
    {
      g_test_skip ("the GeoPackage validator of python3-gdal is not installed");
      return;
    }
  said = ask (argv);
  assert_quiet (said);
}

static void
test_layers (StoreFixture *f, gconstpointer data)
{
  static const struct {
    const char *layer;
    int rows;
  } cases[] = {
    { "stations", 3 }, { "tracks", 2 }, { "units", 1 }, { "deployments", 1 }, { "fittings", 1 }, { "visits", 1 }, { "readings", 1 },
    { "species", 1 }, { "common_names", 1 }, { "batches", 1 }, { "set_aside", 0 }, { "triggers", 1 }, { "frames", 2 }, { "observations", 1 },
    { "unit_log", 0 }, { "stock", 0 },
    { "detections", 1 }, { "station_detections", 3 }, { "species_station_detections", 1 },
  };
  const char *const argv[] = { "ogrinfo", "-so", "-al", f->path, NULL };
  g_autofree char *tool = g_find_program_in_path ("ogrinfo");
  g_autofree char *said = NULL;

  if (tool == NULL)
    {
      g_test_skip ("ogrinfo of gdal-bin is not installed");
      return;
    }
  said = ask (argv);
  assert_quiet (said);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *head = g_strdup_printf ("Layer name: %s\n", cases[i].layer);
      const char *section = strstr (said, head);
      const char *count = section != NULL ? strstr (section, "Feature Count: ") : NULL;

      g_test_message ("%s", cases[i].layer);
      g_assert_nonnull (count);
      g_assert_cmpint (g_ascii_strtoll (count + strlen ("Feature Count: "), NULL, 10), ==, cases[i].rows);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD(name, function) g_test_add ("/gpkg/" name, StoreFixture, NULL, set_up, function, store_tear_down)
  ADD ("validator", test_validator);
  ADD ("layers", test_layers);
  return g_test_run ();
}
