#include "tpt-job-undo.h"

#include "tpt-store.h"

struct _TptJobUndo {
  TptJob parent_instance;

  /* Input arguments */
  gboolean redo;

  /* Results */
  char *what; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptJobUndo, tpt_job_undo, TPT_TYPE_JOB)

static gboolean
tpt_job_undo_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobUndo *self = TPT_JOB_UNDO (job);

  self->what = self->redo ? tpt_store_peek_redo (store, NULL) : tpt_store_peek_undo (store, NULL);
  return self->redo ? tpt_store_redo (store, error) : tpt_store_undo (store, error);
}

static void
tpt_job_undo_dispose (GObject *object)
{
  TptJobUndo *self = TPT_JOB_UNDO (object);

  g_clear_pointer (&self->what, g_free);

  G_OBJECT_CLASS (tpt_job_undo_parent_class)->dispose (object);
}

static void
tpt_job_undo_class_init (TptJobUndoClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_undo_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_undo_run;
  TPT_JOB_CLASS (klass)->writes = TRUE;
}

static void
tpt_job_undo_init (TptJobUndo *self)
{
}

TptJobUndo *
tpt_job_undo_new (gboolean redo)
{
  TptJobUndo *self = g_object_new (TPT_TYPE_JOB_UNDO, NULL);

  self->redo = redo;
  return self;
}

const char *
tpt_job_undo_get_what (TptJobUndo *self)
{
  return self->what;
}
