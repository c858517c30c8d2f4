#include "tpt-figure-private.h"

#include <string.h>

TptFigureTable *
tpt_figure_table_new (const char *const *columns)
{
  TptFigureTable *table = g_new0 (TptFigureTable, 1);

  table->columns = columns;
  table->n_columns = g_strv_length ((char **) columns);
  table->cells = g_ptr_array_new_with_free_func (g_free);
  return table;
}

void
tpt_figure_table_free (TptFigureTable *table)
{
  g_ptr_array_unref (table->cells);
  g_free (table);
}

void
tpt_figure_table_add (TptFigureTable *table,
                      ...)
{
  va_list cells;
  char *cell;

  va_start (cells, table);
  while ((cell = va_arg (cells, char *)) != NULL)
    g_ptr_array_add (table->cells, cell);
  va_end (cells);

  g_assert (table->cells->len % table->n_columns == 0);
}

guint
tpt_figure_table_get_n_columns (const TptFigureTable *table)
{
  return table->n_columns;
}

guint
tpt_figure_table_get_n_rows (const TptFigureTable *table)
{
  return table->cells->len / table->n_columns;
}

const char *
tpt_figure_table_get_column (const TptFigureTable *table,
                             guint column)
{
  g_return_val_if_fail (column < table->n_columns, NULL);

  return table->columns[column];
}

const char *
tpt_figure_table_get_cell (const TptFigureTable *table,
                           guint row,
                           guint column)
{
  g_return_val_if_fail (column < table->n_columns, NULL);
  g_return_val_if_fail (row < tpt_figure_table_get_n_rows (table), NULL);

  return g_ptr_array_index (table->cells, row * table->n_columns + column);
}

/* RFC 4180, section 2, rules 5 to 7. */
static void
append_cell (GString *csv,
             const char *cell)
{
  if (strpbrk (cell, ",\"\r\n") == NULL)
    {
      g_string_append (csv, cell);
      return;
    }

  g_string_append_c (csv, '"');
  for (const char *at = cell; *at != '\0'; at++)
    {
      if (*at == '"')
        g_string_append_c (csv, '"');
      g_string_append_c (csv, *at);
    }
  g_string_append_c (csv, '"');
}

static void
append_end (GString *csv,
            const TptFigureTable *table,
            guint column)
{
  g_string_append (csv, column + 1 < table->n_columns ? "," : "\r\n");
}

char *
tpt_figure_csv (TptFigure *figure)
{
  g_autoptr (TptFigureTable) table = tpt_figure_table (figure);
  GString *csv = g_string_new (NULL);

  for (guint column = 0; column < table->n_columns; column++)
    {
      append_cell (csv, table->columns[column]);
      append_end (csv, table, column);
    }
  for (guint i = 0; i < table->cells->len; i++)
    {
      append_cell (csv, g_ptr_array_index (table->cells, i));
      append_end (csv, table, i % table->n_columns);
    }

  return g_string_free (csv, FALSE);
}

gboolean
tpt_figure_write_csv (TptFigure *figure,
                      const char *path,
                      GError **error)
{
  g_autofree char *csv = tpt_figure_csv (figure);

  return tpt_file_replace (path, csv, strlen (csv), error);
}
