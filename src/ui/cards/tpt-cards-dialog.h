/* Taking in cards: those in the readers and those given as folders, one after
 * another. */
#pragma once

#include <adwaita.h>

#include "tpt-card.h"

G_BEGIN_DECLS

#define TPT_TYPE_CARDS_DIALOG (tpt_cards_dialog_get_type ())
G_DECLARE_FINAL_TYPE (TptCardsDialog, tpt_cards_dialog, TPT, CARDS_DIALOG, AdwWindow)

/* @station (nullable): whose deployment is chosen where a card itself does not
 * tell another. */
TptCardsDialog *tpt_cards_dialog_new (GtkWindow *parent, TptProject *project, const char *station);

/* (transfer none): the card of @folder, which is looked through at once; the one
 * in the list already when there is one. @title (nullable): instead of the
 * folder's name. */
TptCard *tpt_cards_dialog_add (TptCardsDialog *self, const char *folder, const char *title);

/* Shows the window of this project, a new one if there is none, with @folders
 * (nullable, %NULL-terminated) in its list. */
void tpt_cards_dialog_present (GtkWindow *parent, TptProject *project, const char *station, const char *const *folders);

G_END_DECLS
