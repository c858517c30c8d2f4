/* Setting a rig out: when, how, and which units from the shelf. */
#pragma once

#include "tpt-form-dialog.h"

G_BEGIN_DECLS

#define TPT_TYPE_SET_OUT_DIALOG (tpt_set_out_dialog_get_type ())
G_DECLARE_FINAL_TYPE (TptSetOutDialog, tpt_set_out_dialog, TPT, SET_OUT_DIALOG, TptFormDialog)

TptSetOutDialog *tpt_set_out_dialog_new (GtkWindow *parent, TptProject *project, const char *station);
void tpt_set_out_dialog_present (GtkWindow *parent, TptProject *project, const char *station);

G_END_DECLS
