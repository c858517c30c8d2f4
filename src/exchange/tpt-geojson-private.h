/* For the GeoJSON reader alone: tpt-geojson-guard.c looks the text through,
 * tpt-geojson-reader.c goes from the file to features and properties,
 * tpt-geojson-shape.c reads geometries, tpt-geojson-place.c knows where in the
 * tree we are and lists what is refused there.
 */
#pragma once

#include <json-glib/json-glib.h>

#include "tpt-feature.h"
#include "tpt-geojson.h"

G_BEGIN_DECLS

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
} TptGeojsonReader;

/**
 * tpt_geojson_guard:
 * @text: the whole file, after any byte-order mark
 * @length: its bytes
 * @line: (out): where the fault is, counting from 1
 *
 * Looks through the text before a parser that trusts it is let near: the
 * parser descends once per nesting level, takes more than JSON allows
 * (comments, octal numbers), and lets numbers run over. Whether the tokens
 * make sense together is left to the parser.
 *
 * Returns: (nullable): what is wrong, or %NULL
 */
const char *tpt_geojson_guard (const char *text, gsize length, gint64 *line);

/* Gives the file up; @line is 0 where only the place is known. */
void tpt_geojson_fail (TptGeojsonReader *reader, gint64 line, const char *reason);

/* Lists the feature we are in as left out. Always FALSE. */
gboolean tpt_geojson_refuse (TptGeojsonReader *reader, const char *reason);

/* Lengthens the place; what comes back is for tpt_geojson_leave(). */
gsize tpt_geojson_enter_member (TptGeojsonReader *reader, const char *member);
gsize tpt_geojson_enter_element (TptGeojsonReader *reader, guint element);
void tpt_geojson_leave (TptGeojsonReader *reader, gsize before);

gboolean tpt_geojson_is_number (JsonNode *node);
gboolean tpt_geojson_is_string (JsonNode *node);

/* (nullable): the object's member of that name, %NULL also for null. */
JsonNode *tpt_geojson_get_member (JsonObject *object, const char *member);

/* The object's "type", empty without one. */
const char *tpt_geojson_get_type (JsonObject *object);

/* FALSE, and the file is given up, when the object names a coordinate system. */
gboolean tpt_geojson_check_no_crs (TptGeojsonReader *reader, JsonObject *object);

/* (transfer full) (nullable): a feature of that shape, or %NULL when it was refused. */
TptFeature *tpt_geojson_read_geometry (TptGeojsonReader *reader, JsonNode *node);

/* Whether RFC 7946 knows a geometry of that type, ours or not. */
gboolean tpt_geojson_is_geometry_type (const char *type);

G_END_DECLS
