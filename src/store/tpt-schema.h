/* The project file's tables, and the numbered steps from each version to the
 * next. Internal to the store. */
#pragma once

#include "db.h"

G_BEGIN_DECLS

/* What this program writes. A file with a higher number is refused. */
#define TPT_SCHEMA_VERSION 4

/* 'GPKG': every project is a GeoPackage, this tells nothing more. */
#define TPT_APPLICATION_ID G_GINT64_CONSTANT (0x47504B47)

/**
 * tpt_schema_read_version:
 * @version: (out): the file's schema number
 *
 * Returns: %FALSE with TPT_ERROR_PROJECT when the file is no GeoPackage, not
 *   one of ours, or without a number of 1 or more. Reads only.
 */
gboolean tpt_schema_read_version (TptDb *db, gint64 *version, GError **error);

/**
 * tpt_schema_migrate:
 * @from: the file's version; 0 for an empty file
 * @to: at most %TPT_SCHEMA_VERSION
 * @now: stamped on what is listed in the file's contents
 *
 * Call inside a transaction: the file is then wholly at @from or wholly at @to.
 */
gboolean tpt_schema_migrate (TptDb *db, int from, int to, TptInstant now, GError **error);

G_END_DECLS
