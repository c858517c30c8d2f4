/* Takes the last action back, or does the last one taken back again. */
#pragma once

#include "tpt-job.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_UNDO (tpt_job_undo_get_type ())
G_DECLARE_FINAL_TYPE (TptJobUndo, tpt_job_undo, TPT, JOB_UNDO, TptJob)

TptJobUndo *tpt_job_undo_new (gboolean redo);

/* What was undone or redone, in the words of the history. */
const char *tpt_job_undo_get_what (TptJobUndo *self);

G_END_DECLS
