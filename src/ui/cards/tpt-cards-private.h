/* What the parts of the window for cards share. */
#pragma once

#include "tpt-card-sources.h"
#include "tpt-cards-dialog.h"

G_BEGIN_DECLS

struct _TptCardsDialog {
  AdwWindow parent_instance;

  TptProject *project;           /* (owned) (nullable): until closed */
  char *station;                 /* (owned) (nullable) */
  GListStore *cards;             /* (owned) (element-type TptCard) */
  GPtrArray *in_run;             /* (owned) (element-type TptCard): asked for together */
  TptCardSources *sources;       /* (owned) */
  GtkFileChooserNative *chooser; /* (owned) (nullable) */

  GtkStack *content;             /* none, cards */
  GtkListBox *list;
  GtkStack *pages;
  GtkProgressBar *overall;
  GtkWidget *cancel, *close, *take_this;
  GtkButton *sort, *take;
};

/* tpt-cards-dialog.c */
/* (transfer none) (nullable): the card whose page shows. */
TptCard *tpt_cards_get_selected (TptCardsDialog *self);

/* tpt-cards-run.c: which cards are taken in, and how far that is. */
void tpt_cards_take_all (TptCardsDialog *self);
void tpt_cards_take_selected (TptCardsDialog *self);
gboolean tpt_cards_is_running (TptCardsDialog *self);
void tpt_cards_stop (TptCardsDialog *self);
void tpt_cards_sort_selected (TptCardsDialog *self);
/* Starts the next card when its turn has come, and shows what can be done. */
void tpt_cards_update (TptCardsDialog *self);
void tpt_cards_update_progress (TptCardsDialog *self);

G_END_DECLS
