/* A step of a clock that can be switched: what is wrong and why we think so, and
 * a frame before and after it. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-job-survey.h"

G_BEGIN_DECLS

/* (transfer full, floating): a #GtkCheckButton, off; nothing of @step is kept. */
GtkWidget *tpt_card_step_new (const TptClockStep *step, TptZone *zone);

/* (transfer none): the id of the step that @check was made for. */
const char *tpt_card_step_get_id (GtkWidget *check);

G_END_DECLS
