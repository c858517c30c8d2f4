/* What a kind of figure brings along. Only the kinds include this. */
#pragma once

#include "tpt-canvas-private.h"
#include "tpt-figure.h"
#include "tpt-time-axis.h"

G_BEGIN_DECLS

/* Layers of what can be pointed at: one in front wins over one behind it. */
typedef enum {
  TPT_LAYER_ROW,
  TPT_LAYER_AREA,
  TPT_LAYER_BAR,
  TPT_LAYER_MARK,
} TptLayer;

/**
 * TptHitTest: a question put to every thing a figure draws.
 * @hit: the best answer so far
 */
typedef struct {
  double x;
  double y;
  int layer;
  double distance;
  TptHit *hit;
} TptHitTest;

/* Whether a thing at @rect is a better answer than the one so far; then, and
 * only then, the words for it are worth making. */
gboolean tpt_hit_test_wants (const TptHitTest *test, TptLayer layer, const TptFigureRect *rect);

/* Takes @text. */
void tpt_hit_test_take (TptHitTest *test, TptLayer layer, const TptFigureRect *rect, TptHitKind kind,
                        int row, int item, char *text, const char *key);

/* What else the thing just taken stands for; see TptHit. */
void tpt_hit_test_tell (TptHitTest *test, const char *item_key, TptRange when, double hour_from, double hour_to);

/**
 * TptFigureKind:
 * @draw: the chart within @area
 * @height: what the chart needs at @width
 * @plot: the part of @area inside the axes
 * @axis: (nullable): the axis of time in @area
 * @hit: asks @test about everything drawn in @area
 * @add_rows: fills a table that has its columns
 * @describe: (transfer full): sentences, without the caption
 * @note: (nullable): (transfer full) (nullable): what must be said with the chart
 * @explain: (nullable): (transfer full): how to read the drawing, for a frame
 * @axis_of_hours: the plot runs from 0 to 24 h of a day
 */
typedef struct {
  const char *name;
  const char *const *columns;
  void (*draw) (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area);
  double (*height) (TptFigure *figure, TptCanvas *canvas, double width);
  TptFigureRect (*plot) (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area);
  TptTimeAxis (*axis) (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area);
  void (*hit) (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area, TptHitTest *test);
  void (*add_rows) (TptFigure *figure, TptFigureTable *table);
  char *(*describe) (TptFigure *figure);
  char *(*note) (TptFigure *figure);
  char *(*explain) (TptFigure *figure);
  GDestroyNotify free_data;
  gboolean axis_of_hours;
} TptFigureKind;

TptFigure *tpt_figure_new (const TptFigureKind *kind, gpointer data);

/* The data of a figure that must be of @kind. */
gpointer tpt_figure_get_data (TptFigure *figure, const TptFigureKind *kind);

gboolean tpt_figure_is_of (TptFigure *figure, const TptFigureKind *kind);

/* (transfer none) */
const TptFigureCaption *tpt_figure_get_caption (TptFigure *figure);
char *tpt_figure_get_note (TptFigure *figure);
char *tpt_figure_get_explanation (TptFigure *figure);

/* @cells: (owned) row after row */
struct _TptFigureTable {
  const char *const *columns;
  guint n_columns;
  GPtrArray *cells;
};

/* @columns: not copied. */
TptFigureTable *tpt_figure_table_new (const char *const *columns);

/* Takes every cell, as many as there are columns. */
void tpt_figure_table_add (TptFigureTable *table, ...) G_GNUC_NULL_TERMINATED;

/* What is left for the chart in @width by @height. Draws the frame if @paint. */
TptFigureRect tpt_figure_frame (TptFigure *figure, TptCanvas *canvas, double width, double height, gboolean paint);

/* Gives @svg, a document of cairo, ids that do not depend on what else the
 * process drew, and a title and description. Both escaped here. */
char *tpt_svg_tidy (const char *svg, gsize length, const char *title, const char *description);

/* Replaces the file at @path as a whole or not at all. */
gboolean tpt_file_replace (const char *path, const void *data, gsize length, GError **error);

/* A PDF without a date: one is fixed while it is drawn, and blanked in the file. */
void tpt_pdf_fix_date (cairo_surface_t *surface);
void tpt_pdf_blank_date (GByteArray *bytes);

/* Sets pixels per metre in @png, as cairo writes none. */
void tpt_png_set_dpi (GByteArray *png, double dpi);

G_END_DECLS
