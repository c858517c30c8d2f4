/* Which triggers have a score for being empty, and writing it down.
 *
 * Only batches that count, and only triggers that have frames, exist here. A
 * score is worked out anew at any time, so it goes past the journal: undo does not
 * know it, and it does not stand in undo's way.
 */
#pragma once

#include "tpt-store.h"

G_BEGIN_DECLS

/* One trigger of a deployment. */
typedef struct {
  gint64 trigger_id;
  TptInstant start;
  int frames;
  gboolean wanted; /* a score is to be worked out */
} TptScoreTrigger;

/**
 * tpt_store_list_unscored:
 * @batch: (nullable): code; %NULL for all
 * @again: those with a score too
 *
 * Returns: (element-type gint64): deployments with triggers whose score is wanted;
 *   TPT_ERROR_DATA when there is no such batch
 */
GArray *tpt_store_list_unscored (TptStore *self, const char *batch, gboolean again, GError **error);

/* (element-type TptScoreTrigger): all of a deployment, by start; @wanted as for
 * tpt_store_list_unscored(). */
GArray *tpt_store_read_score_triggers (TptStore *self, gint64 deployment_id, const char *batch, gboolean again, GError **error);

/* A picture of a trigger; clips are left out. */
typedef struct {
  char *file; /* (owned): relative to the project's folder */
  int flash;  /* 1 fired, 0 not, -1 unknown */
} TptScorePicture;

/* (element-type TptScorePicture): by time. */
GArray *tpt_store_read_score_pictures (TptStore *self, gint64 trigger_id, GError **error);

typedef struct {
  gint64 trigger_id;
  int frames;   /* as it had when it was looked at; one that has others now is passed over */
  double score; /* 0 to 1 */
} TptScore;

/**
 * tpt_store_write_scores:
 *
 * An action of its own without an entry in the journal: all of @scores or none.
 */
gboolean tpt_store_write_scores (TptStore *self, const TptScore *scores, gsize n, GError **error);

G_END_DECLS
