/* A new or edited station, unit, log entry, thing in stock or species, or an
 * edited visit. */
#pragma once

#include "tpt-form-dialog.h"

G_BEGIN_DECLS

#define TPT_TYPE_RECORD_DIALOG (tpt_record_dialog_get_type ())
G_DECLARE_FINAL_TYPE (TptRecordDialog, tpt_record_dialog, TPT, RECORD_DIALOG, TptFormDialog)

/* @record (nullable): the row to edit; %NULL, or one that was never saved, for
 * a new one, which then begins with what is in it. */
TptRecordDialog *tpt_record_dialog_new (GtkWindow *parent, TptProject *project, TptTableId table, TptRecord *record);
void tpt_record_dialog_present (GtkWindow *parent, TptProject *project, TptTableId table, TptRecord *record, gpointer unused);

G_END_DECLS
