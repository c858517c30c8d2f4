/* Popovers that belong to a widget. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Whether one of @widget's own popovers is up: a tooltip would lie on it. */
gboolean tpt_popovers_any_up (GtkWidget *widget);

G_END_DECLS
