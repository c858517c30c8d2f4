#include "config.h"

#include "tpt-symbol.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Shares of the diameter. */
#define RING_RADIUS 0.42
#define RING_WIDTH 0.15
#define CORE_RADIUS 0.195
#define GAP_ANGLE 0.16

TptColorRole
tpt_symbol_state_color (TptSymbolState state)
{
  static const TptColorRole roles[] = {
    TPT_COLOR_FINE, TPT_COLOR_SOON, TPT_COLOR_NOW, TPT_COLOR_DOWN, TPT_COLOR_QUIET,
  };

  return roles[state];
}

const char *
tpt_symbol_state_name (TptSymbolState state)
{
  static const char *const names[] = {
    NC_("state of a station", "fine"), NC_("state of a station", "soon"),
    NC_("state of a station", "now"), NC_("state of a station", "down"),
    NC_("state of a station", "unknown"),
  };

  return g_dpgettext2 (GETTEXT_PACKAGE, "state of a station", names[state]);
}

/* Half a ring between the gaps at top and foot. @share counts from the foot,
 * so that it empties from the top. @side is -1 on the left, 1 on the right. */
static void
stroke_half_ring (cairo_t *cr,
                  double radius,
                  int side,
                  double share)
{
  double foot = G_PI_2 - side * GAP_ANGLE;
  double length = (G_PI - 2 * GAP_ANGLE) * share;

  cairo_new_sub_path (cr);
  if (side > 0)
    cairo_arc_negative (cr, 0, 0, radius, foot, foot - length);
  else
    cairo_arc (cr, 0, 0, radius, foot, foot + length);
  cairo_stroke (cr);
}

/* Unknown is broken into dots, which nothing measured ever looks like. */
static void
draw_half_ring (cairo_t *cr,
                double diameter,
                int side,
                double share,
                TptColorRole role,
                TptPalette palette)
{
  double radius = RING_RADIUS * diameter;

  cairo_save (cr);
  if (isnan (share))
    {
      double dash = (G_PI - 2 * GAP_ANGLE) * radius / 7;

      tpt_palette_set (palette, cr, TPT_COLOR_QUIET, 1);
      cairo_set_line_width (cr, 0.4 * RING_WIDTH * diameter);
      cairo_set_dash (cr, &dash, 1, 0);
      stroke_half_ring (cr, radius, side, 1);
    }
  else
    {
      cairo_set_line_width (cr, RING_WIDTH * diameter);
      tpt_palette_set (palette, cr, TPT_COLOR_INK, 0.16);
      stroke_half_ring (cr, radius, side, 1);
      tpt_palette_set (palette, cr, role, 1);
      if (share > 0)
        stroke_half_ring (cr, radius, side, MIN (share, 1));
    }
  cairo_restore (cr);
}

static void
draw_core_triangle (cairo_t *cr,
                    double radius)
{
  cairo_move_to (cr, 0, -1.15 * radius);
  cairo_line_to (cr, 1.12 * radius, 0.85 * radius);
  cairo_line_to (cr, -1.12 * radius, 0.85 * radius);
  cairo_close_path (cr);
  cairo_fill (cr);
}

static void
draw_core_cross (cairo_t *cr,
                 double radius)
{
  double arm = 0.86 * radius;

  cairo_move_to (cr, -arm, -arm);
  cairo_line_to (cr, arm, arm);
  cairo_move_to (cr, arm, -arm);
  cairo_line_to (cr, -arm, arm);
  cairo_stroke (cr);
}

static void
draw_core (cairo_t *cr,
           TptSymbolState state,
           double radius)
{
  cairo_set_line_width (cr, 0.62 * radius);
  switch (state)
    {
    case TPT_STATE_FINE:
      cairo_arc (cr, 0, 0, 0.86 * radius, 0, 2 * G_PI);
      cairo_fill (cr);
      break;
    case TPT_STATE_SOON:
      cairo_arc (cr, 0, 0, 0.78 * radius, 0, 2 * G_PI);
      cairo_stroke (cr);
      break;
    case TPT_STATE_NOW:
      draw_core_triangle (cr, radius);
      break;
    case TPT_STATE_DOWN:
      draw_core_cross (cr, radius);
      break;
    case TPT_STATE_UNKNOWN:
    default:
      cairo_move_to (cr, -0.8 * radius, 0);
      cairo_line_to (cr, 0.8 * radius, 0);
      cairo_stroke (cr);
      break;
    }
}

void
tpt_symbol_draw (cairo_t *cr,
                 const TptSymbol *symbol,
                 double x,
                 double y,
                 double diameter,
                 TptPalette palette)
{
  TptColorRole role = tpt_symbol_state_color (symbol->state);

  cairo_save (cr);
  cairo_translate (cr, x, y);
  tpt_palette_set (palette, cr, TPT_COLOR_PAPER, 1);
  cairo_arc (cr, 0, 0, diameter / 2, 0, 2 * G_PI);
  cairo_fill (cr);

  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  draw_half_ring (cr, diameter, -1, symbol->energy, role, palette);
  draw_half_ring (cr, diameter, 1, symbol->card, role, palette);

  tpt_palette_set (palette, cr, role, 1);
  draw_core (cr, symbol->state, CORE_RADIUS * diameter);
  cairo_restore (cr);
}

static char *
describe_share (double share)
{
  if (isnan (share))
    return g_strdup (_("unknown"));
  return g_strdup_printf (_("%d %%"), (int) round (100 * CLAMP (share, 0, 1)));
}

char *
tpt_symbol_describe (const TptSymbol *symbol)
{
  static const char *const states[] = {
    N_("fine"), N_("needs a visit soon"), N_("needs a visit now"), N_("down"), N_("state unknown"),
  };
  g_autofree char *energy = describe_share (symbol->energy);
  g_autofree char *card = describe_share (symbol->card);

  /* Translators: state of a station, then what is left of its energy and card. */
  return g_strdup_printf (_("%1$s; energy %2$s, card %3$s"), _(states[symbol->state]), energy, card);
}

void
tpt_symbol_draw_seen (cairo_t *cr,
                      double x,
                      double y,
                      double diameter,
                      TptPalette palette)
{
  cairo_save (cr);
  cairo_new_path (cr);
  cairo_arc (cr, x, y, diameter / 2, 0, 2 * G_PI);
  tpt_palette_set (palette, cr, TPT_COLOR_ACCENT, 1);
  cairo_fill_preserve (cr);
  tpt_palette_set (palette, cr, TPT_COLOR_GROUND, 1);
  cairo_set_line_width (cr, 1.2);
  cairo_stroke (cr);
  cairo_restore (cr);
}

void
tpt_symbol_draw_not_seen (cairo_t *cr,
                          double x,
                          double y,
                          double diameter,
                          TptPalette palette)
{
  double width = MAX (1.2, diameter / 9);
  double radius = (diameter - width) / 2;
  double reach = radius * G_SQRT2 / 2;

  cairo_save (cr);
  cairo_new_path (cr);
  cairo_arc (cr, x, y, diameter / 2, 0, 2 * G_PI);
  tpt_palette_set (palette, cr, TPT_COLOR_PAPER, 1);
  cairo_fill (cr);

  tpt_palette_set (palette, cr, TPT_COLOR_QUIET, 1);
  cairo_set_line_width (cr, width);
  cairo_arc (cr, x, y, radius, 0, 2 * G_PI);
  cairo_stroke (cr);
  cairo_move_to (cr, x - reach, y + reach);
  cairo_line_to (cr, x + reach, y - reach);
  cairo_stroke (cr);
  cairo_restore (cr);
}

void
tpt_symbol_draw_not_worked (cairo_t *cr,
                            double x,
                            double y,
                            double diameter,
                            TptPalette palette)
{
  cairo_save (cr);
  cairo_new_path (cr);
  cairo_arc (cr, x, y, diameter / 5, 0, 2 * G_PI);
  tpt_palette_set (palette, cr, TPT_COLOR_QUIET, 1);
  cairo_fill (cr);
  cairo_restore (cr);
}
