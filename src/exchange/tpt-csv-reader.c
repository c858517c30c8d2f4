#include "config.h"

#include "tpt-csv.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-input.h"

#define BLOCK_SIZE (64 * 1024)

#define END_OF_FILE -1
#define READ_FAILED -2

/* Where the reader is within a record. */
typedef enum {
  STATE_FIELD_START,
  STATE_PLAIN,
  STATE_QUOTED,
  STATE_QUOTE_IN_QUOTED, /* the field's end, or the first of a doubled quote */
  STATE_SKIP,            /* the record is refused: on to its line's end */
  STATE_DONE,
} State;

struct _TptCsvReader {
  GInputStream *stream; /* (owned) */
  char *name;           /* (owned) */
  GPtrArray *refusals;  /* (unowned) (nullable) */

  /* The bytes ahead. */
  guint8 *block;        /* (owned) */
  gsize block_length;
  gsize block_at;
  gboolean after_cr;    /* a LF now belongs to the line end already seen */
  gint64 line;          /* of the byte to come */

  /* The present record: fields one after the other, each with a NUL. */
  State state;
  GString *text;        /* (owned) */
  GArray *starts;       /* (owned) (element-type gsize): in @text */
  gsize size;           /* bytes read for it */
  gint64 start_line;
  gint64 quote_line;
  char *fault;          /* (owned) (nullable): why it is refused */

  GStrv columns;        /* (owned) */
  guint n_columns;
  GPtrArray *fields;    /* (owned) (element-type utf8): into @text */
  TptCsvRow row;
  gboolean at_end;
  GError *failure;      /* (owned) (nullable): why reading cannot go on */
};

static gboolean
fill_block (TptCsvReader *reader)
{
  g_autoptr (GError) error = NULL;
  gssize length = g_input_stream_read (reader->stream, reader->block, BLOCK_SIZE, NULL, &error);

  if (length < 0)
    g_set_error (&reader->failure, TPT_ERROR, TPT_ERROR_IO, _("“%s” could not be read: %s"), reader->name,
                 error->message);
  reader->block_at = 0;
  reader->block_length = MAX (length, 0);
  return length > 0;
}

static int
read_byte (TptCsvReader *reader)
{
  if (reader->block_at == reader->block_length && !fill_block (reader))
    return reader->failure != NULL ? READ_FAILED : END_OF_FILE;
  return reader->block[reader->block_at++];
}

static gboolean
fill_first_block (TptCsvReader *reader)
{
  g_autoptr (GError) error = NULL;

  /* All of the block, so that a byte-order mark is not cut in two. */
  if (g_input_stream_read_all (reader->stream, reader->block, BLOCK_SIZE, &reader->block_length, NULL, &error))
    return TRUE;
  g_set_error (&reader->failure, TPT_ERROR, TPT_ERROR_IO, _("“%s” could not be read: %s"), reader->name,
               error->message);
  return FALSE;
}

/* Ends the reading for good and lists why. */
static void
fail_at (TptCsvReader *reader, gint64 line, const char *column, const char *reason)
{
  if (reader->refusals != NULL)
    tpt_refusals_add (reader->refusals, reader->name, line, column, reason);
  g_set_error (&reader->failure, TPT_ERROR, TPT_ERROR_DATA, _("%s, line %" G_GINT64_FORMAT ": %s"), reader->name,
               line, reason);
}

static void
check_encoding_mark (TptCsvReader *reader)
{
  const guint8 *start = reader->block;

  if (reader->block_length >= 3 && memcmp (start, "\xEF\xBB\xBF", 3) == 0)
    reader->block_at = 3;
  else if (reader->block_length >= 2 && (memcmp (start, "\xFF\xFE", 2) == 0 || memcmp (start, "\xFE\xFF", 2) == 0))
    fail_at (reader, 1, NULL, _("The table is in UTF-16; save it as UTF-8"));
}

static void
begin_field (TptCsvReader *reader)
{
  g_array_append_val (reader->starts, reader->text->len);
  reader->state = STATE_FIELD_START;
}

static void
begin_record (TptCsvReader *reader)
{
  g_string_truncate (reader->text, 0);
  g_array_set_size (reader->starts, 0);
  g_clear_pointer (&reader->fault, g_free);
  reader->size = 0;
  reader->start_line = reader->line;
  begin_field (reader);
}

static void
end_field (TptCsvReader *reader)
{
  g_string_append_c (reader->text, '\0');
  begin_field (reader);
}

static void
end_record (TptCsvReader *reader)
{
  g_string_append_c (reader->text, '\0');
  reader->state = STATE_DONE;
}

static void
refuse_record (TptCsvReader *reader, const char *reason)
{
  if (reader->fault == NULL)
    reader->fault = g_strdup (reason);
  reader->state = STATE_SKIP;
}

/* A byte that stands outside quotes, or right after a closing one. */
static void
take_plain (TptCsvReader *reader, char byte)
{
  if (byte == ',')
    end_field (reader);
  else if (byte == '\n' || byte == '\r')
    end_record (reader);
  else if (reader->state == STATE_QUOTE_IN_QUOTED)
    refuse_record (reader, _("There is text after a closing quote; a quote inside a quoted text is written twice"));
  else if (byte == '"')
    refuse_record (reader, _("There is a quote in a text that is not quoted"));
  else
    {
      g_string_append_c (reader->text, byte);
      reader->state = STATE_PLAIN;
    }
}

static void
open_quote (TptCsvReader *reader)
{
  reader->quote_line = reader->line;
  reader->state = STATE_QUOTED;
}

static void
take_byte (TptCsvReader *reader, char byte)
{
  switch (reader->state)
    {
    case STATE_QUOTED:
      if (byte == '"')
        reader->state = STATE_QUOTE_IN_QUOTED;
      else
        g_string_append_c (reader->text, byte);
      break;
    case STATE_QUOTE_IN_QUOTED:
      if (byte == '"')
        {
          g_string_append_c (reader->text, '"');
          reader->state = STATE_QUOTED;
        }
      else
        {
          take_plain (reader, byte);
        }
      break;
    case STATE_SKIP:
      if (byte == '\n' || byte == '\r')
        end_record (reader);
      break;
    case STATE_FIELD_START:
      if (byte == '"')
        open_quote (reader);
      else
        take_plain (reader, byte);
      break;
    case STATE_PLAIN:
    case STATE_DONE:
    default:
      take_plain (reader, byte);
      break;
    }
}

/* CR, LF and CRLF count as one line end each. */
static void
count_line (TptCsvReader *reader, char byte)
{
  if (byte == '\r' || (byte == '\n' && !reader->after_cr))
    reader->line++;
  reader->after_cr = byte == '\r';
}

static void
check_size (TptCsvReader *reader)
{
  g_autofree char *reason = NULL;

  if (++reader->size <= TPT_CSV_ROW_MAX)
    return;
  if (reader->state == STATE_QUOTED)
    {
      reason = g_strdup_printf (_("The quote that begins here is not closed within %d bytes"), TPT_CSV_ROW_MAX);
      fail_at (reader, reader->quote_line, NULL, reason);
    }
  else if (reader->state != STATE_SKIP)
    {
      reason = g_strdup_printf (_("The line is longer than %d bytes"), TPT_CSV_ROW_MAX);
      refuse_record (reader, reason);
    }
}

static void
take_end_of_file (TptCsvReader *reader)
{
  reader->at_end = TRUE;
  if (reader->state == STATE_QUOTED)
    fail_at (reader, reader->quote_line, NULL, _("The quote that begins here is never closed"));
  else
    end_record (reader);
}

/* The LF of a CRLF is read only when the next record is. */
static void
skip_second_half (TptCsvReader *reader)
{
  int byte;

  if (!reader->after_cr)
    return;
  byte = read_byte (reader);
  if (byte >= 0 && byte != '\n')
    reader->block_at--;
  reader->after_cr = FALSE;
}

/* Reads one record, good or refused; FALSE when reading cannot go on. */
static gboolean
read_record (TptCsvReader *reader)
{
  skip_second_half (reader);
  begin_record (reader);
  while (reader->state != STATE_DONE && reader->failure == NULL)
    {
      int byte = read_byte (reader);

      if (byte == READ_FAILED)
        break;
      if (byte == END_OF_FILE)
        {
          take_end_of_file (reader);
          break;
        }
      check_size (reader);
      take_byte (reader, byte);
      count_line (reader, byte);
    }
  return reader->failure == NULL;
}

static gboolean
is_empty_line (TptCsvReader *reader)
{
  return reader->fault == NULL && reader->starts->len == 1 && reader->size <= 1 && reader->text->len == 1;
}

static const char *
get_text (TptCsvReader *reader, guint field)
{
  return reader->text->str + g_array_index (reader->starts, gsize, field);
}

/* @length of the field without its NUL: a NUL inside makes it differ from
 * what strlen() says. */
static gsize
get_length (TptCsvReader *reader, guint field)
{
  gsize start = g_array_index (reader->starts, gsize, field);
  gsize end = field + 1 < reader->starts->len ? g_array_index (reader->starts, gsize, field + 1) : reader->text->len;

  return end - start - 1;
}

/* (nullable): what is wrong with the text of @field. */
static const char *
find_text_fault (TptCsvReader *reader, guint field)
{
  const char *text = get_text (reader, field);
  gsize length = get_length (reader, field);

  if (memchr (text, '\0', length) != NULL)
    return _("There is a NUL byte in the text; is the table in UTF-16? Save it as UTF-8");
  if (!g_utf8_validate (text, length, NULL))
    return _("The text is not UTF-8; save the table as UTF-8");
  return NULL;
}

/* Refuses the present record for what holds of the whole record. */
static void
check_count (TptCsvReader *reader)
{
  guint n_fields = reader->starts->len;
  g_autofree char *reason = NULL;

  if (n_fields == reader->n_columns || reader->fault != NULL)
    return;
  if (n_fields > reader->n_columns)
    {
      reason = g_strdup_printf (_("There are %u fields for %u columns; a text with a comma is written in quotes"),
                                n_fields, reader->n_columns);
    }
  else
    {
      g_autofree char *missing = g_strjoinv ("”, “", reader->columns + n_fields);
      reason = g_strdup_printf (_("There are %u fields for %u columns: nothing for “%s”"), n_fields,
                                reader->n_columns, missing);
    }
  refuse_record (reader, reason);
}

static void
list_fault (TptCsvReader *reader, const char *column, const char *reason)
{
  if (reader->refusals != NULL)
    tpt_refusals_add (reader->refusals, reader->name, reader->start_line, column, reason);
  else
    fail_at (reader, reader->start_line, column, reason);

  if (reader->refusals != NULL && reader->refusals->len >= TPT_REFUSALS_MAX)
    fail_at (reader, reader->start_line, NULL, _("There are too many faults; the rest was not read"));
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

      if (fault != NULL && reader->failure == NULL)
        list_fault (reader, reader->columns[i], fault);
      good = good && fault == NULL;
      g_ptr_array_add (reader->fields, (char *) get_text (reader, i));
    }
  g_ptr_array_add (reader->fields, NULL);
  reader->row = (TptCsvRow) { (const char *const *) reader->fields->pdata, reader->n_columns, reader->start_line };
  return good;
}

static gboolean
take_record (TptCsvReader *reader)
{
  check_count (reader);
  if (reader->fault == NULL)
    return collect_fields (reader);
  list_fault (reader, NULL, reader->fault);
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
  const char *fault = reader->fault;

  for (guint i = 0; i < reader->starts->len && fault == NULL; i++)
    fault = find_text_fault (reader, i);
  if (fault == NULL && reader->starts->len == 1)
    fault = find_other_separator (get_text (reader, 0));
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
        fail_at (reader, reader->start_line, reader->columns[i], reason);
    }
}

static void
read_header (TptCsvReader *reader)
{
  const char *fault;

  do
    if (!read_record (reader))
      return;
  while (is_empty_line (reader) && !reader->at_end);

  fault = is_empty_line (reader) ? _("The table is empty: there is no line with the columns' names")
                                 : find_header_fault (reader);
  if (fault != NULL)
    {
      fail_at (reader, reader->start_line, NULL, fault);
      return;
    }

  reader->n_columns = reader->starts->len;
  reader->columns = g_new0 (char *, reader->n_columns + 1);
  for (guint i = 0; i < reader->n_columns; i++)
    reader->columns[i] = g_strstrip (g_strdup (get_text (reader, i)));
  check_names (reader);
}

TptCsvReader *
tpt_csv_reader_new (GInputStream *stream, const char *name, GPtrArray *refusals, GError **error)
{
  g_autoptr (TptCsvReader) reader = NULL;

  g_return_val_if_fail (G_IS_INPUT_STREAM (stream), NULL);
  g_return_val_if_fail (name != NULL, NULL);

  reader = g_new0 (TptCsvReader, 1);
  reader->stream = g_object_ref (stream);
  reader->name = g_strdup (name);
  reader->refusals = refusals;
  reader->block = g_malloc (BLOCK_SIZE);
  reader->line = 1;
  reader->text = g_string_new (NULL);
  reader->starts = g_array_new (FALSE, FALSE, sizeof (gsize));
  reader->fields = g_ptr_array_new ();

  if (fill_first_block (reader))
    check_encoding_mark (reader);
  if (reader->failure == NULL)
    read_header (reader);
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
  g_object_unref (reader->stream);
  g_free (reader->name);
  g_free (reader->block);
  g_string_free (reader->text, TRUE);
  g_array_unref (reader->starts);
  g_free (reader->fault);
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
  while (reader->failure == NULL && !reader->at_end && read_record (reader))
    {
      if (!is_empty_line (reader) && take_record (reader))
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

  tpt_refusals_add (reader->refusals, reader->name, reader->start_line, column, reason);
}
