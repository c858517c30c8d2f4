/* Card batches to choose from, the newest first, all of them before that.
 *
 * Signal "chosen": somebody chose another one. "entered": Enter in the list; the
 * keyboard is to go to what is in the batch.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-job-batches.h"

G_BEGIN_DECLS

#define TPT_TYPE_BATCH_LIST (tpt_batch_list_get_type ())
G_DECLARE_FINAL_TYPE (TptBatchList, tpt_batch_list, TPT, BATCH_LIST, GtkWidget)

TptBatchList *tpt_batch_list_new (void);

/* @batches: (element-type TptBatchState): kept. The choice stays where it can;
 * otherwise it is all of them, and "chosen" tells. */
void tpt_batch_list_set_batches (TptBatchList *self, GPtrArray *batches, TptZone *zone, TptInstant now);

/* (nullable): the code; %NULL for all. */
const char *tpt_batch_list_get_chosen (TptBatchList *self);
/* Emits nothing. One that is not there yet is chosen once it comes. */
void tpt_batch_list_set_chosen (TptBatchList *self, const char *batch);

/**
 * tpt_batch_list_find_next:
 * @self: the list
 * @done: (element-type utf8): codes that are passed over
 *
 * Which batch is to be scored next: the one that is chosen, then those with something left
 * to name, then the rest, each with triggers without a score.
 *
 * Returns: (nullable) (transfer none)
 */
const TptBatchState *tpt_batch_list_find_next (TptBatchList *self, GHashTable *done);

/* (nullable) (transfer none): of the one that is chosen, or of all together. */
const TptBatchState *tpt_batch_list_get_state (TptBatchList *self);

G_END_DECLS
