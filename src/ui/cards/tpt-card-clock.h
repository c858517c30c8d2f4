/* What would be done to the clock of a card: each step with a frame before and
 * after it, doubts, and a reading given by hand. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-card.h"

G_BEGIN_DECLS

#define TPT_TYPE_CARD_CLOCK (tpt_card_clock_get_type ())
G_DECLARE_FINAL_TYPE (TptCardClock, tpt_card_clock, TPT, CARD_CLOCK, GtkWidget)

void tpt_card_clock_set_card (TptCardClock *self, TptCard *card);

/* Shows what is chosen for the card now. */
void tpt_card_clock_update (TptCardClock *self);

G_END_DECLS
