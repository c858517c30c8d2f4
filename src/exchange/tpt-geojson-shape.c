#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-geojson-private.h"

static gboolean
check_position (TptGeojsonReader *reader, double longitude, double latitude)
{
  if (fabs (longitude) <= 180 && fabs (latitude) <= 90)
    return TRUE;
  if (fabs (longitude) <= 90 && fabs (latitude) <= 180)
    return tpt_geojson_refuse (reader, _("Longitude and latitude look swapped; longitude comes first"));
  if (fabs (latitude) > 90)
    return tpt_geojson_refuse (reader, _("The latitude is not between -90 and 90"));
  return tpt_geojson_refuse (reader, _("The longitude is not between -180 and 180"));
}

static gboolean
read_position (TptGeojsonReader *reader, TptFeature *feature, JsonNode *node)
{
  JsonArray *array = JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;
  guint length = array != NULL ? json_array_get_length (array) : 0;
  double ordinates[3] = { NAN, NAN, NAN };
  TptVertex vertex;

  if (length < 2)
    return tpt_geojson_refuse (reader, _("A position is an array of longitude and latitude"));
  for (guint i = 0; i < MIN (length, 3); i++)
    {
      JsonNode *ordinate = json_array_get_element (array, i);
      if (!tpt_geojson_is_number (ordinate))
        return tpt_geojson_refuse (reader, _("A position holds something that is not a number"));
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
read_point (TptGeojsonReader *reader, TptFeature *feature, JsonNode *node, gboolean hole)
{
  if (!read_position (reader, feature, node))
    return FALSE;
  tpt_feature_end_part (feature, FALSE);
  return TRUE;
}

typedef gboolean (*ReadFunc) (TptGeojsonReader *reader, TptFeature *feature, JsonNode *node, gboolean later);

/* Reads each element with @read, telling it whether it is a later one. */
static gboolean
read_elements (TptGeojsonReader *reader, TptFeature *feature, JsonNode *node, ReadFunc read)
{
  JsonArray *array = JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;

  if (array == NULL)
    return tpt_geojson_refuse (reader, _("There is no array of coordinates"));
  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      gsize before = tpt_geojson_enter_element (reader, i);
      gboolean good = read (reader, feature, json_array_get_element (array, i), i > 0);

      tpt_geojson_leave (reader, before);
      if (!good)
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_vertex (TptGeojsonReader *reader, TptFeature *feature, JsonNode *node, gboolean later)
{
  return read_position (reader, feature, node);
}

static gboolean
read_line (TptGeojsonReader *reader, TptFeature *feature, JsonNode *node, gboolean later)
{
  if (!read_elements (reader, feature, node, read_vertex))
    return FALSE;
  if (tpt_feature_count_open (feature) < 2)
    return tpt_geojson_refuse (reader, _("A line has two positions or more"));
  tpt_feature_end_part (feature, FALSE);
  return TRUE;
}

static gboolean
read_ring (TptGeojsonReader *reader, TptFeature *feature, JsonNode *node, gboolean later)
{
  const TptVertex *first, *last;
  guint n_vertices;

  if (!read_elements (reader, feature, node, read_vertex))
    return FALSE;
  n_vertices = tpt_feature_count_open (feature);
  if (n_vertices < 4)
    return tpt_geojson_refuse (reader, _("A ring has four positions or more"));
  last = &g_array_index (feature->vertices, TptVertex, feature->vertices->len - 1);
  first = last - (n_vertices - 1);
  if (first->latitude != last->latitude || first->longitude != last->longitude)
    return tpt_geojson_refuse (reader, _("A ring ends where it begins"));
  tpt_feature_end_part (feature, later);
  return TRUE;
}

static gboolean
read_lines (TptGeojsonReader *reader, TptFeature *feature, JsonNode *node, gboolean later)
{
  return read_elements (reader, feature, node, read_line);
}

static gboolean
read_polygon (TptGeojsonReader *reader, TptFeature *feature, JsonNode *node, gboolean later)
{
  return read_elements (reader, feature, node, read_ring);
}

static gboolean
read_polygons (TptGeojsonReader *reader, TptFeature *feature, JsonNode *node, gboolean later)
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
read_coordinates (TptGeojsonReader *reader, JsonObject *geometry, gsize which)
{
  g_autoptr (TptFeature) feature = tpt_feature_new (geometries[which].kind);
  JsonNode *node = tpt_geojson_get_member (geometry, "coordinates");
  gsize before = tpt_geojson_enter_member (reader, "coordinates");
  gboolean good;

  if (node == NULL)
    good = tpt_geojson_refuse (reader, _("There are no coordinates"));
  else
    good = geometries[which].read (reader, feature, node, FALSE);
  if (good && feature->parts->len == 0)
    good = tpt_geojson_refuse (reader, _("There are no coordinates"));
  tpt_geojson_leave (reader, before);
  return good ? g_steal_pointer (&feature) : NULL;
}

TptFeature *
tpt_geojson_read_geometry (TptGeojsonReader *reader, JsonNode *node)
{
  JsonObject *geometry = node != NULL && JSON_NODE_HOLDS_OBJECT (node) ? json_node_get_object (node) : NULL;
  g_autofree char *reason = NULL;
  const char *type;

  if (geometry == NULL)
    {
      tpt_geojson_refuse (reader, _("The feature has no place"));
      return NULL;
    }
  if (!tpt_geojson_check_no_crs (reader, geometry))
    return NULL;

  type = tpt_geojson_get_type (geometry);
  for (gsize i = 0; i < G_N_ELEMENTS (geometries); i++)
    if (g_str_equal (geometries[i].type, type))
      return read_coordinates (reader, geometry, i);
  reason = g_strdup_printf (_("“%s” is not among the shapes that can be taken: single points, lines and areas"),
                            type);
  tpt_geojson_refuse (reader, reason);
  return NULL;
}

gboolean
tpt_geojson_is_geometry_type (const char *type)
{
  for (gsize i = 0; i < G_N_ELEMENTS (geometries); i++)
    if (g_str_equal (geometries[i].type, type))
      return TRUE;
  return g_str_equal (type, "MultiPoint") || g_str_equal (type, "GeometryCollection");
}
