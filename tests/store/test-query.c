#include "config.h"

#include <math.h>

#include "store-fixture.h"

static TptInstant
at (const char *text)
{
  TptInstant instant = tpt_instant_parse (text, NULL, NULL);

  g_assert_cmpint (instant, !=, TPT_NO_INSTANT);
  return instant;
}

static TptInstant
maybe_at (const char *text)
{
  return text != NULL ? at (text) : TPT_NO_INSTANT;
}

static gint64
id_of (TptStore *store, TptTableId table, const char *code)
{
  g_autoptr (TptRecord) record = tpt_store_find (store, table, code, NULL);

  return tpt_record_get_id (record);
}

#define PUT(table, ...) store_put (f->store, "put", ROW (f->store, table, __VA_ARGS__))

/* Stations A and B, D1 and D2 there, two species, one unit. */
static void
set_up (StoreFixture *f, gconstpointer data)
{
  store_set_up (f, data);
  PUT (TPT_TABLE_STATIONS, "station", "A", "latitude", "45.5", "longitude", "25.25");
  PUT (TPT_TABLE_STATIONS, "station", "B");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "A", "start", "2026-05-01");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D2", "station", "B", "start", "2026-05-01");
  PUT (TPT_TABLE_SPECIES, "scientific_name", "Lynx lynx");
  PUT (TPT_TABLE_SPECIES, "scientific_name", "Vulpes vulpes");
  PUT (TPT_TABLE_UNITS, "unit", "K1", "kind", "camera");
  PUT (TPT_TABLE_UNITS, "unit", "K2", "kind", "camera");
}

static void
put_sighting (StoreFixture *f, const char *code, const char *deployment, const char *start, const char *end, const char *species,
              const char *count)
{
  PUT (TPT_TABLE_OBSERVATIONS, "observation", code, "deployment", deployment, "start", start, "end", end, "type",
       species != NULL ? "animal" : "blank", "scientific_name", species != NULL ? species : "", "count", count);
}

/* By species, station and start, whatever the order they were written in. */
static void
test_sightings (StoreFixture *f, gconstpointer data)
{
  static const struct {
    const char *from, *to; /* NULL: open */
    const char *got;       /* minutes after 10:00 of what is found, in order */
  } cases[] = {
    { NULL, NULL, "5 7 1 3 2" },
    { "2026-05-02T10:03:00Z", NULL, "5 7 3" }, /* from: itself */
    { NULL, "2026-05-02T10:03:00Z", "1 2" },   /* to: not itself */
    { "2026-05-02T10:02:00Z", "2026-05-02T10:05:00.001Z", "5 3 2" },
    { "2026-05-03T00:00:00Z", NULL, "" },
  };
  gint64 lynx, a;

  put_sighting (f, "O7", "D2", "2026-05-02T10:07:00Z", "", "Lynx lynx", "");
  put_sighting (f, "O3", "D1", "2026-05-02T10:03:00Z", "2026-05-02T10:04:00Z", "Vulpes vulpes", "3");
  put_sighting (f, "O1", "D1", "2026-05-02T10:01:00Z", "", "Vulpes vulpes", "");
  put_sighting (f, "O2", "D2", "2026-05-02T10:02:00Z", "", "Vulpes vulpes", "2");
  put_sighting (f, "O5", "D1", "2026-05-02T10:05:00Z", "", "Lynx lynx", "");
  put_sighting (f, "O6", "D1", "2026-05-02T10:06:00Z", "", NULL, ""); /* a blank is no sighting */
  lynx = id_of (f->store, TPT_TABLE_SPECIES, "Lynx lynx");
  a = id_of (f->store, TPT_TABLE_STATIONS, "A");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      TptRange range = { maybe_at (cases[i].from), maybe_at (cases[i].to) };
      g_autoptr (GArray) rows = tpt_store_read_sightings (f->store, range, &error);
      g_autoptr (GString) got = g_string_new (NULL);

      g_assert_no_error (error);
      for (guint r = 0; r < rows->len; r++)
        {
          const TptSighting *row = &g_array_index (rows, TptSighting, r);
          gint64 minute = (row->start - at ("2026-05-02T10:00:00Z")) / TPT_MINUTE;

          g_string_append_printf (got, "%s%d", r == 0 ? "" : " ", (int) minute);
          g_assert_cmpint (row->count, ==, minute == 3 ? 3 : minute == 2 ? 2 : 1);
          g_assert_cmpint (row->end - row->start, ==, minute == 3 ? TPT_MINUTE : 0);
          g_assert_cmpint (row->species_id == lynx, ==, minute >= 5);
          g_assert_cmpint (row->station_id == a, ==, minute % 2 == 1 && minute != 7);
        }
      g_assert_cmpstr (got->str, ==, cases[i].got);
    }
}

/* Frames at 10:00:00.000 and 10:00:00.900, seen until withdrawn. */
static void
test_signs (StoreFixture *f, gconstpointer data)
{
  static const struct {
    const char *before;
    const char *sign; /* NULL: none */
  } cases[] = {
    { "2026-05-01T09:59:59.999Z", NULL },
    { "2026-05-01T10:00:00Z", "2026-05-01T10:00:00Z" },
    { "2026-05-01T10:00:00.899Z", "2026-05-01T10:00:00Z" },
    { "2026-05-01T10:00:00.900Z", "2026-05-01T10:00:00.900Z" },
    { "2026-05-02T09:00:00Z", "2026-05-01T10:00:00.900Z" },
    { "2026-05-02T10:00:00Z", "2026-05-02T10:00:00Z" }, /* a record is a sign too */
    { "2027-01-01T00:00:00Z", "2026-05-02T10:00:00Z" },
  };
  gint64 d1 = id_of (f->store, TPT_TABLE_DEPLOYMENTS, "D1"), d2 = id_of (f->store, TPT_TABLE_DEPLOYMENTS, "D2");
  g_autoptr (GError) error = NULL;

  put_sighting (f, "O1", "D1", "2026-05-02T10:00:00Z", "2026-05-02T11:00:00Z", NULL, "");
  store_put_batch (f->store, "D1-B01");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_assert_cmpint (tpt_store_read_last_sign (f->store, d1, at (cases[i].before), &error), ==, maybe_at (cases[i].sign));
      g_assert_cmpint (tpt_store_read_last_sign (f->store, d2, at (cases[i].before), &error), ==, TPT_NO_INSTANT);
      g_assert_no_error (error);
    }
  g_assert_true (tpt_store_undo (f->store, &error));
  g_assert_cmpint (tpt_store_read_last_sign (f->store, d1, at ("2026-05-01T12:00:00Z"), &error), ==, TPT_NO_INSTANT);
  g_assert_no_error (error);
}

/* What was known of the deployments' triggers at some moment: of D1, visited on
 * 3 May, frames on the 1st, 2nd and 4th; of D2, ended on the 2nd, the same. */
static void
test_known_signs (StoreFixture *f, gconstpointer data)
{
  static const struct {
    const char *on;
    gint64 d1, d2; /* triggers */
  } cases[] = {
    { "2026-05-01T12:00:00Z", 0, 0 },
    { "2026-05-02T00:00:00Z", 0, 1 },
    { "2026-05-02T23:00:00Z", 0, 1 },
    { "2026-05-03T00:00:00Z", 2, 1 },
    { "2026-06-01T00:00:00Z", 2, 1 },
  };
  static const char *const times[] = { "2026-05-01T10:00:00Z", "2026-05-02T10:00:00Z", "2026-05-04T10:00:00Z" };
  static const char *const deployments[] = { "D1", "D2" };

  PUT (TPT_TABLE_VISITS, "visit", "V1", "station", "A", "at", "2026-05-03T00:00:00Z");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D2", "station", "B", "start", "2026-05-01", "end", "2026-05-02T00:00:00Z");
  for (gsize d = 0; d < G_N_ELEMENTS (deployments); d++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (TptAction) action = tpt_action_begin (f->store, "Take in", &error);
      TptNewFrame frames[G_N_ELEMENTS (times)] = { 0 };
      TptNewBatch batch = { .batch = deployments[d], .deployment_id = id_of (f->store, TPT_TABLE_DEPLOYMENTS, deployments[d]),
                            .clock_true = TPT_NO_INSTANT, .frames = frames, .n_frames = G_N_ELEMENTS (times) };
      g_autoptr (GPtrArray) codes = g_ptr_array_new_with_free_func (g_free);

      for (gsize i = 0; i < G_N_ELEMENTS (times); i++)
        {
          g_ptr_array_add (codes, g_strdup_printf ("%s-%u", deployments[d], (guint) i));
          frames[i] = (TptNewFrame){ .file = "a.jpg", .frame = codes->pdata[i], .at = at (times[i]), .bytes = -1, .trigger = (int) i };
        }
      g_assert_true (tpt_store_add_batch (f->store, &batch, &error));
      g_assert_true (tpt_action_commit (action, &error));
    }
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GArray) rows = tpt_store_read_signs (f->store, at (cases[i].on), &error);
      gint64 got[2] = { 0, 0 };

      g_assert_no_error (error);
      for (guint r = 0; r < rows->len; r++)
        {
          const TptSigns *row = &g_array_index (rows, TptSigns, r);

          got[row->deployment_id == id_of (f->store, TPT_TABLE_DEPLOYMENTS, "D2")] = row->triggers;
          g_assert_cmpint (row->first, ==, at (times[0]));
        }
      g_test_message ("%s", cases[i].on);
      g_assert_cmpint (got[0], ==, cases[i].d1);
      g_assert_cmpint (got[1], ==, cases[i].d2);
    }
}

static void
test_frame_times (StoreFixture *f, gconstpointer data)
{
  static const struct {
    const char *station;
    const char *from, *to;
    guint n;
  } cases[] = {
    { "A", NULL, NULL, 2 },
    { "B", NULL, NULL, 0 },
    { "A", "2026-05-01T10:00:00Z", NULL, 2 },
    { "A", "2026-05-01T10:00:00.001Z", NULL, 1 },
    { "A", NULL, "2026-05-01T10:00:00.900Z", 1 },
    { "A", "2026-05-01T10:00:01Z", NULL, 0 },
  };

  store_put_batch (f->store, "D1-B01");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      TptRange range = { maybe_at (cases[i].from), maybe_at (cases[i].to) };
      g_autoptr (GArray) times = tpt_store_read_frame_times (f->store, id_of (f->store, TPT_TABLE_STATIONS, cases[i].station), range, &error);

      g_assert_no_error (error);
      g_assert_cmpuint (times->len, ==, cases[i].n);
      for (guint t = 1; t < times->len; t++)
        g_assert_cmpint (g_array_index (times, TptInstant, t - 1), <=, g_array_index (times, TptInstant, t));
    }
}

/* The newest reading of K1 that was known; K2 has one of its own on the 20th. */
static void
test_last_readings (StoreFixture *f, gconstpointer data)
{
  static const struct {
    const char *on;
    guint n;
    double percent; /* of K1 */
    const char *action;
  } cases[] = {
    { "2026-05-09T23:59:59Z", 0, NAN, "" },
    { "2026-05-10T00:00:00Z", 1, 80, "none" },
    { "2026-05-19T00:00:00Z", 1, 80, "none" },
    { "2026-05-20T00:00:00Z", 2, 40, "swapped" },
    { "2026-06-20T00:00:00Z", 2, NAN, "removed" },
  };

  PUT (TPT_TABLE_VISITS, "visit", "V3", "station", "A", "at", "2026-05-30T00:00:00Z");
  PUT (TPT_TABLE_VISITS, "visit", "V1", "station", "A", "at", "2026-05-10T00:00:00Z");
  PUT (TPT_TABLE_VISITS, "visit", "V2", "station", "A", "at", "2026-05-20T00:00:00Z");
  PUT (TPT_TABLE_READINGS, "visit", "V3", "unit", "K1", "action", "removed");
  PUT (TPT_TABLE_READINGS, "visit", "V2", "unit", "K1", "percent", "40", "action", "swapped", "state", "dead");
  PUT (TPT_TABLE_READINGS, "visit", "V1", "unit", "K1", "percent", "80", "action", "none", "volts", "6.1");
  PUT (TPT_TABLE_READINGS, "visit", "V2", "unit", "K2", "percent", "10");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GArray) rows = tpt_store_read_last_readings (f->store, at (cases[i].on), &error);

      g_test_message ("%s", cases[i].on);
      g_assert_no_error (error);
      g_assert_cmpuint (rows->len, ==, cases[i].n);
      for (guint r = 0; r < rows->len; r++)
        {
          const TptLastReading *row = &g_array_index (rows, TptLastReading, r);
          gboolean first = row->unit_id == id_of (f->store, TPT_TABLE_UNITS, "K1");

          g_assert_cmpint (first, ==, r == 0); /* by unit */
          g_assert_true (first ? row->percent == cases[i].percent || (isnan (row->percent) && isnan (cases[i].percent)) : row->percent == 10);
          g_assert_cmpstr (row->action, ==, first ? cases[i].action : "");
        }
    }
}

/* The same course under the same name is one track. */
static void
test_tracks (StoreFixture *f, gconstpointer data)
{
  static const struct {
    const char *name;
    gboolean area;
    double shift;
    gboolean added;
  } cases[] = {
    { "Ridge", FALSE, 0, TRUE },
    { "Ridge", FALSE, 0, FALSE },
    { "Ridge", FALSE, 0.001, TRUE },
    { NULL, FALSE, 0, TRUE },
    { NULL, FALSE, 0, FALSE },
    { "Reserve", TRUE, 0, TRUE },
    { "Reserve", TRUE, 0, FALSE },
  };
  g_autoptr (GPtrArray) tracks = NULL;
  g_autoptr (GError) error = NULL;
  guint n = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptAction) action = tpt_action_begin (f->store, "track", &error);
      g_autoptr (TptTrack) track = tpt_track_new (cases[i].area ? "boundary" : "trail", cases[i].name, cases[i].area);
      gboolean added = !cases[i].added;

      for (int p = 0; p < 4; p++)
        tpt_track_add_point (track, 45 + cases[i].shift + p % 3, 25 + p % 3 * (p % 2));
      tpt_track_end_line (track);
      g_assert_true (tpt_store_add_track (f->store, track, &added, &error));
      g_assert_true (tpt_action_commit (action, &error));
      g_assert_cmpint (added, ==, cases[i].added);
      n += added;
    }
  tracks = tpt_store_list_tracks (f->store, &error);
  g_assert_cmpuint (tracks->len, ==, n);
  g_assert_cmpstr (((TptTrack *) tracks->pdata[0])->name, ==, "Ridge");
  g_assert_cmpfloat (g_array_index (((TptTrack *) tracks->pdata[1])->points, double, 0), ==, 45.001);
  g_assert_true (((TptTrack *) tracks->pdata[n - 1])->area);
  store_assert_sound (f->store);
}

/* The hand example of CHECKS C3, deer at S1: three detections by the gap from
 * the last frame, exactly 30 minutes being apart; computed there twice by
 * different code. Then the project's own interval. */
static void
test_detections_view (StoreFixture *f, gconstpointer data)
{
  static const char *const times[] = { "06:00:00", "06:20:00", "06:40:00", "07:00:00", "07:30:00", "07:59:59", "08:29:59" };
  static const struct {
    const char *minutes;
    gint64 n;
  } cases[] = { { "30", 3 }, { "0", 7 }, { "20", 7 }, { "20.001", 4 }, { "30.001", 1 } };

  for (gsize i = G_N_ELEMENTS (times); i > 0; i--)
    {
      g_autofree char *code = g_strdup_printf ("O%u", (guint) i), *start = g_strdup_printf ("2026-05-02T%sZ", times[i - 1]);

      put_sighting (f, code, "D1", start, "", "Lynx lynx", "");
    }
  put_sighting (f, "other", "D1", "2026-05-02T06:10:00Z", "2026-05-02T09:00:00Z", NULL, "");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptAction) action = tpt_action_begin (f->store, "interval", NULL);

      g_test_message ("%s minutes", cases[i].minutes);
      g_assert_true (tpt_store_set_setting (f->store, "independence_min", cases[i].minutes, NULL));
      g_assert_true (tpt_action_commit (action, NULL));
      g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM detections"), ==, cases[i].n);
      g_assert_cmpint (store_count (f->store, "SELECT sum(detections) FROM station_detections"), ==, cases[i].n);
      g_assert_cmpint (store_count (f->store, "SELECT detections FROM species_station_detections"), ==, cases[i].n);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD(name, function) g_test_add ("/query/" name, StoreFixture, NULL, set_up, function, store_tear_down)
  ADD ("sightings", test_sightings);
  ADD ("signs", test_signs);
  ADD ("known-signs", test_known_signs);
  ADD ("frame-times", test_frame_times);
  ADD ("last-readings", test_last_readings);
  ADD ("tracks", test_tracks);
  ADD ("detections-view", test_detections_view);
  return g_test_run ();
}
