/* Looks the project over and lists what is wrong. */
#pragma once

#include <adwaita.h>

#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_CHECK_DIALOG (tpt_check_dialog_get_type ())
G_DECLARE_FINAL_TYPE (TptCheckDialog, tpt_check_dialog, TPT, CHECK_DIALOG, AdwWindow)

void tpt_check_dialog_present (GtkWindow *parent, TptProject *project);

G_END_DECLS
