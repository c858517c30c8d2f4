/* From what is on record about a rig to the inputs of its run-out forecast. */
#pragma once

#include "sci-runout.h"
#include "tpt-query.h"
#include "tpt-station-item.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/* Everything known at the moment of asking, read once for all stations. */
typedef struct {
  TptStore *store;
  TptInstant on;
  TptInstant until;
  double threshold;
  GHashTable *units;         /* (owned) (element-type utf8 TptRecord) */
  GHashTable *fittings;      /* (owned) (element-type utf8 GPtrArray): by deployment */
  GHashTable *visits;        /* (owned) (element-type utf8 GPtrArray): by station, up to @on */
  GArray *readings;          /* (owned) (element-type TptLastReading): by unit */
  double prior_a, prior_b;   /* gamma prior of triggers per day */
} TptDueFacts;

TptDueFacts *tpt_due_facts_new (TptStore *store, TptInstant on, TptInstant until, GError **error);
void tpt_due_facts_free (TptDueFacts *facts);

/* Fills the forecast of @item, which has a deployment. */
gboolean tpt_due_forecast (TptDueFacts *facts, TptStationItem *item, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptDueFacts, tpt_due_facts_free)

G_END_DECLS
