/* What the project keeps on record: tables, their columns, and what a value
 * may be.
 *
 * One description serves the CSV tables, the forms, the project file and the
 * checks, so that a column is named, labelled and limited in one place.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum {
  TPT_TABLE_STATIONS,
  TPT_TABLE_UNITS,
  TPT_TABLE_DEPLOYMENTS,
  TPT_TABLE_FITTINGS,
  TPT_TABLE_VISITS,
  TPT_TABLE_READINGS,
  TPT_TABLE_SPECIES,
  TPT_TABLE_FRAMES,
  TPT_TABLE_OBSERVATIONS,
  TPT_TABLE_UNIT_LOG,
  TPT_TABLE_STOCK,
  TPT_N_TABLES,
} TptTableId;

/**
 * TptColumnType:
 * @TPT_COLUMN_TEXT: any text
 * @TPT_COLUMN_INTEGER: a whole number within min..max
 * @TPT_COLUMN_REAL: a finite number within min..max
 * @TPT_COLUMN_INSTANT: a moment; without an offset in the project's zone
 * @TPT_COLUMN_DATE: a calendar date, kept as text
 * @TPT_COLUMN_READING: what a clock showed; kept as written, never converted
 * @TPT_COLUMN_CHOICE: one of the words in choices
 * @TPT_COLUMN_REFERENCE: the code of a row in another table
 */
typedef enum {
  TPT_COLUMN_TEXT,
  TPT_COLUMN_INTEGER,
  TPT_COLUMN_REAL,
  TPT_COLUMN_INSTANT,
  TPT_COLUMN_DATE,
  TPT_COLUMN_READING,
  TPT_COLUMN_CHOICE,
  TPT_COLUMN_REFERENCE,
} TptColumnType;

typedef struct {
  const char *name;   /* header of the CSV column */
  const char *column; /* column of the project file */
  const char *label;  /* for forms; untranslated, pass through gettext */
  TptColumnType type;
  gboolean required;
  double min, max;            /* numbers only */
  const char *unit;           /* (nullable): "m", "mAh" */
  const char *const *choices; /* (nullable): NULL-terminated */
  TptTableId refers;          /* references only */
} TptColumn;

typedef struct {
  TptTableId id;
  const char *name; /* of the CSV table and of the project file's table */
  const char *singular; /* for messages; untranslated */
  const TptColumn *columns;
  guint n_columns;
  guint n_key; /* the first so many columns identify a row */
} TptTable;

const TptTable *tpt_table_get (TptTableId id);

/* (nullable): the table whose header @names is, by its key column and the
 * columns that only it has; @names is NULL-terminated. */
const TptTable *tpt_table_recognise (const char *const *names);

/* Index of the column named @name, or -1. */
int tpt_table_find (const TptTable *table, const char *name);

/* (transfer none): a choice's word for people, translated; @choice itself when
 * it is not one of ours. */
const char *tpt_choice_label (const char *choice);

/* (transfer full): the same within a sentence: "alkaline", but "NiMH". */
char *tpt_choice_inline (const char *choice);

G_END_DECLS
