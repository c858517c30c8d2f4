/* Tables as comma-separated text (RFC 4180): a reader and a writer.
 *
 * Reader: UTF-8 with or without a byte-order mark; lines end with LF, CRLF or
 * CR; the first line names the columns. Rows come one at a time and memory is
 * bounded by the longest row allowed, whatever the file's size. Empty lines
 * are passed over.
 *
 * A fault of one row (too few or too many fields, a NUL, text that is not
 * UTF-8, a quote out of place, a line too long) is added to the list of
 * refusals and reading goes on with the next row. A fault after which the rows
 * cannot be told apart (a quote never closed, a header that is unusable, other
 * encodings) ends the reading with an error; it is in the list of refusals
 * too, with its line. Values are given as they are, with their blanks.
 */
#pragma once

#include <gio/gio.h>

#include "tpt-refusal.h"

G_BEGIN_DECLS

/* Bytes of one row, embedded line ends included. */
#define TPT_CSV_ROW_MAX (1024 * 1024)

typedef struct _TptCsvReader TptCsvReader;
typedef struct _TptCsvWriter TptCsvWriter;

/**
 * TptCsvRow:
 * @fields: one text per column, in the order of the header, NULL-terminated;
 *   never %NULL inside, empty stands for unknown
 * @n_fields: as many as there are columns
 * @line: the line of the file on which the row begins, counting from 1
 */
typedef struct {
  const char *const *fields;
  guint n_fields;
  gint64 line;
} TptCsvRow;

/**
 * tpt_csv_reader_new:
 * @stream: where the bytes come from
 * @name: what to call the file in messages
 * @refusals: (nullable) (element-type TptRefusal): where faults are listed; it
 *   must outlive the reader. With %NULL the first fault of a row is an error
 * @error: return location
 *
 * Reads the header. Names lose the blanks around them.
 *
 * Returns: (transfer full) (nullable): %NULL with %TPT_ERROR_DATA when there is
 *   no usable header (empty file, other encoding, a name twice or missing),
 *   with %TPT_ERROR_IO when reading failed
 */
TptCsvReader *tpt_csv_reader_new (GInputStream *stream, const char *name, GPtrArray *refusals, GError **error);

/* The same for a file; messages call it by the last part of @path. */
TptCsvReader *tpt_csv_reader_open (const char *path, GPtrArray *refusals, GError **error);
void tpt_csv_reader_free (TptCsvReader *reader);

/* (transfer none): the columns' names, NULL-terminated. */
const char *const *tpt_csv_reader_get_columns (TptCsvReader *reader);

/* Position of @column in every row, or -1. */
int tpt_csv_reader_find (TptCsvReader *reader, const char *column);

/**
 * tpt_csv_reader_next:
 * @reader: a reader
 * @row: (out) (transfer none): the next good row, valid until the next call
 * @error: return location
 *
 * Returns: %TRUE with a row; %FALSE without an error at the end of the file;
 *   %FALSE with %TPT_ERROR_DATA or %TPT_ERROR_IO when reading cannot go on,
 *   also after %TPT_REFUSALS_MAX faults. Calling again gives the same answer.
 */
gboolean tpt_csv_reader_next (TptCsvReader *reader, const TptCsvRow **row, GError **error);

/* The field of the present row in @column, or %NULL without such a column. */
const char *tpt_csv_reader_get (TptCsvReader *reader, const char *column);

/* For the caller's own finding about the present row; needs a list of
 * refusals. @column may be %NULL. */
void tpt_csv_reader_refuse (TptCsvReader *reader, const char *column, const char *reason);

/**
 * tpt_csv_writer_new:
 * @path: the file to make; replaced only by tpt_csv_writer_commit()
 * @columns: names of the columns, NULL-terminated
 * @error: return location
 *
 * UTF-8, LF line ends, fields quoted only where they must be. Nothing else is
 * done to a value: it reads back as it was. See tpt-output.h for what is left
 * behind on failure. The same rows give the same bytes.
 *
 * Returns: (transfer full) (nullable): the writer, or %NULL with %TPT_ERROR_IO
 */
TptCsvWriter *tpt_csv_writer_new (const char *path, const char *const *columns, GError **error);

/* Freed without a commit, the file is as it was before. */
void tpt_csv_writer_free (TptCsvWriter *writer);

/* The fields of a row from left to right; %NULL and NAN are written empty.
 * Reals take their shortest exact form. */
void tpt_csv_writer_add_text (TptCsvWriter *writer, const char *value);
void tpt_csv_writer_add_real (TptCsvWriter *writer, double value);
void tpt_csv_writer_add_integer (TptCsvWriter *writer, gint64 value);

/* Every column must have been given its field.
 * Returns: %FALSE with %TPT_ERROR_IO, or %TPT_ERROR_DATA for text that is not UTF-8 */
gboolean tpt_csv_writer_end_row (TptCsvWriter *writer, GError **error);

/* Brings the file to disk and into its place, or leaves all as it was. */
gboolean tpt_csv_writer_commit (TptCsvWriter *writer, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptCsvReader, tpt_csv_reader_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptCsvWriter, tpt_csv_writer_free)

G_END_DECLS
