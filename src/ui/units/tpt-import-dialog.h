/* Importing tables, waypoints and tracks: first looked at, then taken. */
#pragma once

#include "tpt-form-dialog.h"

G_BEGIN_DECLS

#define TPT_TYPE_IMPORT_DIALOG (tpt_import_dialog_get_type ())
G_DECLARE_FINAL_TYPE (TptImportDialog, tpt_import_dialog, TPT, IMPORT_DIALOG, TptFormDialog)

TptImportDialog *tpt_import_dialog_new (GtkWindow *parent, TptProject *project);

/* Looks at the files: paths, %NULL-terminated. */
void tpt_import_dialog_set_files (TptImportDialog *self, const char *const *paths);
void tpt_import_dialog_present (GtkWindow *parent, TptProject *project);

G_END_DECLS
