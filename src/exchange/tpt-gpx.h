/* GPX, the exchange format of handheld receivers: reads 1.0 and 1.1, writes 1.1.
 *
 * The reader goes by local names, whatever the prefix, in any encoding that
 * the XML declares. A document type declaration is refused altogether, so no
 * entity is ever expanded or fetched; nothing is ever asked of the network.
 */
#pragma once

#include <gio/gio.h>

#include "tpt-feature.h"
#include "tpt-refusal.h"

G_BEGIN_DECLS

#define TPT_GPX_SIZE_MAX (256 * 1024 * 1024) /* bytes of the file */
#define TPT_GPX_DEPTH_MAX 64                 /* elements within elements */
#define TPT_GPX_TEXT_MAX (64 * 1024)         /* bytes of one text */

/**
 * tpt_gpx_read:
 * @stream: where the bytes come from
 * @name: what to call the file in messages
 * @refusals: (element-type TptRefusal): where points left out are listed
 * @cancellable: (nullable): asked between blocks
 * @error: return location
 *
 * Waypoints become points; tracks and routes become lines, a part for each
 * segment. A point without a usable position is left out and listed, and so is
 * a line without a part of two points. A value that cannot be read (elevation,
 * time, hdop) or a segment of one point is left out and listed as kept; so is
 * a time without an offset, which is in the vertex all the same.
 *
 * Returns: (transfer full) (nullable) (element-type TptFeature): features in the
 *   order of the file, or %NULL with %TPT_ERROR_DATA when the file is no GPX,
 *   damaged, or past a limit (that is in @refusals too, with its line), with
 *   %TPT_ERROR_IO when reading failed, with %G_IO_ERROR_CANCELLED
 */
GPtrArray *tpt_gpx_read (GInputStream *stream, const char *name, GPtrArray *refusals, GCancellable *cancellable,
                         GError **error);

/* The same for a file; messages call it by the last part of @path. */
GPtrArray *tpt_gpx_read_file (const char *path, GPtrArray *refusals, GCancellable *cancellable, GError **error);

/**
 * tpt_gpx_write:
 * @path: the file to make, wholly or not at all (see tpt-output.h)
 * @features: (element-type TptFeature): waypoints, then routes, then tracks are
 *   written, each kind in the given order
 * @error: return location
 *
 * Positions with 7 decimals (about 1 cm), elevations with 2, times in UTC; a
 * time without an offset is not written. GPX has no areas: their rings become
 * closed segments of a track. A route has no segments: each part of a route
 * becomes a route of its own. Longitude 180 is written as -180. Properties and
 * ids have no place in GPX. Characters that XML cannot hold become U+FFFD.
 * The same features give the same bytes.
 *
 * Returns: %FALSE with %TPT_ERROR_DATA when a feature fails
 *   tpt_feature_check(), or %TPT_ERROR_IO
 */
gboolean tpt_gpx_write (const char *path, GPtrArray *features, GError **error);

G_END_DECLS
