/* The whole life of one unit, wherever it stood. */
#pragma once

#include <adwaita.h>

#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_UNIT_LOG_DIALOG (tpt_unit_log_dialog_get_type ())
G_DECLARE_FINAL_TYPE (TptUnitLogDialog, tpt_unit_log_dialog, TPT, UNIT_LOG_DIALOG, AdwWindow)

/* @unit: its code. */
void tpt_unit_log_dialog_present (GtkWindow *parent, TptProject *project, const char *unit);

G_END_DECLS
