/* What fired, and what somebody made of it: bulk rows for the share of triggers
 * that were false. Only triggers of batches that count are seen. */
#pragma once

#include "tpt-store.h"

G_BEGIN_DECLS

/* A trigger, from its first frame to its last. */
typedef struct {
  gint64 deployment_id;
  TptInstant start;
  TptInstant end;
} TptFiring;

/* (element-type TptFiring): those with a known time, by deployment and start;
 * %NULL with @error when the file fails. */
GArray *tpt_store_read_firings (TptStore *self, GError **error);

/**
 * TptVerdict: an observation that says what was there, not one that is still
 * to be classified.
 * @start: of the trigger or frame it is about; its own where it names neither
 * @end: likewise
 * @blank: nothing was there
 */
typedef struct {
  gint64 deployment_id;
  TptInstant start;
  TptInstant end;
  gboolean blank;
} TptVerdict;

/* (element-type TptVerdict): by deployment and start; %NULL with @error. */
GArray *tpt_store_read_verdicts (TptStore *self, GError **error);

G_END_DECLS
