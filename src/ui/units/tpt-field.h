/* One column of a record as a labelled entry or choice that is checked as it
 * is typed. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-record.h"

G_BEGIN_DECLS

#define TPT_TYPE_FIELD (tpt_field_get_type ())
G_DECLARE_FINAL_TYPE (TptField, tpt_field, TPT, FIELD, GtkWidget)

/* Signal "changed": what is in it is another than before. */
TptField *tpt_field_new (const TptColumn *column, TptZone *zone);

const TptColumn *tpt_field_get_column (TptField *self);

/* Codes to choose from, for a reference; @labels are shown instead. Both
 * %NULL-terminated and of one length. */
void tpt_field_set_codes (TptField *self, const char *const *codes, const char *const *labels);

/* The text as a table would have it; "" for unknown. */
char *tpt_field_get_text (TptField *self);
void tpt_field_set_text (TptField *self, const char *text);

/* A moment as people write it; with its offset only where that is in doubt. */
void tpt_field_set_instant (TptField *self, TptInstant instant);

/* Without its label where a heading above says the same. */
void tpt_field_hide_label (TptField *self);

/* (nullable): why what is in it cannot be taken. */
const char *tpt_field_get_error (TptField *self);
/* Shows a reason found elsewhere; the next change takes it away. */
void tpt_field_set_error (TptField *self, const char *reason);

/* Puts the value into @record; %FALSE and untouched when it cannot be taken. */
gboolean tpt_field_apply (TptField *self, TptRecord *record);

G_END_DECLS
