/* The columns of a table as fields, in sections; only those that fit. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-field.h"
#include "tpt-record.h"

G_BEGIN_DECLS

#define TPT_TYPE_RECORD_FORM (tpt_record_form_get_type ())
G_DECLARE_FINAL_TYPE (TptRecordForm, tpt_record_form, TPT, RECORD_FORM, GtkWidget)

/* Stations, units, visits, log entries, stock and species. Signal "changed". */
TptRecordForm *tpt_record_form_new (TptTableId table, TptZone *zone);

void tpt_record_form_load (TptRecordForm *self, TptRecord *record);

/* Every field that shows into @record, then the row as a whole. */
gboolean tpt_record_form_apply (TptRecordForm *self, TptRecord *record);
gboolean tpt_record_form_is_valid (TptRecordForm *self);
/* The same; @reason: (out) (transfer full) (nullable): why every field is right
 * by itself and the row is not. */
gboolean tpt_record_form_check (TptRecordForm *self, char **reason);

/* (nullable): the field of @column. */
TptField *tpt_record_form_get_field (TptRecordForm *self, const char *column);

G_END_DECLS
