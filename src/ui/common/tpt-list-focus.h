/* Tab leaves a list in one step; the arrow keys walk its rows. GTK 4.8 would
 * take Tab through every row.
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* @list: a list view, or what holds one */
void tpt_list_focus_install (GtkWidget *list);

/* Moves the focus out of @list, to what stands before or after it.
 *
 * Returns: %FALSE when there is nothing there
 */
gboolean tpt_list_focus_leave (GtkWidget *list, GtkDirectionType direction);

G_END_DECLS
