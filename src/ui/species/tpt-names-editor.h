/* The common names of a species, a line for each language. A name that is
 * emptied is taken away.
 *
 * Signal "changed".
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-record.h"

G_BEGIN_DECLS

#define TPT_TYPE_NAMES_EDITOR (tpt_names_editor_get_type ())
G_DECLARE_FINAL_TYPE (TptNamesEditor, tpt_names_editor, TPT, NAMES_EDITOR, GtkWidget)

GtkWidget *tpt_names_editor_new (void);

/* @species (nullable): whose names to show; %NULL for a new one. */
void tpt_names_editor_load (TptNamesEditor *self, TptRecord *species);
void tpt_names_editor_apply (TptNamesEditor *self, TptRecord *species);

/* %FALSE while a name stands beside something that is no code of a language,
 * or a language is there twice; @reason: (out) (transfer full) (nullable). */
gboolean tpt_names_editor_check (TptNamesEditor *self, char **reason);

G_END_DECLS
