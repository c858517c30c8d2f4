#include "config.h"

#include "tpt-geojson.h"

#include <glib/gi18n-lib.h>
#include <json-glib/json-glib.h>

#include "tpt-error.h"
#include "tpt-geojson-private.h"
#include "tpt-input.h"
#include "tpt-number.h"

#define BLOCK_SIZE (64 * 1024)

static void
clear_reader (TptGeojsonReader *reader)
{
  g_clear_object (&reader->parser);
  g_string_free (reader->place, TRUE);
  g_clear_pointer (&reader->features, g_ptr_array_unref);
  g_clear_error (&reader->failure);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (TptGeojsonReader, clear_reader)

/* (transfer full) (nullable): %NULL for null. */
static char *
value_to_text (JsonNode *node, TptPropertyType *type)
{
  *type = TPT_PROPERTY_TEXT;
  if (JSON_NODE_HOLDS_NULL (node))
    return NULL;
  if (!JSON_NODE_HOLDS_VALUE (node))
    return json_to_string (node, FALSE);
  if (tpt_geojson_is_string (node))
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

  if (field != NULL && (tpt_geojson_is_string (node) || tpt_geojson_is_number (node)))
    {
      *field = g_strdup (value);
      return TRUE;
    }
  if (g_str_equal (name, "hdop") && tpt_geojson_is_number (node))
    {
      feature->hdop = json_node_get_double (node);
      return TRUE;
    }
  if (g_str_equal (name, "route") && feature->kind == TPT_FEATURE_LINE && g_str_equal (value, "true"))
    {
      feature->route = TRUE;
      return TRUE;
    }
  return g_str_equal (name, "time") && feature->kind == TPT_FEATURE_POINT && tpt_geojson_is_string (node) &&
         tpt_reading_parse (value, &g_array_index (feature->vertices, TptVertex, 0).time, NULL);
}

static void
read_properties (TptFeature *feature, JsonObject *object)
{
  JsonNode *node = tpt_geojson_get_member (object, "properties");
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
keep_feature (TptGeojsonReader *reader, TptFeature *feature)
{
  feature->index = reader->index;
  g_ptr_array_add (reader->features, feature);
}

static void
read_feature (TptGeojsonReader *reader, JsonObject *object)
{
  g_autoptr (TptFeature) feature = NULL;
  JsonNode *id = tpt_geojson_get_member (object, "id");
  gsize before;

  if (!g_str_equal (tpt_geojson_get_type (object), "Feature"))
    {
      tpt_geojson_refuse (reader, _("This is not a feature"));
      return;
    }
  if (!tpt_geojson_check_no_crs (reader, object))
    return;

  before = tpt_geojson_enter_member (reader, "geometry");
  feature = tpt_geojson_read_geometry (reader, tpt_geojson_get_member (object, "geometry"));
  tpt_geojson_leave (reader, before);
  if (feature == NULL)
    return;
  if (id != NULL && (tpt_geojson_is_string (id) || tpt_geojson_is_number (id)))
    {
      TptPropertyType type;
      feature->id = value_to_text (id, &type);
    }
  read_properties (feature, object);
  keep_feature (reader, g_steal_pointer (&feature));
}

static void
read_collection (TptGeojsonReader *reader, JsonObject *collection)
{
  JsonNode *node = tpt_geojson_get_member (collection, "features");
  JsonArray *array = node != NULL && JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;

  if (array == NULL)
    {
      tpt_geojson_fail (reader, 0, _("The collection has no list of features"));
      return;
    }
  tpt_geojson_enter_member (reader, "features");
  for (guint i = 0; i < json_array_get_length (array) && reader->failure == NULL; i++)
    {
      JsonNode *element = json_array_get_element (array, i);
      gsize before = tpt_geojson_enter_element (reader, i);

      reader->index = i;
      if (JSON_NODE_HOLDS_OBJECT (element))
        read_feature (reader, json_node_get_object (element));
      else
        tpt_geojson_refuse (reader, _("This is not a feature"));
      tpt_geojson_leave (reader, before);
    }
}

static void
read_bare_geometry (TptGeojsonReader *reader, JsonNode *root)
{
  g_autoptr (TptFeature) feature = tpt_geojson_read_geometry (reader, root);

  if (feature != NULL)
    keep_feature (reader, g_steal_pointer (&feature));
}

static void
read_root (TptGeojsonReader *reader, JsonNode *root)
{
  JsonObject *object = root != NULL && JSON_NODE_HOLDS_OBJECT (root) ? json_node_get_object (root) : NULL;
  const char *type = object != NULL ? tpt_geojson_get_type (object) : "";

  if (object != NULL && !tpt_geojson_check_no_crs (reader, object))
    return;
  if (g_str_equal (type, "FeatureCollection"))
    read_collection (reader, object);
  else if (g_str_equal (type, "Feature"))
    read_feature (reader, object);
  else if (tpt_geojson_is_geometry_type (type))
    read_bare_geometry (reader, root);
  else
    tpt_geojson_fail (reader, 0, _("This is not a GeoJSON file"));
}

/* (transfer full) (nullable): the whole file with a NUL after it. */
static GByteArray *
read_bytes (TptGeojsonReader *reader)
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
        tpt_geojson_fail (reader, 0, _("The file is too large"));
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
check_text (TptGeojsonReader *reader, const char *text, gsize length)
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
    tpt_geojson_fail (reader, line, fault);
  return fault == NULL;
}

static void
read_text (TptGeojsonReader *reader, const char *text, gsize length)
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
  tpt_geojson_fail (reader, json_parser_get_current_line (reader->parser), reason);
}

GPtrArray *
tpt_geojson_read (GInputStream *stream, const char *name, GPtrArray *refusals, GCancellable *cancellable,
                  GError **error)
{
  g_auto (TptGeojsonReader) reader = {
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
