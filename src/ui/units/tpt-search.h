/* Drop-downs whose list is searched by typing. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Turns on the search of @choice, a drop-down of a #GtkStringList, so that what
 * is typed is found anywhere in a name, not only at its start. Call it again
 * when the model is another. */
void tpt_search_anywhere (GtkDropDown *choice);

G_END_DECLS
