/* One row of one table: a station, a unit, a visit.
 *
 * A record holds values as the domain has them: references are codes, moments
 * are instants, what is unknown is not set. It knows nothing of SQL or files.
 */
#pragma once

#include <glib-object.h>

#include "tpt-table.h"
#include "tpt-time.h"

G_BEGIN_DECLS

#define TPT_TYPE_RECORD (tpt_record_get_type ())
G_DECLARE_FINAL_TYPE (TptRecord, tpt_record, TPT, RECORD, GObject)

TptRecord *tpt_record_new (TptTableId table);
TptRecord *tpt_record_copy (TptRecord *self);

const TptTable *tpt_record_get_table (TptRecord *self);

/* Where the row is kept; 0 and %NULL for a new one. Set by the store. */
gint64 tpt_record_get_id (TptRecord *self);
const char *tpt_record_get_uuid (TptRecord *self);
void tpt_record_set_identity (TptRecord *self, gint64 id, const char *uuid);

/* (nullable): the first column, which names the row. */
const char *tpt_record_get_code (TptRecord *self);

/* Columns are named as in the CSV tables; an unknown name is a programming
 * error. Unset: %NULL, NAN, %TPT_NO_INSTANT, and @fallback. */
gboolean tpt_record_is_set (TptRecord *self, const char *column);
const char *tpt_record_get_text (TptRecord *self, const char *column);
double tpt_record_get_real (TptRecord *self, const char *column);
gint64 tpt_record_get_integer (TptRecord *self, const char *column, gint64 fallback);
TptInstant tpt_record_get_instant (TptRecord *self, const char *column);

void tpt_record_set_text (TptRecord *self, const char *column, const char *value);
void tpt_record_set_real (TptRecord *self, const char *column, double value);
void tpt_record_set_integer (TptRecord *self, const char *column, gint64 value);
void tpt_record_set_instant (TptRecord *self, const char *column, TptInstant value);

/* Common names of a species by language code; empty for other tables.
 * (transfer none) (element-type utf8 utf8). */
GHashTable *tpt_record_get_names (TptRecord *self);
void tpt_record_set_name (TptRecord *self, const char *language, const char *name);

/**
 * tpt_record_set_from_string:
 * @column: the column's name
 * @text: a cell of a table or an entry of a form; empty or %NULL unsets
 * @zone: (nullable): zone of a time without offset
 * @error: return location
 *
 * Returns: %FALSE with %TPT_ERROR_DATA and the reason when @text cannot be a
 *   value of that column; the record is as before
 */
gboolean tpt_record_set_from_string (TptRecord *self, const char *column, const char *text, TptZone *zone, GError **error);

/* (transfer full) (nullable): the inverse; %NULL when unset. Numbers in their
 * shortest exact form, moments with offset. */
char *tpt_record_to_string (TptRecord *self, const char *column, TptZone *zone);

/**
 * tpt_record_check:
 * @column: (out) (optional): the column at fault
 * @error: return location
 *
 * What must hold for the row as a whole: required columns, an end after its
 * start, a latitude with its longitude, a species only with an animal.
 *
 * Returns: %FALSE with %TPT_ERROR_DATA
 */
gboolean tpt_record_check (TptRecord *self, const char **column, GError **error);

/* The same values, whatever their identity. */
gboolean tpt_record_equal (TptRecord *self, TptRecord *other);

/* Takes over from @newer every column in @columns (NULL-terminated names). */
void tpt_record_overlay (TptRecord *self, TptRecord *newer, const char *const *columns);

G_END_DECLS
