/* What came of a card that was taken in: the good news, what is in doubt, what
 * was set aside, and whether the card may be used again. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-card.h"

G_BEGIN_DECLS

#define TPT_TYPE_CARD_OUTCOME (tpt_card_outcome_get_type ())
G_DECLARE_FINAL_TYPE (TptCardOutcome, tpt_card_outcome, TPT, CARD_OUTCOME, GtkWidget)

/* @card has been taken in. */
void tpt_card_outcome_show (TptCardOutcome *self, TptCard *card);

G_END_DECLS
