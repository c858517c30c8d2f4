/* Taking a card in: which folder, which deployment, and what came of it. */
#pragma once

#include "tpt-form-dialog.h"

G_BEGIN_DECLS

#define TPT_TYPE_INTAKE_DIALOG (tpt_intake_dialog_get_type ())
G_DECLARE_FINAL_TYPE (TptIntakeDialog, tpt_intake_dialog, TPT, INTAKE_DIALOG, TptFormDialog)

/* @station (nullable): whose deployment is chosen at first. */
TptIntakeDialog *tpt_intake_dialog_new (GtkWindow *parent, TptProject *project, const char *station);
void tpt_intake_dialog_set_folder (TptIntakeDialog *self, const char *path);
void tpt_intake_dialog_present (GtkWindow *parent, TptProject *project, const char *station);

G_END_DECLS
