/* Checks the picture and the power of a rig while it is being set out: a few
 * things to type, and what follows from them at once, in words. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-rig-helper.h"

G_BEGIN_DECLS

#define TPT_TYPE_RIG_PANEL (tpt_rig_panel_get_type ())
G_DECLARE_FINAL_TYPE (TptRigPanel, tpt_rig_panel, TPT, RIG_PANEL, GtkWidget)

TptRigPanel *tpt_rig_panel_new (void);

/* What the form around the panel says of how the rig is set; a deployment. */
void tpt_rig_panel_set_deployment (TptRigPanel *self, TptRecord *deployment);

/* (element-type TptRecord): the units chosen. Number and power of the flashes
 * follow them. */
void tpt_rig_panel_set_units (TptRigPanel *self, GPtrArray *units);

/* The expected triggers a day, unless somebody has typed a number. */
void tpt_rig_panel_suggest_rate (TptRigPanel *self, double triggers_per_day);

G_END_DECLS
