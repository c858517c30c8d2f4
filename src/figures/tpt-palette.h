/* Every colour the figures and the symbols use, in one place.
 *
 * Roles, not hues: a drawing asks for the colour of water or of a state and
 * gets the one that fits the ground it is drawn on. Text roles keep a contrast
 * of 4.5 to 1 on paper and on the map's ground, marks 3 to 1, and the series
 * stay apart for readers who confuse red and green.
 */
#pragma once

#include <cairo.h>
#include <glib.h>

G_BEGIN_DECLS

typedef enum {
  TPT_PALETTE_LIGHT,
  TPT_PALETTE_DARK,
  TPT_PALETTE_PRINT,
} TptPalette;

#define TPT_N_PALETTES 3

typedef enum {
  TPT_COLOR_PAPER,       /* behind everything */
  TPT_COLOR_INK,         /* text, outlines */
  TPT_COLOR_QUIET,       /* secondary text */
  TPT_COLOR_FAINT,       /* grid lines, empty parts of a ring */
  TPT_COLOR_ACCENT,      /* detections, the round, what is chosen */
  TPT_COLOR_ACCENT_MID,  /* bars beside an accented mark */
  TPT_COLOR_ACCENT_SOFT, /* effort behind the detections */
  TPT_COLOR_ON_ACCENT,   /* text on an accented mark */
  TPT_COLOR_GROUND,      /* the plain ground of the map */
  TPT_COLOR_GRATICULE,
  TPT_COLOR_WATER,
  TPT_COLOR_WATER_INK,   /* names of water */
  TPT_COLOR_TRAIL,
  TPT_COLOR_ROAD,
  TPT_COLOR_BOUNDARY,
  TPT_COLOR_FINE,        /* the four states of a station or unit */
  TPT_COLOR_SOON,
  TPT_COLOR_NOW,
  TPT_COLOR_DOWN,
  TPT_COLOR_SERIES_1,    /* lines that must be told apart */
  TPT_COLOR_SERIES_2,
  TPT_COLOR_SERIES_3,
  TPT_COLOR_SERIES_4,
  TPT_COLOR_SERIES_5,
} TptColorRole;

#define TPT_N_COLORS (TPT_COLOR_SERIES_5 + 1)
#define TPT_N_SERIES 5

/* sRGB, each part 0 to 1. */
typedef struct {
  double red;
  double green;
  double blue;
} TptColor;

TptColor tpt_palette_color (TptPalette palette, TptColorRole role);

/* Source for the next stroke or fill of @cr; @alpha 0 to 1. */
void tpt_palette_set (TptPalette palette, cairo_t *cr, TptColorRole role, double alpha);

/* The colour @share (0 to 1) of the way from @from to @to. */
TptColor tpt_color_mix (TptColor from, TptColor to, double share);

/* Contrast ratio, 1 to 21, by the relative luminance of WCAG 2. */
double tpt_color_contrast (TptColor a, TptColor b);

G_END_DECLS
