/* A visit's facts and plan with the project file at hand. */
#pragma once

#include "tpt-store.h"
#include "tpt-visit-facts.h"
#include "tpt-visit-plan.h"

G_BEGIN_DECLS

/* (transfer full) (nullable): without units that are not in the rig; %NULL with
 * TPT_ERROR_DATA when there is no such station. */
TptVisitFacts *tpt_visit_facts_read (TptStore *store, const char *station, TptInstant at, GError **error);

/* Adds what is known of one unit. One that does not exist is passed over. */
gboolean tpt_visit_facts_add_unit (TptVisitFacts *self, TptStore *store, const char *unit, GError **error);
/* The same for the units and replacements that @lines (element-type
 * TptVisitLine) name, or for every unit. */
gboolean tpt_visit_facts_add_lines (TptVisitFacts *self, TptStore *store, GPtrArray *lines, GError **error);
gboolean tpt_visit_facts_add_all (TptVisitFacts *self, TptStore *store, GError **error);

G_END_DECLS
