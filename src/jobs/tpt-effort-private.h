/* Effort, for the jobs that need it beside something else. */
#pragma once

#include "tpt-job-effort.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/* (transfer full) (element-type TptEffort): see tpt_job_effort_new(). */
GPtrArray *tpt_effort_read (TptStore *store, const TptFilter *filter, TptInstant now, GError **error);

void tpt_effort_free (gpointer effort);

G_END_DECLS
