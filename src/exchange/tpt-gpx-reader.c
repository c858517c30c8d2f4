#include "config.h"

#include "tpt-gpx.h"

#include <glib/gi18n-lib.h>
#include <libxml/parser.h>
#include <libxml/SAX2.h>
#include <libxml/xmlerror.h>
#include <math.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-input.h"
#include "tpt-number.h"

#define NAMESPACE_START "http://www.topografix.com/GPX/1/"

/* What an element is to us, by its name and its parent. */
typedef enum {
  PLACE_OTHER,
  PLACE_GPX,
  PLACE_WAYPOINT,
  PLACE_ROUTE,
  PLACE_ROUTE_POINT,
  PLACE_TRACK,
  PLACE_SEGMENT,
  PLACE_TRACK_POINT,
  PLACE_ELEVATION,
  PLACE_TIME,
  PLACE_NAME,
  PLACE_COMMENT,
  PLACE_DESCRIPTION,
  PLACE_SYMBOL,
  PLACE_TYPE,
  PLACE_HDOP,
} Place;

#define IN(place) (1u << (place))
#define IN_POINTS (IN (PLACE_WAYPOINT) | IN (PLACE_ROUTE_POINT) | IN (PLACE_TRACK_POINT))
#define IN_FEATURES (IN (PLACE_WAYPOINT) | IN (PLACE_ROUTE) | IN (PLACE_TRACK))

static const struct {
  const char *name;
  guint parents;
  Place place;
} elements[] = {
  { "wpt", IN (PLACE_GPX), PLACE_WAYPOINT },
  { "rte", IN (PLACE_GPX), PLACE_ROUTE },
  { "trk", IN (PLACE_GPX), PLACE_TRACK },
  { "rtept", IN (PLACE_ROUTE), PLACE_ROUTE_POINT },
  { "trkseg", IN (PLACE_TRACK), PLACE_SEGMENT },
  { "trkpt", IN (PLACE_SEGMENT), PLACE_TRACK_POINT },
  { "ele", IN_POINTS, PLACE_ELEVATION },
  { "time", IN_POINTS, PLACE_TIME },
  { "name", IN_FEATURES, PLACE_NAME },
  { "cmt", IN_FEATURES, PLACE_COMMENT },
  { "desc", IN_FEATURES, PLACE_DESCRIPTION },
  { "sym", IN (PLACE_WAYPOINT), PLACE_SYMBOL },
  { "type", IN_FEATURES, PLACE_TYPE },
  { "hdop", IN (PLACE_WAYPOINT), PLACE_HDOP },
};

typedef struct {
  /* Input arguments */
  GInputStream *stream;      /* (unowned) */
  const char *name;
  GPtrArray *refusals;       /* (unowned) */
  GCancellable *cancellable; /* (unowned) (nullable) */

  /* In-progress data */
  xmlParserCtxt *parser;     /* (owned) */
  gsize size;                /* bytes read */
  char *root_uri;            /* (owned) (nullable) */
  Place places[TPT_GPX_DEPTH_MAX];
  guint depth;
  GString *text;             /* (owned): of the present field */
  gint64 text_line;
  TptFeature *feature;       /* (owned) (nullable): the waypoint, route or track we are in */
  TptVertex vertex;          /* the point we are in */
  gboolean vertex_good;
  gboolean time_noted;       /* of this feature */
  guint lost;

  /* Results */
  GPtrArray *features;       /* (owned) */
  GError *failure;           /* (owned) (nullable) */
} Reader;

static void
clear_reader (Reader *reader)
{
  g_clear_pointer (&reader->parser, xmlFreeParserCtxt);
  g_clear_pointer (&reader->feature, tpt_feature_free);
  g_clear_pointer (&reader->features, g_ptr_array_unref);
  g_clear_pointer (&reader->root_uri, g_free);
  g_string_free (reader->text, TRUE);
  g_clear_error (&reader->failure);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Reader, clear_reader)

static gint64
get_line (Reader *reader)
{
  return reader->parser != NULL ? MAX (xmlSAX2GetLineNumber (reader->parser), 1) : 1;
}

/* Gives the file up; only the first reason counts. */
static void
fail (Reader *reader, const char *reason)
{
  gint64 line = get_line (reader);

  if (reader->failure != NULL)
    return;
  tpt_refusals_add (reader->refusals, reader->name, line, NULL, reason);
  g_set_error (&reader->failure, TPT_ERROR, TPT_ERROR_DATA, _("%s, line %" G_GINT64_FORMAT ": %s"), reader->name,
               line, reason);
  if (reader->parser != NULL)
    xmlStopParser (reader->parser);
}

static void
refuse (Reader *reader, gint64 line, const char *element, const char *reason)
{
  tpt_refusals_add (reader->refusals, reader->name, line, element, reason);
  if (++reader->lost >= TPT_REFUSALS_MAX)
    fail (reader, _("There are too many faults; the rest was not read"));
}

static Place
find_place (Place parent, const char *name)
{
  for (gsize i = 0; i < G_N_ELEMENTS (elements); i++)
    if ((elements[i].parents & IN (parent)) != 0 && strcmp (elements[i].name, name) == 0)
      return elements[i].place;
  return PLACE_OTHER;
}

/* An element of a maker's own namespace may be called "name" and mean something else. */
static gboolean
is_foreign (Reader *reader, const char *uri)
{
  return uri != NULL && !g_str_has_prefix (uri, NAMESPACE_START) && g_strcmp0 (uri, reader->root_uri) != 0;
}

/* (transfer full) (nullable): libxml2 gives five pointers per attribute: name,
 * prefix, namespace, and the value's start and end. */
static char *
get_attribute (const char *name, int n_attributes, const xmlChar **attributes)
{
  for (int i = 0; i < n_attributes; i++)
    {
      const xmlChar **attribute = attributes + 5 * i;
      if (strcmp ((const char *) attribute[0], name) == 0)
        return g_strndup ((const char *) attribute[3], attribute[4] - attribute[3]);
    }
  return NULL;
}

static void
check_root (Reader *reader, const char *name, const char *uri, int n_attributes, const xmlChar **attributes)
{
  g_autofree char *version = get_attribute ("version", n_attributes, attributes);
  g_autofree char *reason = NULL;

  reader->root_uri = g_strdup (uri);
  if (strcmp (name, "gpx") != 0)
    reason = g_strdup_printf (_("This is not a GPX file: its outermost element is “%s”"), name);
  else if (version != NULL && !g_str_has_prefix (g_strstrip (version), "1."))
    reason = g_strdup_printf (_("GPX version “%s” is not known; versions 1.0 and 1.1 are"), version);
  if (reason != NULL)
    fail (reader, reason);
}

static gboolean
read_degrees (Reader *reader, const char *name, double limit, int n_attributes, const xmlChar **attributes,
              double *degrees)
{
  g_autofree char *text = get_attribute (name, n_attributes, attributes);
  g_autoptr (GError) error = NULL;

  if (text != NULL && tpt_number_parse_real (text, -limit, limit, degrees, &error))
    return TRUE;
  refuse (reader, get_line (reader), name, error != NULL ? error->message : _("The point has no such value"));
  return FALSE;
}

static void
begin_point (Reader *reader, int n_attributes, const xmlChar **attributes)
{
  reader->vertex = tpt_vertex_make (NAN, NAN);
  reader->vertex_good = read_degrees (reader, "lat", 90, n_attributes, attributes, &reader->vertex.latitude) &&
                        read_degrees (reader, "lon", 180, n_attributes, attributes, &reader->vertex.longitude);
}

static void
begin_feature (Reader *reader, Place place)
{
  g_clear_pointer (&reader->feature, tpt_feature_free);
  reader->feature = tpt_feature_new (place == PLACE_WAYPOINT ? TPT_FEATURE_POINT : TPT_FEATURE_LINE);
  reader->feature->route = place == PLACE_ROUTE;
  reader->feature->line = get_line (reader);
  reader->time_noted = FALSE;
}

static void
begin_place (Reader *reader, Place place, int n_attributes, const xmlChar **attributes)
{
  switch (place)
    {
    case PLACE_WAYPOINT:
      begin_feature (reader, place);
      begin_point (reader, n_attributes, attributes);
      break;
    case PLACE_ROUTE:
    case PLACE_TRACK:
      begin_feature (reader, place);
      break;
    case PLACE_ROUTE_POINT:
    case PLACE_TRACK_POINT:
      begin_point (reader, n_attributes, attributes);
      break;
    case PLACE_OTHER:
    case PLACE_GPX:
    case PLACE_SEGMENT:
      break;
    default:
      g_string_truncate (reader->text, 0);
      reader->text_line = get_line (reader);
      break;
    }
}

static void
start_element_cb (void *data, const xmlChar *local_name, const xmlChar *prefix, const xmlChar *uri, int n_namespaces,
                  const xmlChar **namespaces, int n_attributes, int n_defaulted, const xmlChar **attributes)
{
  Reader *reader = data;
  Place place = PLACE_GPX;

  if (reader->failure != NULL)
    return;
  if (reader->depth == TPT_GPX_DEPTH_MAX)
    {
      fail (reader, _("Elements are nested too deeply"));
      return;
    }

  if (reader->depth == 0)
    check_root (reader, (const char *) local_name, (const char *) uri, n_attributes, attributes);
  else if (is_foreign (reader, (const char *) uri))
    place = PLACE_OTHER;
  else
    place = find_place (reader->places[reader->depth - 1], (const char *) local_name);
  reader->places[reader->depth++] = place;
  begin_place (reader, place, n_attributes, attributes);
}

static void
characters_cb (void *data, const xmlChar *text, int length)
{
  Reader *reader = data;

  if (reader->failure != NULL || reader->depth == 0 || reader->places[reader->depth - 1] < PLACE_ELEVATION)
    return;
  if (reader->text->len + length > TPT_GPX_TEXT_MAX)
    fail (reader, _("A text is too long"));
  else
    g_string_append_len (reader->text, (const char *) text, length);
}

static void
note_kept (Reader *reader, const char *element, const char *reason)
{
  tpt_refusals_add_kept (reader->refusals, reader->name, reader->text_line, element, reason);
}

static void
store_number (Reader *reader, const char *element, double min, double *value)
{
  g_autoptr (GError) error = NULL;

  if (!tpt_number_parse_real (reader->text->str, min, INFINITY, value, &error))
    note_kept (reader, element, error->message);
}

/* A track has thousands of times: the first without an offset tells of all. */
static void
store_time (Reader *reader, const char *text)
{
  g_autoptr (GError) error = NULL;
  TptReading reading;

  if (!tpt_reading_parse (text, &reading, &error))
    {
      note_kept (reader, "time", error->message);
      return;
    }
  reader->vertex.time = reading;
  if (reading.offset_s == TPT_NO_OFFSET && !reader->time_noted)
    {
      note_kept (reader, "time", _("The time has no offset, so it is not known which zone it means"));
      reader->time_noted = TRUE;
    }
}

static void
store_text (const char *text, char **field)
{
  if (*field == NULL)
    *field = g_strdup (text);
}

static void
store_field (Reader *reader, Place place)
{
  TptFeature *feature = reader->feature;
  const char *text = g_strstrip (reader->text->str);

  if (*text == '\0' || feature == NULL)
    return;
  switch (place)
    {
    case PLACE_ELEVATION:
      store_number (reader, "ele", -INFINITY, &reader->vertex.elevation);
      break;
    case PLACE_HDOP:
      store_number (reader, "hdop", 0, &feature->hdop);
      break;
    case PLACE_TIME:
      store_time (reader, text);
      break;
    case PLACE_NAME:
      store_text (text, &feature->name);
      break;
    case PLACE_COMMENT:
      store_text (text, &feature->comment);
      break;
    case PLACE_DESCRIPTION:
      store_text (text, &feature->description);
      break;
    case PLACE_SYMBOL:
      store_text (text, &feature->symbol);
      break;
    case PLACE_TYPE:
      store_text (text, &feature->type);
      break;
    default:
      g_assert_not_reached ();
    }
}

static void
end_point (Reader *reader)
{
  if (reader->vertex_good && reader->feature != NULL)
    tpt_feature_add_vertex (reader->feature, &reader->vertex);
}

static void
end_segment (Reader *reader)
{
  if (reader->feature == NULL)
    return;
  if (tpt_feature_count_open (reader->feature) == 1)
    {
      tpt_refusals_add_kept (reader->refusals, reader->name, get_line (reader), NULL,
                             _("A single point makes no line; it was left out"));
      tpt_feature_drop_open (reader->feature);
    }
  tpt_feature_end_part (reader->feature, FALSE);
}

static void
end_feature (Reader *reader)
{
  g_autoptr (TptFeature) feature = g_steal_pointer (&reader->feature);

  if (feature == NULL)
    return;
  tpt_feature_end_part (feature, FALSE);
  if (feature->parts->len == 0)
    {
      /* A waypoint's fault is listed already, with its place. */
      if (feature->kind == TPT_FEATURE_LINE)
        refuse (reader, feature->line, NULL, _("The line has fewer than two usable points"));
      return;
    }
  if (reader->features->len == TPT_FEATURES_MAX)
    {
      fail (reader, _("There are too many waypoints and tracks"));
      return;
    }
  feature->index = reader->features->len;
  g_ptr_array_add (reader->features, g_steal_pointer (&feature));
}

static void
end_element_cb (void *data, const xmlChar *local_name, const xmlChar *prefix, const xmlChar *uri)
{
  Reader *reader = data;
  Place place;

  if (reader->failure != NULL || reader->depth == 0)
    return;
  place = reader->places[--reader->depth];
  switch (place)
    {
    case PLACE_OTHER:
    case PLACE_GPX:
      break;
    case PLACE_WAYPOINT:
      end_point (reader);
      end_feature (reader);
      break;
    case PLACE_ROUTE_POINT:
    case PLACE_TRACK_POINT:
      end_point (reader);
      break;
    case PLACE_SEGMENT:
      end_segment (reader);
      break;
    case PLACE_ROUTE:
    case PLACE_TRACK:
      end_segment (reader);
      end_feature (reader);
      break;
    default:
      store_field (reader, place);
      break;
    }
}

static void
doctype_cb (void *data, const xmlChar *name, const xmlChar *external_id, const xmlChar *system_id)
{
  fail (data, _("The file has a document type declaration, which GPX does not need and which can do harm"));
}

/* (transfer full): in our words where we know better ones. */
static char *
explain_xml_error (Reader *reader, const xmlError *fault)
{
  g_autofree char *told = g_utf8_make_valid (fault->message != NULL ? fault->message : "", -1);

  switch (fault->code)
    {
    case XML_ERR_DOCUMENT_EMPTY:
      return g_strdup (reader->size == 0 ? _("The file is empty") : _("This is not a GPX file: it is not XML"));
    case XML_ERR_INVALID_ENCODING:
    case XML_ERR_INVALID_CHAR:
    case XML_ERR_UNKNOWN_ENCODING:
    case XML_ERR_UNSUPPORTED_ENCODING:
    case XML_I18N_CONV_FAILED:
      return g_strdup (_("There are characters that do not fit the encoding the file declares"));
    default:
      return g_strdup_printf (_("The file is damaged or cut off: %s"), g_strstrip (told));
    }
}

#if LIBXML_VERSION < 21200
static void
error_cb (void *data, xmlError *fault)
#else
static void
error_cb (void *data, const xmlError *fault)
#endif
{
  Reader *reader = data;
  g_autofree char *reason = NULL;

  /* Unknown prefixes and the like do no harm. */
  if (fault->level != XML_ERR_FATAL || reader->failure != NULL)
    return;
  reason = explain_xml_error (reader, fault);
  fail (reader, reason);
}

/* Fills the buffer: libxml2 takes a short block for the end of the file. */
static int
read_block_cb (void *data, char *buffer, int length)
{
  Reader *reader = data;
  g_autoptr (GError) error = NULL;
  gsize got = 0;

  if (reader->failure != NULL)
    return -1;
  if (g_cancellable_set_error_if_cancelled (reader->cancellable, &reader->failure))
    return -1;
  if (!g_input_stream_read_all (reader->stream, buffer, length, &got, NULL, &error))
    g_set_error (&reader->failure, TPT_ERROR, TPT_ERROR_IO, _("“%s” could not be read: %s"), reader->name,
                 error->message);
  reader->size += got;
  if (reader->size > TPT_GPX_SIZE_MAX)
    fail (reader, _("The file is too large"));
  return reader->failure == NULL ? (int) got : -1;
}

/* Only what is named here is ever called: no entity is looked up, declared or
 * loaded. */
static const xmlSAXHandler handler = {
  .initialized = XML_SAX2_MAGIC,
  .internalSubset = doctype_cb,
  .startElementNs = start_element_cb,
  .endElementNs = end_element_cb,
  .characters = characters_cb,
  .ignorableWhitespace = characters_cb,
  .cdataBlock = characters_cb,
  .serror = error_cb,
};

static void
run_parser (Reader *reader)
{
  xmlSAXHandler own_handler = handler;

  reader->parser = xmlCreateIOParserCtxt (&own_handler, reader, read_block_cb, NULL, reader, XML_CHAR_ENCODING_NONE);
  if (reader->parser == NULL)
    {
      fail (reader, _("The file could not be taken in"));
      return;
    }
  xmlCtxtUseOptions (reader->parser, XML_PARSE_NONET);
  xmlParseDocument (reader->parser);
  if (!reader->parser->wellFormed)
    fail (reader, _("The file is damaged or cut off"));
}

GPtrArray *
tpt_gpx_read (GInputStream *stream, const char *name, GPtrArray *refusals, GCancellable *cancellable, GError **error)
{
  g_auto (Reader) reader = {
    .stream = stream, .name = name, .refusals = refusals, .cancellable = cancellable,
  };

  g_return_val_if_fail (G_IS_INPUT_STREAM (stream), NULL);
  g_return_val_if_fail (name != NULL && refusals != NULL, NULL);

  reader.text = g_string_new (NULL);
  reader.features = tpt_features_new ();
  run_parser (&reader);
  if (reader.failure == NULL)
    return g_steal_pointer (&reader.features);
  g_propagate_error (error, g_steal_pointer (&reader.failure));
  return NULL;
}

GPtrArray *
tpt_gpx_read_file (const char *path, GPtrArray *refusals, GCancellable *cancellable, GError **error)
{
  g_autofree char *name = NULL;
  g_autoptr (GFileInputStream) stream = tpt_input_open (path, &name, error);

  if (stream == NULL)
    return NULL;
  return tpt_gpx_read (G_INPUT_STREAM (stream), name, refusals, cancellable, error);
}
