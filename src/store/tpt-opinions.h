/* What people say a trigger shows, marks on frames, and the limits between
 * triggers. Everything that writes does so inside an action and is journaled.
 */
#pragma once

#include "tpt-store.h"

G_BEGIN_DECLS

/* A trigger that counts and has frames. */
typedef struct {
  gint64 id;
  gint64 deployment_id;
  TptInstant start, end;
} TptTriggerFacts;

/* %FALSE without @error when there is none. */
gboolean tpt_store_read_trigger (TptStore *self, gint64 trigger_id, TptTriggerFacts *facts, GError **error);

/* Opinions from this number on stand beside the one that counts as well, but
 * the difference has been settled: nobody is asked about it any more. */
#define TPT_OPINION_SETTLED 50
#define TPT_OPINION_MOST 99 /* as in the table of observations */

/**
 * TptOpinion: one observation of a trigger or of a single frame.
 * @id: 0 for one that is not on record yet
 * @opinion: 1 counts, others stand beside it; see %TPT_OPINION_SETTLED
 * Strings of what is read are owned; of what is written they are the caller's.
 */
typedef struct {
  gint64 id;
  char *observation;
  char *type;
  gint64 species_id; /* 0: none */
  char *species;     /* scientific name; read only */
  int count;         /* 0 unknown */
  char *sex;
  char *life_stage;
  char *behaviour;
  char *individual;
  char *notes;
  double certainty; /* or NAN */
  char *by;
  TptInstant at;
  int opinion;
} TptOpinion;

/* (element-type TptOpinion): of a trigger and of its frames, by opinion, then code. */
GArray *tpt_store_read_opinions (TptStore *self, gint64 trigger_id, GError **error);
/* Of a frame that belongs to no trigger. */
GArray *tpt_store_read_frame_opinions (TptStore *self, gint64 frame_id, GError **error);

/* Writes over the observation with @opinion's id, or adds one, of @trigger, with its start and end. */
gboolean tpt_store_put_opinion (TptStore *self, const TptTriggerFacts *trigger, const TptOpinion *opinion, GError **error);
gboolean tpt_store_drop_opinion (TptStore *self, gint64 id, GError **error);
gboolean tpt_store_number_opinion (TptStore *self, gint64 id, int opinion, GError **error);

/* Sets or takes away a mark; @changed tells whether it was not so already. */
gboolean tpt_store_mark_frame (TptStore *self, gint64 frame_id, const char *mark, gboolean on, const char *by,
                               gboolean *changed, GError **error);

/**
 * tpt_store_split_trigger:
 * @frame_id: the first frame of the new trigger
 * @trigger_id: (out): the new trigger
 *
 * The later frames leave their trigger, whose observations end with it. Scores
 * of the whole are forgotten.
 *
 * Returns: %FALSE with TPT_ERROR_DATA when the frame is gone, belongs to no trigger or is the first of its own
 */
gboolean tpt_store_split_trigger (TptStore *self, gint64 frame_id, gint64 *trigger_id, GError **error);

/**
 * tpt_store_join_trigger:
 * @trigger_id: (inout): joins the one before it in its batch, which is what is left
 *
 * What was said of both is said of the whole; the same thing said twice by the
 * same person at the same rank is kept once, and "blank" goes where the same
 * person saw something. The emptied trigger stays, with no frames.
 *
 * Returns: %FALSE with TPT_ERROR_DATA when it is gone or the first of its batch
 */
gboolean tpt_store_join_trigger (TptStore *self, gint64 *trigger_id, GError **error);

G_END_DECLS
