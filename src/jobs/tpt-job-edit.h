/* Saves and removes records as one action. */
#pragma once

#include "tpt-job.h"
#include "tpt-record.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_EDIT (tpt_job_edit_get_type ())
G_DECLARE_FINAL_TYPE (TptJobEdit, tpt_job_edit, TPT, JOB_EDIT, TptJob)

/* @what names the action in the history: "Record visit at Otter bank". */
TptJobEdit *tpt_job_edit_new (const char *what);

/**
 * tpt_job_edit_save:
 *
 * Records are saved in the order given. A new record whose code is on record
 * already is refused with TPT_ERROR_DATA. A new visit or deployment without a
 * code gets one made of its station and day; a reading without a visit and a
 * fitting without a deployment belong to the one saved before them.
 */
void tpt_job_edit_save (TptJobEdit *self, TptRecord *record);
void tpt_job_edit_remove (TptJobEdit *self, TptRecord *record);
void tpt_job_edit_set_setting (TptJobEdit *self, const char *key, const char *value);

/* After a refusal: the record at fault and its column, each %NULL when the
 * failure had nothing to do with one. */
TptRecord *tpt_job_edit_get_fault (TptJobEdit *self, const char **column);

G_END_DECLS
