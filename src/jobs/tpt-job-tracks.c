#include "tpt-job-tracks.h"

#include "tpt-query.h"

struct _TptJobTracks {
  TptJob parent_instance;

  /* Results */
  GPtrArray *tracks; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptJobTracks, tpt_job_tracks, TPT_TYPE_JOB)

static gboolean
tpt_job_tracks_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobTracks *self = TPT_JOB_TRACKS (job);

  self->tracks = tpt_store_list_tracks (store, error);
  return self->tracks != NULL;
}

static void
tpt_job_tracks_dispose (GObject *object)
{
  TptJobTracks *self = TPT_JOB_TRACKS (object);

  g_clear_pointer (&self->tracks, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_job_tracks_parent_class)->dispose (object);
}

static void
tpt_job_tracks_class_init (TptJobTracksClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_tracks_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_tracks_run;
}

static void
tpt_job_tracks_init (TptJobTracks *self)
{
}

TptJobTracks *
tpt_job_tracks_new (void)
{
  return g_object_new (TPT_TYPE_JOB_TRACKS, NULL);
}

GPtrArray *
tpt_job_tracks_get_tracks (TptJobTracks *self)
{
  return self->tracks;
}
