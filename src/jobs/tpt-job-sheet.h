/* Makes a sheet to carry, as a PDF, and beside it the table to fill in. */
#pragma once

#include "tpt-job.h"
#include "tpt-sheet.h"
#include "tpt-time.h"

G_BEGIN_DECLS

#define TPT_TYPE_JOB_SHEET (tpt_job_sheet_get_type ())
G_DECLARE_FINAL_TYPE (TptJobSheet, tpt_job_sheet, TPT, JOB_SHEET, TptJob)

/* Whether there is such a kind of sheet: "visit". */
gboolean tpt_job_sheet_knows (const char *kind);

/**
 * tpt_job_sheet_new:
 * @kind: "visit": a chapter for each station that is due before the next round,
 *   in the order of what waiting costs
 * @stations: (nullable): %NULL-terminated codes, to have these instead, due or not
 * @on: the moment of asking; %TPT_NO_INSTANT for now
 * @until: the next round; as for tpt_job_due_new()
 * @exact: with coordinates, and marked as such; else the way in alone
 */
TptJobSheet *tpt_job_sheet_new (const char *kind, const char *const *stations, TptInstant on, TptInstant until, gboolean exact);

/**
 * tpt_job_sheet_write_to:
 * @path: ends in .pdf; the table goes to the same name ending in .csv
 *
 * Required before the job runs. It is refused with TPT_ERROR_DATA, and nothing
 * is written, when no station is due, or when the table is there already and
 * is no empty visit sheet: somebody's notes may be in it.
 */
void tpt_job_sheet_write_to (TptJobSheet *self, const char *path, TptPaper paper);

/* After the run; (transfer none). */
const char *tpt_job_sheet_get_csv_path (TptJobSheet *self);
guint tpt_job_sheet_get_n_pages (TptJobSheet *self);
/* (element-type utf8): the stations' codes in the order of the sheet. */
GPtrArray *tpt_job_sheet_get_stations (TptJobSheet *self);
/* Stations with a rig of which the forecast cannot say whether they are due;
 * they are left out unless asked for. */
guint tpt_job_sheet_get_n_unknown (TptJobSheet *self);

G_END_DECLS
