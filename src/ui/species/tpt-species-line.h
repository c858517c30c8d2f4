/* A line of the species list: what it is called, how secret it is, how often it
 * was seen.
 *
 * Signals "edit-asked", "remove-asked".
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-job-species.h"

G_BEGIN_DECLS

#define TPT_TYPE_SPECIES_LINE (tpt_species_line_get_type ())
G_DECLARE_FINAL_TYPE (TptSpeciesLine, tpt_species_line, TPT, SPECIES_LINE, GtkListBoxRow)

/* @writable: the list can be changed. */
GtkWidget *tpt_species_line_new (const TptSpeciesEntry *entry, gboolean writable);

/* (transfer none) */
TptRecord *tpt_species_line_get_record (TptSpeciesLine *self);

/* Whether every word of @text, folded, is in one of its names. */
gboolean tpt_species_line_fits (TptSpeciesLine *self, const char *text);

G_END_DECLS
