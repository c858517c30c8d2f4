/* Chooses a name for many triggers at once. Signal "named" (species, scientific):
 * it was chosen, and the dialog closes. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_CHANGE_DIALOG (tpt_change_dialog_get_type ())
G_DECLARE_FINAL_TYPE (TptChangeDialog, tpt_change_dialog, TPT, CHANGE_DIALOG, GtkWindow)

/* @triggers: how many are meant. */
TptChangeDialog *tpt_change_dialog_new (GtkWindow *parent, TptProject *project, guint triggers);

G_END_DECLS
