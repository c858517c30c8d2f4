/* Records in and out of the project file. */
#pragma once

#include "tpt-store.h"

G_BEGIN_DECLS

typedef enum {
  TPT_SAVED_ADDED,
  TPT_SAVED_UPDATED,
  TPT_SAVED_UNCHANGED,
} TptSaved;

/**
 * tpt_store_list:
 * @table: frames and observations may be very many: see tpt_store_each()
 * @column: (nullable): a column by its CSV name, such as "station"; %NULL for all rows
 * @value: (nullable): what that column must equal; references are codes
 *
 * Returns: (transfer container) (element-type TptRecord): in the order of the
 *   key, visits and deployments by time; %NULL with @error
 */
GPtrArray *tpt_store_list (TptStore *self, TptTableId table, const char *column, const char *value, GError **error);

/* Sees one row; %FALSE with @error ends the reading. */
typedef gboolean (*TptRecordFunc) (TptRecord *record, gpointer data, GError **error);

/* Every row of @table in the order of tpt_store_list(), one at a time. Frames of
 * withdrawn batches are not there. */
gboolean tpt_store_each (TptStore *self, TptTableId table, TptRecordFunc func, gpointer data, GError **error);

/* (transfer full) (nullable): the row with this code; %NULL without @error
 * when there is none. A frame of a withdrawn batch is none. */
TptRecord *tpt_store_find (TptStore *self, TptTableId table, const char *code, GError **error);

/* (transfer full) (nullable): the row with the key of @like, whatever its
 * other values; as tpt_store_find(). */
TptRecord *tpt_store_find_like (TptStore *self, TptRecord *like, GError **error);

/**
 * tpt_store_save:
 * @record: checked here; its identity is set
 * @saved: (out) (optional): what it came to
 * @column: (out) (optional): the column at fault
 *
 * Inside an action. A record with an identity replaces that row; one without
 * replaces the row of the same key or is added. Equal values write nothing.
 *
 * Returns: %FALSE with TPT_ERROR_DATA for a value the project cannot hold (a
 *   reference to nothing, a unit in two rigs at once)
 */
gboolean tpt_store_save (TptStore *self, TptRecord *record, TptSaved *saved, const char **column, GError **error);

/* Inside an action. Refused with TPT_ERROR_DATA while other rows refer to it. */
gboolean tpt_store_remove (TptStore *self, TptRecord *record, GError **error);

/* Whether every code in @stations (%NULL-terminated, nullable) is a station;
 * else TPT_ERROR_DATA naming the first that is none. */
gboolean tpt_store_check_stations (TptStore *self, const char *const *stations, GError **error);

/* (transfer full): a code not in use, made of @stem and a number. */
char *tpt_store_make_code (TptStore *self, TptTableId table, const char *stem, GError **error);

G_END_DECLS
