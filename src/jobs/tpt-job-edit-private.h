/* An edit that works out what to save from the project as it is then. */
#pragma once

#include "tpt-job-edit.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/* Runs inside the action, before anything is saved, on the project's thread:
 * adds what is to be saved with tpt_job_edit_save(). %FALSE with @error ends
 * the edit with nothing changed. */
typedef gboolean (*TptJobEditPrepare) (TptJobEdit *self, TptStore *store, gpointer data, GError **error);

/* @data is freed with @destroy when the job is. */
void tpt_job_edit_set_prepare (TptJobEdit *self, TptJobEditPrepare prepare, gpointer data, GDestroyNotify destroy);

/* Names the record at fault, which must live as long as the job; always %FALSE. */
gboolean tpt_job_edit_blame (TptJobEdit *self, TptRecord *fault, const char *column);

G_END_DECLS
