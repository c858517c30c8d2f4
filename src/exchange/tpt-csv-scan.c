#include "config.h"

#include "tpt-csv-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-csv.h"

#define BLOCK_SIZE (64 * 1024)

#define END_OF_FILE -1
#define READ_FAILED -2

static gboolean
fill_block (TptCsvScan *scan)
{
  gssize length = g_input_stream_read (scan->stream, scan->block, BLOCK_SIZE, NULL, &scan->io_error);

  scan->block_at = 0;
  scan->block_length = MAX (length, 0);
  return length > 0;
}

static int
read_byte (TptCsvScan *scan)
{
  if (scan->block_at == scan->block_length && !fill_block (scan))
    return scan->io_error != NULL ? READ_FAILED : END_OF_FILE;
  return scan->block[scan->block_at++];
}

/* No record can follow. */
static void
give_up (TptCsvScan *scan, gint64 line, const char *reason)
{
  scan->fatal = g_strdup (reason);
  scan->fatal_line = line;
}

static void
check_encoding_mark (TptCsvScan *scan)
{
  const guint8 *start = scan->block;

  if (scan->block_length >= 3 && memcmp (start, "\xEF\xBB\xBF", 3) == 0)
    scan->block_at = 3;
  else if (scan->block_length >= 2 && (memcmp (start, "\xFF\xFE", 2) == 0 || memcmp (start, "\xFE\xFF", 2) == 0))
    give_up (scan, 1, _("The table is in UTF-16; save it as UTF-8"));
}

static void
begin_field (TptCsvScan *scan)
{
  g_array_append_val (scan->starts, scan->text->len);
  scan->state = TPT_CSV_FIELD_START;
}

static void
begin_record (TptCsvScan *scan)
{
  g_string_truncate (scan->text, 0);
  g_array_set_size (scan->starts, 0);
  g_clear_pointer (&scan->fault, g_free);
  scan->size = 0;
  scan->start_line = scan->line;
  begin_field (scan);
}

static void
end_field (TptCsvScan *scan)
{
  g_string_append_c (scan->text, '\0');
  begin_field (scan);
}

static void
end_record (TptCsvScan *scan)
{
  g_string_append_c (scan->text, '\0');
  scan->state = TPT_CSV_DONE;
}

static void
refuse_record (TptCsvScan *scan, const char *reason)
{
  if (scan->fault == NULL)
    scan->fault = g_strdup (reason);
  scan->state = TPT_CSV_SKIP;
}

/* A byte that stands outside quotes, or right after a closing one. */
static void
take_plain (TptCsvScan *scan, char byte)
{
  if (byte == ',')
    end_field (scan);
  else if (byte == '\n' || byte == '\r')
    end_record (scan);
  else if (scan->state == TPT_CSV_QUOTE_IN_QUOTED)
    refuse_record (scan, _("There is text after a closing quote; a quote inside a quoted text is written twice"));
  else if (byte == '"')
    refuse_record (scan, _("There is a quote in a text that is not quoted"));
  else
    {
      g_string_append_c (scan->text, byte);
      scan->state = TPT_CSV_PLAIN;
    }
}

static void
open_quote (TptCsvScan *scan)
{
  scan->quote_line = scan->line;
  scan->state = TPT_CSV_QUOTED;
}

static void
take_byte (TptCsvScan *scan, char byte)
{
  switch (scan->state)
    {
    case TPT_CSV_QUOTED:
      if (byte == '"')
        scan->state = TPT_CSV_QUOTE_IN_QUOTED;
      else
        g_string_append_c (scan->text, byte);
      break;
    case TPT_CSV_QUOTE_IN_QUOTED:
      if (byte == '"')
        {
          g_string_append_c (scan->text, '"');
          scan->state = TPT_CSV_QUOTED;
        }
      else
        {
          take_plain (scan, byte);
        }
      break;
    case TPT_CSV_SKIP:
      if (byte == '\n' || byte == '\r')
        end_record (scan);
      break;
    case TPT_CSV_FIELD_START:
      if (byte == '"')
        open_quote (scan);
      else
        take_plain (scan, byte);
      break;
    case TPT_CSV_PLAIN:
    case TPT_CSV_DONE:
    default:
      take_plain (scan, byte);
      break;
    }
}

/* CR, LF and CRLF count as one line end each. */
static void
count_line (TptCsvScan *scan, char byte)
{
  if (byte == '\r' || (byte == '\n' && !scan->after_cr))
    scan->line++;
  scan->after_cr = byte == '\r';
}

static void
check_size (TptCsvScan *scan)
{
  g_autofree char *reason = NULL;

  if (++scan->size <= TPT_CSV_ROW_MAX)
    return;
  if (scan->state == TPT_CSV_QUOTED)
    {
      reason = g_strdup_printf (_("The quote that begins here is not closed within %d bytes"), TPT_CSV_ROW_MAX);
      give_up (scan, scan->quote_line, reason);
    }
  else if (scan->state != TPT_CSV_SKIP)
    {
      reason = g_strdup_printf (_("The line is longer than %d bytes"), TPT_CSV_ROW_MAX);
      refuse_record (scan, reason);
    }
}

static void
take_end_of_file (TptCsvScan *scan)
{
  scan->at_end = TRUE;
  if (scan->state == TPT_CSV_QUOTED)
    give_up (scan, scan->quote_line, _("The quote that begins here is never closed"));
  else
    end_record (scan);
}

/* The LF of a CRLF is read only when the next record is. */
static void
skip_second_half (TptCsvScan *scan)
{
  int byte;

  if (!scan->after_cr)
    return;
  byte = read_byte (scan);
  if (byte >= 0 && byte != '\n')
    scan->block_at--;
  scan->after_cr = FALSE;
}

gboolean
tpt_csv_scan_init (TptCsvScan *scan, GInputStream *stream)
{
  scan->stream = g_object_ref (stream);
  scan->block = g_malloc (BLOCK_SIZE);
  scan->line = 1;
  scan->text = g_string_new (NULL);
  scan->starts = g_array_new (FALSE, FALSE, sizeof (gsize));

  /* All of the block, so that a byte-order mark is not cut in two. */
  if (g_input_stream_read_all (stream, scan->block, BLOCK_SIZE, &scan->block_length, NULL, &scan->io_error))
    check_encoding_mark (scan);
  return scan->fatal == NULL && scan->io_error == NULL;
}

void
tpt_csv_scan_clear (TptCsvScan *scan)
{
  g_clear_object (&scan->stream);
  g_clear_pointer (&scan->block, g_free);
  g_clear_pointer (&scan->starts, g_array_unref);
  g_clear_pointer (&scan->fault, g_free);
  g_clear_pointer (&scan->fatal, g_free);
  g_clear_error (&scan->io_error);
  g_string_free (scan->text, TRUE);
  scan->text = NULL;
}

gboolean
tpt_csv_scan_next (TptCsvScan *scan)
{
  if (scan->at_end || scan->fatal != NULL || scan->io_error != NULL)
    return FALSE;

  skip_second_half (scan);
  begin_record (scan);
  while (scan->state != TPT_CSV_DONE && scan->fatal == NULL)
    {
      int byte = read_byte (scan);

      if (byte == READ_FAILED)
        return FALSE;
      if (byte == END_OF_FILE)
        {
          take_end_of_file (scan);
          break;
        }
      check_size (scan);
      take_byte (scan, byte);
      count_line (scan, byte);
    }
  return scan->fatal == NULL;
}

gboolean
tpt_csv_scan_is_empty_line (const TptCsvScan *scan)
{
  return scan->fault == NULL && scan->starts->len == 1 && scan->size <= 1 && scan->text->len == 1;
}

const char *
tpt_csv_scan_get_field (const TptCsvScan *scan, guint field, gsize *length)
{
  gsize start = g_array_index (scan->starts, gsize, field);
  gsize end = field + 1 < scan->starts->len ? g_array_index (scan->starts, gsize, field + 1) : scan->text->len;

  *length = end - start - 1;
  return scan->text->str + start;
}
