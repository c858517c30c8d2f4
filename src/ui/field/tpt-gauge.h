/* A small upright bar that tells what is left of a unit's charge; the words
 * beside it say the same. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-symbol.h"

G_BEGIN_DECLS

#define TPT_TYPE_GAUGE (tpt_gauge_get_type ())
G_DECLARE_FINAL_TYPE (TptGauge, tpt_gauge, TPT, GAUGE, GtkWidget)

/* @left: 0 to 1; NAN draws an empty frame. */
void tpt_gauge_set (TptGauge *self, double left, TptSymbolState state);

G_END_DECLS
