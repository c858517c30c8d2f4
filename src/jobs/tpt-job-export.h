/* Writes what is on record as tables for other programs. */
#pragma once

#include "tpt-job.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_EXPORT (tpt_job_export_get_type ())
G_DECLARE_FINAL_TYPE (TptJobExport, tpt_job_export, TPT, JOB_EXPORT, TptJob)

/* Whether there is such a format: "csv". */
gboolean tpt_job_export_knows (const char *format);

/**
 * tpt_job_export_new:
 * @format: "csv": a folder with one table a file, as import reads them
 * @out: the folder; must not exist or be empty. It appears wholly or not at all
 * @exact: with places, free text and serial numbers as they are on record
 *
 * Without @exact a station's position is the centre of the cell that the
 * project's floor, the station's sensitivity and that of the species seen there
 * ask for, or left out where that is "extreme", and what else can tell a place
 * or a person is left empty: names of stations, ways in, elevations, notes,
 * serial numbers, people on visits and those who named animals.
 *
 * Frames that show people are never written, nor what was said of them.
 */
TptJobExport *tpt_job_export_new (const char *format, const char *out, gboolean exact);

/* After the run. */
gint64 tpt_job_export_get_rows (TptJobExport *self);        /* in all tables */
gint64 tpt_job_export_get_generalised (TptJobExport *self); /* stations shown coarser than on record */
gint64 tpt_job_export_get_people (TptJobExport *self);      /* frames and observations left out */
/* %NULL-terminated names of the files, and the rows of each. */
const char *const *tpt_job_export_get_files (TptJobExport *self);
gint64 tpt_job_export_get_rows_of (TptJobExport *self, guint file);

G_END_DECLS
