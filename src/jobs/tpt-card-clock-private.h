/* A clock plan on its way onto record. */
#pragma once

#include "tpt-batches.h"
#include "tpt-clock-plan.h"

G_BEGIN_DECLS

/* Pieces for the store, with the texts they point to. */
typedef struct {
  GArray *pieces;  /* (owned) (element-type TptClockPiece) */
  GPtrArray *texts; /* (owned) */
} TptCardPieces;

/* What the steps @ids come to. */
TptCardPieces *tpt_card_pieces_new (TptClockPlan *plan, const char *const *ids, const TptClockSight *sights);
void tpt_card_pieces_free (TptCardPieces *self);

/* Adds a sentence for each step that is proposed and not among @ids. */
void tpt_card_say_not_done (TptClockPlan *plan, const char *const *ids, GPtrArray *doubts);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptCardPieces, tpt_card_pieces_free)

G_END_DECLS
