/* The program's look: one accent, calm grounds, and the palette of what is
 * drawn, all of which follow the light or dark appearance. */
#pragma once

#include "tpt-figure.h"
#include "tpt-palette.h"

G_BEGIN_DECLS

/* Once per process, after GTK has a display. */
void tpt_style_install (void);

/* The rules of one part of the window; loading the same ones again does nothing. */
void tpt_style_add (const char *resource);

/* The palette that fits the window now; AdwStyleManager notifies "dark" when it changes. */
TptPalette tpt_style_get_palette (void);

/* For a figure without frame on the window's own ground. */
TptFigureStyle tpt_style_get_figure_style (void);

G_END_DECLS
