/* Makes visit sheets: for which stations, on which paper, with places or not. */
#pragma once

#include <adwaita.h>

#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_SHEET_DIALOG (tpt_sheet_dialog_get_type ())
G_DECLARE_FINAL_TYPE (TptSheetDialog, tpt_sheet_dialog, TPT, SHEET_DIALOG, AdwWindow)

/**
 * tpt_sheet_dialog_present:
 * @parent: (nullable): its "win.say" tells what was written
 * @station: (nullable): code of a station that can be chosen instead of all
 *   that are due
 *
 * Returns: (transfer none): the dialog, which is gone once it is closed
 */
TptSheetDialog *tpt_sheet_dialog_present (GtkWindow *parent, TptProject *project, const char *station);

/* Writes what is chosen to @path, as if a person had chosen that file; closes
 * the dialog when done and says so in the dialog when it fails. */
void tpt_sheet_dialog_write_to (TptSheetDialog *self, const char *path);

/* (transfer none): what went wrong last, in words; "" when nothing did. */
const char *tpt_sheet_dialog_get_fault (TptSheetDialog *self);

G_END_DECLS
