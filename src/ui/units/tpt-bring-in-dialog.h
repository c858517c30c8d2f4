/* The end of a deployment: a last visit, and the rig comes home. */
#pragma once

#include "tpt-visit-dialog.h"

G_BEGIN_DECLS

void tpt_bring_in_dialog_present (GtkWindow *parent, TptProject *project, const char *station);

G_END_DECLS
