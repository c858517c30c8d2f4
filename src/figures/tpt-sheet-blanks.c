/* What is filled in by hand: blanks behind their labels, boxes, lines. */
#include "config.h"

#include "tpt-sheet-private.h"

#define MAX_BLANKS 5
#define GAP TPT_MM (5)
#define RULE 0.8

typedef struct {
  TptSheetBlock block;
  GStrv words; /* (owned): labels, or choices */
  char *label; /* (owned) (nullable) */
  guint n;     /* of lines */
} Blanks;

static guint
count_one (TptSheetBlock *block, TptCanvas *canvas, double width)
{
  return 1;
}

static void
free_blanks (TptSheetBlock *block)
{
  g_strfreev (((Blanks *) block)->words);
  g_free (((Blanks *) block)->label);
}

static void
draw_rule (TptCanvas *canvas, double x0, double x1, double y)
{
  tpt_canvas_set (canvas, TPT_COLOR_INK, 1);
  tpt_canvas_rule (canvas, x0, y, x1, y, RULE);
}

static double
one_line (TptSheetBlock *block, TptCanvas *canvas, double width, guint row)
{
  return TPT_SHEET_LINE;
}

/* A label never takes more than two thirds of its place. */
static void
draw_blanks (TptSheetBlock *block, TptCanvas *canvas, const TptFigureRect *area, guint first, guint n_rows)
{
  Blanks *self = (Blanks *) block;
  guint n = g_strv_length (self->words);
  double share = (area->width + GAP) / n, bottom = area->y + area->height - RULE;

  for (guint i = 0; i < n; i++)
    {
      double x = area->x + i * share, width, height;
      TptText text = { TPT_COLOR_QUIET, .down = 1, .width = (share - GAP) * 2 / 3 };

      tpt_canvas_measure (canvas, self->words[i], &text, &width, &height);
      tpt_canvas_write (canvas, self->words[i], x, bottom, &text);
      draw_rule (canvas, x + MIN (width, text.width) + TPT_MM (1.5), x + share - GAP, bottom);
    }
}

static const TptSheetKind blanks_kind = { count_one, one_line, NULL, draw_blanks, free_blanks };

void
tpt_sheet_add_blanks (TptSheet *self, const char *const *labels)
{
  Blanks *blanks = g_new0 (Blanks, 1);

  g_return_if_fail (labels[0] != NULL && g_strv_length ((GStrv) labels) <= MAX_BLANKS);
  blanks->block.kind = &blanks_kind;
  blanks->words = g_strdupv ((GStrv) labels);
  tpt_sheet_append (self, &blanks->block);
}

static TptFigureRect
choice_area (Blanks *self, TptCanvas *canvas, double x, double y, double width)
{
  TptText text = { TPT_COLOR_QUIET };
  double w, h;

  tpt_canvas_measure (canvas, self->label, &text, &w, &h);
  w = MIN (w, width / 3) + TPT_MM (3);
  return (TptFigureRect){ x + w, y + TPT_MM (3.5), width - w, 0 };
}

static double
choice_height (TptSheetBlock *block, TptCanvas *canvas, double width, guint row)
{
  TptFigureRect area = choice_area ((Blanks *) block, canvas, 0, 0, width);

  return TPT_MM (3.5) + tpt_sheet_boxes (canvas, (const char *const *) ((Blanks *) block)->words, &area, 1.1, FALSE);
}

static void
draw_choice (TptSheetBlock *block, TptCanvas *canvas, const TptFigureRect *area, guint first, guint n_rows)
{
  Blanks *self = (Blanks *) block;
  TptFigureRect boxes = choice_area (self, canvas, area->x, area->y, area->width);
  TptText text = { TPT_COLOR_QUIET, .down = 0.5, .width = area->width / 3 };

  tpt_canvas_write (canvas, self->label, area->x, boxes.y + TPT_MM (1.76), &text);
  tpt_sheet_boxes (canvas, (const char *const *) self->words, &boxes, 1.1, TRUE);
}

static const TptSheetKind choice_kind = { count_one, choice_height, NULL, draw_choice, free_blanks };

void
tpt_sheet_add_choice (TptSheet *self, const char *label, const char *const *choices)
{
  Blanks *choice = g_new0 (Blanks, 1);

  choice->block.kind = &choice_kind;
  choice->label = g_strdup (label);
  choice->words = g_strdupv ((GStrv) choices);
  tpt_sheet_append (self, &choice->block);
}

static guint
count_lines (TptSheetBlock *block, TptCanvas *canvas, double width)
{
  return ((Blanks *) block)->n;
}

static void
draw_lines (TptSheetBlock *block, TptCanvas *canvas, const TptFigureRect *area, guint first, guint n_rows)
{
  for (guint i = 1; i <= n_rows; i++)
    draw_rule (canvas, area->x, area->x + area->width, area->y + i * TPT_SHEET_LINE - RULE);
}

static const TptSheetKind lines_kind = { count_lines, one_line, NULL, draw_lines, free_blanks };

void
tpt_sheet_add_lines (TptSheet *self, guint n)
{
  Blanks *lines = g_new0 (Blanks, 1);

  lines->block.kind = &lines_kind;
  lines->n = n;
  tpt_sheet_append (self, &lines->block);
}
