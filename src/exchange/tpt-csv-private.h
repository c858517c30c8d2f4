/* For the CSV reader alone: from bytes to records. */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/* Where the scan is within a record. */
typedef enum {
  TPT_CSV_FIELD_START,
  TPT_CSV_PLAIN,
  TPT_CSV_QUOTED,
  TPT_CSV_QUOTE_IN_QUOTED, /* the field's end, or the first of a doubled quote */
  TPT_CSV_SKIP,            /* the record is refused: on to its line's end */
  TPT_CSV_DONE,
} TptCsvState;

/* One record at a time; memory is bounded by the longest record allowed. */
typedef struct {
  GInputStream *stream; /* (owned) */

  /* The bytes ahead. */
  guint8 *block;        /* (owned) */
  gsize block_length;
  gsize block_at;
  gboolean after_cr;    /* a LF now belongs to the line end already seen */
  gint64 line;          /* of the byte to come */

  /* The present record: fields one after the other, each with a NUL. */
  TptCsvState state;
  GString *text;        /* (owned) */
  GArray *starts;       /* (owned) (element-type gsize): in @text */
  gsize size;           /* bytes read for it */
  gint64 start_line;
  gint64 quote_line;
  char *fault;          /* (owned) (nullable): why this record is refused */

  /* Why there can be no more records. */
  gboolean at_end;
  char *fatal;          /* (owned) (nullable): the content is to blame ... */
  gint64 fatal_line;
  GError *io_error;     /* (owned) (nullable): ... or the file */
} TptCsvScan;

/* FALSE with @fatal or @io_error: nothing can be read. */
gboolean tpt_csv_scan_init (TptCsvScan *scan, GInputStream *stream);
void tpt_csv_scan_clear (TptCsvScan *scan);

/* Reads one record, good or refused (@fault). FALSE at the end, or with
 * @fatal or @io_error. */
gboolean tpt_csv_scan_next (TptCsvScan *scan);

/* The record is a line with nothing on it. */
gboolean tpt_csv_scan_is_empty_line (const TptCsvScan *scan);

/* A field's bytes, with a NUL after them; there may be NULs among them too. */
const char *tpt_csv_scan_get_field (const TptCsvScan *scan, guint field, gsize *length);

G_END_DECLS
