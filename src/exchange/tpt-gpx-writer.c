#include "config.h"

#include "tpt-gpx.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-error.h"
#include "tpt-number.h"
#include "tpt-output.h"

#define POSITION_DECIMALS 7
#define MEASURE_DECIMALS 2

static const char head[] =
  "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
  "<gpx xmlns=\"http://www.topografix.com/GPX/1/1\" version=\"1.1\" creator=\"Tapetum\">\n";

/* XML 1.0, production 2. */
static gboolean
is_xml_char (gunichar c)
{
  return c == '\t' || c == '\n' || c == '\r' || (c >= 0x20 && c <= 0xD7FF) || (c >= 0xE000 && c <= 0xFFFD) ||
         c >= 0x10000;
}

static void
append_escaped (GString *xml, const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);

  for (const char *at = valid; *at != '\0'; at = g_utf8_next_char (at))
    {
      gunichar c = g_utf8_get_char (at);

      if (c == '&')
        g_string_append (xml, "&amp;");
      else if (c == '<')
        g_string_append (xml, "&lt;");
      else if (c == '>')
        g_string_append (xml, "&gt;");
      else if (c == '\r') /* a bare one would be read as a line feed */
        g_string_append (xml, "&#13;");
      else
        g_string_append_unichar (xml, is_xml_char (c) ? c : 0xFFFD);
    }
}

static void
append_text (GString *xml, const char *element, const char *text)
{
  if (text == NULL || *text == '\0')
    return;
  g_string_append_printf (xml, "<%s>", element);
  append_escaped (xml, text);
  g_string_append_printf (xml, "</%s>", element);
}

static void
append_number (GString *xml, const char *element, double value, int decimals)
{
  g_autofree char *text = NULL;

  if (isnan (value))
    return;
  text = tpt_number_format_fixed (value, decimals);
  append_text (xml, element, text);
}

static void
append_position (GString *xml, const char *element, const TptVertex *vertex)
{
  g_autofree char *latitude = tpt_number_format_fixed (vertex->latitude, POSITION_DECIMALS);
  g_autofree char *longitude = tpt_number_format_fixed (vertex->longitude, POSITION_DECIMALS);

  /* The schema's longitudes stop short of 180; compared as text, for a value
   * just below it is rounded up to it. */
  if (g_str_equal (longitude, "180"))
    {
      g_free (longitude);
      longitude = g_strdup ("-180");
    }
  g_string_append_printf (xml, "<%s lat=\"%s\" lon=\"%s\">", element, latitude, longitude);
}

static void
append_measures (GString *xml, const TptVertex *vertex)
{
  TptInstant instant = tpt_vertex_get_instant (vertex);

  append_number (xml, "ele", vertex->elevation, MEASURE_DECIMALS);
  if (instant != TPT_NO_INSTANT)
    {
      g_autofree char *time = tpt_instant_format (instant, NULL);
      append_text (xml, "time", time);
    }
}

static void
append_waypoint (GString *xml, const TptFeature *feature)
{
  const TptVertex *vertex = &g_array_index (feature->vertices, TptVertex, 0);

  append_position (xml, "wpt", vertex);
  append_measures (xml, vertex);
  append_text (xml, "name", feature->name);
  append_text (xml, "cmt", feature->comment);
  append_text (xml, "desc", feature->description);
  append_text (xml, "sym", feature->symbol);
  append_text (xml, "type", feature->type);
  append_number (xml, "hdop", feature->hdop, MEASURE_DECIMALS);
  g_string_append (xml, "</wpt>\n");
}

static void
append_line_head (GString *xml, const char *element, const TptFeature *feature)
{
  g_string_append_printf (xml, "<%s>", element);
  append_text (xml, "name", feature->name);
  append_text (xml, "cmt", feature->comment);
  append_text (xml, "desc", feature->description);
  append_text (xml, "type", feature->type);
}

static void
append_part (GString *xml, const char *element, const TptFeature *feature, guint part)
{
  guint n_vertices;
  const TptVertex *vertices = tpt_feature_get_part (feature, part, &n_vertices);

  for (guint i = 0; i < n_vertices; i++)
    {
      g_string_append_c (xml, '\n');
      append_position (xml, element, &vertices[i]);
      append_measures (xml, &vertices[i]);
      g_string_append_printf (xml, "</%s>", element);
    }
}

static void
append_route (GString *xml, const TptFeature *feature)
{
  for (guint part = 0; part < feature->parts->len; part++)
    {
      append_line_head (xml, "rte", feature);
      append_part (xml, "rtept", feature, part);
      g_string_append (xml, "\n</rte>\n");
    }
}

static void
append_track (GString *xml, const TptFeature *feature)
{
  append_line_head (xml, "trk", feature);
  for (guint part = 0; part < feature->parts->len; part++)
    {
      g_string_append (xml, "\n<trkseg>");
      append_part (xml, "trkpt", feature, part);
      g_string_append (xml, "\n</trkseg>");
    }
  g_string_append (xml, "\n</trk>\n");
}

typedef void (*AppendFunc) (GString *xml, const TptFeature *feature);

static AppendFunc
choose_append (const TptFeature *feature)
{
  if (feature->kind == TPT_FEATURE_POINT)
    return append_waypoint;
  return feature->kind == TPT_FEATURE_LINE && feature->route ? append_route : append_track;
}

static gboolean
write_all (TptOutput *output, GPtrArray *features, AppendFunc append, GError **error)
{
  g_autoptr (GString) xml = g_string_new (NULL);

  for (guint i = 0; i < features->len; i++)
    {
      const TptFeature *feature = g_ptr_array_index (features, i);

      if (choose_append (feature) != append)
        continue;
      g_string_truncate (xml, 0);
      append (xml, feature);
      if (!tpt_output_write (output, xml->str, xml->len, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
check_all (GPtrArray *features, GError **error)
{
  for (guint i = 0; i < features->len; i++)
    if (!tpt_feature_check (g_ptr_array_index (features, i), error))
      return FALSE;
  return TRUE;
}

gboolean
tpt_gpx_write (const char *path, GPtrArray *features, GError **error)
{
  g_autoptr (TptOutput) output = NULL;

  if (!check_all (features, error))
    return FALSE;
  output = tpt_output_new (path, error);
  return output != NULL && tpt_output_write (output, head, -1, error) &&
         write_all (output, features, append_waypoint, error) && write_all (output, features, append_route, error) &&
         write_all (output, features, append_track, error) && tpt_output_write (output, "</gpx>\n", -1, error) &&
         tpt_output_commit (output, error);
}
