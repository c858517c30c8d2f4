/* What the findings are about, each part as a small button that leaves it out. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-findings-choice.h"

G_BEGIN_DECLS

#define TPT_TYPE_CHOICE_CHIPS (tpt_choice_chips_get_type ())
G_DECLARE_FINAL_TYPE (TptChoiceChips, tpt_choice_chips, TPT, CHOICE_CHIPS, GtkWidget)

/* How a code or a scientific name is called. (transfer full) */
typedef char *(*TptNaming) (const char *code, gpointer data);

/**
 * tpt_choice_chips_show:
 * @choice: what a click leaves a part out of; keeps a reference
 * @zone: of the periods
 * @name_station: with @data
 * @name_species: with @data
 *
 * Hides itself when nothing is chosen. The keyboard stays among the chips when one goes.
 */
void tpt_choice_chips_show (TptChoiceChips *self, TptFindingsChoice *choice, TptZone *zone, TptNaming name_station,
                            TptNaming name_species, gpointer data);

G_END_DECLS
