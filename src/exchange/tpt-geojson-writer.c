#include "config.h"

#include "tpt-geojson.h"

#include <math.h>

#include "tpt-error.h"
#include "tpt-number.h"
#include "tpt-output.h"

#define POSITION_DECIMALS 7
#define MEASURE_DECIMALS 2

static void
append_string (GString *json, const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);

  g_string_append_c (json, '"');
  for (const char *c = valid; *c != '\0'; c++)
    {
      if (*c == '"' || *c == '\\')
        g_string_append_printf (json, "\\%c", *c);
      else if (*c == '\n')
        g_string_append (json, "\\n");
      else if ((guchar) *c < 0x20)
        g_string_append_printf (json, "\\u%04x", (guchar) *c);
      else
        g_string_append_c (json, *c);
    }
  g_string_append_c (json, '"');
}

static void
append_fixed (GString *json, double value, int decimals)
{
  g_autofree char *text = tpt_number_format_fixed (value, decimals);

  g_string_append (json, text);
}

static void
append_position (GString *json, const TptVertex *vertex)
{
  g_string_append_c (json, '[');
  append_fixed (json, vertex->longitude, POSITION_DECIMALS);
  g_string_append_c (json, ',');
  append_fixed (json, vertex->latitude, POSITION_DECIMALS);
  if (!isnan (vertex->elevation))
    {
      g_string_append_c (json, ',');
      append_fixed (json, vertex->elevation, MEASURE_DECIMALS);
    }
  g_string_append_c (json, ']');
}

static void
append_positions (GString *json, const TptVertex *vertices, guint n_vertices, gboolean backwards)
{
  g_string_append_c (json, '[');
  for (guint i = 0; i < n_vertices; i++)
    {
      if (i > 0)
        g_string_append_c (json, ',');
      append_position (json, &vertices[backwards ? n_vertices - 1 - i : i]);
    }
  g_string_append_c (json, ']');
}

/* The shorter way round the globe. */
static double
wrap_longitude (double difference)
{
  if (difference > 180)
    return difference - 360;
  return difference < -180 ? difference + 360 : difference;
}

/* Twice the area in square degrees, positive for counter-clockwise; only its
 * sign counts. Longitudes are taken relative to the first vertex, so that a
 * ring over the antimeridian has the direction it has on the ground. */
static double
sum_ring (const TptVertex *ring, guint n_vertices)
{
  double sum = 0;
  double x = 0;

  for (guint i = 1; i < n_vertices; i++)
    {
      double next_x = x + wrap_longitude (ring[i].longitude - ring[i - 1].longitude);
      double y = ring[i - 1].latitude - ring[0].latitude;
      double next_y = ring[i].latitude - ring[0].latitude;

      sum += x * next_y - next_x * y;
      x = next_x;
    }
  return sum;
}

static void
append_ring (GString *json, const TptFeature *feature, guint part)
{
  gboolean hole = g_array_index (feature->parts, TptPart, part).hole;
  guint n_vertices;
  const TptVertex *ring = tpt_feature_get_part (feature, part, &n_vertices);
  double sum = sum_ring (ring, n_vertices);

  append_positions (json, ring, n_vertices, hole ? sum > 0 : sum < 0);
}

static void
append_area (GString *json, const TptFeature *feature)
{
  guint n_outer = 0;

  for (guint i = 0; i < feature->parts->len; i++)
    n_outer += !g_array_index (feature->parts, TptPart, i).hole;
  g_string_append_printf (json, "{\"type\":\"%s\",\"coordinates\":[", n_outer > 1 ? "MultiPolygon" : "Polygon");
  for (guint i = 0; i < feature->parts->len; i++)
    {
      gboolean hole = g_array_index (feature->parts, TptPart, i).hole;

      if (i > 0)
        g_string_append (json, hole || n_outer == 1 ? "," : "],");
      if (n_outer > 1 && !hole)
        g_string_append_c (json, '[');
      append_ring (json, feature, i);
    }
  g_string_append (json, n_outer > 1 ? "]]}" : "]}");
}

static void
free_run (gpointer data)
{
  g_array_unref (data);
}

static GArray *
begin_run (GPtrArray *runs)
{
  GArray *run = g_array_new (FALSE, FALSE, sizeof (TptVertex));

  g_ptr_array_add (runs, run);
  return run;
}

/* Ends @run on its side of the antimeridian and begins the next on the other,
 * at the latitude where the straight line from @last to @next crosses. */
static GArray *
cut_run (GPtrArray *runs, GArray *run, TptVertex last, const TptVertex *next)
{
  double side = last.longitude > 0 ? 180 : -180;
  double way = wrap_longitude (next->longitude - last.longitude);
  double share = (side - last.longitude) / way;
  TptVertex crossing = tpt_vertex_make (last.latitude + share * (next->latitude - last.latitude), side);

  if (last.longitude != side)
    g_array_append_val (run, crossing);
  if (run->len < 2)
    g_ptr_array_remove_index (runs, runs->len - 1);
  crossing.longitude = -side;
  run = begin_run (runs);
  g_array_append_val (run, crossing);
  return run;
}

/* RFC 7946, section 3.1.9. */
static void
collect_runs (GPtrArray *runs, const TptVertex *vertices, guint n_vertices)
{
  GArray *run = begin_run (runs);

  for (guint i = 0; i < n_vertices; i++)
    {
      TptVertex vertex = vertices[i];

      if (i > 0)
        {
          TptVertex last = g_array_index (run, TptVertex, run->len - 1);

          /* The antimeridian belongs to both sides. */
          if (fabs (vertex.longitude) == 180)
            vertex.longitude = copysign (180, last.longitude);
          if (fabs (vertex.longitude - last.longitude) > 180)
            run = cut_run (runs, run, last, &vertex);
        }
      g_array_append_val (run, vertex);
    }
}

static void
append_line (GString *json, const TptFeature *feature)
{
  g_autoptr (GPtrArray) runs = g_ptr_array_new_with_free_func (free_run);

  for (guint i = 0; i < feature->parts->len; i++)
    {
      guint n_vertices;
      const TptVertex *vertices = tpt_feature_get_part (feature, i, &n_vertices);
      collect_runs (runs, vertices, n_vertices);
    }

  g_string_append (json, runs->len > 1 ? "{\"type\":\"MultiLineString\",\"coordinates\":["
                                       : "{\"type\":\"LineString\",\"coordinates\":");
  for (guint i = 0; i < runs->len; i++)
    {
      GArray *run = g_ptr_array_index (runs, i);

      if (i > 0)
        g_string_append_c (json, ',');
      append_positions (json, (const TptVertex *) run->data, run->len, FALSE);
    }
  g_string_append (json, runs->len > 1 ? "]}" : "}");
}

static void
append_geometry (GString *json, const TptFeature *feature)
{
  switch (feature->kind)
    {
    case TPT_FEATURE_POINT:
      g_string_append (json, "{\"type\":\"Point\",\"coordinates\":");
      append_position (json, &g_array_index (feature->vertices, TptVertex, 0));
      g_string_append_c (json, '}');
      break;
    case TPT_FEATURE_LINE:
      append_line (json, feature);
      break;
    case TPT_FEATURE_AREA:
    default:
      append_area (json, feature);
      break;
    }
}

typedef struct {
  GString *json;     /* (unowned) */
  GHashTable *names; /* (owned) (element-type utf8): written already */
} Members;

static gboolean
begin_member (Members *members, const char *name)
{
  if (g_hash_table_contains (members->names, name))
    return FALSE;
  if (g_hash_table_size (members->names) > 0)
    g_string_append_c (members->json, ',');
  g_hash_table_add (members->names, (char *) name);
  append_string (members->json, name);
  g_string_append_c (members->json, ':');
  return TRUE;
}

static void
append_text_member (Members *members, const char *name, const char *value)
{
  if (value != NULL && begin_member (members, name))
    append_string (members->json, value);
}

/* Numbers are read and printed anew: the value is whatever a caller put there. */
static void
append_value (GString *json, const TptProperty *property)
{
  gint64 integer;
  double real;

  if (property->type == TPT_PROPERTY_BOOLEAN)
    g_string_append (json, g_str_equal (property->value, "true") ? "true" : "false");
  else if (property->type == TPT_PROPERTY_NUMBER &&
           tpt_number_parse_integer (property->value, G_MININT64, G_MAXINT64, &integer, NULL))
    g_string_append_printf (json, "%" G_GINT64_FORMAT, integer);
  else if (property->type == TPT_PROPERTY_NUMBER &&
           tpt_number_parse_real (property->value, -INFINITY, INFINITY, &real, NULL))
    {
      g_autofree char *text = tpt_number_format_real (real);
      g_string_append (json, text);
    }
  else
    append_string (json, property->value);
}

static void
append_fields (Members *members, const TptFeature *feature)
{
  const TptVertex *first = &g_array_index (feature->vertices, TptVertex, 0);

  append_text_member (members, "name", feature->name);
  append_text_member (members, "comment", feature->comment);
  append_text_member (members, "description", feature->description);
  append_text_member (members, "symbol", feature->symbol);
  append_text_member (members, "type", feature->type);
  if (!isnan (feature->hdop) && begin_member (members, "hdop"))
    append_fixed (members->json, feature->hdop, MEASURE_DECIMALS);
  if (feature->kind == TPT_FEATURE_POINT && first->time.clock_ms != TPT_NO_INSTANT)
    {
      TptInstant instant = tpt_vertex_get_instant (first);
      g_autofree char *time = instant != TPT_NO_INSTANT ? tpt_instant_format (instant, NULL)
                                                        : tpt_reading_format (first->time);
      append_text_member (members, "time", time);
    }
  if (feature->route && begin_member (members, "route"))
    g_string_append (members->json, "true");
}

static void
append_properties (GString *json, const TptFeature *feature)
{
  g_autoptr (GHashTable) names = g_hash_table_new (g_str_hash, g_str_equal);
  Members members = { json, names };

  g_string_append_c (json, '{');
  append_fields (&members, feature);
  for (guint i = 0; i < feature->properties->len; i++)
    {
      const TptProperty *property = g_ptr_array_index (feature->properties, i);
      if (begin_member (&members, property->name))
        append_value (json, property);
    }
  g_string_append_c (json, '}');
}

static void
append_feature (GString *json, const TptFeature *feature)
{
  g_string_append (json, "{\"type\":\"Feature\",");
  if (feature->id != NULL)
    {
      g_string_append (json, "\"id\":");
      append_string (json, feature->id);
      g_string_append_c (json, ',');
    }
  g_string_append (json, "\"geometry\":");
  append_geometry (json, feature);
  g_string_append (json, ",\"properties\":");
  append_properties (json, feature);
  g_string_append_c (json, '}');
}

static gboolean
write_features (TptOutput *output, GPtrArray *features, GError **error)
{
  g_autoptr (GString) json = g_string_new (NULL);

  for (guint i = 0; i < features->len; i++)
    {
      g_string_assign (json, i > 0 ? ",\n" : "\n");
      append_feature (json, g_ptr_array_index (features, i));
      if (!tpt_output_write (output, json->str, json->len, error))
        return FALSE;
    }
  return TRUE;
}

gboolean
tpt_geojson_write (const char *path, GPtrArray *features, GError **error)
{
  g_autoptr (TptOutput) output = NULL;

  for (guint i = 0; i < features->len; i++)
    if (!tpt_feature_check (g_ptr_array_index (features, i), error))
      return FALSE;

  output = tpt_output_new (path, error);
  return output != NULL &&
         tpt_output_write (output, "{\"type\":\"FeatureCollection\",\"features\":[", -1, error) &&
         write_features (output, features, error) && tpt_output_write (output, "\n]}\n", -1, error) &&
         tpt_output_commit (output, error);
}
