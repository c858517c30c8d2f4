/* The species of the project: names, how secret their places are, and a list to
 * begin with. */
#pragma once

#include <adwaita.h>

#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_SPECIES_DIALOG (tpt_species_dialog_get_type ())
G_DECLARE_FINAL_TYPE (TptSpeciesDialog, tpt_species_dialog, TPT, SPECIES_DIALOG, AdwWindow)

TptSpeciesDialog *tpt_species_dialog_new (GtkWindow *parent, TptProject *project);
void tpt_species_dialog_present (GtkWindow *parent, TptProject *project);

G_END_DECLS
