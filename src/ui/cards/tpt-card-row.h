/* One card in the list: its name, how far it is, and a button that takes it off. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-card.h"

G_BEGIN_DECLS

#define TPT_TYPE_CARD_ROW (tpt_card_row_get_type ())
G_DECLARE_FINAL_TYPE (TptCardRow, tpt_card_row, TPT, CARD_ROW, GtkListBoxRow)

/* Signal "leave-out": the card is not to be taken in. */
GtkWidget *tpt_card_row_new (TptCard *card);
TptCard *tpt_card_row_get_card (TptCardRow *self);

G_END_DECLS
