/* An open project: a file, the thread that owns its connection, and the jobs
 * that run on it. */
#pragma once

#include "tpt-job.h"
#include "tpt-time.h"

G_BEGIN_DECLS

#define TPT_TYPE_PROJECT (tpt_project_get_type ())
G_DECLARE_FINAL_TYPE (TptProject, tpt_project, TPT, PROJECT, GObject)

/**
 * tpt_project_create:
 * @path: must not exist
 * @name: the project's name
 * @zone: IANA zone
 *
 * Returns: (transfer full) (nullable): the new project, open; a failure leaves
 *   no file behind
 */
TptProject *tpt_project_create (const char *path, const char *name, const char *zone, GError **error);

/* (transfer full) (nullable). Blocks for as long as opening takes: use
 * tpt_project_open_async() in a window. */
TptProject *tpt_project_open (const char *path, GError **error);
void tpt_project_open_async (const char *path, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
TptProject *tpt_project_open_finish (GAsyncResult *result, GError **error);

/* Begins to look for other programs' changes once a second; opening
 * asynchronously does so by itself. Needs a main loop. */
void tpt_project_watch (TptProject *self);

/* Properties, all read-only: "name", "path", "undo-label" and "redo-label"
 * (%NULL when there is nothing), "read-only".
 *
 * Signal "changed": the project's content is another than before, through a
 * job of this project or through somebody else's program; emitted on the
 * main thread, within two seconds for the latter while a main loop runs. */
const char *tpt_project_get_name (TptProject *self);
const char *tpt_project_get_path (TptProject *self);
TptZone *tpt_project_get_zone (TptProject *self);
/* The moment of asking: now, unless the clock of this project stands still, as
 * a demo's does; then @stands is set. */
TptInstant tpt_project_get_now (TptProject *self, gboolean *stands);
gboolean tpt_project_get_read_only (TptProject *self);
const char *tpt_project_get_undo_label (TptProject *self);
const char *tpt_project_get_redo_label (TptProject *self);

/* Runs @job and waits for it: for the terminal and for tests. */
gboolean tpt_project_run (TptProject *self, TptJob *job, GCancellable *cancellable, GError **error);

/* The callback's source object is the project; jobs run in the order given,
 * lengthy ones beside them. */
void tpt_project_run_async (TptProject *self, TptJob *job, GCancellable *cancellable, GAsyncReadyCallback callback,
                            gpointer data);
gboolean tpt_project_run_finish (TptProject *self, GAsyncResult *result, GError **error);

/* (transfer none): the job of a run, in its callback. */
TptJob *tpt_project_get_job (GAsyncResult *result);

G_END_DECLS
