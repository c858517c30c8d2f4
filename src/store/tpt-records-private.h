/* Shared by the reading and the writing of records. */
#pragma once

#include "tpt-records.h"
#include "tpt-store-private.h"

/* The position of a station is kept in its geometry, not in two columns. */
gboolean tpt_records_is_position (const TptTable *table, const TptColumn *column);

/* Name, in the project file, of the column that holds a row's code. */
const char *tpt_records_code_column (TptTableId table);

void tpt_records_bind_value (TptStmt *stmt, int parameter, TptRecord *record, const TptColumn *column);

/* (transfer full) (nullable) */
TptRecord *tpt_records_find_by_id (TptStore *self, const TptTable *table, gint64 id, GError **error);
