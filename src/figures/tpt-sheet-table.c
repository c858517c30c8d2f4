/* Tables on a sheet, with cells to read and cells to fill in. */
#include "config.h"

#include "tpt-sheet-private.h"

#define PAD TPT_MM (1.2)
#define ROW_LEAST TPT_MM (9.5)
#define TEXT_LINES 3
#define DETAIL_LINES 2
#define BOX_SIZE 0.85
#define RULE 0.7

typedef struct {
  char *text, *detail; /* (owned) (nullable) */
  GStrv boxes;         /* (owned) (nullable) */
  gboolean closed;
} Cell;

struct _TptSheetTable {
  TptSheetBlock block;
  GStrv titles; /* (owned) */
  double *shares; /* (owned): of the width, together 1 */
  guint n_columns;
  GPtrArray *rows; /* (owned) (element-type Cell array) */
};

static TptText
text_of (double width)
{
  return (TptText){ TPT_COLOR_INK, .size = 0.95, .wrap = TRUE, .width = MAX (1, width - 2 * PAD) };
}

static TptText
detail_of (double width)
{
  return (TptText){ TPT_COLOR_QUIET, .size = 0.82, .wrap = TRUE, .width = MAX (1, width - 2 * PAD) };
}

static TptText
title_of (double width)
{
  return (TptText){ TPT_COLOR_QUIET, .size = 0.82, .bold = TRUE, .wrap = TRUE, .width = MAX (1, width - 2 * PAD) };
}

static guint
count_rows (TptSheetBlock *block, TptCanvas *canvas, double width)
{
  return ((TptSheetTable *) block)->rows->len;
}

static double
head_height (TptSheetBlock *block, TptCanvas *canvas, double width)
{
  TptSheetTable *self = (TptSheetTable *) block;
  double highest = 0;

  for (guint i = 0; i < self->n_columns; i++)
    {
      TptText text = title_of (width * self->shares[i]);
      highest = MAX (highest, tpt_sheet_text_height (canvas, self->titles[i], &text, 2));
    }
  return highest + PAD;
}

static double
cell_height (const Cell *cell, TptCanvas *canvas, double width)
{
  TptText text = text_of (width), detail = detail_of (width);
  TptFigureRect area = { 0, 0, width - 2 * PAD, 0 };
  double height = 0;

  if (cell->boxes != NULL)
    return tpt_sheet_boxes (canvas, (const char *const *) cell->boxes, &area, BOX_SIZE, FALSE);
  if (cell->text != NULL)
    height += tpt_sheet_text_height (canvas, cell->text, &text, TEXT_LINES);
  if (cell->detail != NULL)
    height += tpt_sheet_text_height (canvas, cell->detail, &detail, DETAIL_LINES);
  return height;
}

static double
row_height (TptSheetBlock *block, TptCanvas *canvas, double width, guint row)
{
  TptSheetTable *self = (TptSheetTable *) block;
  const Cell *cells = g_ptr_array_index (self->rows, row);
  double highest = 0;

  for (guint i = 0; i < self->n_columns; i++)
    highest = MAX (highest, cell_height (&cells[i], canvas, width * self->shares[i]));
  return MAX (highest + 2 * PAD, ROW_LEAST);
}

static void
draw_cell (const Cell *cell, TptCanvas *canvas, double x, double y, double width, double height)
{
  TptText text = text_of (width), detail = detail_of (width);
  TptFigureRect area = { x + PAD, y + PAD, width - 2 * PAD, height - 2 * PAD };

  if (cell->closed)
    {
      tpt_canvas_set (canvas, TPT_COLOR_FAINT, 1);
      cairo_rectangle (canvas->cr, x, y, width, height);
      cairo_fill (canvas->cr);
    }
  if (cell->boxes != NULL)
    {
      tpt_sheet_boxes (canvas, (const char *const *) cell->boxes, &area, BOX_SIZE, TRUE);
      return;
    }
  if (cell->text != NULL)
    {
      tpt_sheet_text_draw (canvas, cell->text, &text, TEXT_LINES, area.x, area.y);
      area.y += tpt_sheet_text_height (canvas, cell->text, &text, TEXT_LINES);
    }
  if (cell->detail != NULL)
    tpt_sheet_text_draw (canvas, cell->detail, &detail, DETAIL_LINES, area.x, area.y);
}

static void
draw_grid (TptSheetTable *self, TptCanvas *canvas, double x, double y, double width, double height)
{
  tpt_canvas_set (canvas, TPT_COLOR_INK, 1);
  cairo_set_line_width (canvas->cr, RULE);
  cairo_rectangle (canvas->cr, x, y, width, height);
  for (guint i = 0; i + 1 < self->n_columns; i++)
    {
      x += width * self->shares[i];
      cairo_move_to (canvas->cr, x, y);
      cairo_line_to (canvas->cr, x, y + height);
    }
  cairo_stroke (canvas->cr);
}

static void
draw_head (TptSheetTable *self, TptCanvas *canvas, double x, double y, double width)
{
  for (guint i = 0; i < self->n_columns; i++)
    {
      TptText text = title_of (width * self->shares[i]);

      tpt_sheet_text_draw (canvas, self->titles[i], &text, 2, x + PAD, y);
      x += width * self->shares[i];
    }
}

static void
draw_table (TptSheetBlock *block, TptCanvas *canvas, const TptFigureRect *area, guint first, guint n_rows)
{
  TptSheetTable *self = (TptSheetTable *) block;
  double lead = head_height (block, canvas, area->width), y = area->y;

  draw_head (self, canvas, area->x, y - lead, area->width);
  for (guint row = first; row < first + n_rows; row++)
    {
      const Cell *cells = g_ptr_array_index (self->rows, row);
      double height = row_height (block, canvas, area->width, row), x = area->x;

      for (guint i = 0; i < self->n_columns; i++)
        {
          draw_cell (&cells[i], canvas, x, y, area->width * self->shares[i], height);
          x += area->width * self->shares[i];
        }
      draw_grid (self, canvas, area->x, y, area->width, height);
      y += height;
    }
}

static void
free_row (Cell *cells, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      g_free (cells[i].text);
      g_free (cells[i].detail);
      g_strfreev (cells[i].boxes);
    }
  g_free (cells);
}

static void
free_table (TptSheetBlock *block)
{
  TptSheetTable *self = (TptSheetTable *) block;

  for (guint i = 0; i < self->rows->len; i++)
    free_row (self->rows->pdata[i], self->n_columns);
  g_ptr_array_unref (self->rows);
  g_strfreev (self->titles);
  g_free (self->shares);
}

static const TptSheetKind table_kind = { count_rows, row_height, head_height, draw_table, free_table };

TptSheetTable *
tpt_sheet_add_table (TptSheet *self, const TptSheetColumn *columns, guint n_columns)
{
  TptSheetTable *table = g_new0 (TptSheetTable, 1);
  double sum = 0;

  table->block.kind = &table_kind;
  table->block.gap = TPT_MM (2);
  table->n_columns = n_columns;
  table->titles = g_new0 (char *, n_columns + 1);
  table->shares = g_new (double, n_columns);
  table->rows = g_ptr_array_new ();
  for (guint i = 0; i < n_columns; i++)
    sum += columns[i].share;
  for (guint i = 0; i < n_columns; i++)
    {
      table->titles[i] = g_strdup (columns[i].title);
      table->shares[i] = columns[i].share / sum;
    }
  tpt_sheet_append (self, &table->block);
  return table;
}

void
tpt_sheet_table_add_row (TptSheetTable *table, const TptSheetCell *cells)
{
  Cell *row = g_new0 (Cell, table->n_columns);

  for (guint i = 0; i < table->n_columns; i++)
    row[i] = (Cell){ g_strdup (cells[i].text), g_strdup (cells[i].detail), g_strdupv ((GStrv) cells[i].boxes), cells[i].closed };
  g_ptr_array_add (table->rows, row);
}
