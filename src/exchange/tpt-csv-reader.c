#include "config.h"

#include "tpt-csv.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-csv-private.h"
#include "tpt-error.h"
#include "tpt-input.h"

struct _TptCsvReader {
  char *name;          /* (owned) */
  GPtrArray *refusals; /* (unowned) (nullable) */
  TptCsvScan scan;

  GStrv columns;       /* (owned) */
  guint n_columns;
  GPtrArray *fields;   /* (owned) (element-type utf8): the scan's texts */
  TptCsvRow row;
  GError *failure;     /* (owned) (nullable): why reading cannot go on */
};

/* Ends the reading for good and lists why. */
static void
fail_at (TptCsvReader *reader, gint64 line, const char *column, const char *reason)
{
  if (reader->refusals != NULL)
    tpt_refusals_add (reader->refusals, reader->name, line, column, reason);
  g_set_error (&reader->failure, TPT_ERROR, TPT_ERROR_DATA, _("%s, line %" G_GINT64_FORMAT ": %s"), reader->name,
               line, reason);
}

/* Takes over what ended the scan, if anything but the file's end did. */
static void
take_scan_failure (TptCsvReader *reader)
{
  const TptCsvScan *scan = &reader->scan;

  if (scan->fatal != NULL)
    fail_at (reader, scan->fatal_line, NULL, scan->fatal);
  else if (scan->io_error != NULL)
    g_set_error (&reader->failure, TPT_ERROR, TPT_ERROR_IO, _("“%s” could not be read: %s"), reader->name,
                 scan->io_error->message);
}

/* FALSE at the end of the file, or with a failure. */
static gboolean
read_record (TptCsvReader *reader)
{
  if (reader->failure != NULL)
    return FALSE;
  if (tpt_csv_scan_next (&reader->scan))
    return TRUE;
  take_scan_failure (reader);
  return FALSE;
}

/* (nullable): what is wrong with the text of @field. */
static const char *
find_text_fault (TptCsvReader *reader, guint field)
{
  gsize length;
  const char *text = tpt_csv_scan_get_field (&reader->scan, field, &length);

  if (memchr (text, '\0', length) != NULL)
    return _("There is a NUL byte in the text; is the table in UTF-16? Save it as UTF-8");
  if (!g_utf8_validate (text, length, NULL))
    return _("The text is not UTF-8; save the table as UTF-8");
  return NULL;
}

/* (transfer full) (nullable): why the present record is no row. */
static char *
find_record_fault (TptCsvReader *reader)
{
  guint n_fields = reader->scan.starts->len;
  g_autofree char *missing = NULL;

  if (reader->scan.fault != NULL)
    return g_strdup (reader->scan.fault);
  if (n_fields == reader->n_columns)
    return NULL;
  if (n_fields > reader->n_columns)
    return g_strdup_printf (_("There are %u fields for %u columns; a text with a comma is written in quotes"),
                            n_fields, reader->n_columns);
  missing = g_strjoinv ("”, “", reader->columns + n_fields);
  return g_strdup_printf (_("There are %u fields for %u columns: nothing for “%s”"), n_fields, reader->n_columns,
                          missing);
}

static void
list_fault (TptCsvReader *reader, const char *column, const char *reason)
{
  if (reader->refusals != NULL)
    tpt_refusals_add (reader->refusals, reader->name, reader->scan.start_line, column, reason);
  else
    fail_at (reader, reader->scan.start_line, column, reason);

  if (reader->refusals != NULL && reader->refusals->len >= TPT_REFUSALS_MAX)
    fail_at (reader, reader->scan.start_line, NULL, _("There are too many faults; the rest was not read"));
}

/* Points the row at the record's texts; FALSE when one of them is refused. */
static gboolean
collect_fields (TptCsvReader *reader)
{
  gboolean good = TRUE;

  g_ptr_array_set_size (reader->fields, 0);
  for (guint i = 0; i < reader->n_columns; i++)
    {
      const char *fault = find_text_fault (reader, i);
      gsize length;

      if (fault != NULL && reader->failure == NULL)
        list_fault (reader, reader->columns[i], fault);
      good = good && fault == NULL;
      g_ptr_array_add (reader->fields, (char *) tpt_csv_scan_get_field (&reader->scan, i, &length));
    }
  g_ptr_array_add (reader->fields, NULL);
  reader->row = (TptCsvRow) { (const char *const *) reader->fields->pdata, reader->n_columns, reader->scan.start_line };
  return good;
}

static gboolean
take_record (TptCsvReader *reader)
{
  g_autofree char *fault = find_record_fault (reader);

  if (fault == NULL)
    return collect_fields (reader);
  list_fault (reader, NULL, fault);
  return FALSE;
}

/* Any of the marks that stand between fields where the comma should. */
static const char *
find_other_separator (const char *header)
{
  if (strchr (header, ';') != NULL)
    return _("The columns are separated by semicolons; save the table with commas");
  if (strchr (header, '\t') != NULL)
    return _("The columns are separated by tabs; save the table with commas");
  return NULL;
}

static const char *
find_header_fault (TptCsvReader *reader)
{
  const char *fault = reader->scan.fault;
  gsize length;

  for (guint i = 0; i < reader->scan.starts->len && fault == NULL; i++)
    fault = find_text_fault (reader, i);
  if (fault == NULL && reader->scan.starts->len == 1)
    fault = find_other_separator (tpt_csv_scan_get_field (&reader->scan, 0, &length));
  return fault;
}

static void
check_names (TptCsvReader *reader)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < reader->n_columns && reader->failure == NULL; i++)
    {
      g_autofree char *reason = NULL;

      if (*reader->columns[i] == '\0')
        reason = g_strdup_printf (_("Column %u has no name"), i + 1);
      else if (!g_hash_table_add (seen, reader->columns[i]))
        reason = g_strdup_printf (_("There is more than one column “%s”"), reader->columns[i]);
      if (reason != NULL)
        fail_at (reader, reader->scan.start_line, reader->columns[i], reason);
    }
}

static void
take_names (TptCsvReader *reader)
{
  gsize length;

  reader->n_columns = reader->scan.starts->len;
  reader->columns = g_new0 (char *, reader->n_columns + 1);
  for (guint i = 0; i < reader->n_columns; i++)
    reader->columns[i] = g_strstrip (g_strdup (tpt_csv_scan_get_field (&reader->scan, i, &length)));
  check_names (reader);
}

static void
read_header (TptCsvReader *reader)
{
  gboolean empty = TRUE;
  const char *fault;

  while (empty && read_record (reader))
    empty = tpt_csv_scan_is_empty_line (&reader->scan);
  if (reader->failure != NULL)
    return;

  fault = empty ? _("The table is empty: there is no line with the columns' names") : find_header_fault (reader);
  if (fault != NULL)
    fail_at (reader, reader->scan.start_line, NULL, fault);
  else
    take_names (reader);
}

TptCsvReader *
tpt_csv_reader_new (GInputStream *stream, const char *name, GPtrArray *refusals, GError **error)
{
  g_autoptr (TptCsvReader) reader = NULL;

  g_return_val_if_fail (G_IS_INPUT_STREAM (stream), NULL);
  g_return_val_if_fail (name != NULL, NULL);

  reader = g_new0 (TptCsvReader, 1);
  reader->name = g_strdup (name);
  reader->refusals = refusals;
  reader->fields = g_ptr_array_new ();

  if (tpt_csv_scan_init (&reader->scan, stream))
    read_header (reader);
  else
    take_scan_failure (reader);
  if (reader->failure == NULL)
    return g_steal_pointer (&reader);
  g_propagate_error (error, g_steal_pointer (&reader->failure));
  return NULL;
}

TptCsvReader *
tpt_csv_reader_open (const char *path, GPtrArray *refusals, GError **error)
{
  g_autofree char *name = NULL;
  g_autoptr (GFileInputStream) stream = tpt_input_open (path, &name, error);

  if (stream == NULL)
    return NULL;
  return tpt_csv_reader_new (G_INPUT_STREAM (stream), name, refusals, error);
}

void
tpt_csv_reader_free (TptCsvReader *reader)
{
  tpt_csv_scan_clear (&reader->scan);
  g_free (reader->name);
  g_strfreev (reader->columns);
  g_ptr_array_unref (reader->fields);
  g_clear_error (&reader->failure);
  g_free (reader);
}

const char *const *
tpt_csv_reader_get_columns (TptCsvReader *reader)
{
  return (const char *const *) reader->columns;
}

int
tpt_csv_reader_find (TptCsvReader *reader, const char *column)
{
  for (guint i = 0; i < reader->n_columns; i++)
    if (g_str_equal (reader->columns[i], column))
      return i;
  return -1;
}

gboolean
tpt_csv_reader_next (TptCsvReader *reader, const TptCsvRow **row, GError **error)
{
  while (read_record (reader))
    {
      if (!tpt_csv_scan_is_empty_line (&reader->scan) && take_record (reader))
        {
          *row = &reader->row;
          return TRUE;
        }
    }

  reader->row = (TptCsvRow) { NULL };
  *row = NULL;
  if (reader->failure != NULL && error != NULL)
    *error = g_error_copy (reader->failure);
  return FALSE;
}

const char *
tpt_csv_reader_get (TptCsvReader *reader, const char *column)
{
  int index = tpt_csv_reader_find (reader, column);

  return index >= 0 && reader->row.fields != NULL ? reader->row.fields[index] : NULL;
}

void
tpt_csv_reader_refuse (TptCsvReader *reader, const char *column, const char *reason)
{
  g_return_if_fail (reader->refusals != NULL);

  tpt_refusals_add (reader->refusals, reader->name, reader->scan.start_line, column, reason);
}
