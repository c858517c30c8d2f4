/* A figure: data that knows how to draw itself, be told in words, be a table
 * and be pointed at.
 *
 * Each kind (tpt-strip.h, tpt-chart-map.h, tpt-timeline.h, tpt-due.h,
 * tpt-lives.h, tpt-hours.h, tpt-months.h, tpt-matrix.h, tpt-accumulation.h,
 * tpt-phases.h) has its own constructor and functions that add data. A figure is
 * filled by one thread and may afterwards be drawn by any, one at a time. One
 * call draws it on the screen and into files. Lengths are units of 1/96 inch,
 * which on a screen are its pixels. The same data and style give the same bytes in every file.
 */
#pragma once

#include <cairo.h>
#include <glib.h>
#include <math.h>

#include "tpt-palette.h"
#include "tpt-time.h"

G_BEGIN_DECLS

typedef struct _TptFigure TptFigure;

/**
 * TptFigureStyle:
 * @palette: light, dark or print
 * @font_scale: 1 for text of 11 units
 * @font: (nullable): a font family, else the sans serif of the machine
 * @framed: with paper, title, n, effort, period and method around the chart;
 *   else the chart alone on whatever is there, for a pane that says the rest
 * @brush: a period to show as chosen; both ends %TPT_NO_INSTANT for none
 * @chosen_row: a row to show as chosen, or -1
 * @hour_from: hours of the day to show as chosen, 0 to 24, over midnight when @hour_to
 *   is less; NAN for none
 * @hour_to: the same
 * @chosen_keys: (nullable): keys of the rows, columns or stations to show as chosen,
 *   the others receding
 */
typedef struct {
  TptPalette palette;
  double font_scale;
  const char *font;
  gboolean framed;
  TptRange brush;
  int chosen_row;
  double hour_from;
  double hour_to;
  const char *const *chosen_keys;
} TptFigureStyle;

#define TPT_FIGURE_STYLE_INIT \
  { TPT_PALETTE_LIGHT, 1.0, NULL, FALSE, { TPT_NO_INSTANT, TPT_NO_INSTANT }, -1, NAN, NAN, NULL }

/**
 * TptFigureCaption: what the frame of a figure says. Everything but the title
 * may be left out.
 * @title: what is shown
 * @summary: (nullable): the result in one sentence
 * @n: number of detections or other units counted; negative for none
 * @n_of: (nullable): what was counted, plural, such as "detections"
 * @trap_nights: effort; NAN for none
 * @period: the period; both ends %TPT_NO_INSTANT for none
 * @zone: (nullable): needed with @period
 * @method: (nullable): how it was computed, one or two sentences
 * @units: (nullable): of what is drawn, such as "detections per 100 trap nights"
 */
typedef struct {
  const char *title;
  const char *summary;
  gint64 n;
  const char *n_of;
  double trap_nights;
  TptRange period;
  TptZone *zone;
  const char *method;
  const char *units;
} TptFigureCaption;

#define TPT_FIGURE_CAPTION_INIT { NULL, NULL, -1, NULL, NAN, { TPT_NO_INSTANT, TPT_NO_INSTANT }, NULL, NULL, NULL }

typedef struct {
  double x;
  double y;
  double width;
  double height;
} TptFigureRect;

typedef enum {
  TPT_HIT_NOTHING,
  TPT_HIT_ROW,        /* a row's label or an empty part of the row */
  TPT_HIT_EFFORT,
  TPT_HIT_DETECTION,
  TPT_HIT_STATION,    /* on a map */
  TPT_HIT_CELL,
  TPT_HIT_DAY,        /* frames of one day */
  TPT_HIT_VISIT,
  TPT_HIT_READING,
  TPT_HIT_GAP,
  TPT_HIT_FORECAST,
  TPT_HIT_ROUND,      /* the line of the next round */
  TPT_HIT_CURVE,      /* a step of a survival curve, or a place on a curve */
  TPT_HIT_HOUR,       /* an hour of the day */
  TPT_HIT_MONTH,
  TPT_HIT_PHASE,      /* of the moon */
} TptHitKind;

/**
 * TptHit:
 * @row: the row, station or series in the order added, or -1
 * @item: within its kind and row in the order added, or -1
 * @rect: what was drawn for it
 * @text: one line for a tooltip or a screen reader
 * @key: (nullable): the key its row, station or series was added with
 * @item_key: (nullable): the key of the thing itself where it has one beside that of
 *   its row: the species of a detection, the station of a cell of a matrix
 * @when: the stretch of time it stands for; both ends %TPT_NO_INSTANT for none
 * @hour_from: the hours it stands for, of the clock of the figure; NAN for none
 * @hour_to: the same
 */
typedef struct {
  TptHitKind kind;
  int row;
  int item;
  TptFigureRect rect;
  char *text;
  char *key;
  char *item_key;
  TptRange when;
  double hour_from;
  double hour_to;
} TptHit;

#define TPT_HIT_INIT \
  { TPT_HIT_NOTHING, -1, -1, { 0, 0, 0, 0 }, NULL, NULL, NULL, { TPT_NO_INSTANT, TPT_NO_INSTANT }, NAN, NAN }

void tpt_hit_clear (TptHit *hit);

/* Header and rows of text, in the order drawn. Every row has as many cells as
 * the header. Numbers in the C locale, instants in ISO 8601 with offset. */
typedef struct _TptFigureTable TptFigureTable;

guint tpt_figure_table_get_n_columns (const TptFigureTable *table);
guint tpt_figure_table_get_n_rows (const TptFigureTable *table);
const char *tpt_figure_table_get_column (const TptFigureTable *table, guint column);
const char *tpt_figure_table_get_cell (const TptFigureTable *table, guint row, guint column);
void tpt_figure_table_free (TptFigureTable *table);

TptFigure *tpt_figure_ref (TptFigure *figure);
void tpt_figure_unref (TptFigure *figure);

/* (transfer none): "strip", "map", "station", "due", "lives", "hours", "months",
 * "matrix", "accumulation" or "phases". */
const char *tpt_figure_get_kind (TptFigure *figure);

/* Copies what it is given. */
void tpt_figure_set_caption (TptFigure *figure, const TptFigureCaption *caption);

/* Draws within 0, 0, @width, @height of @cr, and leaves @cr as it was. */
void tpt_figure_draw (TptFigure *figure, cairo_t *cr, double width, double height,
                      const TptFigureStyle *style);

/* The height at which every row has its room at @width. */
double tpt_figure_preferred_height (TptFigure *figure, double width, const TptFigureStyle *style);

/* The part of the figure inside its axes. */
TptFigureRect tpt_figure_plot_rect (TptFigure *figure, double width, double height,
                                    const TptFigureStyle *style);

/**
 * tpt_figure_hit:
 * @x: where is pointed at
 * @y: where is pointed at
 * @width: as the figure was drawn
 * @height: as the figure was drawn
 * @style: as the figure was drawn
 * @hit: (out): the nearest drawn thing within 6 units, the smaller one of two
 *   as near; clear it with tpt_hit_clear()
 *
 * Returns: %FALSE, with %TPT_HIT_NOTHING, when there is nothing
 */
gboolean tpt_figure_hit (TptFigure *figure, double x, double y, double width, double height,
                         const TptFigureStyle *style, TptHit *hit);

/* The instant at @x, held within the axis. %FALSE for kinds without an axis of time. */
gboolean tpt_figure_value_at (TptFigure *figure, double x, double width, double height,
                              const TptFigureStyle *style, TptInstant *instant);

/* The inverse. NAN for kinds without an axis of time; may lie outside the axis. */
double tpt_figure_position_of (TptFigure *figure, TptInstant instant, double width, double height,
                               const TptFigureStyle *style);

/* (transfer none) (nullable): the calendar of its axis of time. %NULL for kinds without one. */
TptZone *tpt_figure_get_zone (TptFigure *figure);

/* The hour of the day at @x, 0 to 24, held within the axis; NAN for kinds without an
 * axis of hours. */
double tpt_figure_hour_at (TptFigure *figure, double x, double width, double height, const TptFigureStyle *style);

/* (transfer full): one paragraph of plain text that says what the figure shows. */
char *tpt_figure_describe (TptFigure *figure);

/* (transfer full): exactly the numbers drawn. */
TptFigureTable *tpt_figure_table (TptFigure *figure);

/**
 * TptFigureSize:
 * @width: units of 1/96 inch
 * @height: the same; 0 takes the preferred height
 * @dpi: pixels per inch of a PNG: 96 draws one pixel per unit
 * @created: the date of a PDF; %TPT_NO_INSTANT writes none
 */
typedef struct {
  double width;
  double height;
  double dpi;
  TptInstant created;
} TptFigureSize;

#define TPT_FIGURE_SIZE_INIT { 640, 0, 96, TPT_NO_INSTANT }

/**
 * tpt_figure_size_parse:
 * @text: "column", "page", "slide" or "phone", "WxH" in units, or "WxHmm"
 * @size: (out): the width and height; the rest is left alone
 *
 * Returns: %FALSE with %TPT_ERROR_USAGE
 */
gboolean tpt_figure_size_parse (const char *text, TptFigureSize *size, GError **error);

/**
 * tpt_figure_export:
 * @path: ends in .png, .svg or .pdf
 * @size: how large
 * @style: how; usually framed
 *
 * Writes beside @path and renames, so that a failure at any step leaves what
 * was at @path before, and nothing else. An SVG carries the title and
 * tpt_figure_describe() for screen readers.
 *
 * Returns: %FALSE with %TPT_ERROR_USAGE for another ending or an impossible
 *   size, %TPT_ERROR_IO when the disk fails, %TPT_ERROR_FAULT under test
 */
gboolean tpt_figure_export (TptFigure *figure, const char *path, const TptFigureSize *size,
                            const TptFigureStyle *style, GError **error);

/* tpt_figure_table() in the form of RFC 4180, UTF-8, written in the same way. */
gboolean tpt_figure_write_csv (TptFigure *figure, const char *path, GError **error);

/* (transfer full): the text of tpt_figure_write_csv(). */
char *tpt_figure_csv (TptFigure *figure);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptFigure, tpt_figure_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptFigureTable, tpt_figure_table_free)
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (TptHit, tpt_hit_clear)

G_END_DECLS
