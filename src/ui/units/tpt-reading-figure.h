/* What was read from a unit: a figure in percent or volts, and four shares to
 * press for those without a keyboard. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define TPT_TYPE_READING_FIGURE (tpt_reading_figure_get_type ())
G_DECLARE_FINAL_TYPE (TptReadingFigure, tpt_reading_figure, TPT, READING_FIGURE, GtkWidget)

/* @volts: what it is read in at first. Signals "changed", and "activate": Enter. */
TptReadingFigure *tpt_reading_figure_new (gboolean volts);

/* NAN for what was not read in that measure. */
double tpt_reading_figure_get_percent (TptReadingFigure *self);
double tpt_reading_figure_get_volts (TptReadingFigure *self);

/* (nullable): why what is typed cannot be taken. */
const char *tpt_reading_figure_get_error (TptReadingFigure *self);

/* V and % say what it is in; %FALSE for other letters. */
gboolean tpt_reading_figure_press (TptReadingFigure *self, gunichar letter);

G_END_DECLS
