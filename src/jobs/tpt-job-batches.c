#include "tpt-job-batches.h"

#include "tpt-frames.h"

struct _TptJobBatches {
  TptJob parent_instance;

  /* Results */
  GPtrArray *batches; /* (owned) (element-type TptBatchState) */
};

G_DEFINE_FINAL_TYPE (TptJobBatches, tpt_job_batches, TPT_TYPE_JOB)

static void
free_state (gpointer data)
{
  TptBatchState *state = data;

  g_free (state->batch);
  g_free (state->deployment);
  g_free (state->station);
  g_free (state->station_title);
  g_free (state);
}

static TptBatchState *
make_state (const TptBatchProgress *progress)
{
  TptBatchState *state = g_new0 (TptBatchState, 1);

  state->batch = g_strdup (progress->batch);
  state->deployment = g_strdup (progress->deployment);
  state->station = g_strdup (progress->station);
  state->station_title = g_strdup (progress->station_name != NULL ? progress->station_name : progress->station);
  state->taken_at = progress->taken_at;
  state->first = progress->first;
  state->last = progress->last;
  state->frames = progress->frames;
  state->triggers = progress->triggers;
  state->undecided = progress->undecided;
  state->disagreements = progress->disagreements;
  state->scored = progress->scored;
  state->set_aside = progress->set_aside;
  return state;
}

static gboolean
tpt_job_batches_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobBatches *self = TPT_JOB_BATCHES (job);
  g_autoptr (GArray) progress = tpt_store_read_progress (store, error);

  if (progress == NULL)
    return FALSE;
  for (guint i = 0; i < progress->len; i++)
    g_ptr_array_add (self->batches, make_state (&g_array_index (progress, TptBatchProgress, i)));
  return TRUE;
}

static void
tpt_job_batches_dispose (GObject *object)
{
  g_clear_pointer (&TPT_JOB_BATCHES (object)->batches, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_job_batches_parent_class)->dispose (object);
}

static void
tpt_job_batches_class_init (TptJobBatchesClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_batches_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_batches_run;
}

static void
tpt_job_batches_init (TptJobBatches *self)
{
  self->batches = g_ptr_array_new_with_free_func (free_state);
}

TptJobBatches *
tpt_job_batches_new (void)
{
  return g_object_new (TPT_TYPE_JOB_BATCHES, NULL);
}

GPtrArray *
tpt_job_batches_get_batches (TptJobBatches *self)
{
  return self->batches;
}
