#include "tpt-decider.h"

/* A decision on its way to the file. */
typedef struct {
  TptDecider *decider;   /* (owned) while it runs */
  gint64 trigger_id;
  TptDecision *decision; /* (owned) */
} Errand;

struct _TptDecider {
  GObject parent_instance;

  TptProject *project; /* (owned) */
  GQueue failed;       /* (owned) (element-type Errand) */
  char *message;       /* (owned) (nullable): why the first of them did */
  guint pending;
  guint expected;      /* changes of the project to be told of */
};

G_DEFINE_FINAL_TYPE (TptDecider, tpt_decider, G_TYPE_OBJECT)

enum {
  SIGNAL_FAILED,
  SIGNAL_COMPLAINED,
  SIGNAL_SETTLED,
  SIGNAL_FINISHED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

TptDecision *
tpt_decision_copy (const TptDecision *decision)
{
  TptDecision *copy = g_memdup2 (decision, sizeof *decision);

  copy->type = g_strdup (decision->type);
  copy->species = g_strdup (decision->species);
  copy->sex = g_strdup (decision->sex);
  copy->life_stage = g_strdup (decision->life_stage);
  copy->behaviour = g_strdup (decision->behaviour);
  copy->individual = g_strdup (decision->individual);
  copy->notes = g_strdup (decision->notes);
  copy->by = g_strdup (decision->by);
  return copy;
}

void
tpt_decision_free (TptDecision *decision)
{
  g_free ((char *) decision->type);
  g_free ((char *) decision->species);
  g_free ((char *) decision->sex);
  g_free ((char *) decision->life_stage);
  g_free ((char *) decision->behaviour);
  g_free ((char *) decision->individual);
  g_free ((char *) decision->notes);
  g_free ((char *) decision->by);
  g_free (decision);
}

static void
free_errand (gpointer data)
{
  Errand *errand = data;

  g_clear_object (&errand->decider);
  tpt_decision_free (errand->decision);
  g_free (errand);
}

/* A change that failed is never told of. */
static void
count_outcome (TptDecider *self, gboolean good)
{
  self->pending--;
  if (!good && self->expected > 0)
    self->expected--;
}

static void
keep_failed (TptDecider *self, Errand *errand, const GError *error)
{
  gboolean first = self->failed.length == 0;
  gint64 trigger_id = errand->trigger_id;

  g_queue_push_tail (&self->failed, errand);
  if (!first)
    return;
  g_free (self->message);
  self->message = g_strdup (error->message);
  g_signal_emit (self, signals[SIGNAL_FAILED], 0, trigger_id);
}

static void
decided_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Errand *errand = data;
  g_autoptr (TptDecider) self = g_steal_pointer (&errand->decider);
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  count_outcome (self, good);
  if (good)
    free_errand (errand);
  else
    keep_failed (self, errand, error);
  g_signal_emit (self, signals[SIGNAL_SETTLED], 0);
}

/* Nothing cancels it: what somebody said is not lost because a window closed. */
static void
send (TptDecider *self, Errand *errand)
{
  g_autoptr (TptJobDecide) job = tpt_job_decide_new (&errand->trigger_id, 1, errand->decision);

  errand->decider = g_object_ref (self);
  self->pending++;
  self->expected++;
  tpt_project_run_async (self->project, TPT_JOB (job), NULL, decided_cb, errand);
}

static void
ran_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptDecider) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  count_outcome (self, good);
  if (good)
    g_signal_emit (self, signals[SIGNAL_FINISHED], 0, tpt_project_get_job (result));
  else
    g_signal_emit (self, signals[SIGNAL_COMPLAINED], 0, error->message);
}

static void
tpt_decider_finalize (GObject *object)
{
  TptDecider *self = TPT_DECIDER (object);

  g_queue_clear_full (&self->failed, free_errand);
  g_object_unref (self->project);
  g_free (self->message);

  G_OBJECT_CLASS (tpt_decider_parent_class)->finalize (object);
}

static void
tpt_decider_class_init (TptDeciderClass *klass)
{
  GType type = G_TYPE_FROM_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = tpt_decider_finalize;
  signals[SIGNAL_FAILED] =
    g_signal_new ("failed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[SIGNAL_COMPLAINED] =
    g_signal_new ("complained", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[SIGNAL_SETTLED] = g_signal_new ("settled", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_FINISHED] =
    g_signal_new ("finished", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, TPT_TYPE_JOB);
}

static void
tpt_decider_init (TptDecider *self)
{
  g_queue_init (&self->failed);
}

TptDecider *
tpt_decider_new (TptProject *project)
{
  TptDecider *self = g_object_new (TPT_TYPE_DECIDER, NULL);

  self->project = g_object_ref (project);
  return self;
}

void
tpt_decider_decide (TptDecider *self, gint64 trigger_id, const TptDecision *decision)
{
  Errand *errand = g_new0 (Errand, 1);

  errand->trigger_id = trigger_id;
  errand->decision = tpt_decision_copy (decision);
  send (self, errand);
}

void
tpt_decider_run (TptDecider *self, TptJob *job)
{
  self->pending++;
  self->expected++;
  tpt_project_run_async (self->project, job, NULL, ran_cb, g_object_ref (self));
}

guint
tpt_decider_get_pending (TptDecider *self)
{
  return self->pending;
}

guint
tpt_decider_get_failed (TptDecider *self, const char **message)
{
  if (message != NULL)
    *message = self->message;
  return self->failed.length;
}

void
tpt_decider_retry (TptDecider *self)
{
  GQueue all = self->failed;
  Errand *errand;

  g_queue_init (&self->failed);
  while ((errand = g_queue_pop_head (&all)) != NULL)
    send (self, errand);
}

void
tpt_decider_give_up (TptDecider *self)
{
  g_queue_clear_full (&self->failed, free_errand);
  g_signal_emit (self, signals[SIGNAL_SETTLED], 0);
}

gboolean
tpt_decider_expects_change (TptDecider *self)
{
  if (self->expected == 0)
    return FALSE;
  self->expected--;
  return TRUE;
}
