/* Blocks onto pages. */
#include "config.h"

#include "tpt-sheet-private.h"

#define COLUMN_GAP TPT_MM (7)
/* Columns higher than this share of the page are set one below the other. */
#define COLUMNS_MOST 0.4

typedef struct {
  TptSheet *sheet;
  TptCanvas *canvas;
  TptSheetChapter *chapter;
  double x, width, bottom;
  double y;
  gboolean fresh; /* nothing stands on the page yet */
} Flow;

double
tpt_sheet_block_height (TptSheetBlock *block, TptCanvas *canvas, double width)
{
  guint n = block->kind->count (block, canvas, width);
  double height = block->kind->lead != NULL ? block->kind->lead (block, canvas, width) : 0;

  for (guint row = 0; row < n; row++)
    height += block->kind->height (block, canvas, width, row);
  return height;
}

static double
side_height (GPtrArray *side, TptCanvas *canvas, double width)
{
  double height = 0;

  for (guint i = 0; i < side->len; i++)
    {
      TptSheetBlock *block = g_ptr_array_index (side, i);
      height += (i > 0 ? block->gap : 0) + tpt_sheet_block_height (block, canvas, width);
    }
  return height;
}

static guint
count_columns (TptSheetBlock *block, TptCanvas *canvas, double width)
{
  return 1;
}

static double
columns_height (TptSheetBlock *block, TptCanvas *canvas, double width, guint row)
{
  TptSheetColumns *self = (TptSheetColumns *) block;
  double half = (width - COLUMN_GAP) / 2;

  return MAX (side_height (self->sides[0], canvas, half), side_height (self->sides[1], canvas, half));
}

static void
draw_side (GPtrArray *side, TptCanvas *canvas, double x, double y, double width)
{
  for (guint i = 0; i < side->len; i++)
    {
      TptSheetBlock *block = g_ptr_array_index (side, i);
      double lead = block->kind->lead != NULL ? block->kind->lead (block, canvas, width) : 0;
      TptFigureRect area;

      y += i > 0 ? block->gap : 0;
      area = (TptFigureRect){ x, y + lead, width, tpt_sheet_block_height (block, canvas, width) - lead };
      block->kind->draw (block, canvas, &area, 0, block->kind->count (block, canvas, width));
      y = area.y + area.height;
    }
}

static void
draw_columns (TptSheetBlock *block, TptCanvas *canvas, const TptFigureRect *area, guint first, guint n_rows)
{
  TptSheetColumns *self = (TptSheetColumns *) block;
  double half = (area->width - COLUMN_GAP) / 2;

  draw_side (self->sides[0], canvas, area->x, area->y, half);
  draw_side (self->sides[1], canvas, area->x + half + COLUMN_GAP, area->y, half);
}

static void
free_columns (TptSheetBlock *block)
{
  g_ptr_array_unref (((TptSheetColumns *) block)->sides[0]);
  g_ptr_array_unref (((TptSheetColumns *) block)->sides[1]);
}

const TptSheetKind tpt_sheet_columns_kind = { count_columns, columns_height, NULL, draw_columns, free_columns };

gboolean
tpt_sheet_columns_fit (const TptSheetColumns *columns, TptCanvas *canvas, double width, double height)
{
  return columns_height ((TptSheetBlock *) columns, canvas, width, 0) <= COLUMNS_MOST * height;
}

static void
open_page (Flow *flow, gboolean continued)
{
  TptSheetPage page = { flow->chapter, continued };

  g_array_append_val (flow->sheet->pages, page);
  flow->y = tpt_sheet_head (flow->sheet, flow->canvas, flow->sheet->pages->len - 1, FALSE);
  flow->fresh = TRUE;
}

/* What must at least stand on the page where @block begins. */
static double
least_height (Flow *flow, TptSheetBlock *block, TptSheetBlock *next)
{
  double height = block->kind->lead != NULL ? block->kind->lead (block, flow->canvas, flow->width) : 0;

  if (block->kind->count (block, flow->canvas, flow->width) == 0)
    return 0;
  if (!block->keeps || next == NULL)
    return height + block->kind->height (block, flow->canvas, flow->width, 0);
  return tpt_sheet_block_height (block, flow->canvas, flow->width) + next->gap + least_height (flow, next, NULL);
}

static void
place_rows (Flow *flow, TptSheetBlock *block, guint *first, guint n)
{
  TptSheetPiece piece = { flow->sheet->pages->len - 1, block, { flow->x, flow->y, flow->width, 0 }, *first, 0 };

  if (block->kind->lead != NULL)
    piece.area.y += block->kind->lead (block, flow->canvas, flow->width);
  while (*first < n)
    {
      double height = block->kind->height (block, flow->canvas, flow->width, *first);

      if (piece.n_rows > 0 && piece.area.y + piece.area.height + height > flow->bottom)
        break;
      piece.area.height += height;
      piece.n_rows++;
      (*first)++;
    }
  g_array_append_val (flow->sheet->pieces, piece);
  flow->y = piece.area.y + piece.area.height;
  flow->fresh = FALSE;
}

static void
place_block (Flow *flow, TptSheetBlock *block, TptSheetBlock *next)
{
  guint first = 0, n = block->kind->count (block, flow->canvas, flow->width);

  if (n == 0)
    return;
  if (!flow->fresh && flow->y + block->gap + least_height (flow, block, next) > flow->bottom)
    open_page (flow, TRUE);
  if (!flow->fresh)
    flow->y += block->gap;
  while (first < n)
    {
      place_rows (flow, block, &first, n);
      if (first < n)
        open_page (flow, TRUE);
    }
}

static void
place_blocks (Flow *flow, GPtrArray *blocks)
{
  for (guint i = 0; i < blocks->len; i++)
    {
      TptSheetBlock *block = g_ptr_array_index (blocks, i);
      TptSheetColumns *columns = block->kind == &tpt_sheet_columns_kind ? (TptSheetColumns *) block : NULL;

      if (columns == NULL || tpt_sheet_columns_fit (columns, flow->canvas, flow->width, flow->sheet->height))
        {
          place_block (flow, block, i + 1 < blocks->len ? g_ptr_array_index (blocks, i + 1) : NULL);
          continue;
        }
      place_blocks (flow, columns->sides[0]);
      place_blocks (flow, columns->sides[1]);
    }
}

void
tpt_sheet_lay_out (TptSheet *self, TptCanvas *canvas)
{
  Flow flow = {
    .sheet = self,
    .canvas = canvas,
    .x = TPT_SHEET_MARGIN,
    .width = self->width - 2 * TPT_SHEET_MARGIN,
    .bottom = self->height - TPT_SHEET_MARGIN - TPT_SHEET_FOOT,
  };

  g_array_set_size (self->pages, 0);
  g_array_set_size (self->pieces, 0);
  for (guint i = 0; i < self->chapters->len; i++)
    {
      flow.chapter = g_ptr_array_index (self->chapters, i);
      open_page (&flow, FALSE);
      place_blocks (&flow, flow.chapter->blocks);
    }
}
