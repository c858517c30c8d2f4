#include "config.h"

#include "tpt-csv.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-number.h"
#include "tpt-output.h"

struct _TptCsvWriter {
  TptOutput *output; /* (owned) */
  guint n_columns;
  GString *row;      /* (owned): the row so far */
  guint n_fields;    /* given of the row so far */
};

TptCsvWriter *
tpt_csv_writer_new (const char *path, const char *const *columns, GError **error)
{
  g_autoptr (TptCsvWriter) writer = NULL;
  g_autoptr (TptOutput) output = NULL;

  g_return_val_if_fail (columns != NULL && columns[0] != NULL, NULL);

  output = tpt_output_new (path, error);
  if (output == NULL)
    return NULL;

  writer = g_new0 (TptCsvWriter, 1);
  writer->output = g_steal_pointer (&output);
  writer->row = g_string_new (NULL);
  writer->n_columns = g_strv_length ((char **) columns);
  for (guint i = 0; i < writer->n_columns; i++)
    tpt_csv_writer_add_text (writer, columns[i]);
  if (!tpt_csv_writer_end_row (writer, error))
    return NULL;
  return g_steal_pointer (&writer);
}

void
tpt_csv_writer_free (TptCsvWriter *writer)
{
  tpt_output_free (writer->output);
  g_string_free (writer->row, TRUE);
  g_free (writer);
}

static void
append_quoted (GString *row, const char *value)
{
  g_string_append_c (row, '"');
  for (const char *c = value; *c != '\0'; c++)
    {
      if (*c == '"')
        g_string_append_c (row, '"');
      g_string_append_c (row, *c);
    }
  g_string_append_c (row, '"');
}

void
tpt_csv_writer_add_text (TptCsvWriter *writer, const char *value)
{
  const char *text = value != NULL ? value : "";
  gboolean alone_and_empty = writer->n_columns == 1 && *text == '\0';

  if (writer->n_fields++ > 0)
    g_string_append_c (writer->row, ',');

  /* A lone empty field without quotes would be an empty line, which says nothing. */
  if (alone_and_empty || strpbrk (text, ",\"\r\n") != NULL)
    append_quoted (writer->row, text);
  else
    g_string_append (writer->row, text);
}

void
tpt_csv_writer_add_real (TptCsvWriter *writer, double value)
{
  g_autofree char *text = tpt_number_format_real (value);

  tpt_csv_writer_add_text (writer, text);
}

void
tpt_csv_writer_add_integer (TptCsvWriter *writer, gint64 value)
{
  g_autofree char *text = g_strdup_printf ("%" G_GINT64_FORMAT, value);

  tpt_csv_writer_add_text (writer, text);
}

gboolean
tpt_csv_writer_end_row (TptCsvWriter *writer, GError **error)
{
  gboolean written;

  g_return_val_if_fail (writer->n_fields == writer->n_columns, FALSE);

  if (!g_utf8_validate (writer->row->str, writer->row->len, NULL))
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("A text to be written is not UTF-8"));
      return FALSE;
    }
  g_string_append_c (writer->row, '\n');
  written = tpt_output_write (writer->output, writer->row->str, writer->row->len, error);
  g_string_truncate (writer->row, 0);
  writer->n_fields = 0;
  return written;
}

gboolean
tpt_csv_writer_commit (TptCsvWriter *writer, GError **error)
{
  g_return_val_if_fail (writer->n_fields == 0, FALSE);

  return tpt_output_commit (writer->output, error);
}
