#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-error.h"
#include "tpt-geojson-private.h"

/* (nullable): %NULL outside of everything. */
static const char *
get_place (TptGeojsonReader *reader)
{
  return reader->place->len > 0 ? reader->place->str : NULL;
}

void
tpt_geojson_fail (TptGeojsonReader *reader, gint64 line, const char *reason)
{
  const char *place = get_place (reader);
  TptRefusal refusal = { (char *) reader->name, line, (char *) place, (char *) reason, FALSE };
  g_autofree char *message = tpt_refusal_to_string (&refusal);

  if (reader->failure != NULL)
    return;
  tpt_refusals_add (reader->refusals, reader->name, line, place, reason);
  g_set_error_literal (&reader->failure, TPT_ERROR, TPT_ERROR_DATA, message);
}

gboolean
tpt_geojson_refuse (TptGeojsonReader *reader, const char *reason)
{
  tpt_refusals_add (reader->refusals, reader->name, 0, get_place (reader), reason);
  if (++reader->lost >= TPT_REFUSALS_MAX)
    tpt_geojson_fail (reader, 0, _("There are too many faults; the rest was not read"));
  return FALSE;
}

gsize
tpt_geojson_enter_member (TptGeojsonReader *reader, const char *member)
{
  gsize before = reader->place->len;

  if (before > 0)
    g_string_append_c (reader->place, '.');
  g_string_append (reader->place, member);
  return before;
}

gsize
tpt_geojson_enter_element (TptGeojsonReader *reader, guint element)
{
  gsize before = reader->place->len;

  g_string_append_printf (reader->place, "[%u]", element);
  return before;
}

void
tpt_geojson_leave (TptGeojsonReader *reader, gsize before)
{
  g_string_truncate (reader->place, before);
}

gboolean
tpt_geojson_is_number (JsonNode *node)
{
  return JSON_NODE_HOLDS_VALUE (node) && (json_node_get_value_type (node) == G_TYPE_INT64 ||
                                          json_node_get_value_type (node) == G_TYPE_DOUBLE);
}

gboolean
tpt_geojson_is_string (JsonNode *node)
{
  return JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_STRING;
}

JsonNode *
tpt_geojson_get_member (JsonObject *object, const char *member)
{
  JsonNode *node = json_object_get_member (object, member);

  return node != NULL && !JSON_NODE_HOLDS_NULL (node) ? node : NULL;
}

const char *
tpt_geojson_get_type (JsonObject *object)
{
  JsonNode *node = tpt_geojson_get_member (object, "type");

  return node != NULL && tpt_geojson_is_string (node) ? json_node_get_string (node) : "";
}

/* RFC 7946, section 4: no other system than WGS 84, and no "crs" to say so.
 * Files from before that rule may mean any other system by it. */
gboolean
tpt_geojson_check_no_crs (TptGeojsonReader *reader, JsonObject *object)
{
  gsize before;

  if (!json_object_has_member (object, "crs"))
    return TRUE;
  before = tpt_geojson_enter_member (reader, "crs");
  tpt_geojson_fail (reader, 0, _("The file names a coordinate system (“crs”); export it as RFC 7946, in WGS 84"));
  tpt_geojson_leave (reader, before);
  return FALSE;
}
