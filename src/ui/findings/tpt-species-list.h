/* The species of the findings, all together on top.
 *
 * Signal "chosen": somebody chose another row.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-job-findings.h"

G_BEGIN_DECLS

#define TPT_TYPE_SPECIES_LIST (tpt_species_list_get_type ())
G_DECLARE_FINAL_TYPE (TptSpeciesList, tpt_species_list, TPT, SPECIES_LIST, GtkWidget)

/* @species (nullable): items are #TptSpeciesItem. What was chosen stays chosen
 * if it is still there, else all are; emits nothing. */
void tpt_species_list_set_species (TptSpeciesList *self, GListModel *species);

/* The scientific name of what is chosen; %NULL for all. */
const char *tpt_species_list_get_chosen (TptSpeciesList *self);

/* Emits nothing. A name that is not on the list chooses all. */
void tpt_species_list_set_chosen (TptSpeciesList *self, const char *scientific);

/* (transfer none): what the rows are of, the one for all first. */
GtkSelectionModel *tpt_species_list_get_model (TptSpeciesList *self);

G_END_DECLS
