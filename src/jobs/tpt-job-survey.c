#include "config.h"

#include "tpt-job-survey.h"

#include <glib/gi18n-lib.h>

#include "tpt-batches.h"
#include "tpt-card-match-private.h"
#include "tpt-job-intake-private.h"
#include "tpt-survey.h"
#include "tpt-words.h"

/* Deployments that are looked into closely. */
#define CLOSELY 12
/* Rows of pictures read at a time. */
#define PAGE 10000

struct _TptJobSurvey {
  TptJob parent_instance;

  /* Input arguments */
  char *card; /* (owned) */

  /* In-progress data */
  TptSurvey *survey; /* (owned) */

  /* Results */
  gint64 frames, clips, bytes, empty, others, on_record;
  char *first, *last; /* (owned) (nullable) */
  GPtrArray *cameras; /* (owned) (element-type TptSurveyCamera) */
  GPtrArray *matches; /* (owned) (element-type TptSurveyMatch) */
};

G_DEFINE_FINAL_TYPE (TptJobSurvey, tpt_job_survey, TPT_TYPE_JOB)

static void
free_camera (gpointer data)
{
  TptSurveyCamera *camera = data;

  g_free (camera->make);
  g_free (camera->model);
  g_free (camera->serial);
  g_free (camera);
}

static void
progress_cb (guint done, guint total, gpointer data)
{
  g_autofree char *text = g_strdup_printf (_("%1$u of %2$u frames looked at"), done, total);

  tpt_job_report (data, total > 0 ? 0.95 * done / total : 0, text);
}

static void
sum_up (TptJobSurvey *self)
{
  const TptSurvey *survey = self->survey;

  self->frames = survey->frames->len;
  self->clips = survey->clips;
  self->bytes = survey->bytes;
  self->others = survey->others;
  for (guint i = 0; i < survey->frames->len; i++)
    self->empty += ((TptSurveyFrame *) survey->frames->pdata[i])->bytes == 0;
  for (guint i = 0; i < survey->bodies->len; i++)
    {
      const TptSurveyBody *body = survey->bodies->pdata[i];
      TptSurveyCamera *camera = g_new0 (TptSurveyCamera, 1);

      camera->make = g_strdup (body->make);
      camera->model = g_strdup (body->model);
      camera->serial = g_strdup (body->serial);
      camera->frames = body->frames;
      g_ptr_array_add (self->cameras, camera);
    }
}

/* A file's time is none that a camera showed, so it counts only when nothing
 * else is there. */
static void
find_readings (TptJobSurvey *self)
{
  const TptExif *first = NULL, *last = NULL;

  for (guint i = 0; i < self->survey->frames->len; i++)
    {
      const TptExif *exif = ((TptSurveyFrame *) self->survey->frames->pdata[i])->exif;

      if (exif->source == TPT_TIME_NONE || exif->source == TPT_TIME_FILE)
        continue;
      if (first == NULL || exif->reading.clock_ms < first->reading.clock_ms)
        first = exif;
      if (last == NULL || exif->reading.clock_ms > last->reading.clock_ms)
        last = exif;
    }
  self->first = first != NULL ? tpt_reading_format (first->reading) : NULL;
  self->last = last != NULL ? tpt_reading_format (last->reading) : NULL;
}

static char *
make_key (const char *path, gint64 bytes)
{
  g_autofree char *name = g_path_get_basename (path);

  return g_strdup_printf ("%" G_GINT64_FORMAT " %s", bytes, name);
}

static gboolean
count_on_record (TptJobSurvey *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (GHashTable) here = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  gint64 after = 0;

  for (guint i = 0; i < self->survey->frames->len; i++)
    {
      const TptSurveyFrame *frame = self->survey->frames->pdata[i];

      g_hash_table_add (here, make_key (frame->path, frame->bytes));
    }
  for (;;)
    {
      g_autoptr (GPtrArray) page = tpt_store_page_pictures (store, after, PAGE, error);

      if (page == NULL || g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      if (page->len == 0)
        return TRUE;
      for (guint i = 0; i < page->len; i++)
        {
          const TptPictureRow *row = page->pdata[i];
          g_autofree char *key = make_key (row->file, row->bytes);

          self->on_record += g_hash_table_remove (here, key);
          after = row->frame_id;
        }
    }
}

static TptClockSight *
list_sights (const TptSurvey *survey)
{
  TptClockSight *sights = g_new0 (TptClockSight, survey->frames->len + 1);

  for (guint i = 0; i < survey->frames->len; i++)
    {
      const TptSurveyFrame *frame = survey->frames->pdata[i];
      const TptExif *exif = frame->exif;

      sights[i] = (TptClockSight){ exif->reading, exif->source,
                                   exif->file_number >= 0 ? exif->file_number : tpt_survey_number_of_name (frame->path),
                                   exif->exposure_value, exif->flash };
    }
  return sights;
}

/* A deployment on its way into the order. */
typedef struct {
  TptSurveyMatch *match; /* (owned) */
  TptCardFacts *facts;   /* (owned) */
} Candidate;

static void
free_candidate (gpointer data)
{
  Candidate *candidate = data;

  g_clear_pointer (&candidate->match, tpt_survey_match_free);
  g_clear_pointer (&candidate->facts, tpt_card_facts_free);
  g_free (candidate);
}

static int
compare_candidates_cb (gconstpointer a, gconstpointer b)
{
  return tpt_card_match_compare_cb (&(*(Candidate *const *) a)->match, &(*(Candidate *const *) b)->match);
}

static GPtrArray *
list_candidates (TptCardRecords *records, const TptCardView *view)
{
  GPtrArray *deployments = tpt_card_records_get_deployments (records);
  GPtrArray *candidates = g_ptr_array_new_with_free_func (free_candidate);

  for (guint i = 0; i < deployments->len; i++)
    {
      Candidate *candidate = g_new0 (Candidate, 1);

      candidate->facts = tpt_card_facts_new (records, deployments->pdata[i], tpt_card_view_get_serial (view));
      candidate->match = tpt_card_match_new (records, candidate->facts, view);
      g_ptr_array_add (candidates, candidate);
    }
  g_ptr_array_sort (candidates, compare_candidates_cb);
  return candidates;
}

static void
look_closely (Candidate *candidate, const TptCardView *view)
{
  g_autoptr (TptClockPlan) plan = NULL;
  g_auto (GStrv) proposed = NULL;
  TptClockKnown known;

  tpt_card_facts_fill_known (candidate->facts, &known);
  plan = tpt_clock_plan_new (&known, view->sights, view->n);
  proposed = tpt_clock_plan_list_proposed (plan);
  tpt_card_match_judge (candidate->match, candidate->facts, view, plan, (const char *const *) proposed);
}

/* An intake that was broken off left its copies and put nothing on record. */
static void
note_begun (TptJobSurvey *self, TptStore *store, TptSurveyMatch *match)
{
  g_autofree char *destination = g_build_filename (tpt_store_get_folder (store), TPT_JOB_INTAKE_PICTURES, NULL);
  g_autofree char *prefix = tpt_job_intake_make_prefix (match->deployment);
  guint n = self->on_record == 0 ? tpt_survey_count_copied (self->survey, destination, prefix) : 0;
  g_autofree char *number = tpt_words_number (n);

  if (n > 0)
    g_ptr_array_add (match->reasons, g_strdup_printf (ngettext ("By name and size, an earlier run had copied %s of these frames; it goes on from there.",
                                                                "By name and size, an earlier run had copied %s of these frames; it goes on from there.",
                                                                n), number));
}

static gboolean
find_matches (TptJobSurvey *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptCardRecords) records = tpt_card_records_new (store, error);
  g_autofree TptClockSight *sights = list_sights (self->survey);
  TptCardView view = { self->survey->bodies, sights, self->survey->frames->len, self->survey->frames->len };
  g_autoptr (GPtrArray) candidates = NULL;

  if (records == NULL)
    return FALSE;
  candidates = list_candidates (records, &view);
  for (guint i = 0; i < MIN (candidates->len, CLOSELY); i++)
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      look_closely (candidates->pdata[i], &view);
      note_begun (self, store, ((Candidate *) candidates->pdata[i])->match);
    }
  g_ptr_array_sort (candidates, compare_candidates_cb);
  for (guint i = 0; i < candidates->len; i++)
    g_ptr_array_add (self->matches, g_steal_pointer (&((Candidate *) candidates->pdata[i])->match));
  return TRUE;
}

static gboolean
look (TptJobSurvey *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  self->survey = tpt_survey_card (self->card, progress_cb, self, cancellable, error);
  if (self->survey == NULL)
    return FALSE;
  sum_up (self);
  find_readings (self);
  return count_on_record (self, store, cancellable, error) && find_matches (self, store, cancellable, error);
}

static gboolean
tpt_job_survey_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobSurvey *self = TPT_JOB_SURVEY (job);
  gboolean good = look (self, store, cancellable, error);

  g_clear_pointer (&self->survey, tpt_survey_free);
  if (good)
    tpt_job_report (job, 1, _("Done"));
  return good;
}

static void
tpt_job_survey_dispose (GObject *object)
{
  TptJobSurvey *self = TPT_JOB_SURVEY (object);

  g_assert (self->survey == NULL);
  g_clear_pointer (&self->card, g_free);
  g_clear_pointer (&self->first, g_free);
  g_clear_pointer (&self->last, g_free);
  g_clear_pointer (&self->cameras, g_ptr_array_unref);
  g_clear_pointer (&self->matches, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_job_survey_parent_class)->dispose (object);
}

static void
tpt_job_survey_class_init (TptJobSurveyClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_survey_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_survey_run;
  TPT_JOB_CLASS (klass)->lengthy = TRUE;
}

static void
tpt_job_survey_init (TptJobSurvey *self)
{
  self->cameras = g_ptr_array_new_with_free_func (free_camera);
  self->matches = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_survey_match_free);
}

TptJobSurvey *
tpt_job_survey_new (const char *card)
{
  TptJobSurvey *self = g_object_new (TPT_TYPE_JOB_SURVEY, NULL);

  self->card = g_canonicalize_filename (card, NULL);
  return self;
}

gint64
tpt_job_survey_get_frames (TptJobSurvey *self)
{
  return self->frames;
}

gint64
tpt_job_survey_get_clips (TptJobSurvey *self)
{
  return self->clips;
}

gint64
tpt_job_survey_get_bytes (TptJobSurvey *self)
{
  return self->bytes;
}

gint64
tpt_job_survey_get_empty (TptJobSurvey *self)
{
  return self->empty;
}

gint64
tpt_job_survey_get_others (TptJobSurvey *self)
{
  return self->others;
}

gint64
tpt_job_survey_get_on_record (TptJobSurvey *self)
{
  return self->on_record;
}

const char *
tpt_job_survey_get_first_reading (TptJobSurvey *self)
{
  return self->first;
}

const char *
tpt_job_survey_get_last_reading (TptJobSurvey *self)
{
  return self->last;
}

GPtrArray *
tpt_job_survey_get_cameras (TptJobSurvey *self)
{
  return self->cameras;
}

GPtrArray *
tpt_job_survey_get_matches (TptJobSurvey *self)
{
  return self->matches;
}
