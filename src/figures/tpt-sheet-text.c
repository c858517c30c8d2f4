/* Text on a sheet: headings, paragraphs, lists, cautions. */
#include "config.h"

#include "tpt-sheet-private.h"

#define BOX_SIDE TPT_MM (3.2)
#define INDENT TPT_MM (5)
#define PAD TPT_MM (2)

void
tpt_sheet_canvas_begin (TptCanvas *canvas, cairo_t *cr)
{
  static const TptFigureStyle style = {
    TPT_PALETTE_PRINT, 1.1, NULL, FALSE, { TPT_NO_INSTANT, TPT_NO_INSTANT }, -1, NAN, NAN, NULL
  };
  cairo_font_options_t *options = cairo_font_options_create ();

  tpt_canvas_begin (canvas, cr, &style);
  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  pango_cairo_context_set_font_options (pango_layout_get_context (canvas->layout), options);
  cairo_font_options_destroy (options);
}

static double
set_lines (TptCanvas *canvas, const char *words, const TptText *text, int lines)
{
  PangoRectangle logical;
  double width, height;

  tpt_canvas_measure (canvas, words, text, &width, &height);
  pango_layout_set_height (canvas->layout, -lines);
  pango_layout_set_ellipsize (canvas->layout, PANGO_ELLIPSIZE_END);
  pango_layout_get_extents (canvas->layout, NULL, &logical);
  return logical.height / (double) PANGO_SCALE;
}

static void
unset_lines (TptCanvas *canvas)
{
  pango_layout_set_height (canvas->layout, -1);
  pango_layout_set_ellipsize (canvas->layout, PANGO_ELLIPSIZE_NONE);
}

double
tpt_sheet_text_height (TptCanvas *canvas, const char *words, const TptText *text, int lines)
{
  double height = set_lines (canvas, words, text, lines);

  unset_lines (canvas);
  return height;
}

void
tpt_sheet_text_draw (TptCanvas *canvas, const char *words, const TptText *text, int lines, double x, double y)
{
  set_lines (canvas, words, text, lines);
  tpt_canvas_set (canvas, text->role != TPT_COLOR_PAPER ? text->role : TPT_COLOR_INK, 1);
  cairo_move_to (canvas->cr, x, y);
  pango_cairo_show_layout (canvas->cr, canvas->layout);
  cairo_new_path (canvas->cr);
  unset_lines (canvas);
}

void
tpt_sheet_box (TptCanvas *canvas, double x, double y, double side)
{
  tpt_canvas_set (canvas, TPT_COLOR_INK, 1);
  cairo_set_line_width (canvas->cr, 0.9);
  cairo_rectangle (canvas->cr, x + 0.45, y + 0.45, side - 0.9, side - 0.9);
  cairo_stroke (canvas->cr);
}

double
tpt_sheet_boxes (TptCanvas *canvas, const char *const *words, const TptFigureRect *area, double size, gboolean draw)
{
  double x = area->x, y = area->y, line = MAX (BOX_SIDE * size, size * canvas->em) + TPT_MM (1);
  double left = BOX_SIDE * size + TPT_MM (1);

  for (guint i = 0; words[i] != NULL; i++)
    {
      TptText text = { TPT_COLOR_INK, .size = size };
      double width, height;

      tpt_canvas_measure (canvas, words[i], &text, &width, &height);
      if (x > area->x && x + left + width > area->x + area->width)
        {
          x = area->x;
          y += line;
        }
      if (draw)
        {
          text.width = MAX (1, area->x + area->width - x - left);
          text.down = 0.5;
          tpt_sheet_box (canvas, x, y, BOX_SIDE * size);
          tpt_canvas_write (canvas, words[i], x + left, y + BOX_SIDE * size / 2, &text);
        }
      x += left + width + TPT_MM (2.5) * size;
    }
  return y + line - area->y;
}

/* A paragraph: a heading, plain text, or an item of a list with its box or dot. */
typedef struct {
  TptSheetBlock block;
  char *words; /* (owned) */
  TptText text;
  enum { SIGN_NONE, SIGN_DOT, SIGN_BOX } sign;
  GArray *heights;       /* (owned) (element-type double): of its lines, at @measured_width */
  double measured_width; /* 0 for never */
} Paragraph;

static double
set_paragraph (Paragraph *self, TptCanvas *canvas, double width)
{
  TptText text = self->text;
  double indent = self->sign != SIGN_NONE ? INDENT : 0, w, h;

  text.width = MAX (1, width - indent);
  text.wrap = TRUE;
  tpt_canvas_measure (canvas, self->words, &text, &w, &h);
  return indent;
}

static double
get_line_height (TptCanvas *canvas, guint row)
{
  PangoRectangle logical;

  pango_layout_line_get_extents (pango_layout_get_line_readonly (canvas->layout, (int) row), NULL, &logical);
  return logical.height / (double) PANGO_SCALE;
}

/* Lines are asked for one by one, but broken once. */
static void
measure_paragraph (Paragraph *self, TptCanvas *canvas, double width)
{
  if (self->measured_width == width)
    return;
  set_paragraph (self, canvas, width);
  g_array_set_size (self->heights, 0);
  for (guint row = 0; row < (guint) pango_layout_get_line_count (canvas->layout); row++)
    {
      double height = get_line_height (canvas, row);
      g_array_append_val (self->heights, height);
    }
  self->measured_width = width;
}

static guint
count_paragraph (TptSheetBlock *block, TptCanvas *canvas, double width)
{
  measure_paragraph ((Paragraph *) block, canvas, width);
  return ((Paragraph *) block)->heights->len;
}

static double
paragraph_height (TptSheetBlock *block, TptCanvas *canvas, double width, guint row)
{
  measure_paragraph ((Paragraph *) block, canvas, width);
  return g_array_index (((Paragraph *) block)->heights, double, row);
}

static void
draw_sign (const Paragraph *self, TptCanvas *canvas, double x, double y, double height)
{
  if (self->sign == SIGN_BOX)
    tpt_sheet_box (canvas, x, y + (height - BOX_SIDE) / 2, BOX_SIDE);
  if (self->sign != SIGN_DOT)
    return;
  tpt_canvas_set (canvas, TPT_COLOR_INK, 1);
  cairo_arc (canvas->cr, x + INDENT / 2, y + height / 2, TPT_MM (0.6), 0, 2 * G_PI);
  cairo_fill (canvas->cr);
}

static void
draw_paragraph (TptSheetBlock *block, TptCanvas *canvas, const TptFigureRect *area, guint first, guint n_rows)
{
  Paragraph *self = (Paragraph *) block;
  double indent = set_paragraph (self, canvas, area->width), y = area->y;

  if (first == 0)
    draw_sign (self, canvas, area->x, y, get_line_height (canvas, 0));
  tpt_canvas_set (canvas, self->text.role, 1);
  for (guint i = first; i < first + n_rows; i++)
    {
      PangoLayoutLine *line = pango_layout_get_line_readonly (canvas->layout, (int) i);
      PangoRectangle logical;

      pango_layout_line_get_extents (line, NULL, &logical);
      cairo_move_to (canvas->cr, area->x + indent, y - logical.y / (double) PANGO_SCALE);
      pango_cairo_show_layout_line (canvas->cr, line);
      cairo_new_path (canvas->cr);
      y += logical.height / (double) PANGO_SCALE;
    }
}

static void
free_paragraph (TptSheetBlock *block)
{
  g_free (((Paragraph *) block)->words);
  g_array_unref (((Paragraph *) block)->heights);
}

static const TptSheetKind paragraph_kind = {
  count_paragraph, paragraph_height, NULL, draw_paragraph, free_paragraph,
};

static Paragraph *
add_paragraph (TptSheet *self, const char *words, TptText text)
{
  Paragraph *paragraph = g_new0 (Paragraph, 1);

  paragraph->block.kind = &paragraph_kind;
  paragraph->block.gap = TPT_MM (0.8);
  paragraph->words = g_strdup (words);
  paragraph->heights = g_array_new (FALSE, FALSE, sizeof (double));
  paragraph->text = text;
  tpt_sheet_append (self, &paragraph->block);
  return paragraph;
}

void
tpt_sheet_add_heading (TptSheet *self, const char *words)
{
  Paragraph *heading = add_paragraph (self, words, (TptText){ TPT_COLOR_INK, .size = 1.15, .bold = TRUE });

  heading->block.gap = TPT_MM (3);
  heading->block.keeps = TRUE;
}

void
tpt_sheet_add_text (TptSheet *self, const char *words, TptVoice voice)
{
  TptText text = { voice == TPT_VOICE_QUIET ? TPT_COLOR_QUIET : TPT_COLOR_INK, .bold = voice == TPT_VOICE_STRONG };

  add_paragraph (self, words, text);
}

void
tpt_sheet_add_list (TptSheet *self, const char *const *items, gboolean boxes)
{
  for (guint i = 0; items[i] != NULL; i++)
    add_paragraph (self, items[i], (TptText){ TPT_COLOR_INK })->sign = boxes ? SIGN_BOX : SIGN_DOT;
}

/* A caution is one row: a frame is not cut. */
typedef struct {
  TptSheetBlock block;
  char *title; /* (owned) */
  char *words; /* (owned) */
} Caution;

static const TptText caution_title = { TPT_COLOR_INK, .bold = TRUE };

static TptText
caution_text (double width)
{
  return (TptText){ TPT_COLOR_INK, .size = 0.92, .wrap = TRUE, .width = MAX (1, width - 2 * PAD) };
}

static guint
count_one (TptSheetBlock *block, TptCanvas *canvas, double width)
{
  return 1;
}

static double
caution_height (TptSheetBlock *block, TptCanvas *canvas, double width, guint row)
{
  Caution *self = (Caution *) block;
  TptText text = caution_text (width);
  double w, title, words;

  tpt_canvas_measure (canvas, self->title, &caution_title, &w, &title);
  tpt_canvas_measure (canvas, self->words, &text, &w, &words);
  return title + words + 2 * PAD;
}

static void
draw_caution (TptSheetBlock *block, TptCanvas *canvas, const TptFigureRect *area, guint first, guint n_rows)
{
  Caution *self = (Caution *) block;
  TptText text = caution_text (area->width);
  double w, title;

  tpt_canvas_set (canvas, TPT_COLOR_INK, 1);
  cairo_set_line_width (canvas->cr, 1.4);
  cairo_rectangle (canvas->cr, area->x + 0.7, area->y + 0.7, area->width - 1.4, area->height - 1.4);
  cairo_stroke (canvas->cr);
  tpt_canvas_measure (canvas, self->title, &caution_title, &w, &title);
  tpt_canvas_write (canvas, self->title, area->x + PAD, area->y + PAD, &caution_title);
  tpt_canvas_write (canvas, self->words, area->x + PAD, area->y + PAD + title, &text);
}

static void
free_caution (TptSheetBlock *block)
{
  g_free (((Caution *) block)->title);
  g_free (((Caution *) block)->words);
}

static const TptSheetKind caution_kind = { count_one, caution_height, NULL, draw_caution, free_caution };

void
tpt_sheet_add_caution (TptSheet *self, const char *title, const char *const *sentences)
{
  Caution *caution = g_new0 (Caution, 1);

  caution->block.kind = &caution_kind;
  caution->block.gap = TPT_MM (3);
  caution->title = g_strdup (title);
  caution->words = g_strjoinv (" ", (GStrv) sentences);
  tpt_sheet_append (self, &caution->block);
}
