#include "config.h"

#include "tpt-job-clock.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "tpt-card-clock-private.h"
#include "tpt-card-match-private.h"
#include "tpt-clock-rows.h"
#include "tpt-error.h"
#include "tpt-records.h"
#include "tpt-survey.h"

#define SAME_VISIT (12 * TPT_HOUR)

struct _TptJobClock {
  TptJob parent_instance;

  /* Input arguments */
  char *batch;     /* (owned) */
  GStrv ids;       /* (owned) (nullable): %NULL: look, or repair */
  gboolean repair;

  /* In-progress data */
  TptStore *store;         /* (unowned) */
  TptBatchClock *clock;    /* (owned) */
  GPtrArray *rows;         /* (owned) (element-type TptClockRow) */
  TptCardRecords *records; /* (owned) */
  TptCardFacts *facts;     /* (owned) (nullable) */
  TptClockSight *sights;   /* (owned) */
  TptClockKnown known;
  TptClockPair own;
  gboolean has_own;
  TptClockPlan *plan;      /* (owned) */

  /* Results */
  GPtrArray *steps, *doubts; /* (owned) */
  GStrv done;                /* (owned) (nullable) */
  gint64 changed;
  gint64 frames;
  TptInstant first, last;
};

G_DEFINE_FINAL_TYPE (TptJobClock, tpt_job_clock, TPT_TYPE_JOB)

/* The words of tpt_time_source_to_string(), and that of a table. */
static TptTimeSource
parse_source (const char *word)
{
  if (word == NULL)
    return TPT_TIME_NONE;
  for (TptTimeSource source = TPT_TIME_NONE; source <= TPT_TIME_FILE; source++)
    if (g_str_equal (word, tpt_time_source_to_string (source)))
      return source;
  return TPT_TIME_ORIGINAL;
}

static TptClockSight
read_sight (const TptClockRow *row)
{
  TptClockSight sight = { .source = parse_source (row->time_source), .number = tpt_survey_number_of_name (row->file),
                          .exposure_value = NAN, .flash = row->flash };

  if (row->camera_time == NULL || !tpt_reading_parse (row->camera_time, &sight.reading, NULL))
    sight.source = TPT_TIME_NONE;
  return sight;
}

static gboolean
read_batch (TptJobClock *self, GError **error)
{
  self->clock = tpt_store_find_batch_clock (self->store, self->batch, error);
  if (self->clock == NULL)
    return FALSE;
  self->rows = tpt_store_read_clock_rows (self->store, self->clock->id, error);
  if (self->rows == NULL)
    return FALSE;
  self->frames = self->rows->len;
  self->sights = g_new0 (TptClockSight, self->rows->len + 1);
  for (guint i = 0; i < self->rows->len; i++)
    self->sights[i] = read_sight (self->rows->pdata[i]);
  return TRUE;
}

static gboolean
is_noted (const TptCardFacts *facts, TptInstant true_at)
{
  for (guint i = 0; i < facts->pairs->len; i++)
    if (ABS (g_array_index (facts->pairs, TptClockPair, i).true_at - true_at) <= SAME_VISIT)
      return TRUE;
  return FALSE;
}

/* A pair that somebody gave for this card counts where no visit noted one: what
 * is on record of a visit may have been put right since. */
static void
take_own_pair (TptJobClock *self)
{
  const TptBatchClock *clock = self->clock;

  self->has_own = clock->clock_read != NULL && clock->clock_true != TPT_NO_INSTANT && !is_noted (self->facts, clock->clock_true) &&
                  tpt_reading_parse (clock->clock_read, &self->own.read, NULL);
  if (!self->has_own)
    return;
  self->own.true_at = clock->clock_true;
  self->known.pairs = &self->own;
  self->known.n_pairs = 1;
  self->known.sure = TRUE;
}

static gboolean
make_plan (TptJobClock *self, GError **error)
{
  g_autoptr (TptRecord) deployment = NULL;

  if (self->clock->deployment != NULL)
    deployment = tpt_store_find (self->store, TPT_TABLE_DEPLOYMENTS, self->clock->deployment, error);
  if (deployment == NULL)
    {
      if (error != NULL && *error == NULL)
        g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("The batch “%s” belongs to no deployment"), self->batch);
      return FALSE;
    }
  self->records = tpt_card_records_new (self->store, error);
  if (self->records == NULL)
    return FALSE;
  self->facts = tpt_card_facts_new (self->records, deployment, self->clock->serial);
  tpt_card_facts_fill_known (self->facts, &self->known);
  take_own_pair (self);
  self->plan = tpt_clock_plan_new (&self->known, self->sights, self->rows->len);
  return TRUE;
}

static void
collect (TptJobClock *self)
{
  GPtrArray *doubts = tpt_clock_plan_get_doubts (self->plan);

  g_ptr_array_unref (self->steps);
  self->steps = tpt_card_list_steps (self->plan, self->sights);
  for (guint i = 0; i < doubts->len; i++)
    g_ptr_array_add (self->doubts, g_strdup (doubts->pdata[i]));
}

static void
find_span (TptJobClock *self, const TptInstant *at)
{
  self->first = self->last = TPT_NO_INSTANT;
  for (guint i = 0; i < self->rows->len; i++)
    {
      TptInstant one = at != NULL ? at[i] : ((TptClockRow *) self->rows->pdata[i])->at;

      if (one == TPT_NO_INSTANT)
        continue;
      self->first = self->first == TPT_NO_INSTANT ? one : MIN (self->first, one);
      self->last = MAX (self->last, one);
    }
}

static gboolean
refuse_unknown (TptJobClock *self, GError **error)
{
  const char *unknown = tpt_clock_plan_find_unknown (self->plan, (const char *const *) self->done);

  if (unknown == NULL)
    return TRUE;
  g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("For the clock of “%1$s” there is no step “%2$s”"), self->batch, unknown);
  return FALSE;
}

/* What the batch says of its clock: the pair the times rest on. One's own pair
 * stays on record though nothing is done with it. */
static void
fill_columns (TptJobClock *self, TptBatchClock *clock)
{
  gboolean bare = *self->done == NULL;
  TptClock base = self->known.clock;
  guint pair;

  if (tpt_clock_plan_uses_pair (self->plan, &pair) && (self->has_own || !bare))
    {
      base.has_pair = TRUE;
      base.read = self->known.pairs[pair].read;
      base.true_at = self->known.pairs[pair].true_at;
    }
  if (!self->has_own)
    {
      g_free (clock->clock_read);
      clock->clock_read = base.has_pair ? g_strdup (self->facts->reads->pdata[pair]) : NULL;
      clock->clock_true = base.has_pair ? base.true_at : TPT_NO_INSTANT;
    }
  clock->clock_offset_s = bare ? 0 : tpt_clock_get_offset (&base);
}

static gboolean
retime (TptJobClock *self, const TptInstant *at, GError **error)
{
  const char *const *ids = (const char *const *) self->done;
  g_autoptr (TptCardPieces) pieces = tpt_card_pieces_new (self->plan, ids, self->sights);
  g_autofree TptRetimed *frames = g_new0 (TptRetimed, self->rows->len + 1);
  g_autofree char *what = g_strdup_printf (*self->done != NULL ? _("Put the clock of %s right") : _("Take the clock of %s back to its reading"),
                                           self->batch);
  g_autoptr (TptAction) action = NULL;

  for (guint i = 0; i < self->rows->len; i++)
    frames[i] = (TptRetimed){ ((TptClockRow *) self->rows->pdata[i])->frame_id, at[i] };
  fill_columns (self, self->clock);
  action = tpt_action_begin (self->store, what, error);
  return action != NULL &&
         tpt_store_retime_batch (self->store, self->clock, frames, self->rows->len, (const TptClockPiece *) (gpointer) pieces->pieces->data,
                                 pieces->pieces->len, &self->changed, error) &&
         tpt_action_commit (action, error);
}

/* What is on record now, from the pieces' words. */
static gboolean
read_done (TptJobClock *self, GError **error)
{
  g_autofree char *words = NULL;

  if (!tpt_store_read_clock_words (self->store, self->clock->id, &words, error))
    return FALSE;
  self->done = g_strsplit (words, " ", -1);
  return TRUE;
}

static gboolean
put_right (TptJobClock *self, GError **error)
{
  g_autofree TptInstant *at = g_new0 (TptInstant, self->rows->len + 1);

  self->done = self->repair ? tpt_clock_plan_list_proposed (self->plan) : g_strdupv (self->ids);
  if (!refuse_unknown (self, error))
    return FALSE;
  tpt_clock_plan_apply (self->plan, (const char *const *) self->done, at);
  if (!retime (self, at, error))
    return FALSE;
  find_span (self, at);
  return TRUE;
}

static gboolean
look_or_put (TptJobClock *self, GCancellable *cancellable, GError **error)
{
  GError *failure = NULL;
  gboolean good = read_batch (self, &failure) && make_plan (self, &failure) &&
                  !g_cancellable_set_error_if_cancelled (cancellable, &failure);

  if (good)
    {
      collect (self);
      find_span (self, NULL);
      good = self->repair || self->ids != NULL ? put_right (self, &failure) : read_done (self, &failure);
    }
  if (failure != NULL)
    g_propagate_error (error, failure);
  return good;
}

static gboolean
tpt_job_clock_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobClock *self = TPT_JOB_CLOCK (job);
  gboolean good;

  self->store = store;
  good = look_or_put (self, cancellable, error);
  self->store = NULL;
  g_clear_pointer (&self->plan, tpt_clock_plan_free);
  g_clear_pointer (&self->sights, g_free);
  g_clear_pointer (&self->facts, tpt_card_facts_free);
  g_clear_pointer (&self->records, tpt_card_records_free);
  g_clear_pointer (&self->rows, g_ptr_array_unref);
  g_clear_pointer (&self->clock, tpt_batch_clock_free);
  return good;
}

static void
tpt_job_clock_dispose (GObject *object)
{
  TptJobClock *self = TPT_JOB_CLOCK (object);

  g_assert (self->store == NULL && self->plan == NULL && self->rows == NULL);
  g_clear_pointer (&self->batch, g_free);
  g_clear_pointer (&self->ids, g_strfreev);
  g_clear_pointer (&self->done, g_strfreev);
  g_clear_pointer (&self->steps, g_ptr_array_unref);
  g_clear_pointer (&self->doubts, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_job_clock_parent_class)->dispose (object);
}

static void
tpt_job_clock_class_init (TptJobClockClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_clock_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_clock_run;
  TPT_JOB_CLASS (klass)->writes = TRUE;
  TPT_JOB_CLASS (klass)->lengthy = TRUE;
}

static void
tpt_job_clock_init (TptJobClock *self)
{
  self->steps = g_ptr_array_new ();
  self->doubts = g_ptr_array_new_with_free_func (g_free);
  self->first = self->last = TPT_NO_INSTANT;
}

TptJobClock *
tpt_job_clock_new_look (const char *batch)
{
  TptJobClock *self = g_object_new (TPT_TYPE_JOB_CLOCK, NULL);

  self->batch = g_strdup (batch);
  return self;
}

TptJobClock *
tpt_job_clock_new (const char *batch, const char *const *ids)
{
  TptJobClock *self = tpt_job_clock_new_look (batch);

  self->ids = g_strdupv ((char **) ids);
  return self;
}

TptJobClock *
tpt_job_clock_new_repair (const char *batch)
{
  TptJobClock *self = tpt_job_clock_new_look (batch);

  self->repair = TRUE;
  return self;
}

GPtrArray *
tpt_job_clock_get_steps (TptJobClock *self)
{
  return self->steps;
}

GPtrArray *
tpt_job_clock_get_doubts (TptJobClock *self)
{
  return self->doubts;
}

const char *const *
tpt_job_clock_get_done (TptJobClock *self)
{
  return (const char *const *) self->done;
}

gint64
tpt_job_clock_get_changed (TptJobClock *self)
{
  return self->changed;
}

gint64
tpt_job_clock_get_frames (TptJobClock *self)
{
  return self->frames;
}

TptInstant
tpt_job_clock_get_first (TptJobClock *self)
{
  return self->first;
}

TptInstant
tpt_job_clock_get_last (TptJobClock *self)
{
  return self->last;
}
