/* Writes the demo project into a folder of the user's choice.
 *
 * Signal "written" (path): the project file, ready to be opened.
 */
#pragma once

#include <adwaita.h>

G_BEGIN_DECLS

#define TPT_TYPE_DEMO_DIALOG (tpt_demo_dialog_get_type ())
G_DECLARE_FINAL_TYPE (TptDemoDialog, tpt_demo_dialog, TPT, DEMO_DIALOG, AdwWindow)

TptDemoDialog *tpt_demo_dialog_new (GtkWindow *parent);

/* Begins at once, without asking for a folder. @folder: made if missing; when
 * it holds something, a new folder inside it is used. */
void tpt_demo_dialog_write (TptDemoDialog *self, const char *folder);

G_END_DECLS
