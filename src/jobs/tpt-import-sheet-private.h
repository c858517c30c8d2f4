/* A field sheet between its rows and the records they come to: read in
 * tpt-import-sheet.c, saved in tpt-import-sheet-save.c. */
#pragma once

#include "tpt-import-private.h"
#include "tpt-visit-plan.h"

G_BEGIN_DECLS

/* One visit of the file, gathered from its rows. */
typedef struct {
  TptRecord *visit;  /* (owned) */
  GPtrArray *lines;  /* (owned) (element-type TptVisitLine) */
  GArray *rows;      /* (element-type gint64): the line of the file of each of @lines */
  gint64 first_row;
} TptFilledVisit;

typedef struct {
  TptStore *store;
  TptCsvReader *reader;
  const char *file;
  GPtrArray *visits;  /* (owned) (element-type TptFilledVisit) */
  GHashTable *by_key; /* (element-type utf8 TptFilledVisit) */
  gint64 blank_row;   /* the first row without a moment and with nothing said; 0 for none */
  TptImportCounts *counts;
  GPtrArray *refusals;
} TptFilledSheet;

/* Saves every visit that is not on record, in order of time, and compares those
 * that are; what cannot be is among the refusals. */
gboolean tpt_filled_sheet_save (TptFilledSheet *self, GCancellable *cancellable, GError **error);

G_END_DECLS
