/* The clock of a batch that is on record: what was done to it, and putting it
 * another way. */
#pragma once

#include "tpt-form-dialog.h"

G_BEGIN_DECLS

#define TPT_TYPE_CLOCK_DIALOG (tpt_clock_dialog_get_type ())
G_DECLARE_FINAL_TYPE (TptClockDialog, tpt_clock_dialog, TPT, CLOCK_DIALOG, TptFormDialog)

/* @batch: code of a batch. It is looked at at once, in the background. */
TptClockDialog *tpt_clock_dialog_new (GtkWindow *parent, TptProject *project, const char *batch);
void tpt_clock_dialog_present (GtkWindow *parent, TptProject *project, const char *batch);

G_END_DECLS
