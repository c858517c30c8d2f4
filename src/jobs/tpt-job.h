/* One thing a user can ask for.
 *
 * A job is an object with three groups of fields: inputs, given when it is
 * made; work in progress; results, read after it has run. The window and the
 * terminal run the same jobs through a #TptProject. A job runs once, off the
 * main thread, and can be cancelled; whatever it writes is one action, done
 * wholly or not at all.
 */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

typedef struct _TptStore TptStore;

#define TPT_TYPE_JOB (tpt_job_get_type ())
G_DECLARE_DERIVABLE_TYPE (TptJob, tpt_job, TPT, JOB, GObject)

/**
 * TptJobClass:
 * @run: does the work in a worker thread, with a store that is the job's own
 *   while it runs; checks @cancellable between steps
 * @writes: the job may change the project
 * @lengthy: the job takes long; it runs beside the others on a connection of
 *   its own instead of keeping them waiting
 */
struct _TptJobClass {
  GObjectClass parent_class;

  gboolean (*run) (TptJob *self, TptStore *store, GCancellable *cancellable, GError **error);
  gboolean writes;
  gboolean lengthy;
};

/* Properties "progress" (0..1) and "progress-text"; notified on the main
 * thread when a main loop runs. */
double tpt_job_get_progress (TptJob *self);
char *tpt_job_get_progress_text (TptJob *self);

typedef void (*TptJobProgressFunc) (TptJob *self, double progress, const char *text, gpointer data);

/* For callers without a main loop: called on the worker thread. */
void tpt_job_set_progress_func (TptJob *self, TptJobProgressFunc func, gpointer data);

/* For jobs, while they run. At most some ten times a second come through. */
void tpt_job_report (TptJob *self, double progress, const char *text);

G_END_DECLS
