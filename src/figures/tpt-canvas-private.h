/* A cairo_t with the text layout, palette and text size of a style. */
#pragma once

#include <pango/pangocairo.h>

#include "tpt-figure.h"

G_BEGIN_DECLS

#define TPT_CANVAS_BODY 11.0

/**
 * TptCanvas:
 * @em: the size of body text
 */
typedef struct {
  cairo_t *cr;                 /* (owned) */
  PangoLayout *layout;         /* (owned) */
  const TptFigureStyle *style; /* (not owned) */
  double em;
} TptCanvas;

/**
 * TptText: how a text is set. Zero is body text in ink, from @x, below @y.
 * @role: its colour
 * @size: in em; 0 for 1
 * @across: 0 begins at x, 0.5 has it in the middle, 1 ends there
 * @down: the same for y
 * @width: cut with an ellipsis at this width, or wrapped; 0 for any
 * @halo: behind it, the colour of the map's ground
 */
typedef struct {
  TptColorRole role;
  double size;
  double across;
  double down;
  double width;
  gboolean bold;
  gboolean italic;
  gboolean wrap;
  gboolean halo;
} TptText;

void tpt_canvas_begin (TptCanvas *canvas, cairo_t *cr, const TptFigureStyle *style);

/* For measuring, when there is nothing to draw on. */
void tpt_canvas_begin_blank (TptCanvas *canvas, const TptFigureStyle *style);
void tpt_canvas_end (TptCanvas *canvas);

/* How far a chart keeps its words from its edge: in a frame they stand flush
 * with the title. */
double tpt_canvas_get_inset (const TptCanvas *canvas);

void tpt_canvas_set (TptCanvas *canvas, TptColorRole role, double alpha);
void tpt_canvas_measure (TptCanvas *canvas, const char *words, const TptText *text, double *width, double *height);
TptFigureRect tpt_canvas_place (TptCanvas *canvas, const char *words, double x, double y, const TptText *text);
void tpt_canvas_write (TptCanvas *canvas, const char *words, double x, double y, const TptText *text);

/* Paths. */
void tpt_canvas_round_rect (TptCanvas *canvas, const TptFigureRect *rect, double radius);
void tpt_canvas_rule (TptCanvas *canvas, double x0, double y0, double x1, double y1, double width);

/* Colour, dash and width of line @index among several: twenty until one looks like another, and
 * told apart in a copier's grey as well. The dash stays set; put it within cairo_save(). */
void tpt_canvas_set_series (TptCanvas *canvas, guint index);

/* Whether what has @key (nullable) is not to recede: chosen in the style, or nothing is. */
gboolean tpt_canvas_is_chosen (const TptCanvas *canvas, const char *key);

/* How strongly something that is not chosen is drawn. */
#define TPT_CANVAS_RECEDED 0.35

/* A sentence in the middle of @area, for a figure without anything to show. */
void tpt_canvas_say (TptCanvas *canvas, const TptFigureRect *area, const char *words);

/* How many rows had no room, above @bottom; nothing for none. */
void tpt_canvas_say_rest (TptCanvas *canvas, guint n_rows, double x, double bottom);

G_END_DECLS
