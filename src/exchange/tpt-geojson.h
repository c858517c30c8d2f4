/* GeoJSON (RFC 7946): a reader and a writer.
 *
 * Reads a FeatureCollection, a Feature or a bare geometry of the types Point,
 * LineString, MultiLineString, Polygon and MultiPolygon. The properties
 * "name", "comment", "description", "symbol", "type", "hdop", "time" and
 * "route" fill the fields of that name (GPX' "cmt", "desc" and "sym" are
 * understood); all others are kept as properties, nested ones as their JSON
 * text, null ones not at all.
 */
#pragma once

#include <gio/gio.h>

#include "tpt-feature.h"
#include "tpt-refusal.h"

G_BEGIN_DECLS

#define TPT_GEOJSON_SIZE_MAX (64 * 1024 * 1024) /* bytes of the file */
#define TPT_GEOJSON_DEPTH_MAX 64                /* arrays and objects within each other */
#define TPT_GEOJSON_VALUES_MAX 4000000          /* values of all kinds */

/**
 * tpt_geojson_read:
 * @stream: where the bytes come from
 * @name: what to call the file in messages
 * @refusals: (element-type TptRefusal): where features left out are listed
 * @cancellable: (nullable): asked between blocks
 * @error: return location
 *
 * A feature without a geometry, of another type, or with a position that is
 * out of range or looks swapped is left out as a whole and listed with its
 * place ("features[3].geometry"). Rings of either direction are taken.
 *
 * Returns: (transfer full) (nullable) (element-type TptFeature): or %NULL with
 *   %TPT_ERROR_DATA when the file is no GeoJSON, damaged, past a limit, or has
 *   a "crs" member (that is in @refusals too), with %TPT_ERROR_IO when reading
 *   failed, with %G_IO_ERROR_CANCELLED
 */
GPtrArray *tpt_geojson_read (GInputStream *stream, const char *name, GPtrArray *refusals, GCancellable *cancellable,
                             GError **error);

/* The same for a file; messages call it by the last part of @path. */
GPtrArray *tpt_geojson_read_file (const char *path, GPtrArray *refusals, GCancellable *cancellable, GError **error);

/**
 * tpt_geojson_write:
 * @path: the file to make, wholly or not at all (see tpt-output.h)
 * @features: (element-type TptFeature): written in the given order
 * @error: return location
 *
 * A FeatureCollection, one feature a line. Positions with 7 decimals,
 * elevations with 2. Outer rings counter-clockwise, holes clockwise; a line
 * over the antimeridian is cut there, an area is not. The time of a point is
 * the property "time"; vertices of lines have none. The same features give the
 * same bytes.
 *
 * Returns: %FALSE with %TPT_ERROR_DATA when a feature fails
 *   tpt_feature_check(), or %TPT_ERROR_IO
 */
gboolean tpt_geojson_write (const char *path, GPtrArray *features, GError **error);

G_END_DECLS
