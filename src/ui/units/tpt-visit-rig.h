/* The units of the rig that stood at the moment of a visit, a row for each. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-visit-plan.h"

G_BEGIN_DECLS

#define TPT_TYPE_VISIT_RIG (tpt_visit_rig_get_type ())
G_DECLARE_FINAL_TYPE (TptVisitRig, tpt_visit_rig, TPT, VISIT_RIG, GtkWidget)

/* Signals "changed", and "done": Enter or Down in the last row. */
TptVisitRig *tpt_visit_rig_new (gboolean bring_in);

/* Makes the rows anew. What was said about a unit that is in this rig as well
 * stays as it is. */
void tpt_visit_rig_set_facts (TptVisitRig *self, const TptVisitFacts *facts);
void tpt_visit_rig_set_found (TptVisitRig *self, const char *found);
/* Working, for every unit whose state nobody has said. */
void tpt_visit_rig_say_working (TptVisitRig *self);

gboolean tpt_visit_rig_is_valid (TptVisitRig *self);
/* (transfer full) (element-type TptVisitLine): what was said, in order. */
GPtrArray *tpt_visit_rig_make_lines (TptVisitRig *self);

/* Shows each of @faults (element-type TptVisitFault; of the lines made last) at
 * its row, and takes away those that were there before. */
void tpt_visit_rig_show_faults (TptVisitRig *self, GPtrArray *faults);

G_END_DECLS
