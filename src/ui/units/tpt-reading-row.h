/* One unit on a visit: its state, what was read, what was done, what came in
 * its place, and what harmed it. Nothing is said about it until somebody does.
 *
 * While the focus is in the row its underlined letters choose state and action
 * without Alt, V and % say what the figure is in, Enter goes to the next row.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-visit-plan.h"

G_BEGIN_DECLS

#define TPT_TYPE_READING_ROW (tpt_reading_row_get_type ())
G_DECLARE_FINAL_TYPE (TptReadingRow, tpt_reading_row, TPT, READING_ROW, GtkWidget)

/* @last: (nullable): its reading before, shown beside its name.
 * Signals "changed", and "leave" (int: rows down; negative is up). */
TptReadingRow *tpt_reading_row_new (TptRecord *unit, TptRecord *last);

TptRecord *tpt_reading_row_get_unit (TptReadingRow *self);

/* What can go in its place: (element-type TptRecord). What is chosen stays when
 * it is there still. @bring_in: nothing goes in. */
void tpt_reading_row_set_spares (TptReadingRow *self, GPtrArray *spares, gboolean bring_in);

/* How the rig was found (nullable): harm is asked for where there can be some. */
void tpt_reading_row_set_found (TptReadingRow *self, const char *found);

/* Working, when it has a state and nobody has said one. */
void tpt_reading_row_say_working (TptReadingRow *self);

gboolean tpt_reading_row_is_valid (TptReadingRow *self);

/* (transfer full) (nullable): %NULL when nothing was said about the unit. */
TptVisitLine *tpt_reading_row_make_line (TptReadingRow *self);

/* Shows why the row cannot be saved; %NULL takes it away. */
void tpt_reading_row_set_fault (TptReadingRow *self, const char *reason);

G_END_DECLS
