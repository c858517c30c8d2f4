/* The species of the findings, all together on top. Typing the beginning of a word of a
 * name chooses it.
 *
 * Signals: "chosen": somebody chose another row. "beside" (char *scientific name): somebody wants a
 * species beside the chosen one: Control and a click, or Control+Enter on its row.
 * "menu-asked" (char *scientific name, GtkWidget *row): the right button, or the menu key.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-job-findings.h"

G_BEGIN_DECLS

#define TPT_TYPE_SPECIES_LIST (tpt_species_list_get_type ())
G_DECLARE_FINAL_TYPE (TptSpeciesList, tpt_species_list, TPT, SPECIES_LIST, GtkWidget)

/* @species (nullable): items are #TptSpeciesItem. What was chosen stays chosen
 * if it is still there, else all are; emits nothing. The rows are in the list's own order. */
void tpt_species_list_set_species (TptSpeciesList *self, GListModel *species);

/* The scientific name of what is chosen; %NULL for all. */
const char *tpt_species_list_get_chosen (TptSpeciesList *self);

/* Emits nothing. A name that is not on the list chooses all. */
void tpt_species_list_set_chosen (TptSpeciesList *self, const char *scientific);

/* The species that stands beside what is chosen; %NULL for none. */
void tpt_species_list_set_beside (TptSpeciesList *self, const char *scientific);

/* (transfer full) (nullable): how a species is called; %NULL for one that is not on the list. */
char *tpt_species_list_get_title (TptSpeciesList *self, const char *scientific);

typedef enum {
  TPT_SPECIES_BY_DETECTIONS,
  TPT_SPECIES_BY_STATIONS,
  TPT_SPECIES_BY_RATE,
  TPT_SPECIES_BY_TITLE,
} TptSpeciesOrder;

/* As the drop-down does. */
void tpt_species_list_set_order (TptSpeciesList *self, TptSpeciesOrder order);

/* (transfer none): what the rows are of, the one for all first. */
GtkSelectionModel *tpt_species_list_get_model (TptSpeciesList *self);

G_END_DECLS
