/* Figures for those who have a mouse only: a button that opens keys, which type
 * into a field. Tab passes it by. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-field.h"

G_BEGIN_DECLS

/* (transfer floating): @field must live as long as the button. @moment: with the
 * signs that a date and a time of day take. */
GtkWidget *tpt_keypad_new (TptField *field, gboolean moment);

G_END_DECLS
