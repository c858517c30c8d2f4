/* A new project: its name, its zone, its file. */
#pragma once

#include "tpt-form-dialog.h"

G_BEGIN_DECLS

typedef void (*TptNewProjectFunc) (TptProject *project, gpointer data);

#define TPT_TYPE_NEW_PROJECT_DIALOG (tpt_new_project_dialog_get_type ())
G_DECLARE_FINAL_TYPE (TptNewProjectDialog, tpt_new_project_dialog, TPT, NEW_PROJECT_DIALOG, TptFormDialog)

/* @func is called with the project made, which is watched already and goes
 * unless @func takes a reference; not at all once the dialog is closed. */
TptNewProjectDialog *tpt_new_project_dialog_new (GtkWindow *parent, TptNewProjectFunc func, gpointer data);
void tpt_new_project_dialog_set_file (TptNewProjectDialog *self, const char *path);
void tpt_new_project_dialog_present (GtkWindow *parent, TptNewProjectFunc func, gpointer data);

G_END_DECLS
