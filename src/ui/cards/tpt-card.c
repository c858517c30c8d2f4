#include "config.h"

#include "tpt-card-private.h"

G_DEFINE_FINAL_TYPE (TptCard, tpt_card, G_TYPE_OBJECT)

enum {
  CHANGED,
  PROGRESS,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static void
set_state (TptCard *self, TptCardState state, const char *trouble)
{
  char *kept = g_strdup (trouble);

  g_free (self->trouble);
  self->trouble = kept;
  self->state = state;
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
progress_cb (TptCard *self)
{
  g_signal_emit (self, signals[PROGRESS], 0);
}

static void
end_run (TptCard *self)
{
  if (self->running != NULL)
    g_signal_handlers_disconnect_by_func (self->running, progress_cb, self);
  g_clear_object (&self->running);
  g_clear_object (&self->stop);
}

static void
run (TptCard *self, TptJob *job, GAsyncReadyCallback callback)
{
  if (self->stop != NULL) /* an earlier look at the card that nobody waits for any more */
    g_cancellable_cancel (self->stop);
  end_run (self);
  self->running = job;
  self->stop = g_cancellable_new ();
  g_signal_connect_object (job, "notify::progress", G_CALLBACK (progress_cb), self, G_CONNECT_SWAPPED);
  tpt_project_run_async (self->project, job, self->stop, callback, g_object_ref (self));
}

/* What a run that is still the card's own came to; another one's answer, or one
 * after the card was given up, is nobody's. */
static gboolean
is_ours (TptCard *self, GAsyncResult *result)
{
  return self->running != NULL && self->running == tpt_project_get_job (result);
}

/* Readers give the next card the place of the last: what was begun goes on only
 * with the card it was begun with. */
static gboolean
is_same_card (TptJobSurvey *before, TptJobSurvey *after)
{
  return tpt_job_survey_get_frames (before) == tpt_job_survey_get_frames (after)
         && tpt_job_survey_get_bytes (before) == tpt_job_survey_get_bytes (after)
         && g_strcmp0 (tpt_job_survey_get_first_reading (before), tpt_job_survey_get_first_reading (after)) == 0
         && g_strcmp0 (tpt_job_survey_get_last_reading (before), tpt_job_survey_get_last_reading (after)) == 0;
}

static int
find_deployment (TptCard *self, const char *deployment)
{
  GPtrArray *matches = tpt_job_survey_get_matches (self->survey);

  for (guint i = 0; i < matches->len; i++)
    if (g_str_equal (((const TptSurveyMatch *) matches->pdata[i])->deployment, deployment))
      return (int) i;
  return -1;
}

/* Takes the survey over, with what was chosen before for the same card. */
static TptCardState
keep_survey (TptCard *self, TptJobSurvey *survey)
{
  g_autoptr (TptJobSurvey) before = g_steal_pointer (&self->survey);
  gboolean same = before != NULL && self->begun_for != NULL && is_same_card (before, survey);

  self->survey = g_object_ref (survey);
  self->chosen = same ? find_deployment (self, self->begun_for) : -1;
  self->agreed = self->chosen;
  if (self->chosen >= 0)
    return TPT_CARD_STOPPED;
  g_clear_pointer (&self->begun_for, g_free);
  g_hash_table_remove_all (self->steps);
  self->chosen = tpt_card_choose_first (self);
  return TPT_CARD_READY;
}

static void
surveyed_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptCard) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);
  TptCardState state = TPT_CARD_UNREAD;

  if (!is_ours (self, result))
    return;
  if (good)
    state = keep_survey (self, TPT_JOB_SURVEY (self->running));
  end_run (self);
  set_state (self, state, good ? NULL : error->message);
}

void
tpt_card_look (TptCard *self)
{
  g_return_if_fail (self->state != TPT_CARD_TAKING && self->state != TPT_CARD_TAKEN);
  self->chosen = -1;
  run (self, TPT_JOB (tpt_job_survey_new (self->folder)), surveyed_cb);
  set_state (self, TPT_CARD_LOOKING, NULL);
}

static void
taken_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptCard) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  if (!is_ours (self, result))
    return;
  if (good)
    g_set_object (&self->intake, TPT_JOB_INTAKE (self->running));
  end_run (self);
  if (good)
    set_state (self, TPT_CARD_TAKEN, NULL);
  else
    set_state (self, TPT_CARD_STOPPED, g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) ? NULL : error->message);
}

void
tpt_card_take (TptCard *self)
{
  const TptSurveyMatch *match = tpt_card_get_match (self);
  g_autoptr (GPtrArray) steps = NULL;
  TptJobIntake *job;

  g_return_if_fail (tpt_card_can_take (self) || self->state == TPT_CARD_QUEUED);
  steps = tpt_card_list_wanted_steps (self);
  job = tpt_job_intake_new (match->deployment, self->folder);
  tpt_job_intake_set_steps (job, (const char *const *) steps->pdata);
  if (self->read != NULL)
    tpt_job_intake_set_clock (job, self->read, self->true_time);
  g_free (self->begun_for);
  self->begun_for = g_strdup (match->deployment);
  run (self, TPT_JOB (job), taken_cb);
  set_state (self, TPT_CARD_TAKING, NULL);
}

static void
tpt_card_dispose (GObject *object)
{
  TptCard *self = TPT_CARD (object);

  if (self->stop != NULL)
    g_cancellable_cancel (self->stop);
  end_run (self);
  g_clear_object (&self->survey);
  g_clear_object (&self->intake);
  g_clear_object (&self->project);

  G_OBJECT_CLASS (tpt_card_parent_class)->dispose (object);
}

static void
tpt_card_finalize (GObject *object)
{
  TptCard *self = TPT_CARD (object);

  g_free (self->folder);
  g_free (self->title);
  g_free (self->station);
  g_free (self->trouble);
  g_free (self->begun_for);
  g_free (self->read);
  g_free (self->true_time);
  g_hash_table_unref (self->steps);

  G_OBJECT_CLASS (tpt_card_parent_class)->finalize (object);
}

static void
tpt_card_class_init (TptCardClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_card_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_card_finalize;

  signals[CHANGED] = g_signal_new ("changed", TPT_TYPE_CARD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[PROGRESS] = g_signal_new ("progress", TPT_TYPE_CARD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tpt_card_init (TptCard *self)
{
  self->there = TRUE;
  self->chosen = self->agreed = -1;
  self->steps = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
}

TptCard *
tpt_card_new (TptProject *project, const char *folder, const char *title)
{
  TptCard *self = g_object_new (TPT_TYPE_CARD, NULL);

  self->project = g_object_ref (project);
  self->folder = g_canonicalize_filename (folder, NULL);
  self->title = title != NULL ? g_strdup (title) : g_filename_display_basename (self->folder);
  return self;
}

const char *
tpt_card_get_folder (TptCard *self)
{
  return self->folder;
}

const char *
tpt_card_get_title (TptCard *self)
{
  return self->title;
}

TptZone *
tpt_card_get_zone (TptCard *self)
{
  return tpt_project_get_zone (self->project);
}

TptCardState
tpt_card_get_state (TptCard *self)
{
  return self->state;
}

const char *
tpt_card_get_trouble (TptCard *self)
{
  return self->trouble;
}

void
tpt_card_set_there (TptCard *self, gboolean there)
{
  if (self->there == there)
    return;
  self->there = there;
  if (!there && self->state == TPT_CARD_QUEUED)
    tpt_card_stop (self);
  if (there && self->state != TPT_CARD_TAKING && self->state != TPT_CARD_TAKEN)
    tpt_card_look (self);
  else
    g_signal_emit (self, signals[CHANGED], 0);
}

gboolean
tpt_card_get_there (TptCard *self)
{
  return self->there;
}

void
tpt_card_set_station (TptCard *self, const char *station)
{
  char *kept = g_strdup (station);

  g_free (self->station);
  self->station = kept;
}

TptJobSurvey *
tpt_card_get_survey (TptCard *self)
{
  return self->state != TPT_CARD_LOOKING && self->state != TPT_CARD_UNREAD ? self->survey : NULL;
}

gboolean
tpt_card_can_take (TptCard *self)
{
  return (self->state == TPT_CARD_READY || self->state == TPT_CARD_STOPPED) && self->there && !self->pair_unclear
         && tpt_card_get_match (self) != NULL && tpt_job_survey_get_frames (self->survey) > 0;
}

void
tpt_card_queue (TptCard *self)
{
  g_return_if_fail (tpt_card_can_take (self));
  set_state (self, TPT_CARD_QUEUED, NULL);
}

void
tpt_card_stop (TptCard *self)
{
  if (self->stop != NULL)
    g_cancellable_cancel (self->stop);
  else if (self->state == TPT_CARD_QUEUED)
    set_state (self, self->begun_for != NULL ? TPT_CARD_STOPPED : TPT_CARD_READY, NULL);
}

TptJobIntake *
tpt_card_get_intake (TptCard *self)
{
  return self->intake;
}

double
tpt_card_get_progress (TptCard *self)
{
  return self->running != NULL ? tpt_job_get_progress (self->running) : self->state == TPT_CARD_TAKEN;
}

char *
tpt_card_get_progress_text (TptCard *self)
{
  return self->running != NULL ? tpt_job_get_progress_text (self->running) : g_strdup ("");
}
