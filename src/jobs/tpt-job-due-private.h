/* What is due, for the jobs that need it beside something else. */
#pragma once

#include "tpt-job-due.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/* Runs @self inside another job. */
gboolean tpt_job_due_compute (TptJobDue *self, TptStore *store, GCancellable *cancellable, GError **error);

/* (transfer full): results as of a run of @base with another next round, on
 * the same axis; @items
 * (transfer none) (element-type TptStationItem) are its stations in any order. */
TptJobDue *tpt_job_due_derive (TptJobDue *base, TptInstant until, GPtrArray *items);

G_END_DECLS
