/* GeoPackage geometry blobs (OGC 12-128r17, clause 2.1.3), WGS 84 only. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* (transfer full): 29 bytes; latitude and longitude in degrees. */
GBytes *tpt_geometry_from_point (double latitude, double longitude);

/* Reads a point blob of either byte order and with any envelope.
 * Returns: %FALSE for NULL, an empty or infinite point, or anything else. */
gboolean tpt_geometry_to_point (const void *data, gsize size, double *latitude, double *longitude);

/**
 * tpt_geometry_from_lines:
 * @points: pairs of latitude, longitude in degrees, all lines one after the other
 * @lengths: number of points of each of the @n_lines lines, each at least 2 (area: 4)
 * @area: write a polygon (rings) instead of lines
 *
 * Returns: (transfer full): LINESTRING or MULTILINESTRING, or POLYGON; with envelope
 */
GBytes *tpt_geometry_from_lines (const double *points, const guint *lengths, guint n_lines, gboolean area);

/**
 * tpt_geometry_to_lines:
 * @points: (element-type double): pairs of latitude, longitude appended
 * @lengths: (element-type guint): points per line or ring appended
 * @area: (out): whether these are rings
 *
 * Reads LINESTRING, MULTILINESTRING, POLYGON and MULTIPOLYGON, with or without
 * Z or M; every count is checked against the blob's size, every number for
 * being one.
 * Returns: %FALSE for anything else; the arrays then hold nothing of it
 */
gboolean tpt_geometry_to_lines (const void *data, gsize size, GArray *points, GArray *lengths, gboolean *area);

G_END_DECLS
