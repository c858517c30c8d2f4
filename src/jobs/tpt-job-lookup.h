/* The records of a table, for lists and forms. */
#pragma once

#include "tpt-job.h"
#include "tpt-record.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_LOOKUP (tpt_job_lookup_get_type ())
G_DECLARE_FINAL_TYPE (TptJobLookup, tpt_job_lookup, TPT, JOB_LOOKUP, TptJob)

/* @column and @value as for the rows of one station or unit; %NULL for all. */
TptJobLookup *tpt_job_lookup_new (TptTableId table, const char *column, const char *value);

/* (transfer none): items are #TptRecord. */
GListModel *tpt_job_lookup_get_records (TptJobLookup *self);

G_END_DECLS
