/* A visit in one form: recording one, and bringing a rig in. */
#pragma once

#include "tpt-form-dialog.h"

G_BEGIN_DECLS

#define TPT_TYPE_VISIT_DIALOG (tpt_visit_dialog_get_type ())
G_DECLARE_FINAL_TYPE (TptVisitDialog, tpt_visit_dialog, TPT, VISIT_DIALOG, TptFormDialog)

/* @bring_in: the visit also ends the deployment and everything fitted in it. */
TptVisitDialog *tpt_visit_dialog_new (GtkWindow *parent, TptProject *project, const char *station, gboolean bring_in);

/* The rig of that moment is there and rows have been made. */
gboolean tpt_visit_dialog_is_ready (TptVisitDialog *self);

void tpt_visit_dialog_present (GtkWindow *parent, TptProject *project, const char *station);

G_END_DECLS
