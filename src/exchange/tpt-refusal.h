/* What a reader could not take, told so that a person can find and mend it. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Faults of content after which a reader gives a file up. */
#define TPT_REFUSALS_MAX 10000

/**
 * TptRefusal:
 * @file: name of the file as the caller gave it
 * @line: counting from 1; 0 where the format has no useful lines (GeoJSON)
 * @column: column of a table, element or attribute of GPX ("lat"), place in
 *   GeoJSON ("features[3].geometry"); %NULL for the line as a whole
 * @reason: a sentence for people, without file and line, no full stop
 * @kept: the row or point itself was taken, only this value was left out
 */
typedef struct {
  char *file;    /* (owned) (nullable) */
  gint64 line;
  char *column;  /* (owned) (nullable) */
  char *reason;  /* (owned) */
  gboolean kept;
} TptRefusal;

/* (transfer full) (element-type TptRefusal): an empty list. */
GPtrArray *tpt_refusals_new (void);

/* Adds one; every text is copied. */
void tpt_refusals_add (GPtrArray *refusals, const char *file, gint64 line, const char *column, const char *reason);

/* Adds one with @kept set; past %TPT_REFUSALS_MAX entries it is not listed. */
void tpt_refusals_add_kept (GPtrArray *refusals, const char *file, gint64 line, const char *column, const char *reason);

/* How many are not @kept: rows or points that are missing. */
guint tpt_refusals_count_lost (GPtrArray *refusals);

/* (transfer full): "file, line 3, latitude: reason", as far as known. */
char *tpt_refusal_to_string (const TptRefusal *refusal);

void tpt_refusal_free (TptRefusal *refusal);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptRefusal, tpt_refusal_free)

G_END_DECLS
