#include "tpt-trigger-reader.h"

#include "tpt-job-frames.h"

#define MOST_WANTED 16

typedef struct {
  GPtrArray *rows; /* (owned) (nullable) */
  gboolean stale;
} Known;

struct _TptTriggerReader {
  GObject parent_instance;

  TptProject *project;       /* (owned) (nullable) */
  GCancellable *cancellable; /* (owned) */
  TptFrameRef wanted[MOST_WANTED];
  guint n_wanted;
  GHashTable *known;         /* (owned) (element-type gint64 Known) */
  gint64 reading;            /* key of what is being read; 0 for nothing */
  gboolean again;            /* what is being read is stale already */
};

G_DEFINE_FINAL_TYPE (TptTriggerReader, tpt_trigger_reader, G_TYPE_OBJECT)

enum {
  SIGNAL_READ,
  SIGNAL_FAILED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static void read_next (TptTriggerReader *self);

static void
free_known (gpointer data)
{
  Known *known = data;

  g_clear_pointer (&known->rows, g_ptr_array_unref);
  g_free (known);
}

/* A frame without a trigger stands for itself. */
static gint64
make_key (TptFrameRef ref)
{
  return ref.trigger_id != 0 ? ref.trigger_id : -ref.frame_id;
}

static gboolean
is_wanted (TptTriggerReader *self, gint64 key)
{
  for (guint i = 0; i < self->n_wanted; i++)
    if (make_key (self->wanted[i]) == key)
      return TRUE;
  return FALSE;
}

static void
keep_rows (TptTriggerReader *self, gint64 key, GPtrArray *rows)
{
  Known *known = g_hash_table_lookup (self->known, &key);

  if (!is_wanted (self, key))
    return;
  if (known == NULL)
    {
      known = g_new0 (Known, 1);
      g_hash_table_insert (self->known, g_memdup2 (&key, sizeof key), known);
    }
  g_clear_pointer (&known->rows, g_ptr_array_unref);
  known->rows = g_ptr_array_ref (rows);
  known->stale = self->again;
}

static void
read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptTriggerReader) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);
  gint64 key = self->reading;

  self->reading = 0;
  if (self->project == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  if (!good)
    {
      g_signal_emit (self, signals[SIGNAL_FAILED], 0, error->message);
      return;
    }
  keep_rows (self, key, tpt_job_frame_rows_get_rows (TPT_JOB_FRAME_ROWS (tpt_project_get_job (result))));
  read_next (self);
  g_signal_emit (self, signals[SIGNAL_READ], 0);
}

static void
read_one (TptTriggerReader *self, TptFrameRef ref)
{
  g_autoptr (TptJobFrameRows) job = ref.trigger_id != 0 ? tpt_job_frame_rows_new_for_trigger (ref.trigger_id)
                                                        : tpt_job_frame_rows_new (&ref, 1);

  self->reading = make_key (ref);
  self->again = FALSE;
  tpt_project_run_async (self->project, TPT_JOB (job), self->cancellable, read_cb, g_object_ref (self));
}

static void
read_next (TptTriggerReader *self)
{
  for (guint i = 0; i < self->n_wanted && self->reading == 0; i++)
    {
      gint64 key = make_key (self->wanted[i]);
      Known *known = g_hash_table_lookup (self->known, &key);

      if (known == NULL || known->stale)
        read_one (self, self->wanted[i]);
    }
}

static void
tpt_trigger_reader_dispose (GObject *object)
{
  tpt_trigger_reader_stop (TPT_TRIGGER_READER (object));

  G_OBJECT_CLASS (tpt_trigger_reader_parent_class)->dispose (object);
}

static void
tpt_trigger_reader_finalize (GObject *object)
{
  TptTriggerReader *self = TPT_TRIGGER_READER (object);

  g_object_unref (self->cancellable);
  g_hash_table_unref (self->known);

  G_OBJECT_CLASS (tpt_trigger_reader_parent_class)->finalize (object);
}

static void
tpt_trigger_reader_class_init (TptTriggerReaderClass *klass)
{
  GType type = G_TYPE_FROM_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_trigger_reader_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_trigger_reader_finalize;
  signals[SIGNAL_READ] = g_signal_new ("read", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_FAILED] =
    g_signal_new ("failed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
tpt_trigger_reader_init (TptTriggerReader *self)
{
  self->cancellable = g_cancellable_new ();
  self->known = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, free_known);
}

TptTriggerReader *
tpt_trigger_reader_new (TptProject *project)
{
  TptTriggerReader *self = g_object_new (TPT_TYPE_TRIGGER_READER, NULL);

  self->project = g_object_ref (project);
  return self;
}

static gboolean
is_unwanted (gpointer key, gpointer value, gpointer data)
{
  return !is_wanted (data, *(const gint64 *) key);
}

void
tpt_trigger_reader_want (TptTriggerReader *self, const TptFrameRef *refs, guint n)
{
  self->n_wanted = MIN (n, MOST_WANTED);
  memcpy (self->wanted, refs, self->n_wanted * sizeof *refs);
  g_hash_table_foreach_remove (self->known, is_unwanted, self);
  if (self->project != NULL)
    read_next (self);
}

GPtrArray *
tpt_trigger_reader_get (TptTriggerReader *self, TptFrameRef ref)
{
  gint64 key = make_key (ref);
  Known *known = g_hash_table_lookup (self->known, &key);

  return known != NULL ? known->rows : NULL;
}

void
tpt_trigger_reader_renew (TptTriggerReader *self, TptFrameRef ref)
{
  gint64 key = make_key (ref);
  Known *known = g_hash_table_lookup (self->known, &key);

  if (known != NULL)
    known->stale = TRUE;
  if (self->reading == key)
    self->again = TRUE;
  if (self->project != NULL)
    read_next (self);
}

void
tpt_trigger_reader_renew_all (TptTriggerReader *self)
{
  GHashTableIter iter;
  gpointer known;

  g_hash_table_iter_init (&iter, self->known);
  while (g_hash_table_iter_next (&iter, NULL, &known))
    ((Known *) known)->stale = TRUE;
  self->again = TRUE;
  if (self->project != NULL)
    read_next (self);
}

void
tpt_trigger_reader_stop (TptTriggerReader *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->project);
}
