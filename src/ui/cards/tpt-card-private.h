/* What the parts of a card share. */
#pragma once

#include "tpt-card.h"

G_BEGIN_DECLS

struct _TptCard {
  GObject parent_instance;

  TptProject *project;   /* (owned) */
  char *folder, *title;  /* (owned) */
  char *station;         /* (owned) (nullable): code */
  gboolean there;

  TptCardState state;
  char *trouble;         /* (owned) (nullable) */
  TptJob *running;       /* (owned) (nullable) */
  GCancellable *stop;    /* (owned) (nullable): of what is running */
  TptJobSurvey *survey;  /* (owned) (nullable): done */
  TptJobIntake *intake;  /* (owned) (nullable): done */

  int chosen;            /* among the survey's matches, -1 for none */
  int agreed;            /* the match whose objections somebody knows, -1 for none */
  char *begun_for;       /* (owned) (nullable): the deployment of an intake begun and not done */
  GHashTable *steps;     /* (owned) (element-type utf8 gpointer): ids switched by hand, and how */
  char *read, *true_time; /* (owned) (nullable) */
  gboolean pair_unclear;
};

/* tpt-card-choice.c */
/* The card's own evidence first, then where somebody came from; -1 for neither. */
int tpt_card_choose_first (TptCard *self);
/* (transfer container): ids of the steps that are on, %NULL at the end. */
GPtrArray *tpt_card_list_wanted_steps (TptCard *self);

G_END_DECLS
