/* Puts pieces to a stock item or takes some away, as one action. */
#pragma once

#include "tpt-job.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_COUNT (tpt_job_count_get_type ())
G_DECLARE_FINAL_TYPE (TptJobCount, tpt_job_count, TPT, JOB_COUNT, TptJob)

/* @what names the action in the history; @item: the code of the stock item;
 * @change: pieces to add, negative to take. Counted from what is on record when
 * the job runs, so that two people, or two quick clicks, both count. Refused
 * with TPT_ERROR_DATA when the item is gone or there are not so many pieces. */
TptJobCount *tpt_job_count_new (const char *what, const char *item, gint64 change);

/* The pieces there are now. */
gint64 tpt_job_count_get_pieces (TptJobCount *self);

G_END_DECLS
