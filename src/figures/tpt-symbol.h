/* The station symbol and the marks of findings, the same in lists, on the
 * window's map and in figures.
 *
 * A station: two half rings that empty from the top, the left one the weakest
 * energy and the right one the card; the core's shape tells the state (disc
 * fine, ring soon, triangle now, cross down, dash unknown). Shape and fill
 * carry the meaning, colour only repeats it.
 */
#pragma once

#include <cairo.h>
#include <glib.h>

#include "tpt-palette.h"

G_BEGIN_DECLS

typedef enum {
  TPT_STATE_FINE,
  TPT_STATE_SOON,
  TPT_STATE_NOW,
  TPT_STATE_DOWN,
  TPT_STATE_UNKNOWN,
} TptSymbolState;

/**
 * TptSymbol:
 * @energy: what is left of the weakest energy, 0 to 1; NAN unknown
 * @card: what is left of the card, 0 to 1; NAN unknown
 * @state: the core
 */
typedef struct {
  double energy;
  double card;
  TptSymbolState state;
} TptSymbol;

/* Inside the circle of @diameter around @x, @y; from 12 units upwards. */
void tpt_symbol_draw (cairo_t *cr, const TptSymbol *symbol, double x, double y,
                      double diameter, TptPalette palette);

/* (transfer full): "needs a visit now; energy 12 %, card 64 %" */
char *tpt_symbol_describe (const TptSymbol *symbol);

TptColorRole tpt_symbol_state_color (TptSymbolState state);

/* (transfer none): "fine", "soon", "now", "down", "unknown", translated. */
const char *tpt_symbol_state_name (TptSymbolState state);

/* Where something was seen: a filled disc with an edge in the colour of the ground. */
void tpt_symbol_draw_seen (cairo_t *cr, double x, double y, double diameter, TptPalette palette);

/* Worked, but not seen: a ring with a stroke through it. */
void tpt_symbol_draw_not_seen (cairo_t *cr, double x, double y, double diameter, TptPalette palette);

/* Not at work in the period: a small dot. */
void tpt_symbol_draw_not_worked (cairo_t *cr, double x, double y, double diameter, TptPalette palette);

G_END_DECLS
