/* A card batch of the list: whose it is, of which days, and how far naming is. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-job-batches.h"

G_BEGIN_DECLS

#define TPT_TYPE_BATCH_LINE (tpt_batch_line_get_type ())
G_DECLARE_FINAL_TYPE (TptBatchLine, tpt_batch_line, TPT, BATCH_LINE, GtkListBoxRow)

TptBatchLine *tpt_batch_line_new (void);

/* @state: @batch of "" stands for all of them; copied as far as needed. */
void tpt_batch_line_show (TptBatchLine *self, const TptBatchState *state, TptZone *zone, TptInstant now);

const char *tpt_batch_line_get_batch (TptBatchLine *self);

/* (transfer full): "298 of 312 triggers to name". */
char *tpt_batch_words_progress (const TptBatchState *state);

G_END_DECLS
