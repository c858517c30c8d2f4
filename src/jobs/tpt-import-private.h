/* The parts of an import: one source, by its format. Used by tpt-job-import.c. */
#pragma once

#include <gio/gio.h>

#include "tpt-csv.h"
#include "tpt-record.h"
#include "tpt-refusal.h"
#include "tpt-store.h"

G_BEGIN_DECLS

typedef struct {
  gint64 added;
  gint64 updated;
  gint64 unchanged;
} TptImportCounts;

/* Each works inside an action of the caller, adds what it could not take to
 * @refusals, and fails only when the project or the disk does. The caller
 * drops the action when anything was refused. */
gboolean tpt_import_table (TptStore *store, const char *path, gboolean lenient, TptImportCounts *counts,
                           GPtrArray *refusals, GCancellable *cancellable, GError **error);
gboolean tpt_import_features (TptStore *store, const char *path, gboolean geojson, TptImportCounts *counts,
                              GPtrArray *refusals, GCancellable *cancellable, GError **error);

/* Whether a header with these columns (%NULL-terminated) is that of a field
 * sheet: station, at and unit, and no code of a visit or of a log entry. */
gboolean tpt_import_is_sheet (const char *const *names);
/* The same for a field sheet that is open already; each visit goes through the
 * plan of visits (tpt-visit-plan.h). A visit that is on record is compared. */
gboolean tpt_import_sheet (TptStore *store, TptCsvReader *reader, const char *file, gboolean lenient, TptImportCounts *counts,
                           GPtrArray *refusals, GCancellable *cancellable, GError **error);

/* Rows of a frames table on their way to batches, one per deployment. */
typedef struct _TptFrameRows TptFrameRows;

TptFrameRows *tpt_frame_rows_new (void);
void tpt_frame_rows_free (TptFrameRows *self);
/* Takes a reference to @record, a row of the frames table that is not on record. */
void tpt_frame_rows_add (TptFrameRows *self, TptRecord *record);
gboolean tpt_frame_rows_write (TptFrameRows *self, TptStore *store, GError **error);

/* Which table a file is, without reading past its header; -1 for none. A field
 * sheet counts as readings: it refers to all that readings do. */
int tpt_import_recognise (const char *path);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptFrameRows, tpt_frame_rows_free)

G_END_DECLS
