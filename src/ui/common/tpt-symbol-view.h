/* Draws one station symbol and tells it to screen readers. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-symbol.h"

G_BEGIN_DECLS

#define TPT_TYPE_SYMBOL_VIEW (tpt_symbol_view_get_type ())
G_DECLARE_FINAL_TYPE (TptSymbolView, tpt_symbol_view, TPT, SYMBOL_VIEW, GtkWidget)

GtkWidget *tpt_symbol_view_new (void);

void tpt_symbol_view_set_symbol (TptSymbolView *self, TptSymbol symbol);

/* Property "pixel-size": the diameter, 26 unless told otherwise. */
void tpt_symbol_view_set_pixel_size (TptSymbolView *self, int size);

G_END_DECLS
