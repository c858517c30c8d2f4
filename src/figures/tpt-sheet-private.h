/* How a sheet is cut into blocks and pages. */
#pragma once

#include "tpt-canvas-private.h"
#include "tpt-sheet.h"

G_BEGIN_DECLS

#define TPT_MM(length) ((length) * 96.0 / 25.4)

/* The least height of what is written on by hand: common practice of forms, no source. */
#define TPT_SHEET_LINE TPT_MM (8)
#define TPT_SHEET_MARGIN TPT_MM (14)
#define TPT_SHEET_FOOT TPT_MM (8)

typedef struct _TptSheetBlock TptSheetBlock;

/**
 * TptSheetKind: a kind of block, as rows that are never cut through.
 * @count: rows at @width
 * @height: of one row
 * @lead: (nullable): height of what stands above the first row on every page
 * @draw: the rows from @first on, below the lead
 */
typedef struct {
  guint (*count) (TptSheetBlock *block, TptCanvas *canvas, double width);
  double (*height) (TptSheetBlock *block, TptCanvas *canvas, double width, guint row);
  double (*lead) (TptSheetBlock *block, TptCanvas *canvas, double width);
  void (*draw) (TptSheetBlock *block, TptCanvas *canvas, const TptFigureRect *area, guint first, guint n_rows);
  void (*free) (TptSheetBlock *block);
} TptSheetKind;

/**
 * TptSheetBlock: what every kind begins with.
 * @gap: above it, unless it heads a page
 * @keeps: it is not left alone at the foot of a page
 */
struct _TptSheetBlock {
  const TptSheetKind *kind;
  double gap;
  gboolean keeps;
};

typedef struct {
  char *title; /* (owned) */
  char *code;  /* (owned) (nullable) */
  char *below; /* (owned) (nullable) */
  GPtrArray *blocks; /* (owned) (element-type TptSheetBlock) */
} TptSheetChapter;

/* Rows of a block at their place on a page. */
typedef struct {
  guint page;
  TptSheetBlock *block;
  TptFigureRect area;
  guint first, n_rows;
} TptSheetPiece;

typedef struct {
  TptSheetChapter *chapter;
  gboolean continued;
} TptSheetPage;

struct _TptSheet {
  char *title;  /* (owned) */
  char *footer; /* (owned) (nullable) */
  char *mark;   /* (owned) (nullable) */
  double width, height;
  GPtrArray *chapters;       /* (owned) (element-type TptSheetChapter) */
  TptSheetBlock *columns;    /* (not owned) (nullable): being filled */
  GArray *pages;             /* (owned) (element-type TptSheetPage): empty until laid out */
  GArray *pieces;            /* (owned) (element-type TptSheetPiece) */
};

/* Two lists of blocks; @second while the second is being filled. */
typedef struct {
  TptSheetBlock block;
  GPtrArray *sides[2]; /* (owned) */
  gboolean second;
} TptSheetColumns;

extern const TptSheetKind tpt_sheet_columns_kind;

/* Takes @block. */
void tpt_sheet_append (TptSheet *self, TptSheetBlock *block);
void tpt_sheet_block_free (TptSheetBlock *block);
double tpt_sheet_block_height (TptSheetBlock *block, TptCanvas *canvas, double width);

/* Columns of which one is too high to stand beside the other. */
gboolean tpt_sheet_columns_fit (const TptSheetColumns *columns, TptCanvas *canvas, double width, double height);

/* A canvas on which lengths do not depend on what it draws on. */
void tpt_sheet_canvas_begin (TptCanvas *canvas, cairo_t *cr);

/* Text at most @lines high. */
double tpt_sheet_text_height (TptCanvas *canvas, const char *words, const TptText *text, int lines);
void tpt_sheet_text_draw (TptCanvas *canvas, const char *words, const TptText *text, int lines, double x, double y);

/* Words with a box before each, in as many lines as it takes; returns their
 * height, drawn or not. */
double tpt_sheet_boxes (TptCanvas *canvas, const char *const *words, const TptFigureRect *area, double size, gboolean draw);
void tpt_sheet_box (TptCanvas *canvas, double x, double y, double side);

void tpt_sheet_lay_out (TptSheet *self, TptCanvas *canvas);
/* The head of @page, drawn or not; returns where the rest begins. */
double tpt_sheet_head (TptSheet *self, TptCanvas *canvas, guint page, gboolean draw);
void tpt_sheet_draw_page (TptSheet *self, TptCanvas *canvas, guint page);

G_END_DECLS
