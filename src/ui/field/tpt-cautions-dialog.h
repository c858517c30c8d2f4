/* Where the work can hurt somebody. */
#pragma once

#include <adwaita.h>

G_BEGIN_DECLS

#define TPT_TYPE_CAUTIONS_DIALOG (tpt_cautions_dialog_get_type ())
G_DECLARE_FINAL_TYPE (TptCautionsDialog, tpt_cautions_dialog, TPT, CAUTIONS_DIALOG, AdwWindow)

void tpt_cautions_dialog_present (GtkWindow *parent);

G_END_DECLS
