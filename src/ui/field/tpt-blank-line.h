/* How many of a station's triggers fired at nothing, in one line, and what to
 * look at when that is more than elsewhere. Hidden while nothing is known. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_BLANK_LINE (tpt_blank_line_get_type ())
G_DECLARE_FINAL_TYPE (TptBlankLine, tpt_blank_line, TPT, BLANK_LINE, GtkWidget)

/* @project may be %NULL. It is counted anew whenever it changes. */
void tpt_blank_line_set_project (TptBlankLine *self, TptProject *project);

/* @station: its code, or %NULL for none. */
void tpt_blank_line_set_station (TptBlankLine *self, const char *station);

/* (transfer none): what the line says; "" while it is hidden. */
const char *tpt_blank_line_get_text (TptBlankLine *self);

G_END_DECLS
