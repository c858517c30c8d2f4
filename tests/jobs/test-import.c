#include "config.h"

#include "jobs-fixture.h"
#include "tpt-job-tracks.h"
#include "tpt-query.h"
#include "tpt-records.h"

/* One file of each table, in the order in which the last is needed first. */
static const struct {
  const char *name;
  const char *text;
  guint rows;
} tables[] = {
  { "1.csv", "observation,deployment,start,end,type,scientific_name,count,certainty,notes\n"
             "O1,D1,2026-05-02T03:00,2026-05-02T03:01,animal,Lynx lynx,2,0.9,\"two, at least\"\n"
             "O2,D1,2026-05-03T03:00,,blank,,,,\n", 2 },
  { "2.csv", "frame,deployment,file,camera_time,bytes\nF1,D1,a/1.jpg,2026-05-02T03:00:00,10\nF2,D1,a/2.jpg,2026-05-02T03:00:01,10\n"
             "F3,D1,a/3.jpg,2026-05-02T05:00:00,10\n", 3 },
  { "3.csv", "visit,unit,state,volts,percent,action\nV1,K1,working,5.8,71.5,none\n", 1 },
  { "4.csv", "visit,station,at,people,found,camera_clock,true_clock,frames_on_card\n"
             "V1,OAK,2026-05-10T10:00,us,working,2026-05-10T09:00,2026-05-10T10:00,120\n", 1 },
  { "5.csv", "deployment,unit,from,to\nD1,K1,2026-05-01,\n", 1 },
  { "6.csv", "deployment,station,start,frames_per_trigger\nD1,OAK,2026-05-01,3\n", 1 },
  { "7.csv", "\xef\xbb\xbfunit,kind,chemistry,cells_series,cell_mah\r\nK1,camera,nimh,4,1900.5\r\n", 1 }, /* with a mark, lines of RFC 4180 */
  { "8.csv", "latitude,station,longitude,name\n50.12345,OAK,10.54321,Old oak\n,ASH,,\n", 2 },
  { "9.csv", "scientific_name,sensitivity,common_en,common_es\nLynx lynx,high,Eurasian lynx,Lince boreal\n", 1 },
};

static TptJobImport *
import (JobsFixture *f, const char *const *paths, gboolean dry_run, gboolean lenient)
{
  TptJobImport *job = tpt_job_import_new (paths, dry_run, lenient);

  jobs_run (f, job);
  for (guint i = 0; i < tpt_job_import_get_n_refused (job); i++)
    {
      g_autofree char *told = tpt_job_import_describe_refused (job, i);

      g_test_message ("%s", told);
      g_assert_true (g_utf8_validate (told, -1, NULL));
    }
  return job;
}

static TptJobImport *
import_text (JobsFixture *f, const char *name, const char *text, gboolean lenient)
{
  g_autofree char *path = jobs_write (f, name, text);
  const char *paths[] = { path, NULL };

  return import (f, paths, FALSE, lenient);
}

static void
assert_counts (TptJobImport *job, gint64 added, gint64 updated, gint64 unchanged, guint refused)
{
  g_assert_cmpuint (tpt_job_import_get_n_refused (job), ==, refused);
  g_assert_cmpint (tpt_job_import_get_added (job), ==, added);
  g_assert_cmpint (tpt_job_import_get_updated (job), ==, updated);
  g_assert_cmpint (tpt_job_import_get_unchanged (job), ==, unchanged);
}

/* All rows of all tables but frames as text. */
static char *
dump (JobsFixture *f)
{
  static const TptTableId ids[] = { TPT_TABLE_STATIONS, TPT_TABLE_UNITS,    TPT_TABLE_DEPLOYMENTS, TPT_TABLE_FITTINGS,
                                    TPT_TABLE_VISITS,   TPT_TABLE_READINGS, TPT_TABLE_SPECIES,     TPT_TABLE_OBSERVATIONS };
  GString *text = g_string_new (NULL);

  for (gsize t = 0; t < G_N_ELEMENTS (ids); t++)
    {
      g_autoptr (GPtrArray) all = jobs_list (f, ids[t], NULL, NULL);

      for (guint i = 0; i < all->len; i++)
        for (guint c = 0; c < tpt_table_get (ids[t])->n_columns; c++)
          {
            g_autofree char *cell = tpt_record_to_string (all->pdata[i], tpt_table_get (ids[t])->columns[c].name, NULL);
            g_string_append_printf (text, "%s%c", cell != NULL ? cell : "", c + 1 < tpt_table_get (ids[t])->n_columns ? ',' : '\n');
          }
    }
  return g_string_free (text, FALSE);
}

static GPtrArray *
write_tables (JobsFixture *f)
{
  GPtrArray *paths = g_ptr_array_new_with_free_func (g_free);

  for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
    g_ptr_array_add (paths, jobs_write (f, tables[i].name, tables[i].text));
  g_ptr_array_add (paths, NULL);
  return paths;
}

/* In one call, whatever the order; a second time nothing changes. */
static void
test_all (JobsFixture *unused, gconstpointer data)
{
  g_autofree char *first = NULL;

  for (guint order = 0; order < 3; order++)
    {
      JobsFixture own, *f = &own;
      g_autoptr (GPtrArray) paths = NULL;
      g_autoptr (TptJobImport) job = NULL, again = NULL, dry = NULL;
      g_autofree char *after = NULL, *still = NULL;

      jobs_set_up (f, "Europe/Berlin");
      paths = write_tables (f);
      for (guint i = 0; order > 0 && i + 2 < paths->len; i++)
        {
          guint k = (i * 5 + order) % (paths->len - 1);
          gpointer swap = paths->pdata[i];

          paths->pdata[i] = paths->pdata[k];
          paths->pdata[k] = swap;
        }
      dry = import (f, (const char *const *) paths->pdata, TRUE, FALSE);
      assert_counts (dry, 13, 0, 0, 0);
      g_assert_cmpuint (jobs_count (f, TPT_TABLE_STATIONS), ==, 0); /* looked only */

      job = import (f, (const char *const *) paths->pdata, FALSE, FALSE);
      assert_counts (job, 13, 0, 0, 0);
      after = dump (f);
      again = import (f, (const char *const *) paths->pdata, FALSE, FALSE);
      assert_counts (again, 0, 0, 13, 0);
      still = dump (f);
      g_assert_cmpstr (still, ==, after);
      if (first == NULL)
        first = g_strdup (after);
      g_assert_cmpstr (after, ==, first);
      jobs_assert_sound (f, FALSE);

      /* One action for each source: the whole goes back step by step. */
      for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
        jobs_undo (f, FALSE);
      g_assert_cmpuint (jobs_count (f, TPT_TABLE_STATIONS), ==, 0);
      jobs_tear_down (f, NULL);
    }
}

/* One bad row, and its source is wholly left out; where and why is said. */
static void
test_refused (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *text;
    gint64 line;
    const char *column;
    const char *says;
  } cases[] = {
    { "station,latitude,longitude\nELM,1,2\nYEW,91,2\n", 3, "latitude", "between" },
    { "station,latitude,longitude\nELM,1,2\nYEW,NaN,2\n", 3, "latitude", "not a number" },
    { "station,latitude,longitude\nELM,\"1,5\",2\n", 2, "latitude", "decimal point" },
    { "station,latitude,longitude\nELM,1,\n", 2, "longitude", "both" },
    { "station,name\nELM,One\nYEW,Two\nELM,Three\n", 4, "station", "already" },
    { "station,name\nELM,One\n,Two\n", 3, "station", "empty" },
    { "station,colour\nELM,red\n", 1, "colour", "no column" },
    { "station,station\nELM,ELM\n", 1, NULL, "" },
    { "deployment,station,start\nD9,NOWHERE,2026-05-01\n", 2, "station", "NOWHERE" },
    { "deployment,station,start\nD9,OAK,2026-10-25T02:30\n", 2, "start", "" },  /* comes twice in Berlin */
    { "deployment,station,start\nD9,OAK,2026-03-29T02:30\n", 2, "start", "" },  /* never comes */
    { "deployment,station,start,end\nD9,OAK,2026-05-02,2026-05-01\n", 2, "end", "before" },
    { "deployment,unit,from\nD1,K1,2026-06-01\n", 2, "unit", "D1" },             /* in that rig already */
    { "observation,deployment,start,type,count\nO9,D1,2026-05-01,animal,0\n", 2, "count", "" },
    { "observation,deployment,start,type\nO9,D1,2026-05-01,ghost\n", 2, "type", "none of" },
    { "frame,deployment,file\nF9,D9,a.jpg\n", 2, "deployment", "" },
    { "frame,deployment,file,bytes\nF1,D1,a/1.jpg,11\n", 2, "frame", "never changed" },
    { "name,colour\nELM,red\n", 1, NULL, "none of the tables" },
    { "station,name\nELM,\"open\n", 0, NULL, "" },
    { "station,name\nELM\n", 2, NULL, "" },
    { "", 0, NULL, "" },
  };
  g_autoptr (GPtrArray) paths = write_tables (f);
  g_autoptr (TptJobImport) all = import (f, (const char *const *) paths->pdata, FALSE, FALSE);
  g_autofree char *before = dump (f);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobImport) job = NULL;
      g_autofree char *after = NULL;
      const char *file, *column, *reason;
      gint64 line;

      g_test_message ("%s", cases[i].text);
      job = import_text (f, "bad.csv", cases[i].text, FALSE);
      g_assert_cmpuint (tpt_job_import_get_n_refused (job), >=, 1);
      g_assert_cmpint (tpt_job_import_get_added (job) + tpt_job_import_get_updated (job), ==, 0);
      g_assert_true (tpt_job_import_get_refused (job, 0, &file, &line, &column, &reason));
      g_assert_cmpstr (file, ==, "bad.csv");
      if (cases[i].line > 0)
        g_assert_cmpint (line, ==, cases[i].line);
      if (cases[i].column != NULL)
        g_assert_cmpstr (column, ==, cases[i].column);
      g_assert_nonnull (strstr (reason, cases[i].says));
      after = dump (f);
      g_assert_cmpstr (after, ==, before);
    }
  jobs_assert_sound (f, FALSE);
}

/* The good source beside a bad one is taken; all bad cells of a row are named. */
static void
test_beside (JobsFixture *f, gconstpointer data)
{
  g_autofree char *good = jobs_write (f, "good.csv", "station\nOAK\n");
  g_autofree char *bad = jobs_write (f, "bad.csv", "unit,kind,cell_mah,acquired\nK1,camera,lots,someday\nK2,camera,5,\n");
  const char *paths[] = { bad, good, NULL };
  g_autoptr (TptJobImport) dry = import (f, paths, TRUE, FALSE);
  g_autoptr (TptJobImport) job = import (f, paths, FALSE, FALSE);

  assert_counts (dry, 1, 0, 0, 2);
  assert_counts (job, 1, 0, 0, 2);
  g_assert_cmpuint (jobs_count (f, TPT_TABLE_STATIONS), ==, 1);
  g_assert_cmpuint (jobs_count (f, TPT_TABLE_UNITS), ==, 0);
}

/* Only what the file's columns say is taken over; an empty cell unsets. */
static void
test_update (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *text;
    gboolean lenient;
    gint64 added, updated, unchanged;
    const char *name;
    double latitude; /* of OAK afterwards */
  } cases[] = {
    { "station,name,latitude,longitude\nOAK,Old oak,1,2\n", FALSE, 1, 0, 0, "Old oak", 1 },
    { "station,latitude,longitude\nOAK,3,4\n", FALSE, 0, 1, 0, "Old oak", 3 },
    { "station,name\nOAK,\n", FALSE, 0, 1, 0, NULL, 3 },
    { "station\nOAK\n", FALSE, 0, 0, 1, NULL, 3 },
    { "colour,station,name\nred,OAK,Oak\n", TRUE, 0, 1, 0, "Oak", 3 },
    { "station,latitude,longitude\nOAK,,\n", FALSE, 0, 1, 0, "Oak", NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobImport) job = import_text (f, "stations.csv", cases[i].text, cases[i].lenient);
      g_autoptr (GPtrArray) all = jobs_list (f, TPT_TABLE_STATIONS, NULL, NULL);
      double latitude = tpt_record_get_real (all->pdata[0], "latitude");

      g_test_message ("%s", cases[i].text);
      assert_counts (job, cases[i].added, cases[i].updated, cases[i].unchanged, 0);
      g_assert_cmpstr (tpt_record_get_text (all->pdata[0], "name"), ==, cases[i].name);
      g_assert_true (latitude == cases[i].latitude || (isnan (latitude) && isnan (cases[i].latitude)));
    }
}

/* Waypoints and points become stations by name, lines become tracks. */
static void
test_features (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *name;
    const char *text;
    guint stations, tracks;
  } cases[] = {
    { "a.gpx",
      "<?xml version=\"1.0\"?><gpx xmlns=\"http://www.topografix.com/GPX/1/1\" version=\"1.1\" creator=\"test\">"
      "<wpt lat=\"50.5\" lon=\"10.25\"><ele>412.5</ele><name>OAK</name><cmt>by the ford</cmt></wpt>"
      "<trk><name>Ridge trail</name><trkseg><trkpt lat=\"50\" lon=\"10\"/><trkpt lat=\"50.1\" lon=\"10\"/></trkseg>"
      "<trkseg><trkpt lat=\"51\" lon=\"10\"/><trkpt lat=\"51.1\" lon=\"10\"/></trkseg></trk>"
      "<rte><name>Way in</name><rtept lat=\"50\" lon=\"10\"/><rtept lat=\"50.2\" lon=\"10\"/></rte></gpx>", 1, 2 },
    { "b.geojson",
      "{\"type\":\"FeatureCollection\",\"features\":["
      "{\"type\":\"Feature\",\"properties\":{\"name\":\"ASH\"},\"geometry\":{\"type\":\"Point\",\"coordinates\":[10.6,50.2]}},"
      "{\"type\":\"Feature\",\"properties\":{\"name\":\"Reserve\"},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":"
      "[[[10,50],[11,50],[11,51],[10,50]]]}}]}", 2, 3 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    for (guint again = 0; again < 2; again++)
      {
        g_autoptr (TptJobImport) job = import_text (f, cases[i].name, cases[i].text, FALSE);
        g_autoptr (TptJobTracks) tracks = tpt_job_tracks_new ();
        guint all = i == 0 ? 3 : 2;

        assert_counts (job, again ? 0 : all, 0, again ? all : 0, 0);
        jobs_run (f, tracks);
        g_assert_cmpuint (tpt_job_tracks_get_tracks (tracks)->len, ==, cases[i].tracks);
        g_assert_cmpuint (jobs_count (f, TPT_TABLE_STATIONS), ==, cases[i].stations);
      }
  {
    g_autoptr (GPtrArray) oak = jobs_list (f, TPT_TABLE_STATIONS, "station", "OAK");

    g_assert_cmpfloat (tpt_record_get_real (oak->pdata[0], "latitude"), ==, 50.5);
    g_assert_cmpfloat (tpt_record_get_real (oak->pdata[0], "longitude"), ==, 10.25);
    g_assert_cmpfloat (tpt_record_get_real (oak->pdata[0], "elevation_m"), ==, 412.5);
    g_assert_cmpstr (tpt_record_get_text (oak->pdata[0], "notes"), ==, "by the ford");
  }
  jobs_assert_sound (f, FALSE);
}

static void
test_features_refused (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *name;
    const char *text;
    const char *says;
  } cases[] = {
    { "a.gpx", "<gpx xmlns=\"http://www.topografix.com/GPX/1/1\" version=\"1.1\"><wpt lat=\"1\" lon=\"2\"><name>ELM</name></wpt>"
               "<wpt lat=\"1\" lon=\"2\"/></gpx>", "name" },
    { "a.gpx", "<gpx xmlns=\"http://www.topografix.com/GPX/1/1\" version=\"1.1\"><wpt lat=\"1\" lon=\"2\"><name>ELM</name></wpt>"
               "<wpt lat=\"3\" lon=\"2\"><name>ELM</name></wpt></gpx>", "two" },
    { "a.gpx", "<gpx xmlns=\"http://www.topografix.com/GPX/1/1\" version=\"1.1\"><wpt lat=\"1\" lon=\"2\"><name>ELM</name>", "" },
    { "a.gpx", "station\nELM\n", "" },
    { "a.geojson", "{\"type\":\"FeatureCollection\",\"features\":[", "" },
    { "a.json", "[1,2,3]", "" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobImport) job = NULL;
      const char *file, *column, *reason;
      gint64 line;

      g_test_message ("%s", cases[i].text);
      job = import_text (f, cases[i].name, cases[i].text, FALSE);
      g_assert_cmpuint (tpt_job_import_get_n_refused (job), >=, 1);
      tpt_job_import_get_refused (job, 0, &file, &line, &column, &reason);
      g_assert_cmpstr (file, ==, cases[i].name);
      g_assert_nonnull (strstr (reason, cases[i].says));
      g_assert_cmpuint (jobs_count (f, TPT_TABLE_STATIONS), ==, 0);
    }
}

/* Times by the rule of the deployment: the camera shows the zone's time as it
 * was at the start, +01:00 in winter, and is an hour and a half slow. Frames
 * of one firing make one trigger, whatever the order of the rows. */
static void
test_frames (JobsFixture *f, gconstpointer data)
{
  static const char *const expected[] = {
    "2026-07-01T01:30:00Z", "2026-07-01T01:30:01Z", "2026-07-01T01:30:02Z", "2026-07-01T01:30:03Z", "2026-07-02T01:30:00Z",
  };
  g_autofree char *stations = jobs_write (f, "s.csv", "station\nOAK\n");
  g_autofree char *deployments =
    jobs_write (f, "d.csv", "deployment,station,start,frames_per_trigger,camera_clock_offset_s\nD1,OAK,2026-02-01,3,5400\n");
  g_autofree char *frames = jobs_write (f, "f.csv",
                                        "frame,deployment,file,camera_time\nF5,D1,5.jpg,2026-07-02T01:00:00\nF4,D1,4.jpg,2026-07-01T01:00:03\n"
                                        "F1,D1,1.jpg,2026-07-01T01:00:00\nF0,D1,0.jpg,\nF2,D1,2.jpg,2026-07-01T01:00:01\n"
                                        "F3,D1,3.jpg,2026-07-01T01:00:02\n");
  const char *paths[] = { frames, deployments, stations, NULL };
  g_autoptr (TptJobImport) job = import (f, paths, FALSE, FALSE);
  g_autoptr (TptStore) store = tpt_store_open (f->path, TRUE, NULL);
  g_autoptr (TptRecord) station = tpt_store_find (store, TPT_TABLE_STATIONS, "OAK", NULL);
  TptRange ever = { TPT_NO_INSTANT, TPT_NO_INSTANT };
  g_autoptr (GArray) times = tpt_store_read_frame_times (store, tpt_record_get_id (station), ever, NULL);
  g_autoptr (TptRecord) deployment = tpt_store_find (store, TPT_TABLE_DEPLOYMENTS, "D1", NULL);
  TptSigns signs;

  assert_counts (job, 8, 0, 0, 0);
  g_assert_cmpuint (times->len, ==, G_N_ELEMENTS (expected));
  for (guint i = 0; i < times->len; i++)
    {
      g_autofree char *told = tpt_instant_format (g_array_index (times, TptInstant, i), NULL);
      g_assert_cmpstr (told, ==, expected[i]);
    }
  /* Three to a trigger: the fourth within the second begins another. */
  g_assert_true (tpt_store_read_signs_of (store, tpt_record_get_id (deployment), at ("2027-01-01T00:00:00Z"), &signs, NULL));
  g_assert_cmpint (signs.triggers, ==, 3);
  jobs_assert_sound (f, FALSE);
}

/* A file that is not there ends the import, and what came before stays. */
static void
test_missing (JobsFixture *f, gconstpointer data)
{
  g_autofree char *path = jobs_path (f, "nowhere.csv");
  const char *paths[] = { path, NULL };
  g_autoptr (TptJobImport) job = tpt_job_import_new (paths, FALSE, FALSE);
  g_autoptr (GError) error = NULL;

  g_assert_false (tpt_project_run (f->project, TPT_JOB (job), NULL, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_IO);
  g_assert_nonnull (strstr (error->message, "nowhere.csv"));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD_BERLIN(name, function) g_test_add (name, JobsFixture, "Europe/Berlin", jobs_set_up, function, jobs_tear_down)
  ADD_BERLIN ("/import/all", test_all);
  ADD_BERLIN ("/import/refused", test_refused);
  ADD_BERLIN ("/import/beside", test_beside);
  ADD_BERLIN ("/import/update", test_update);
  ADD_BERLIN ("/import/features", test_features);
  ADD_BERLIN ("/import/features-refused", test_features_refused);
  ADD_BERLIN ("/import/frames", test_frames);
  ADD_BERLIN ("/import/missing", test_missing);
  return g_test_run ();
}
