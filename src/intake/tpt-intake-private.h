/* The parts of an intake, shared within intake/ only. */
#pragma once

#include "tpt-intake-run.h"

G_BEGIN_DECLS

/* %FALSE with %TPT_ERROR_USAGE for places where nothing may be written. */
gboolean tpt_intake_check_request (const TptIntakeRequest *request, GError **error);

/* (transfer full): empty lists; @others is still missing. */
TptIntake *tpt_intake_new (void);

/* @kept: (nullable) */
void tpt_intake_add_trouble (GPtrArray *list, const char *source, const char *reason, const char *kept);

/* From what was copied, in the card's order, to frames in the order of time
 * with their instants and triggers. */
void tpt_intake_make_records (const TptIntakeRequest *request, TptIntake *intake);

G_END_DECLS
