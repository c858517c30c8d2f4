#include "config.h"

#include "tpt-geojson.h"

#include <glib/gi18n-lib.h>
#include <json-glib/json-glib.h>
#include <math.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-geojson-private.h"
#include "tpt-input.h"
#include "tpt-number.h"

#define BLOCK_SIZE (64 * 1024)

typedef struct {
  /* Input arguments */
  GInputStream *stream;      /* (unowned) */
  const char *name;
  GPtrArray *refusals;       /* (unowned) */
  GCancellable *cancellable; /* (unowned) (nullable) */

  /* In-progress data */
  JsonParser *parser;        /* (owned) */
  GString *place;            /* (owned): path of the value we are at */
  guint index;               /* of the feature we are at */
  guint lost;

  /* Results */
  GPtrArray *features;       /* (owned) */
  GError *failure;           /* (owned) (nullable) */
} Reader;

static void
clear_reader (Reader *reader)
{
  g_clear_object (&reader->parser);
  g_string_free (reader->place, TRUE);
  g_clear_pointer (&reader->features, g_ptr_array_unref);
  g_clear_error (&reader->failure);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Reader, clear_reader)

/* Gives the file up; @line is 0 where only the place is known. */
static void
fail (Reader *reader, gint64 line, const char *reason)
{
  const char *place = reader->place->len > 0 ? reader->place->str : NULL;
  TptRefusal refusal = { (char *) reader->name, line, (char *) place, (char *) reason, FALSE };
  g_autofree char *message = tpt_refusal_to_string (&refusal);

  if (reader->failure != NULL)
    return;
  tpt_refusals_add (reader->refusals, reader->name, line, place, reason);
  g_set_error_literal (&reader->failure, TPT_ERROR, TPT_ERROR_DATA, message);
}

/* Always FALSE, for the feature that is left out. */
static gboolean
refuse (Reader *reader, const char *reason)
{
  tpt_refusals_add (reader->refusals, reader->name, 0, reader->place->str, reason);
  if (++reader->lost >= TPT_REFUSALS_MAX)
    fail (reader, 0, _("There are too many faults; the rest was not read"));
  return FALSE;
}

/* Lengthens the place and returns what to cut it back to. */
static gsize
enter_member (Reader *reader, const char *member)
{
  gsize before = reader->place->len;

  if (before > 0)
    g_string_append_c (reader->place, '.');
  g_string_append (reader->place, member);
  return before;
}

static gsize
enter_element (Reader *reader, guint element)
{
  gsize before = reader->place->len;

  g_string_append_printf (reader->place, "[%u]", element);
  return before;
}

static void
leave (Reader *reader, gsize before)
{
  g_string_truncate (reader->place, before);
}

static gboolean
is_number (JsonNode *node)
{
  return JSON_NODE_HOLDS_VALUE (node) && (json_node_get_value_type (node) == G_TYPE_INT64 ||
                                          json_node_get_value_type (node) == G_TYPE_DOUBLE);
}

static gboolean
is_string (JsonNode *node)
{
  return JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_STRING;
}

/* (nullable): the object's member of that name, %NULL also for null. */
static JsonNode *
get_member (JsonObject *object, const char *member)
{
  JsonNode *node = json_object_get_member (object, member);

  return node != NULL && !JSON_NODE_HOLDS_NULL (node) ? node : NULL;
}

static const char *
get_type (JsonObject *object)
{
  JsonNode *node = get_member (object, "type");

  return node != NULL && is_string (node) ? json_node_get_string (node) : "";
}

/* RFC 7946, section 4: no other system than WGS 84, and no "crs" to say so.
 * Files from before that rule may mean any other system by it. */
static gboolean
check_no_crs (Reader *reader, JsonObject *object)
{
  gsize before;

  if (!json_object_has_member (object, "crs"))
    return TRUE;
  before = enter_member (reader, "crs");
  fail (reader, 0, _("The file names a coordinate system (“crs”); export it as RFC 7946, in WGS 84"));
  leave (reader, before);
  return FALSE;
}

static gboolean
check_position (Reader *reader, double longitude, double latitude)
{
  if (fabs (longitude) <= 180 && fabs (latitude) <= 90)
    return TRUE;
  if (fabs (longitude) <= 90 && fabs (latitude) <= 180)
    return refuse (reader, _("Longitude and latitude look swapped; longitude comes first"));
  if (fabs (latitude) > 90)
    return refuse (reader, _("The latitude is not between -90 and 90"));
  return refuse (reader, _("The longitude is not between -180 and 180"));
}

static gboolean
read_position (Reader *reader, TptFeature *feature, JsonNode *node)
{
  JsonArray *array = JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;
  guint length = array != NULL ? json_array_get_length (array) : 0;
  double ordinates[3] = { NAN, NAN, NAN };
  TptVertex vertex;

  if (length < 2)
    return refuse (reader, _("A position is an array of longitude and latitude"));
  for (guint i = 0; i < MIN (length, 3); i++)
    {
      JsonNode *ordinate = json_array_get_element (array, i);
      if (!is_number (ordinate))
        return refuse (reader, _("A position holds something that is not a number"));
      ordinates[i] = json_node_get_double (ordinate);
    }
  if (!check_position (reader, ordinates[0], ordinates[1]))
    return FALSE;

  vertex = tpt_vertex_make (ordinates[1], ordinates[0]);
  vertex.elevation = ordinates[2];
  tpt_feature_add_vertex (feature, &vertex);
  return TRUE;
}

static gboolean
read_point (Reader *reader, TptFeature *feature, JsonNode *node, gboolean hole)
{
  if (!read_position (reader, feature, node))
    return FALSE;
  tpt_feature_end_part (feature, FALSE);
  return TRUE;
}

typedef gboolean (*ReadFunc) (Reader *reader, TptFeature *feature, JsonNode *node, gboolean later);

/* Reads each element with @read, telling it whether it is a later one. */
static gboolean
read_elements (Reader *reader, TptFeature *feature, JsonNode *node, ReadFunc read)
{
  JsonArray *array = JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;

  if (array == NULL)
    return refuse (reader, _("There is no array of coordinates"));
  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      gsize before = enter_element (reader, i);
      gboolean good = read (reader, feature, json_array_get_element (array, i), i > 0);

      leave (reader, before);
      if (!good)
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_vertex (Reader *reader, TptFeature *feature, JsonNode *node, gboolean later)
{
  return read_position (reader, feature, node);
}

static gboolean
read_line (Reader *reader, TptFeature *feature, JsonNode *node, gboolean later)
{
  if (!read_elements (reader, feature, node, read_vertex))
    return FALSE;
  if (tpt_feature_count_open (feature) < 2)
    return refuse (reader, _("A line has two positions or more"));
  tpt_feature_end_part (feature, FALSE);
  return TRUE;
}

static gboolean
read_ring (Reader *reader, TptFeature *feature, JsonNode *node, gboolean later)
{
  const TptVertex *first, *last;
  guint n_vertices;

  if (!read_elements (reader, feature, node, read_vertex))
    return FALSE;
  n_vertices = tpt_feature_count_open (feature);
  if (n_vertices < 4)
    return refuse (reader, _("A ring has four positions or more"));
  last = &g_array_index (feature->vertices, TptVertex, feature->vertices->len - 1);
  first = last - (n_vertices - 1);
  if (first->latitude != last->latitude || first->longitude != last->longitude)
    return refuse (reader, _("A ring ends where it begins"));
  tpt_feature_end_part (feature, later);
  return TRUE;
}

static gboolean
read_lines (Reader *reader, TptFeature *feature, JsonNode *node, gboolean later)
{
  return read_elements (reader, feature, node, read_line);
}

static gboolean
read_polygon (Reader *reader, TptFeature *feature, JsonNode *node, gboolean later)
{
  return read_elements (reader, feature, node, read_ring);
}

static gboolean
read_polygons (Reader *reader, TptFeature *feature, JsonNode *node, gboolean later)
{
  return read_elements (reader, feature, node, read_polygon);
}

static const struct {
  const char *type;
  TptFeatureKind kind;
  ReadFunc read;
} geometries[] = {
  { "Point", TPT_FEATURE_POINT, read_point },
  { "LineString", TPT_FEATURE_LINE, read_line },
  { "MultiLineString", TPT_FEATURE_LINE, read_lines },
  { "Polygon", TPT_FEATURE_AREA, read_polygon },
  { "MultiPolygon", TPT_FEATURE_AREA, read_polygons },
};

/* (transfer full) (nullable) */
static TptFeature *
read_coordinates (Reader *reader, JsonObject *geometry, gsize which)
{
  g_autoptr (TptFeature) feature = tpt_feature_new (geometries[which].kind);
  JsonNode *node = get_member (geometry, "coordinates");
  gsize before = enter_member (reader, "coordinates");
  gboolean good;

  if (node == NULL)
    good = refuse (reader, _("There are no coordinates"));
  else
    good = geometries[which].read (reader, feature, node, FALSE);
  if (good && feature->parts->len == 0)
    good = refuse (reader, _("There are no coordinates"));
  leave (reader, before);
  return good ? g_steal_pointer (&feature) : NULL;
}

static TptFeature *
read_geometry (Reader *reader, JsonNode *node)
{
  JsonObject *geometry = node != NULL && JSON_NODE_HOLDS_OBJECT (node) ? json_node_get_object (node) : NULL;
  g_autofree char *reason = NULL;
  const char *type;

  if (geometry == NULL)
    {
      refuse (reader, _("The feature has no place"));
      return NULL;
    }
  if (!check_no_crs (reader, geometry))
    return NULL;

  type = get_type (geometry);
  for (gsize i = 0; i < G_N_ELEMENTS (geometries); i++)
    if (g_str_equal (geometries[i].type, type))
      return read_coordinates (reader, geometry, i);
  reason = g_strdup_printf (_("“%s” is not among the shapes that can be taken: single points, lines and areas"), type);
  refuse (reader, reason);
  return NULL;
}

/* (transfer full) (nullable): %NULL for null. */
static char *
value_to_text (JsonNode *node, TptPropertyType *type)
{
  *type = TPT_PROPERTY_TEXT;
  if (JSON_NODE_HOLDS_NULL (node))
    return NULL;
  if (!JSON_NODE_HOLDS_VALUE (node))
    return json_to_string (node, FALSE);
  if (is_string (node))
    return g_strdup (json_node_get_string (node));
  if (json_node_get_value_type (node) == G_TYPE_BOOLEAN)
    {
      *type = TPT_PROPERTY_BOOLEAN;
      return g_strdup (json_node_get_boolean (node) ? "true" : "false");
    }
  *type = TPT_PROPERTY_NUMBER;
  if (json_node_get_value_type (node) == G_TYPE_INT64)
    return g_strdup_printf ("%" G_GINT64_FORMAT, json_node_get_int (node));
  return tpt_number_format_real (json_node_get_double (node));
}

/* (nullable): the text field that a property of that name fills. */
static char **
find_text_field (TptFeature *feature, const char *name)
{
  const struct {
    const char *name;
    const char *other_name; /* as in GPX */
    char **field;
  } fields[] = {
    { "name", "name", &feature->name },          { "comment", "cmt", &feature->comment },
    { "description", "desc", &feature->description }, { "symbol", "sym", &feature->symbol },
    { "type", "type", &feature->type },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (fields); i++)
    if ((g_str_equal (name, fields[i].name) || g_str_equal (name, fields[i].other_name)) && *fields[i].field == NULL)
      return fields[i].field;
  return NULL;
}

/* A property that fills a field of its own; FALSE when it does not fit one. */
static gboolean
fill_field (TptFeature *feature, const char *name, const char *value, JsonNode *node)
{
  char **field = find_text_field (feature, name);

  if (field != NULL && (is_string (node) || is_number (node)))
    {
      *field = g_strdup (value);
      return TRUE;
    }
  if (g_str_equal (name, "hdop") && is_number (node))
    {
      feature->hdop = json_node_get_double (node);
      return TRUE;
    }
  if (g_str_equal (name, "route") && feature->kind == TPT_FEATURE_LINE && g_str_equal (value, "true"))
    {
      feature->route = TRUE;
      return TRUE;
    }
  return g_str_equal (name, "time") && feature->kind == TPT_FEATURE_POINT && is_string (node) &&
         tpt_reading_parse (value, &g_array_index (feature->vertices, TptVertex, 0).time, NULL);
}

static void
read_properties (TptFeature *feature, JsonObject *object)
{
  JsonNode *node = get_member (object, "properties");
  JsonObjectIter iter;
  const char *name;
  JsonNode *member;

  if (node == NULL || !JSON_NODE_HOLDS_OBJECT (node))
    return;
  json_object_iter_init_ordered (&iter, json_node_get_object (node));
  while (json_object_iter_next_ordered (&iter, &name, &member))
    {
      TptPropertyType type;
      g_autofree char *value = value_to_text (member, &type);

      if (value != NULL && !fill_field (feature, name, value, member))
        tpt_feature_add_property (feature, name, value, type);
    }
}

static void
keep_feature (Reader *reader, TptFeature *feature)
{
  feature->index = reader->index;
  g_ptr_array_add (reader->features, feature);
}

static void
read_feature (Reader *reader, JsonObject *object)
{
  g_autoptr (TptFeature) feature = NULL;
  JsonNode *id = get_member (object, "id");
  gsize before;

  if (!g_str_equal (get_type (object), "Feature"))
    {
      refuse (reader, _("This is not a feature"));
      return;
    }
  if (!check_no_crs (reader, object))
    return;

  before = enter_member (reader, "geometry");
  feature = read_geometry (reader, get_member (object, "geometry"));
  leave (reader, before);
  if (feature == NULL)
    return;
  if (id != NULL && (is_string (id) || is_number (id)))
    {
      TptPropertyType type;
      feature->id = value_to_text (id, &type);
    }
  read_properties (feature, object);
  keep_feature (reader, g_steal_pointer (&feature));
}

static void
read_collection (Reader *reader, JsonObject *collection)
{
  JsonNode *node = get_member (collection, "features");
  JsonArray *array = node != NULL && JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;

  if (array == NULL)
    {
      fail (reader, 0, _("The collection has no list of features"));
      return;
    }
  enter_member (reader, "features");
  for (guint i = 0; i < json_array_get_length (array) && reader->failure == NULL; i++)
    {
      JsonNode *element = json_array_get_element (array, i);
      gsize before = enter_element (reader, i);

      reader->index = i;
      if (JSON_NODE_HOLDS_OBJECT (element))
        read_feature (reader, json_node_get_object (element));
      else
        refuse (reader, _("This is not a feature"));
      leave (reader, before);
    }
}

static void
read_bare_geometry (Reader *reader, JsonNode *root)
{
  g_autoptr (TptFeature) feature = read_geometry (reader, root);

  if (feature != NULL)
    keep_feature (reader, g_steal_pointer (&feature));
}

static gboolean
is_geometry_type (const char *type)
{
  for (gsize i = 0; i < G_N_ELEMENTS (geometries); i++)
    if (g_str_equal (geometries[i].type, type))
      return TRUE;
  return g_str_equal (type, "MultiPoint") || g_str_equal (type, "GeometryCollection");
}

static void
read_root (Reader *reader, JsonNode *root)
{
  JsonObject *object = root != NULL && JSON_NODE_HOLDS_OBJECT (root) ? json_node_get_object (root) : NULL;
  const char *type = object != NULL ? get_type (object) : "";

  if (object != NULL && !check_no_crs (reader, object))
    return;
  if (g_str_equal (type, "FeatureCollection"))
    read_collection (reader, object);
  else if (g_str_equal (type, "Feature"))
    read_feature (reader, object);
  else if (is_geometry_type (type))
    read_bare_geometry (reader, root);
  else
    fail (reader, 0, _("This is not a GeoJSON file"));
}

/* (transfer full) (nullable): the whole file with a NUL after it. */
static GByteArray *
read_bytes (Reader *reader)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  g_autoptr (GError) error = NULL;
  g_autofree guint8 *block = g_malloc (BLOCK_SIZE);
  gssize got = 1;

  while (got > 0 && !g_cancellable_set_error_if_cancelled (reader->cancellable, &reader->failure))
    {
      got = g_input_stream_read (reader->stream, block, BLOCK_SIZE, NULL, &error);
      if (got < 0)
        g_set_error (&reader->failure, TPT_ERROR, TPT_ERROR_IO, _("“%s” could not be read: %s"), reader->name,
                     error->message);
      else if (bytes->len + got > TPT_GEOJSON_SIZE_MAX)
        fail (reader, 0, _("The file is too large"));
      if (reader->failure != NULL)
        return NULL;
      g_byte_array_append (bytes, block, got);
    }
  g_byte_array_append (bytes, (const guint8 *) "", 1);
  return reader->failure == NULL ? g_steal_pointer (&bytes) : NULL;
}

static gint64
count_lines (const char *text, const char *end)
{
  gint64 line = 1;

  for (; text < end; text++)
    line += *text == '\n';
  return line;
}

static gboolean
check_text (Reader *reader, const char *text, gsize length)
{
  const char *end;
  const char *fault;
  gint64 line = 1;

  if (length == 0)
    fault = _("The file is empty");
  else if (!g_utf8_validate (text, length, &end))
    {
      fault = _("The file is not UTF-8 text");
      line = count_lines (text, end);
    }
  else
    fault = tpt_geojson_guard (text, length, &line);
  if (fault != NULL)
    fail (reader, line, fault);
  return fault == NULL;
}

static void
read_text (Reader *reader, const char *text, gsize length)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *reason = NULL;

  if (g_str_has_prefix (text, "\xEF\xBB\xBF"))
    {
      text += 3;
      length -= 3;
    }
  if (!check_text (reader, text, length))
    return;

  reader->parser = json_parser_new_immutable ();
  if (json_parser_load_from_data (reader->parser, text, length, &error))
    {
      read_root (reader, json_parser_get_root (reader->parser));
      return;
    }
  reason = g_strdup_printf (_("The file is damaged or cut off: %s"), error->message);
  fail (reader, json_parser_get_current_line (reader->parser), reason);
}

GPtrArray *
tpt_geojson_read (GInputStream *stream, const char *name, GPtrArray *refusals, GCancellable *cancellable,
                  GError **error)
{
  g_auto (Reader) reader = {
    .stream = stream, .name = name, .refusals = refusals, .cancellable = cancellable,
  };
  g_autoptr (GByteArray) bytes = NULL;

  g_return_val_if_fail (G_IS_INPUT_STREAM (stream), NULL);
  g_return_val_if_fail (name != NULL && refusals != NULL, NULL);

  reader.place = g_string_new (NULL);
  reader.features = tpt_features_new ();
  bytes = read_bytes (&reader);
  if (bytes != NULL)
    read_text (&reader, (const char *) bytes->data, bytes->len - 1);
  if (reader.failure == NULL)
    return g_steal_pointer (&reader.features);
  g_propagate_error (error, g_steal_pointer (&reader.failure));
  return NULL;
}

GPtrArray *
tpt_geojson_read_file (const char *path, GPtrArray *refusals, GCancellable *cancellable, GError **error)
{
  g_autofree char *name = NULL;
  g_autoptr (GFileInputStream) stream = tpt_input_open (path, &name, error);

  if (stream == NULL)
    return NULL;
  return tpt_geojson_read (G_INPUT_STREAM (stream), name, refusals, cancellable, error);
}
