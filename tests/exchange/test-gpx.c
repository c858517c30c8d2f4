#include "config.h"

#include <math.h>
#include <string.h>

#include "drip.h"
#include "folder.h"
#include "input.h"
#include "tpt-error.h"
#include "tpt-gpx.h"

#define HEAD "<gpx xmlns=\"http://www.topografix.com/GPX/1/1\" version=\"1.1\" creator=\"test\">"

/* One line per feature: kind, name, and its parts as runs of positions. */
static char *
describe (GPtrArray *features)
{
  static const char *const kinds[] = { "point", "line", "area" };
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < features->len; i++)
    {
      const TptFeature *feature = g_ptr_array_index (features, i);

      g_assert_cmpuint (feature->index, ==, i);
      g_string_append_printf (text, "%s %s", feature->route ? "route" : kinds[feature->kind],
                              feature->name != NULL ? feature->name : "-");
      for (guint part = 0; part < feature->parts->len; part++)
        {
          guint n_vertices;
          const TptVertex *vertices = tpt_feature_get_part (feature, part, &n_vertices);

          g_string_append (text, " (");
          for (guint j = 0; j < n_vertices; j++)
            g_string_append_printf (text, "%s%g %g", j > 0 ? ", " : "", vertices[j].latitude, vertices[j].longitude);
          g_string_append_c (text, ')');
        }
      g_string_append_c (text, '\n');
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static GPtrArray *
read_bytes (const char *data, gsize size, GPtrArray *refusals, GError **error)
{
  g_autoptr (GInputStream) stream = open_drip (data, size, 7);

  return tpt_gpx_read (stream, "t.gpx", refusals, NULL, error);
}

static GPtrArray *
read_text (const char *text, GPtrArray *refusals, GError **error)
{
  return read_bytes (text, strlen (text), refusals, error);
}

/* Files made for these tests; what each holds its name says. */
static void
test_files (void)
{
  static const struct {
    const char *file;
    guint waypoints, lines;
    guint lost, kept;
    gint64 line;        /* of the first refusal, lost or kept */
    const char *reason; /* of the refused file, or of the first refusal */
    gboolean refused;
  } cases[] = {
    { "antimeridian-track", 0, 1, 0, 0 },
    { "comma-decimals", 0, 0, 1, 0, 3, "comma" },
    { "crlf", 1, 0, 0, 0 },
    { "deep-nesting", 0, 0, 1, 0, 3, "nested too deeply", TRUE },
    { "duplicate-names", 4, 0, 0, 0 },
    { "entities-cdata-whitespace", 1, 0, 0, 0 },
    { "entity-expansion", 0, 0, 1, 0, 2, "document type", TRUE },
    { "external-entity", 0, 0, 1, 0, 2, "document type", TRUE },
    { "html-instead", 0, 0, 1, 0, 1, "“html”", TRUE },
    { "lat-out-of-range", 1, 0, 2, 0, 3, "between -90 and 90" },
    { "latin1-mislabelled-utf8", 0, 0, 1, 0, 3, "encoding", TRUE },
    { "latin1", 1, 0, 0, 0 },
    { "missing-lon", 1, 0, 1, 0, 3, "no such value" },
    { "nul-inside", 0, 0, 1, 0, 3, "do not fit the encoding", TRUE },
    { "prefixed-namespace", 1, 0, 0, 0 },
    { "time-with-offset-and-local", 3, 0, 0, 1, 3, "no offset" },
    { "truncated", 0, 0, 1, 0, 4, "cut off", TRUE },
    { "waypoints-handheld", 3, 0, 0, 0 },
    { "zero-bytes", 0, 0, 1, 0, 1, "empty", TRUE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *name = g_strconcat (cases[i].file, ".gpx", NULL);
      g_autofree char *path = g_build_filename (g_getenv ("TEST_DATA"), "exchange", "gpx", name, NULL);
      g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
      g_autoptr (GError) error = NULL;
      g_autoptr (GPtrArray) features = tpt_gpx_read_file (path, refusals, NULL, &error);
      guint counts[3] = { 0 };

      g_test_message ("%s: %s", name, error != NULL ? error->message : "taken");
      g_assert_cmpint (features == NULL, ==, cases[i].refused);
      if (cases[i].refused)
        {
          g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
          g_assert_nonnull (strstr (error->message, cases[i].reason));
          g_assert_nonnull (strstr (error->message, name));
        }
      for (guint j = 0; features != NULL && j < features->len; j++)
        counts[((TptFeature *) g_ptr_array_index (features, j))->kind]++;
      g_assert_cmpuint (counts[TPT_FEATURE_POINT], ==, cases[i].waypoints);
      g_assert_cmpuint (counts[TPT_FEATURE_LINE], ==, cases[i].lines);
      g_assert_cmpuint (tpt_refusals_count_lost (refusals), ==, cases[i].lost);
      g_assert_cmpuint (refusals->len, ==, cases[i].lost + cases[i].kept);
      if (refusals->len > 0)
        {
          const TptRefusal *refusal = g_ptr_array_index (refusals, 0);
          g_assert_cmpint (refusal->line, ==, cases[i].line);
          g_assert_cmpstr (refusal->file, ==, name);
          g_assert_nonnull (strstr (refusal->reason, cases[i].reason));
        }
    }
}

/* Shapes of content; what is left out is counted. */
static void
test_texts (void)
{
  static const struct {
    const char *text;
    const char *features;
    guint lost, kept;
    const char *column; /* of the first refusal */
  } cases[] = {
    { HEAD "</gpx>", "", 0, 0 },
    { "<gpx/>", "", 0, 0 }, /* no namespace, version or creator */
    { "<gpx><wpt lat='1' lon='2'><name>a</name></wpt></gpx>", "point a (1 2)\n", 0, 0 },
    { "\xEF\xBB\xBF<?xml version='1.0'?>" HEAD "<wpt lat='1' lon='2'/></gpx>", "point - (1 2)\n", 0, 0 },
    { "<gpx xmlns='http://www.topografix.com/GPX/1/0' version='1.0'><time>2024-05-01T08:00:00Z</time>"
      "<wpt lat='1' lon='2'><name>old</name><url>x</url></wpt></gpx>", "point old (1 2)\n", 0, 0 },
    { HEAD "<wpt lat='1' lon='180'/><wpt lat='-90' lon='-180'/></gpx>", "point - (1 180)\npoint - (-90 -180)\n", 0, 0 },
    { HEAD "<wpt lat='NaN' lon='2'/></gpx>", "", 1, 0, "lat" },
    { HEAD "<wpt lat='1' lon='inf'/></gpx>", "", 1, 0, "lon" },
    { HEAD "<wpt lat='' lon='2'/></gpx>", "", 1, 0, "lat" },
    { HEAD "<wpt/></gpx>", "", 1, 0, "lat" },
    { HEAD "<wpt lat='1.00000000000000000000000001' lon='2'/></gpx>", "point - (1 2)\n", 0, 0 },
    { HEAD "<wpt lat='1' lon='2'><ele>1,5</ele><name>a</name></wpt></gpx>", "point a (1 2)\n", 0, 1, "ele" },
    { HEAD "<wpt lat='1' lon='2'><hdop>-1</hdop></wpt></gpx>", "point - (1 2)\n", 0, 1, "hdop" },
    { HEAD "<wpt lat='1' lon='2'><time>yesterday</time></wpt></gpx>", "point - (1 2)\n", 0, 1, "time" },
    /* a maker's own element of the same name is not ours; nor is one within extensions */
    { "<gpx xmlns='http://www.topografix.com/GPX/1/1' xmlns:m='http://maker.example/1'>"
      "<wpt lat='1' lon='2'><m:name>theirs</m:name><name>ours</name>"
      "<extensions><name>inner</name></extensions></wpt></gpx>", "point ours (1 2)\n", 0, 0 },
    { "<gpx xmlns='http://www.topografix.com/GPX/1/1'><wpt lat='1' lon='2'><m:x/><name>a</name></wpt></gpx>",
      "point a (1 2)\n", 0, 0 }, /* a prefix nobody declared */
    { HEAD "<wpt lat='1' lon='2'><name><!-- c -->a<![CDATA[<b>]]></name></wpt></gpx>", "point a<b> (1 2)\n", 0, 0 },
    { HEAD "<wpt lat='1' lon='2'><name>a</name><name>b</name></wpt></gpx>", "point a (1 2)\n", 0, 0 },
    { HEAD "<trk><name>t</name><trkseg><trkpt lat='1' lon='1'/><trkpt lat='2' lon='2'/></trkseg>"
      "<trkseg><trkpt lat='3' lon='3'/><trkpt lat='4' lon='4'/></trkseg></trk></gpx>",
      "line t (1 1, 2 2) (3 3, 4 4)\n", 0, 0 },
    { HEAD "<trk><trkseg><trkpt lat='1' lon='1'/><trkpt lat='x' lon='9'/><trkpt lat='2' lon='2'/></trkseg></trk></gpx>",
      "line - (1 1, 2 2)\n", 1, 0, "lat" },
    { HEAD "<trk><trkseg><trkpt lat='1' lon='1'/></trkseg>"
      "<trkseg><trkpt lat='3' lon='3'/><trkpt lat='4' lon='4'/></trkseg></trk></gpx>",
      "line - (3 3, 4 4)\n", 0, 1, NULL },
    { HEAD "<trk><trkseg/></trk></gpx>", "", 1, 0, NULL },
    { HEAD "<trk/></gpx>", "", 1, 0, NULL },
    { HEAD "<rte><name>r</name><rtept lat='1' lon='1'><name>x</name></rtept><rtept lat='2' lon='2'/></rte></gpx>",
      "route r (1 1, 2 2)\n", 0, 0 },
    { HEAD "<trkpt lat='1' lon='1'/><trkseg/><name>stray</name></gpx>", "", 0, 0 },
    { HEAD "<wpt lat='1' lon='2'><wpt lat='3' lon='4'/></wpt></gpx>", "point - (1 2)\n", 0, 0 },
    /* one note for a track whose times have no offset, not one per point */
    { HEAD "<trk><trkseg><trkpt lat='1' lon='1'><time>2024-05-01T08:00:00</time></trkpt>"
      "<trkpt lat='2' lon='2'><time>2024-05-01T08:00:10</time></trkpt></trkseg></trk></gpx>",
      "line - (1 1, 2 2)\n", 0, 1, "time" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
      g_autoptr (GError) error = NULL;
      g_autoptr (GPtrArray) features = read_text (cases[i].text, refusals, &error);
      g_autofree char *text = NULL;

      g_assert_no_error (error);
      text = describe (features);
      g_assert_cmpstr (text, ==, cases[i].features);
      g_assert_cmpuint (tpt_refusals_count_lost (refusals), ==, cases[i].lost);
      g_assert_cmpuint (refusals->len, ==, cases[i].lost + cases[i].kept);
      if (refusals->len > 0)
        g_assert_cmpstr (((TptRefusal *) g_ptr_array_index (refusals, 0))->column, ==, cases[i].column);
    }
}

static void
test_fields (void)
{
  static const char text[] =
    "\n\n" HEAD "\n<wpt lat='47.201' lon='8.101'>\n<ele> 612.4 </ele><time>2024-05-01T10:12:44.5+02:00</time>"
    "<name> Fox &amp; Badger &#xE9; </name><cmt>c</cmt><desc>d</desc><sym>s</sym><type>t</type><hdop>3.1</hdop></wpt>"
    "<wpt lat='1' lon='2'><time>2024-05-01T10:12:44</time></wpt></gpx>";
  g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
  g_autoptr (GPtrArray) features = read_text (text, refusals, NULL);
  const TptFeature *feature = g_ptr_array_index (features, 0);
  const TptVertex *vertex = &g_array_index (feature->vertices, TptVertex, 0);

  g_assert_cmpint (feature->line, ==, 4);
  g_assert_cmpfloat (vertex->latitude, ==, 47.201);
  g_assert_cmpfloat (vertex->longitude, ==, 8.101);
  g_assert_cmpfloat (vertex->elevation, ==, 612.4);
  g_assert_cmpint (tpt_vertex_get_instant (vertex), ==, tpt_instant_parse ("2024-05-01T08:12:44.5Z", NULL, NULL));
  g_assert_cmpstr (feature->name, ==, "Fox & Badger é");
  g_assert_cmpstr (feature->comment, ==, "c");
  g_assert_cmpstr (feature->description, ==, "d");
  g_assert_cmpstr (feature->symbol, ==, "s");
  g_assert_cmpstr (feature->type, ==, "t");
  g_assert_cmpfloat (feature->hdop, ==, 3.1);

  /* Kept as the clock reading it is. */
  feature = g_ptr_array_index (features, 1);
  vertex = &g_array_index (feature->vertices, TptVertex, 0);
  g_assert_cmpint (vertex->time.clock_ms, ==, tpt_instant_parse ("2024-05-01T10:12:44Z", NULL, NULL));
  g_assert_cmpint (vertex->time.offset_s, ==, TPT_NO_OFFSET);
  g_assert_true (isnan (vertex->elevation));
  g_assert_true (isnan (feature->hdop));
  g_assert_null (feature->name);
}

static void
test_encodings (void)
{
  static const char *const encodings[] = { "UTF-16LE", "UTF-16BE", "ISO-8859-1" };
  static const char *const marks[] = { "\xFF\xFE", "\xFE\xFF", "" };
  static const char *const names[] = { "UTF-16", "UTF-16", "ISO-8859-1" };

  for (gsize i = 0; i < G_N_ELEMENTS (encodings); i++)
    {
      g_autofree char *text = g_strdup_printf (
        "<?xml version='1.0' encoding='%s'?>\n" HEAD "<wpt lat='1' lon='2'><name>Bär</name></wpt></gpx>", names[i]);
      gsize length;
      g_autofree char *coded = g_convert (text, -1, encodings[i], "UTF-8", NULL, &length, NULL);
      gsize mark = strlen (marks[i]);
      g_autofree char *bytes = g_malloc (mark + length);
      g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
      g_autoptr (GError) error = NULL;
      g_autoptr (GPtrArray) features = NULL;
      g_autofree char *described = NULL;

      memcpy (bytes, marks[i], mark);
      memcpy (bytes + mark, coded, length);
      features = read_bytes (bytes, mark + length, refusals, &error);
      g_assert_no_error (error);
      described = describe (features);
      g_assert_cmpstr (described, ==, "point Bär (1 2)\n");
    }
}

static char *
nest (guint depth)
{
  GString *text = g_string_new (HEAD);

  for (guint i = 1; i < depth; i++)
    g_string_append (text, "<extensions>");
  for (guint i = 1; i < depth; i++)
    g_string_append (text, "</extensions>");
  g_string_append (text, "</gpx>");
  return g_string_free (text, FALSE);
}

static void
test_depth (void)
{
  static const struct {
    guint depth;
    gboolean good;
  } cases[] = { { TPT_GPX_DEPTH_MAX, TRUE }, { TPT_GPX_DEPTH_MAX + 1, FALSE }, { 200000, FALSE } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = nest (cases[i].depth);
      g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
      g_autoptr (GPtrArray) features = read_text (text, refusals, NULL);

      g_assert_cmpint (features != NULL, ==, cases[i].good);
    }
}

static void
test_refused_texts (void)
{
  static const struct {
    const char *text;
    const char *reason;
  } cases[] = {
    { "station,name\nS1,Ford\n", "not XML" },
    { "<kml xmlns='http://www.opengis.net/kml/2.2'/>", "“kml”" },
    { "<gpx version='2.0'/>", "version “2.0”" },
    { "<gpx/><gpx/>", "damaged" },
    { "<gpx><wpt lat='1' lon='2'><name>&x;</name></wpt></gpx>", "damaged" },
    { "<gpx><wpt lat='1' lat='2' lon='2'/></gpx>", "damaged" },
    { "<!DOCTYPE gpx SYSTEM 'http://tests.invalid/gpx.dtd'><gpx/>", "document type" },
    { "<!DOCTYPE gpx><gpx/>", "document type" },
    { "<?xml version='1.0' encoding='x-no-such'?><gpx/>", "encoding" },
    { "   ", "not XML" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
      g_autoptr (GError) error = NULL;

      g_assert_null (read_text (cases[i].text, refusals, &error));
      g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
      if (strstr (error->message, cases[i].reason) == NULL)
        g_error ("“%s” is not in “%s”", cases[i].reason, error->message);
      g_assert_cmpuint (refusals->len, ==, 1);
    }
}

static void
test_long_text (void)
{
  for (int more = 0; more < 2; more++)
    {
      g_autofree char *name = g_strnfill (TPT_GPX_TEXT_MAX + more, 'x');
      g_autofree char *text = g_strconcat (HEAD "<wpt lat='1' lon='2'><name>", name, "</name></wpt></gpx>", NULL);
      g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
      g_autoptr (GPtrArray) features = read_text (text, refusals, NULL);

      g_assert_cmpint (features != NULL, ==, !more);
    }
}

static void
test_too_many_faults (void)
{
  g_autoptr (GString) text = g_string_new (HEAD);
  g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
  g_autoptr (GError) error = NULL;

  for (int i = 0; i < 2 * TPT_REFUSALS_MAX; i++)
    g_string_append (text, "<wpt/>");
  g_string_append (text, "</gpx>");
  g_assert_null (read_text (text->str, refusals, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
  g_assert_cmpuint (refusals->len, ==, TPT_REFUSALS_MAX + 1);
}

static void
test_cancel (void)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GInputStream) stream = open_bytes (HEAD "</gpx>", strlen (HEAD "</gpx>"));
  g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
  g_autoptr (GError) error = NULL;

  g_cancellable_cancel (cancellable);
  g_assert_null (tpt_gpx_read (stream, "t.gpx", refusals, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpuint (refusals->len, ==, 0);
}

static const char golden[] =
  "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
  "<gpx xmlns=\"http://www.topografix.com/GPX/1/1\" version=\"1.1\" creator=\"Tapetum\">\n"
  "<wpt lat=\"47.2010001\" lon=\"-180\"><ele>612.41</ele><time>2024-05-01T08:12:44.500Z</time>"
  "<name>Fox &amp; &lt;Badger&gt; é</name><cmt>c</cmt><desc>d&#13;\n</desc><sym>s</sym><type>t</type><hdop>3.1</hdop>"
  "</wpt>\n"
  "<wpt lat=\"0\" lon=\"-180\"></wpt>\n"
  "<rte><name>round</name>\n<rtept lat=\"1\" lon=\"1\"></rtept>\n<rtept lat=\"2\" lon=\"2\"></rtept>\n</rte>\n"
  "<trk><name>trail</name><type>path</type>\n"
  "<trkseg>\n<trkpt lat=\"1\" lon=\"1\"></trkpt>\n<trkpt lat=\"2\" lon=\"2\"></trkpt>\n</trkseg>\n"
  "<trkseg>\n<trkpt lat=\"3\" lon=\"3\"></trkpt>\n<trkpt lat=\"4\" lon=\"4\"></trkpt>\n</trkseg>\n"
  "</trk>\n"
  "</gpx>\n";

static void
add_run (TptFeature *feature, int first, int last)
{
  for (int i = first; i <= last; i++)
    {
      TptVertex vertex = tpt_vertex_make (i, i);
      tpt_feature_add_vertex (feature, &vertex);
    }
  tpt_feature_end_part (feature, FALSE);
}

/* Tracks come first here, to see them written last. */
static GPtrArray *
make_features (void)
{
  GPtrArray *features = tpt_features_new ();
  TptFeature *track = tpt_feature_new (TPT_FEATURE_LINE);
  TptFeature *route = tpt_feature_new (TPT_FEATURE_LINE);
  TptFeature *full = tpt_feature_new_point (47.20100012, 180);
  TptFeature *bare = tpt_feature_new_point (-1e-9, -179.99999999);
  TptVertex *vertex = &g_array_index (full->vertices, TptVertex, 0);

  track->name = g_strdup ("trail");
  track->type = g_strdup ("path");
  add_run (track, 1, 2);
  add_run (track, 3, 4);
  route->route = TRUE;
  route->name = g_strdup ("round");
  add_run (route, 1, 2);
  full->name = g_strdup ("Fox & <Badger> é");
  full->comment = g_strdup ("c");
  full->description = g_strdup ("d\r\n");
  full->symbol = g_strdup ("s");
  full->type = g_strdup ("t");
  full->hdop = 3.1;
  vertex->elevation = 612.407043;
  g_assert_true (tpt_reading_parse ("2024-05-01T10:12:44.5+02:00", &vertex->time, NULL));
  /* without an offset it is not UTC, and so not written */
  g_assert_true (tpt_reading_parse ("2024-05-01T10:12:44", &g_array_index (bare->vertices, TptVertex, 0).time, NULL));

  g_ptr_array_add (features, track);
  g_ptr_array_add (features, route);
  g_ptr_array_add (features, full);
  g_ptr_array_add (features, bare);
  return features;
}

static void
test_writer (void)
{
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "t.gpx", NULL);
  g_autofree char *again = g_build_filename (folder, "u.gpx", NULL);
  g_autoptr (GPtrArray) features = make_features ();
  g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
  g_autoptr (GPtrArray) back = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  g_autofree char *text_again = NULL;
  g_autofree char *described = NULL;

  tpt_gpx_write (path, features, &error);
  g_assert_no_error (error);
  text = read_file (path);
  g_assert_cmpstr (text, ==, golden);

  back = tpt_gpx_read_file (path, refusals, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (refusals->len, ==, 0);
  described = describe (back);
  g_assert_cmpstr (described, ==,
                   "point Fox & <Badger> é (47.201 -180)\npoint - (0 -180)\nroute round (1 1, 2 2)\n"
                   "line trail (1 1, 2 2) (3 3, 4 4)\n");

  /* What was read back gives the same bytes, but for the blanks at the
   * description's end, which the reader strips. */
  g_free (((TptFeature *) g_ptr_array_index (back, 0))->description);
  ((TptFeature *) g_ptr_array_index (back, 0))->description = g_strdup ("d\r\n");
  g_assert_true (tpt_gpx_write (again, back, &error));
  text_again = read_file (again);
  g_assert_cmpstr (text_again, ==, golden);
  remove_folder (folder);
}

/* The order of child elements in the GPX 1.1 schema (gpxType, wptType,
 * rteType, trkType, trksegType), as far as they are written. */
static const struct {
  const char *parent;
  const char *order[16];
} schema[] = {
  { "gpx", { "metadata", "wpt", "rte", "trk", "extensions" } },
  { "wpt", { "ele", "time", "magvar", "geoidheight", "name", "cmt", "desc", "src", "link", "sym", "type", "fix", "sat",
             "hdop" } },
  { "rtept", { "ele", "time", "name" } },
  { "trkpt", { "ele", "time", "name" } },
  { "rte", { "name", "cmt", "desc", "src", "link", "number", "type", "extensions", "rtept" } },
  { "trk", { "name", "cmt", "desc", "src", "link", "number", "type", "extensions", "trkseg" } },
  { "trkseg", { "trkpt", "extensions" } },
};

static int
get_rank (const char *parent, const char *child)
{
  for (gsize i = 0; i < G_N_ELEMENTS (schema); i++)
    if (g_str_equal (schema[i].parent, parent))
      for (gsize j = 0; j < G_N_ELEMENTS (schema[i].order) && schema[i].order[j] != NULL; j++)
        if (g_str_equal (schema[i].order[j], child))
          return j;
  return -1;
}

typedef struct {
  GPtrArray *parents; /* (element-type utf8) */
  GArray *ranks;      /* (element-type int): of the last child of each parent */
  guint elements;
} Order;

static void
check_start_cb (GMarkupParseContext *context, const char *element, const char **names, const char **values,
                gpointer data, GError **error)
{
  Order *order = data;
  int none = -1;

  if (order->parents->len > 0)
    {
      int *last = &g_array_index (order->ranks, int, order->ranks->len - 1);
      int rank = get_rank (g_ptr_array_index (order->parents, order->parents->len - 1), element);

      g_assert_cmpint (rank, >=, 0);
      g_assert_cmpint (rank, >=, *last);
      *last = rank;
    }
  if (g_str_has_suffix (element, "pt"))
    {
      g_assert_cmpstr (names[0], ==, "lat");
      g_assert_cmpstr (names[1], ==, "lon");
      g_assert_cmpfloat (g_ascii_strtod (values[1], NULL), >=, -180);
      g_assert_cmpfloat (g_ascii_strtod (values[1], NULL), <, 180);
    }
  g_ptr_array_add (order->parents, g_strdup (element));
  g_array_append_val (order->ranks, none);
  order->elements++;
}

static void
check_end_cb (GMarkupParseContext *context, const char *element, gpointer data, GError **error)
{
  Order *order = data;

  g_ptr_array_remove_index (order->parents, order->parents->len - 1);
  g_array_set_size (order->ranks, order->ranks->len - 1);
}

static void
test_writer_order (void)
{
  static const GMarkupParser parser = { check_start_cb, check_end_cb };
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "t.gpx", NULL);
  g_autoptr (GPtrArray) features = make_features ();
  g_autoptr (GPtrArray) parents = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) ranks = g_array_new (FALSE, FALSE, sizeof (int));
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  Order order = { parents, ranks, 0 };
  GMarkupParseContext *context = g_markup_parse_context_new (&parser, 0, &order, NULL);

  g_assert_true (tpt_gpx_write (path, features, NULL));
  text = read_file (path);
  g_assert_true (g_markup_parse_context_parse (context, text, -1, &error));
  g_assert_true (g_markup_parse_context_end_parse (context, &error));
  g_assert_cmpuint (order.elements, ==, 24); /* gpx 1, waypoints 9 and 1, route 4, track 9 */
  g_markup_parse_context_free (context);
  remove_folder (folder);
}

static void
test_writer_texts (void)
{
  static const struct {
    const char *name;
    const char *back;
  } cases[] = {
    { "tab\there", "tab\there" },
    { "bell\ahere", "bell\xEF\xBF\xBDhere" }, /* XML 1.0, production 2 */
    { "]]>", "]]>" },
    { "not \xE9 UTF-8", "not \xEF\xBF\xBD UTF-8" },
    { "𠀋", "𠀋" },
  };
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "t.gpx", NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GPtrArray) features = tpt_features_new ();
      g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
      g_autoptr (GPtrArray) back = NULL;
      TptFeature *feature = tpt_feature_new_point (1, 2);

      feature->name = g_strdup (cases[i].name);
      g_ptr_array_add (features, feature);
      g_assert_true (tpt_gpx_write (path, features, NULL));
      back = tpt_gpx_read_file (path, refusals, NULL, NULL);
      g_assert_cmpstr (((TptFeature *) g_ptr_array_index (back, 0))->name, ==, cases[i].back);
    }
  remove_folder (folder);
}

static void
test_writer_faults (void)
{
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "t.gpx", NULL);
  g_autoptr (GPtrArray) features = make_features ();

  g_file_set_contents (path, "old", -1, NULL);
  for (int step = 1;; step++)
    {
      g_autofree char *text = NULL;
      gboolean good;

      tpt_fault_arm (step);
      good = tpt_gpx_write (path, features, NULL);
      text = read_file (path);
      g_assert_cmpstr (text, ==, good ? golden : "old");
      g_assert_cmpuint (count_files (folder), ==, 1);
      if (good)
        break;
    }
  tpt_fault_arm (0);

  /* One bad feature and nothing is written. */
  g_ptr_array_add (features, tpt_feature_new_point (NAN, 0));
  g_assert_false (tpt_gpx_write (path, features, NULL));
  g_assert_cmpuint (count_files (folder), ==, 1);
  remove_folder (folder);
}

static void
test_mutations (void)
{
  guint refused = 0;

  for (guint32 seed = 0; seed < MUTATIONS; seed++)
    {
      g_autoptr (GByteArray) bytes = mutate (golden, strlen (golden), seed);
      g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
      g_autoptr (GError) error = NULL;
      g_autoptr (GPtrArray) features = read_bytes ((const char *) bytes->data, bytes->len, refusals, &error);

      refused += features == NULL;
      if (features == NULL)
        g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
      for (guint i = 0; features != NULL && i < features->len; i++)
        g_assert_true (tpt_feature_check (g_ptr_array_index (features, i), NULL));
    }
  g_assert_cmpuint (refused, >, MUTATIONS / 4);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/gpx/files", test_files);
  g_test_add_func ("/gpx/texts", test_texts);
  g_test_add_func ("/gpx/fields", test_fields);
  g_test_add_func ("/gpx/encodings", test_encodings);
  g_test_add_func ("/gpx/depth", test_depth);
  g_test_add_func ("/gpx/refused-texts", test_refused_texts);
  g_test_add_func ("/gpx/long-text", test_long_text);
  g_test_add_func ("/gpx/too-many-faults", test_too_many_faults);
  g_test_add_func ("/gpx/cancel", test_cancel);
  g_test_add_func ("/gpx/writer", test_writer);
  g_test_add_func ("/gpx/writer-order", test_writer_order);
  g_test_add_func ("/gpx/writer-texts", test_writer_texts);
  g_test_add_func ("/gpx/writer-faults", test_writer_faults);
  g_test_add_func ("/gpx/mutations", test_mutations);
  return g_test_run ();
}
