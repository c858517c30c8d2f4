/* The findings run inside another job, such as that of a figure. */
#pragma once

#include "tpt-job-activity.h"
#include "tpt-job-matrix.h"
#include "tpt-job-months.h"
#include "tpt-job-richness.h"
#include "tpt-store.h"

G_BEGIN_DECLS

gboolean tpt_job_activity_compute (TptJobActivity *self, TptStore *store, GCancellable *cancellable, GError **error);
gboolean tpt_job_months_compute (TptJobMonths *self, TptStore *store, GCancellable *cancellable, GError **error);
gboolean tpt_job_matrix_compute (TptJobMatrix *self, TptStore *store, GCancellable *cancellable, GError **error);
gboolean tpt_job_richness_compute (TptJobRichness *self, TptStore *store, GCancellable *cancellable, GError **error);

G_END_DECLS
