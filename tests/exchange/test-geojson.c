#include "config.h"

#include <math.h>
#include <string.h>

#include "drip.h"
#include "folder.h"
#include "input.h"
#include "tpt-error.h"
#include "tpt-geojson.h"

#define FEATURE(geometry) "{\"type\":\"Feature\",\"geometry\":" geometry ",\"properties\":null}"
#define COLLECTION(features) "{\"type\":\"FeatureCollection\",\"features\":[" features "]}"
#define SHAPE(type, coordinates) "{\"type\":\"" type "\",\"coordinates\":" coordinates "}"

static char *
describe (GPtrArray *features)
{
  static const char *const kinds[] = { "point", "line", "area" };
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < features->len; i++)
    {
      const TptFeature *feature = g_ptr_array_index (features, i);

      g_string_append_printf (text, "%u %s", feature->index, kinds[feature->kind]);
      for (guint part = 0; part < feature->parts->len; part++)
        {
          guint n_vertices;
          const TptVertex *vertices = tpt_feature_get_part (feature, part, &n_vertices);

          g_string_append (text, g_array_index (feature->parts, TptPart, part).hole ? " hole(" : " (");
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
  g_autoptr (GInputStream) stream = open_drip (data, size, 1000);

  return tpt_geojson_read (stream, "t.geojson", refusals, NULL, error);
}

static GPtrArray *
read_text (const char *text, GPtrArray *refusals, GError **error)
{
  return read_bytes (text, strlen (text), refusals, error);
}

/* Shapes after the examples of RFC 7946, appendix A, in the order of its
 * sections; the expected positions are turned to latitude, longitude. */
static void
test_shapes (void)
{
  static const struct {
    const char *text;
    const char *features;
  } cases[] = {
    { SHAPE ("Point", "[100.0, 0.0]"), "0 point (0 100)\n" },                                 /* A.1 */
    { SHAPE ("LineString", "[[100.0, 0.0], [101.0, 1.0]]"), "0 line (0 100, 1 101)\n" },      /* A.2 */
    { SHAPE ("Polygon", "[[[100.0, 0.0], [101.0, 0.0], [101.0, 1.0], [100.0, 1.0], [100.0, 0.0]]]"),
      "0 area (0 100, 0 101, 1 101, 1 100, 0 100)\n" },                                       /* A.3, no holes */
    { SHAPE ("Polygon", "[[[100.0, 0.0], [101.0, 0.0], [101.0, 1.0], [100.0, 0.0]],"
                        " [[100.8, 0.8], [100.8, 0.2], [100.2, 0.2], [100.8, 0.8]]]"),
      "0 area (0 100, 0 101, 1 101, 0 100) hole(0.8 100.8, 0.2 100.8, 0.2 100.2, 0.8 100.8)\n" }, /* A.3, with hole */
    { SHAPE ("MultiLineString", "[[[100.0, 0.0], [101.0, 1.0]], [[102.0, 2.0], [103.0, 3.0]]]"),
      "0 line (0 100, 1 101) (2 102, 3 103)\n" },                                             /* A.5 */
    { SHAPE ("MultiPolygon", "[[[[2, 2], [3, 2], [3, 3], [2, 2]]],"
                             "[[[0, 0], [1, 0], [1, 1], [0, 0]], [[0.2, 0.2], [0.2, 0.8], [0.8, 0.8], [0.2, 0.2]]]]"),
      "0 area (2 2, 2 3, 3 3, 2 2) (0 0, 0 1, 1 1, 0 0) hole(0.2 0.2, 0.8 0.2, 0.8 0.8, 0.2 0.2)\n" }, /* A.6 */
    { FEATURE (SHAPE ("Point", "[102.0, 0.5]")), "0 point (0.5 102)\n" },
    { COLLECTION (FEATURE (SHAPE ("Point", "[102.0, 0.5]")) "," FEATURE (SHAPE ("LineString", "[[102,0],[103,1]]"))),
      "0 point (0.5 102)\n1 line (0 102, 1 103)\n" },                                         /* section 1.5 */
    { COLLECTION (""), "" },
    { "\xEF\xBB\xBF " COLLECTION (""), "" },
    { SHAPE ("Point", "[-180, -90, 12, 99]"), "0 point (-90 -180)\n" },
    { SHAPE ("Point", "[1.0e2, -0]"), "0 point (0 100)\n" },
    { SHAPE ("Polygon", "[[[0, 0], [1, 1], [1, 0], [0, 0]]]"),                                /* clockwise: taken */
      "0 area (0 0, 1 1, 0 1, 0 0)\n" },
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
      g_assert_cmpuint (refusals->len, ==, 0);
    }
}

/* The faulty feature stands between two good ones, which are taken. */
static void
test_refused_features (void)
{
  static const struct {
    const char *feature;
    const char *place; /* after features[1] */
    const char *reason;
  } cases[] = {
    { FEATURE ("null"), ".geometry", "no place" },
    { "{\"type\":\"Feature\"}", ".geometry", "no place" },
    { FEATURE ("[1,2]"), ".geometry", "no place" },
    { FEATURE (SHAPE ("MultiPoint", "[[1,2]]")), ".geometry", "“MultiPoint”" },
    { FEATURE ("{\"type\":\"GeometryCollection\",\"geometries\":[]}"), ".geometry", "“GeometryCollection”" },
    { FEATURE ("{\"coordinates\":[1,2]}"), ".geometry", "“”" },
    { FEATURE ("{\"type\":\"Point\"}"), ".geometry.coordinates", "no coordinates" },
    { FEATURE (SHAPE ("Point", "[]")), ".geometry.coordinates", "array of longitude" },
    { FEATURE (SHAPE ("Point", "[1]")), ".geometry.coordinates", "array of longitude" },
    { FEATURE (SHAPE ("Point", "\"1,2\"")), ".geometry.coordinates", "array of longitude" },
    { FEATURE (SHAPE ("Point", "[\"1\",\"2\"]")), ".geometry.coordinates", "not a number" },
    { FEATURE (SHAPE ("Point", "[1,null]")), ".geometry.coordinates", "not a number" },
    { FEATURE (SHAPE ("Point", "[47.2, 108.1]")), ".geometry.coordinates", "swapped" },
    { FEATURE (SHAPE ("Point", "[108, 92]")), ".geometry.coordinates", "latitude is not between" },
    { FEATURE (SHAPE ("Point", "[181, 2]")), ".geometry.coordinates", "longitude is not between" },
    { FEATURE (SHAPE ("Point", "[500000, 5000000]")), ".geometry.coordinates", "not between" }, /* metres of a grid */
    { FEATURE (SHAPE ("LineString", "[[1,2],[3,4],[5,96]]")), ".geometry.coordinates[2]", "swapped" },
    { FEATURE (SHAPE ("LineString", "[[1,2]]")), ".geometry.coordinates", "two positions" },
    { FEATURE (SHAPE ("LineString", "[1,2]")), ".geometry.coordinates[0]", "array of longitude" },
    { FEATURE (SHAPE ("MultiLineString", "[]")), ".geometry.coordinates", "no coordinates" },
    { FEATURE (SHAPE ("MultiLineString", "[[[1,2],[3,4]],[[1,2]]]")), ".geometry.coordinates[1]", "two positions" },
    { FEATURE (SHAPE ("Polygon", "[[[0,0],[1,0],[0,0]]]")), ".geometry.coordinates[0]", "four positions" },
    { FEATURE (SHAPE ("Polygon", "[[[0,0],[1,0],[1,1],[0,1]]]")), ".geometry.coordinates[0]", "ends where" },
    { FEATURE (SHAPE ("MultiPolygon", "[[[[0,0],[1,0],[1,1],[0,0]]],[[1]]]")), ".geometry.coordinates[1][0][0]",
      "array" },
    { "7", "", "not a feature" },
    { "{\"type\":\"Point\",\"coordinates\":[1,2]}", "", "not a feature" },
  };
  static const char good[] = FEATURE (SHAPE ("Point", "[1,2]"));

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = g_strdup_printf (COLLECTION ("%s,%s,%s"), good, cases[i].feature, good);
      g_autofree char *place = g_strconcat ("features[1]", cases[i].place, NULL);
      g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
      g_autoptr (GError) error = NULL;
      g_autoptr (GPtrArray) features = read_text (text, refusals, &error);
      g_autofree char *described = NULL;
      const TptRefusal *refusal;

      g_assert_no_error (error);
      described = describe (features);
      g_assert_cmpstr (described, ==, "0 point (2 1)\n2 point (2 1)\n");
      g_assert_cmpuint (refusals->len, ==, 1);
      refusal = g_ptr_array_index (refusals, 0);
      g_assert_cmpstr (refusal->file, ==, "t.geojson");
      g_assert_cmpstr (refusal->column, ==, place);
      if (strstr (refusal->reason, cases[i].reason) == NULL)
        g_error ("“%s” is not in “%s”", cases[i].reason, refusal->reason);
    }
}

static void
test_refused_files (void)
{
  static const struct {
    const char *text;
    gsize size;
    gint64 line;
    const char *reason;
  } cases[] = {
    { "", 0, 1, "empty" },
    { " \n ", 0, -1, "" },
    { "null", 0, 0, "not a GeoJSON" },
    { "[]", 0, 0, "not a GeoJSON" },
    { "{}", 0, 0, "not a GeoJSON" },
    { "{\"type\":\"Topology\"}", 0, 0, "not a GeoJSON" },
    { "{\"type\":\"FeatureCollection\"}", 0, 0, "no list of features" },
    { "<html></html>", 0, 1, "not JSON" },
    { "{\n\"type\":\n\"FeatureCollection\",\n\"features\":[", 0, -1, "cut off" },
    { "{\n\"type\":\n\"Feature", 0, 3, "cut off inside a text" },
    { "{\"type\":\"FeatureCollection\",\"features\":[]} x", 0, 1, "not JSON" },
    { "{\"a\":\"\xE9\"}", 0, 1, "not UTF-8" },
    { "{\n\"a\0\":1}", 9, 2, "not UTF-8" },
    { "\xFF\xFE{\0}\0", 6, 1, "not UTF-8" },
    { "{\"a\":\"\t\"}", 0, 1, "control character" },
    { "{\"a\":\"\\x41\"}", 0, 1, "escaped" },
    { "{\"a\":\"\\u12\"}", 0, 1, "escaped" },
    { "{\"a\":\"\\u0000\"}", 0, 1, "escaped" },
    { "{\"a\":\"\\ud800\"}", 0, 1, "escaped" },        /* half a pair */
    { "{\"a\":\"\\udc00\\ud800\"}", 0, 1, "escaped" },
    { "{\"a\":\"\\ud800\\u0041\"}", 0, 1, "escaped" },
    { "{\"a\":\"\\", 0, 1, "escaped" },
    { "{\"a\":/* \" */1}", 0, 1, "not JSON" },           /* JSON has no comments */
    { "{\"a\":'b'}", 0, 1, "not JSON" },
    { "{\"a\":NaN}", 0, 1, "not JSON" },
    { "{\"a\":01}", 0, 1, "not a number" },             /* nor octal numbers */
    { "{\"a\":.5}", 0, 1, "not JSON" },
    { "{\"a\":1.}", 0, 1, "not a number" },
    { "{\"a\":0x10}", 0, 1, "not JSON" },
    { "{\"a\":-}", 0, 1, "not a number" },
    { "{\"a\":1e999}", 0, 1, "too large" },
    { "{\"a\":18446744073709551617}", 0, 1, "too large" },
    /* RFC 7946, section 4 */
    { "{\"type\":\"FeatureCollection\",\"crs\":{\"type\":\"name\"},\"features\":[]}", 0, 0, "coordinate system" },
    { COLLECTION ("{\"type\":\"Feature\",\"crs\":null,\"geometry\":null}"), 0, 0, "coordinate system" },
    { COLLECTION (FEATURE ("{\"type\":\"Point\",\"crs\":{},\"coordinates\":[1,2]}")), 0, 0, "coordinate system" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      gsize size = cases[i].size > 0 ? cases[i].size : strlen (cases[i].text);
      g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
      g_autoptr (GError) error = NULL;

      g_assert_null (read_bytes (cases[i].text, size, refusals, &error));
      g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
      if (strstr (error->message, cases[i].reason) == NULL)
        g_error ("“%s” is not in “%s”", cases[i].reason, error->message);
      g_assert_cmpuint (refusals->len, ==, 1);
      if (cases[i].line >= 0)
        g_assert_cmpint (((TptRefusal *) g_ptr_array_index (refusals, 0))->line, ==, cases[i].line);
    }
}

static void
test_depth (void)
{
  static const struct {
    guint depth; /* of the property, in a feature: two levels more */
    gboolean good;
  } cases[] = { { TPT_GEOJSON_DEPTH_MAX - 2, TRUE }, { TPT_GEOJSON_DEPTH_MAX - 1, FALSE }, { 5000000, FALSE } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *open = g_strnfill (cases[i].depth, '[');
      g_autofree char *close = g_strnfill (cases[i].depth, ']');
      g_autofree char *text = g_strdup_printf (
        "{\"type\":\"Feature\",\"geometry\":" SHAPE ("Point", "[1,2]") ",\"properties\":{\"a\":%s%s}}", open, close);
      g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
      g_autoptr (GPtrArray) features = read_text (text, refusals, NULL);

      g_assert_cmpint (features != NULL, ==, cases[i].good);
    }
}

static void
test_too_many_values (void)
{
  GString *text = g_string_new ("{\"type\":\"FeatureCollection\",\"features\":[0");
  g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
  g_autoptr (GError) error = NULL;

  for (int i = 0; i < TPT_GEOJSON_VALUES_MAX; i++)
    g_string_append (text, ",0");
  g_string_append (text, "]}");
  g_assert_null (read_bytes (text->str, text->len, refusals, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
  g_assert_nonnull (strstr (error->message, "too many values"));
  g_string_free (text, TRUE);
}

static void
test_cancel (void)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GInputStream) stream = open_bytes (COLLECTION (""), strlen (COLLECTION ("")));
  g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
  g_autoptr (GError) error = NULL;

  g_cancellable_cancel (cancellable);
  g_assert_null (tpt_geojson_read (stream, "t.geojson", refusals, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

static void
test_properties (void)
{
  static const char text[] =
    "{\"type\":\"Feature\",\"id\":7,\"geometry\":" SHAPE ("Point", "[8.1,47.2,612.4]") ",\"properties\":{"
    "\"name\":\"Ford \\u00e9 \\ud842\\udc0b\",\"desc\":\"d\",\"station\":\"S1\",\"uncertainty_m\":12.5,\"count\":3,"
    "\"wet\":true,\"nothing\":null,\"list\":[1,{\"a\":2}],\"hdop\":3.1,\"time\":\"2024-05-01T10:12:44+02:00\","
    "\"type\":{\"odd\":1}}}";
  static const struct {
    const char *name, *value;
    TptPropertyType type;
  } expected[] = {
    { "station", "S1", TPT_PROPERTY_TEXT },   { "uncertainty_m", "12.5", TPT_PROPERTY_NUMBER },
    { "count", "3", TPT_PROPERTY_NUMBER },    { "wet", "true", TPT_PROPERTY_BOOLEAN },
    { "list", "[1,{\"a\":2}]", TPT_PROPERTY_TEXT }, { "type", "{\"odd\":1}", TPT_PROPERTY_TEXT },
  };
  g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
  g_autoptr (GPtrArray) features = read_text (text, refusals, NULL);
  const TptFeature *feature = g_ptr_array_index (features, 0);
  const TptVertex *vertex = &g_array_index (feature->vertices, TptVertex, 0);

  g_assert_cmpstr (feature->id, ==, "7");
  g_assert_cmpstr (feature->name, ==, "Ford é 𠠋");
  g_assert_cmpstr (feature->description, ==, "d");
  g_assert_null (feature->type);
  g_assert_cmpfloat (feature->hdop, ==, 3.1);
  g_assert_cmpfloat (vertex->elevation, ==, 612.4);
  g_assert_cmpint (tpt_vertex_get_instant (vertex), ==, tpt_instant_parse ("2024-05-01T08:12:44Z", NULL, NULL));
  g_assert_cmpstr (tpt_feature_get_property (feature, "station"), ==, "S1");
  g_assert_null (tpt_feature_get_property (feature, "nothing"));
  g_assert_cmpuint (feature->properties->len, ==, G_N_ELEMENTS (expected));
  for (guint i = 0; i < G_N_ELEMENTS (expected); i++)
    {
      const TptProperty *property = g_ptr_array_index (feature->properties, i);
      g_assert_cmpstr (property->name, ==, expected[i].name);
      g_assert_cmpstr (property->value, ==, expected[i].value);
      g_assert_cmpint (property->type, ==, expected[i].type);
    }
}

/* Reads @text and gives what the writer makes of it. */
static char *
rewrite (const char *text)
{
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "t.geojson", NULL);
  g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) features = read_text (text, refusals, &error);
  char *written;

  g_assert_no_error (error);
  g_assert_cmpuint (refusals->len, ==, 0);
  tpt_geojson_write (path, features, &error);
  g_assert_no_error (error);
  written = read_file (path);
  remove_folder (folder);
  return written;
}

/* RFC 7946, sections 3.1.6 (direction of rings) and 3.1.9 (antimeridian). The
 * second reading gives the same bytes again. */
static void
test_writer_shapes (void)
{
  static const struct {
    const char *shape;
    const char *written;
  } cases[] = {
    { SHAPE ("Point", "[8.123456789,47.2,612.407]"), SHAPE ("Point", "[8.1234568,47.2,612.41]") },
    { SHAPE ("Point", "[180,-90]"), SHAPE ("Point", "[180,-90]") },
    { SHAPE ("LineString", "[[1,2],[3,4]]"), SHAPE ("LineString", "[[1,2],[3,4]]") },
    { SHAPE ("MultiLineString", "[[[1,2],[3,4]],[[5,6],[7,8]]]"), SHAPE ("MultiLineString", "[[[1,2],[3,4]],[[5,6],[7,8]]]") },
    /* counter-clockwise stays, clockwise is turned */
    { SHAPE ("Polygon", "[[[0,0],[1,0],[1,1],[0,0]]]"), SHAPE ("Polygon", "[[[0,0],[1,0],[1,1],[0,0]]]") },
    { SHAPE ("Polygon", "[[[0,0],[1,1],[1,0],[0,0]]]"), SHAPE ("Polygon", "[[[0,0],[1,0],[1,1],[0,0]]]") },
    /* a hole is turned the other way */
    { SHAPE ("Polygon", "[[[0,0],[9,0],[9,9],[0,0]],[[2,1],[8,1],[8,7],[2,1]]]"),
      SHAPE ("Polygon", "[[[0,0],[9,0],[9,9],[0,0]],[[2,1],[8,7],[8,1],[2,1]]]") },
    { SHAPE ("MultiPolygon", "[[[[0,0],[1,1],[1,0],[0,0]]],[[[5,5],[9,5],[9,9],[5,5]],[[6,5.5],[8,5.5],[8,7],[6,5.5]]]]"),
      SHAPE ("MultiPolygon", "[[[[0,0],[1,0],[1,1],[0,0]]],[[[5,5],[9,5],[9,9],[5,5]],[[6,5.5],[8,7],[8,5.5],[6,5.5]]]]") },
    /* over the antimeridian the direction is that on the ground */
    { SHAPE ("Polygon", "[[[179,0],[-179,0],[-179,1],[179,0]]]"), SHAPE ("Polygon", "[[[179,0],[-179,0],[-179,1],[179,0]]]") },
    { SHAPE ("Polygon", "[[[179,0],[-179,1],[-179,0],[179,0]]]"), SHAPE ("Polygon", "[[[179,0],[-179,0],[-179,1],[179,0]]]") },
    /* lines are cut there, at the latitude in between */
    { SHAPE ("LineString", "[[179,10],[-179,20]]"),
      SHAPE ("MultiLineString", "[[[179,10],[180,15]],[[-180,15],[-179,20]]]") },
    { SHAPE ("LineString", "[[-179,20],[178,50],[170,0]]"),
      SHAPE ("MultiLineString", "[[[-179,20],[-180,30]],[[180,30],[178,50],[170,0]]]") },
    { SHAPE ("LineString", "[[179,10],[-179,20],[179,10]]"),
      SHAPE ("MultiLineString", "[[[179,10],[180,15]],[[-180,15],[-179,20],[-180,15]],[[180,15],[179,10]]]") },
    /* a vertex on it belongs to both sides */
    { SHAPE ("LineString", "[[179,10],[-180,20]]"), SHAPE ("LineString", "[[179,10],[180,20]]") },
    { SHAPE ("LineString", "[[180,10],[-179,20]]"), SHAPE ("LineString", "[[-180,10],[-179,20]]") },
    { SHAPE ("LineString", "[[179,10],[180,20],[-179,30]]"),
      SHAPE ("MultiLineString", "[[[179,10],[180,20]],[[-180,20],[-179,30]]]") },
    { SHAPE ("LineString", "[[180,10],[-180,20]]"), SHAPE ("LineString", "[[180,10],[180,20]]") },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *expected = g_strdup_printf (
        "{\"type\":\"FeatureCollection\",\"features\":[\n{\"type\":\"Feature\",\"geometry\":%s,\"properties\":{}}\n]}\n",
        cases[i].written);
      g_autofree char *written = rewrite (cases[i].shape);
      g_autofree char *again = rewrite (written);

      g_assert_cmpstr (written, ==, expected);
      g_assert_cmpstr (again, ==, expected);
    }
}

static void
test_writer_properties (void)
{
  static const char text[] =
    "{\"type\":\"FeatureCollection\",\"features\":[\n"
    "{\"type\":\"Feature\",\"id\":\"u-1\",\"geometry\":{\"type\":\"Point\",\"coordinates\":[8.1,47.2]},\"properties\":{"
    "\"name\":\"a \\\"b\\\" \\\\ \\n\\u0001 é\",\"comment\":\"c\",\"description\":\"d\",\"symbol\":\"s\",\"type\":\"t\","
    "\"hdop\":3.1,\"time\":\"2024-05-01T08:12:44Z\",\"station\":\"S1\",\"count\":9007199254740993,\"share\":0.1,"
    "\"wet\":false}},\n"
    "{\"type\":\"Feature\",\"geometry\":{\"type\":\"LineString\",\"coordinates\":[[1,2],[3,4]]},\"properties\":{"
    "\"name\":\"round\",\"route\":true}},\n"
    "{\"type\":\"Feature\",\"geometry\":{\"type\":\"Point\",\"coordinates\":[1,2]},\"properties\":{"
    "\"time\":\"2024-05-01T08:12:44\"}}\n"
    "]}\n";
  g_autofree char *written = rewrite (text);

  g_assert_cmpstr (written, ==, text);
}

/* Whatever a caller puts into a property, the file stays JSON and no name is
 * written twice. */
static void
test_writer_odd_properties (void)
{
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "t.geojson", NULL);
  g_autoptr (GPtrArray) features = tpt_features_new ();
  g_autofree char *text = NULL;
  TptFeature *feature = tpt_feature_new_point (2, 1);

  feature->name = g_strdup ("field");
  tpt_feature_add_property (feature, "name", "property", TPT_PROPERTY_TEXT);
  tpt_feature_add_property (feature, "n", "1,5", TPT_PROPERTY_NUMBER);
  tpt_feature_add_property (feature, "x", "nan", TPT_PROPERTY_NUMBER);
  tpt_feature_add_property (feature, "b", "yes", TPT_PROPERTY_BOOLEAN);
  tpt_feature_add_property (feature, "n", "2", TPT_PROPERTY_NUMBER);
  tpt_feature_add_property (feature, "r", "5.", TPT_PROPERTY_NUMBER);
  g_ptr_array_add (features, feature);
  g_assert_true (tpt_geojson_write (path, features, NULL));
  text = read_file (path);
  g_assert_nonnull (strstr (text, "{\"name\":\"field\",\"n\":\"1,5\",\"x\":\"nan\",\"b\":false,\"r\":5}"));
  remove_folder (folder);
}

static void
test_writer_faults (void)
{
  g_autofree char *folder = make_folder ();
  g_autofree char *path = g_build_filename (folder, "t.geojson", NULL);
  g_autoptr (GPtrArray) features = tpt_features_new ();

  g_ptr_array_add (features, tpt_feature_new_point (2, 1));
  g_file_set_contents (path, "old", -1, NULL);
  for (int step = 1;; step++)
    {
      g_autofree char *text = NULL;
      gboolean good;

      tpt_fault_arm (step);
      good = tpt_geojson_write (path, features, NULL);
      text = read_file (path);
      g_assert_cmpint (g_str_equal (text, "old"), ==, !good);
      g_assert_cmpuint (count_files (folder), ==, 1);
      if (good)
        break;
    }
  tpt_fault_arm (0);

  g_ptr_array_add (features, tpt_feature_new_point (91, 0));
  g_assert_false (tpt_geojson_write (path, features, NULL));
  g_assert_cmpuint (count_files (folder), ==, 1);
  remove_folder (folder);
}

static void
test_mutations (void)
{
  static const char good[] = COLLECTION (
    "\n{\"type\":\"Feature\",\"id\":\"u-1\",\"geometry\":" SHAPE ("Point", "[8.1,47.2,612.4]") ",\"properties\":"
    "{\"name\":\"Ford \\u00e9\",\"n\":-1.5e3,\"wet\":true,\"time\":\"2024-05-01T08:12:44Z\"}},\n"
    FEATURE (SHAPE ("MultiPolygon", "[[[[0,0],[1,0],[1,1],[0,0]]],[[[5,5],[9,5],[9,9],[5,5]]]]")) ",\n"
    FEATURE (SHAPE ("LineString", "[[100.0, 0.0], [101.0, 1.0]]")) "\n");
  guint refused = 0;

  for (guint32 seed = 0; seed < MUTATIONS; seed++)
    {
      g_autoptr (GByteArray) bytes = mutate (good, strlen (good), seed);
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
  g_test_add_func ("/geojson/shapes", test_shapes);
  g_test_add_func ("/geojson/refused-features", test_refused_features);
  g_test_add_func ("/geojson/refused-files", test_refused_files);
  g_test_add_func ("/geojson/depth", test_depth);
  g_test_add_func ("/geojson/too-many-values", test_too_many_values);
  g_test_add_func ("/geojson/cancel", test_cancel);
  g_test_add_func ("/geojson/properties", test_properties);
  g_test_add_func ("/geojson/writer-shapes", test_writer_shapes);
  g_test_add_func ("/geojson/writer-properties", test_writer_properties);
  g_test_add_func ("/geojson/writer-odd-properties", test_writer_odd_properties);
  g_test_add_func ("/geojson/writer-faults", test_writer_faults);
  g_test_add_func ("/geojson/mutations", test_mutations);
  return g_test_run ();
}
