/* One card: what is on it, the deployment it stood in, its clock, and what came
 * of it. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-card.h"

G_BEGIN_DECLS

#define TPT_TYPE_CARD_PAGE (tpt_card_page_get_type ())
G_DECLARE_FINAL_TYPE (TptCardPage, tpt_card_page, TPT, CARD_PAGE, GtkWidget)

GtkWidget *tpt_card_page_new (TptCard *card);
TptCard *tpt_card_page_get_card (TptCardPage *self);

G_END_DECLS
