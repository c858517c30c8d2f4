/* Brings tables, waypoints and tracks into the project. */
#pragma once

#include "tpt-job.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_IMPORT (tpt_job_import_get_type ())
G_DECLARE_FINAL_TYPE (TptJobImport, tpt_job_import, TPT, JOB_IMPORT, TptJob)

/**
 * tpt_job_import_new:
 * @paths: (transfer none): files: CSV tables recognised by their header, GPX,
 *   GeoJSON. Tables that others refer to are taken first, whatever the order given
 * @dry_run: look only; nothing is written
 * @lenient: unknown columns of a CSV table are passed over instead of refused
 *
 * Each source is one action: wholly taken or, when any row is refused, wholly
 * left. Waypoints become stations by name; tracks and routes become tracks.
 * Importing the same source again changes nothing. The run succeeds when every
 * source could be looked at; see the refusals for what was not taken.
 */
TptJobImport *tpt_job_import_new (const char *const *paths, gboolean dry_run, gboolean lenient);

gint64 tpt_job_import_get_added (TptJobImport *self);
gint64 tpt_job_import_get_updated (TptJobImport *self);
gint64 tpt_job_import_get_unchanged (TptJobImport *self);

/* What was not taken, row by row. */
guint tpt_job_import_get_n_refused (TptJobImport *self);
/* Those of them that are missing; the others were taken, and something about
 * them is to be known. */
guint tpt_job_import_get_n_lost (TptJobImport *self);

/**
 * tpt_job_import_get_refused:
 * @line: (out): counting from 1; 0 where the format has no useful lines
 * @column: (out) (nullable): column, element or member at fault
 *
 * Returns: %FALSE when only a value was left out and the row itself taken
 */
gboolean tpt_job_import_get_refused (TptJobImport *self, guint index, const char **file, gint64 *line,
                                     const char **column, const char **reason);

/* (transfer full): the same in one line. */
char *tpt_job_import_describe_refused (TptJobImport *self, guint index);

G_END_DECLS
