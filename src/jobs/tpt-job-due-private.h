/* What is due, for the jobs that need it beside something else. */
#pragma once

#include "tpt-job-due.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/* Runs @self inside another job. */
gboolean tpt_job_due_compute (TptJobDue *self, TptStore *store, GCancellable *cancellable, GError **error);

G_END_DECLS
