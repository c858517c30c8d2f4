/* Things with a place, as map files carry them: points, lines, areas.
 *
 * WGS 84, degrees, metres. The same structs come from GPX and from GeoJSON and
 * go into both.
 */
#pragma once

#include "tpt-time.h"

G_BEGIN_DECLS

/* Features of one file beyond which a reader gives it up. */
#define TPT_FEATURES_MAX 1000000

typedef enum {
  TPT_FEATURE_POINT,
  TPT_FEATURE_LINE,
  TPT_FEATURE_AREA,
} TptFeatureKind;

/**
 * TptVertex:
 * @latitude: degrees, -90..90
 * @longitude: degrees, -180..180
 * @elevation: metres, or NAN
 * @time: what the file says; clock_ms is %TPT_NO_INSTANT without a time. A
 *   time without an offset is not UTC by itself: see tpt_vertex_get_instant()
 */
typedef struct {
  double latitude;
  double longitude;
  double elevation;
  TptReading time;
} TptVertex;

/**
 * TptPart: one run of vertices: a point, a segment of a line, or a ring
 * @first: index of its first vertex
 * @n_vertices: how many vertices belong to it
 * @hole: the ring is cut out of the last ring before it that is none
 */
typedef struct {
  guint first;
  guint n_vertices;
  gboolean hole;
} TptPart;

typedef enum {
  TPT_PROPERTY_TEXT,
  TPT_PROPERTY_NUMBER,
  TPT_PROPERTY_BOOLEAN,
} TptPropertyType;

/**
 * TptProperty:
 * @value: text as it is; numbers in C-locale form; "true" or "false"
 */
typedef struct {
  char *name;  /* (owned) */
  char *value; /* (owned) */
  TptPropertyType type;
} TptProperty;

/**
 * TptFeature:
 * @line: line of the file (GPX), or 0
 * @index: number of the feature in its file, counting from 0 in the order of
 *   the file; GeoJSON messages call it "features[index]"
 * @route: a line that was planned (GPX route), not recorded
 * @id: what the file calls the feature (GeoJSON only)
 * @hdop: dilution of precision (GPX waypoints), or NAN
 * @vertices: (element-type TptVertex): of all parts, one after the other; rings
 *   of areas are closed, their last vertex equals their first
 * @parts: (element-type TptPart): a point has one of one vertex, a line has one
 *   or more of at least two, an area one or more of at least four
 * @properties: (element-type TptProperty): whatever else the file says, in its
 *   order (GeoJSON only)
 */
typedef struct {
  TptFeatureKind kind;
  gint64 line;
  guint index;
  gboolean route;
  char *id;              /* (owned) (nullable) */
  char *name;            /* (owned) (nullable) */
  char *comment;         /* (owned) (nullable) */
  char *description;     /* (owned) (nullable) */
  char *symbol;          /* (owned) (nullable) */
  char *type;            /* (owned) (nullable) */
  double hdop;
  GArray *vertices;      /* (owned) */
  GArray *parts;         /* (owned) */
  GPtrArray *properties; /* (owned) */
} TptFeature;

/* A vertex of which nothing is known but its place. */
TptVertex tpt_vertex_make (double latitude, double longitude);

/* The vertex' time, or %TPT_NO_INSTANT without a time or without its offset. */
TptInstant tpt_vertex_get_instant (const TptVertex *vertex);

TptFeature *tpt_feature_new (TptFeatureKind kind);
void tpt_feature_free (TptFeature *feature);

/* (transfer full) (element-type TptFeature): an empty list. */
GPtrArray *tpt_features_new (void);

void tpt_feature_add_vertex (TptFeature *feature, const TptVertex *vertex);

/* Ends the part that the vertices since the last end make; nothing happens
 * without one. */
void tpt_feature_end_part (TptFeature *feature, gboolean hole);

/* Vertices since the last end of a part; and their removal. */
guint tpt_feature_count_open (const TptFeature *feature);
void tpt_feature_drop_open (TptFeature *feature);

/* A point and its place in one go. */
TptFeature *tpt_feature_new_point (double latitude, double longitude);

/* The vertices of part @part. */
const TptVertex *tpt_feature_get_part (const TptFeature *feature, guint part, guint *n_vertices);

/* Texts are copied. */
void tpt_feature_add_property (TptFeature *feature, const char *name, const char *value, TptPropertyType type);

/* (nullable): the value of the first property of that name. */
const char *tpt_feature_get_property (const TptFeature *feature, const char *name);

/**
 * tpt_feature_check:
 * @error: return location
 *
 * What a writer needs: positions in range, parts of enough vertices, one
 * vertex in a point, rings closed, no hole first.
 *
 * Returns: %FALSE with %TPT_ERROR_DATA
 */
gboolean tpt_feature_check (const TptFeature *feature, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptFeature, tpt_feature_free)

G_END_DECLS
