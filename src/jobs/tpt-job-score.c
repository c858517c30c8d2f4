#include "config.h"

#include "tpt-job-score.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-blank-pictures.h"
#include "tpt-exif.h"
#include "tpt-scores.h"
#include "tpt-share-private.h"

/* Triggers to either side that a trigger may be compared with, whatever their light. */
#define REACH 100
/* Triggers between two writes. */
#define PORTION 64
/* Frames of a trigger that are looked at, first and last among them. */
#define FRAMES_MOST 4

/* What has been read of one trigger. */
typedef struct {
  GArray *files; /* (owned) (nullable) (element-type TptScorePicture): until they are decoded */
  TptBlankPicture *pictures[FRAMES_MOST]; /* (owned): all of one size and light */
  int n_pictures;
  double score;
} Slot;

/* One deployment in work: pictures are held of a stretch of its triggers only. */
typedef struct {
  const char *folder;
  GArray *triggers; /* (owned) (element-type TptScoreTrigger) */
  gint64 *at;       /* (owned) */
  Slot **slots;     /* (owned): %NULL where nothing is held */
  guint *pieces;    /* (owned): triggers to work on now */
} Stretch;

struct _TptJobScore {
  TptJob parent_instance;

  /* Input arguments */
  char *batch; /* (owned) (nullable) */
  gboolean again;

  /* In-progress data */
  gint64 wanted;

  /* Results */
  gint64 triggers;
  gint64 scored;
  gint64 unseen;
};

G_DEFINE_FINAL_TYPE (TptJobScore, tpt_job_score, TPT_TYPE_JOB)

static void
free_slot (Slot *slot)
{
  if (slot == NULL)
    return;
  g_clear_pointer (&slot->files, g_array_unref);
  for (int i = 0; i < slot->n_pictures; i++)
    g_free (slot->pictures[i]);
  g_free (slot);
}

static void
clear_stretch (Stretch *stretch)
{
  for (guint i = 0; stretch->slots != NULL && i < stretch->triggers->len; i++)
    free_slot (stretch->slots[i]);
  g_clear_pointer (&stretch->triggers, g_array_unref);
  g_free (stretch->at);
  g_free (stretch->slots);
  g_free (stretch->pieces);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Stretch, clear_stretch)

static gboolean
set_up_stretch (Stretch *stretch, TptJobScore *self, TptStore *store, gint64 deployment_id, GError **error)
{
  stretch->triggers = tpt_store_read_score_triggers (store, deployment_id, self->batch, self->again, error);
  if (stretch->triggers == NULL)
    return FALSE;
  stretch->folder = tpt_store_get_folder (store);
  stretch->at = g_new (gint64, stretch->triggers->len);
  stretch->slots = g_new0 (Slot *, stretch->triggers->len);
  stretch->pieces = g_new (guint, stretch->triggers->len);
  for (guint i = 0; i < stretch->triggers->len; i++)
    stretch->at[i] = g_array_index (stretch->triggers, TptScoreTrigger, i).start;
  return TRUE;
}

static gboolean
is_like_first (const Slot *slot, const TptBlankPicture *picture)
{
  return slot->n_pictures == 0 || (slot->pictures[0]->width == picture->width && slot->pictures[0]->height == picture->height &&
                                   slot->pictures[0]->light == picture->light);
}

/* Pictures that cannot be shown, or were taken in another light than the first,
 * are passed over. */
static void
decode_cb (gpointer data, guint index)
{
  Stretch *stretch = data;
  Slot *slot = stretch->slots[stretch->pieces[index]];
  guint n = MIN (slot->files->len, FRAMES_MOST);

  for (guint i = 0; i < n; i++)
    {
      guint which = n > 1 ? i * (slot->files->len - 1) / (n - 1) : 0;
      const TptScorePicture *file = &g_array_index (slot->files, TptScorePicture, which);
      g_autofree char *path = g_build_filename (stretch->folder, file->file, NULL);
      g_autofree TptBlankPicture *picture = tpt_blank_picture_load (path, file->flash, NULL);

      if (picture != NULL && is_like_first (slot, picture))
        slot->pictures[slot->n_pictures++] = g_steal_pointer (&picture);
    }
  g_clear_pointer (&slot->files, g_array_unref);
}

/* Holds the pictures of triggers @from to @to, and no others. */
static gboolean
hold_pictures (Stretch *stretch, TptStore *store, guint from, guint to, GCancellable *cancellable, GError **error)
{
  guint n = 0;

  for (guint i = 0; i < from; i++)
    g_clear_pointer (&stretch->slots[i], free_slot);
  for (guint i = from; i < to; i++)
    {
      if (stretch->slots[i] != NULL)
        continue;
      stretch->slots[i] = g_new0 (Slot, 1);
      stretch->slots[i]->files =
        tpt_store_read_score_pictures (store, g_array_index (stretch->triggers, TptScoreTrigger, i).trigger_id, error);
      if (stretch->slots[i]->files == NULL)
        return FALSE;
      stretch->pieces[n++] = i;
    }
  tpt_share_work (n, decode_cb, stretch, cancellable);
  return !g_cancellable_set_error_if_cancelled (cancellable, error);
}

/* The light of a trigger when it can be compared with @slot, else -1. */
static int
tell_kind (const Slot *slot, const Slot *other)
{
  gboolean fits = other->n_pictures > 0 && other->pictures[0]->width == slot->pictures[0]->width &&
                  other->pictures[0]->height == slot->pictures[0]->height;

  return fits ? (int) other->pictures[0]->light : -1;
}

/* First and last frame of each trigger that is to be compared with. */
static int
list_others (const Stretch *stretch, guint which, const guint8 **others)
{
  guint from = which > REACH ? which - REACH : 0, to = MIN (which + REACH + 1, stretch->triggers->len);
  int kinds[2 * REACH + 1], chosen[SCI_TRIGGERS_MOST], n, n_others = 0;

  for (guint i = from; i < to; i++)
    kinds[i - from] = tell_kind (stretch->slots[which], stretch->slots[i]);
  n = sci_blank_choose (stretch->at + from, kinds, (int) (to - from), (int) (which - from), chosen);
  for (int i = 0; i < n; i++)
    {
      const Slot *slot = stretch->slots[from + (guint) chosen[i]];

      others[n_others++] = slot->pictures[0]->grey;
      if (slot->n_pictures > 1)
        others[n_others++] = slot->pictures[slot->n_pictures - 1]->grey;
    }
  return n_others;
}

static void
score_cb (gpointer data, guint index)
{
  Stretch *stretch = data;
  guint which = stretch->pieces[index];
  Slot *slot = stretch->slots[which];
  const guint8 *frames[FRAMES_MOST], *others[2 * SCI_TRIGGERS_MOST];
  SciTrigger trigger = { .frames = frames, .n_frames = slot->n_pictures, .others = others };

  slot->score = NAN;
  if (slot->n_pictures == 0)
    return;
  for (int i = 0; i < slot->n_pictures; i++)
    frames[i] = slot->pictures[i]->grey;
  trigger.width = slot->pictures[0]->width;
  trigger.height = slot->pictures[0]->height;
  trigger.n_others = list_others (stretch, which, others);
  slot->score = sci_blank_score (sci_blank_measure (&trigger));
}

/* What cannot be judged now keeps the score it has: its pictures may only be away. */
static gboolean
write_portion (TptJobScore *self, TptStore *store, const Stretch *stretch, guint n, GError **error)
{
  g_autofree TptScore *scores = g_new (TptScore, n);
  gsize n_scores = 0;

  for (guint i = 0; i < n; i++)
    {
      const TptScoreTrigger *trigger = &g_array_index (stretch->triggers, TptScoreTrigger, stretch->pieces[i]);
      const Slot *slot = stretch->slots[stretch->pieces[i]];

      if (!isnan (slot->score))
        scores[n_scores++] = (TptScore){ trigger->trigger_id, trigger->frames, slot->score };
      self->triggers++;
      self->unseen += slot->n_pictures == 0;
    }
  self->scored += (gint64) n_scores;
  return n_scores == 0 || tpt_store_write_scores (store, scores, n_scores, error);
}

static void
report (TptJobScore *self)
{
  g_autofree char *text = g_strdup_printf (
    ngettext ("%" G_GINT64_FORMAT " of %" G_GINT64_FORMAT " trigger", "%" G_GINT64_FORMAT " of %" G_GINT64_FORMAT " triggers", (gulong) self->wanted),
    self->triggers, self->wanted);

  tpt_job_report (TPT_JOB (self), (double) self->triggers / (double) MAX (self->wanted, 1), text);
}

/* Scores what is wanted of triggers @from to @to. */
static gboolean
score_portion (TptJobScore *self, TptStore *store, Stretch *stretch, guint from, guint to, GCancellable *cancellable, GError **error)
{
  guint n = 0;

  for (guint i = from; i < to; i++)
    n += g_array_index (stretch->triggers, TptScoreTrigger, i).wanted;
  if (n == 0)
    return TRUE;
  if (!hold_pictures (stretch, store, from > REACH ? from - REACH : 0, MIN (to + REACH, stretch->triggers->len), cancellable, error))
    return FALSE;
  n = 0;
  for (guint i = from; i < to; i++)
    if (g_array_index (stretch->triggers, TptScoreTrigger, i).wanted)
      stretch->pieces[n++] = i;
  tpt_share_work (n, score_cb, stretch, cancellable);
  if (g_cancellable_set_error_if_cancelled (cancellable, error) || !write_portion (self, store, stretch, n, error))
    return FALSE;
  report (self);
  return TRUE;
}

static gboolean
score_deployment (TptJobScore *self, TptStore *store, gint64 deployment_id, GCancellable *cancellable, GError **error)
{
  g_auto (Stretch) stretch = { 0 };

  if (!set_up_stretch (&stretch, self, store, deployment_id, error))
    return FALSE;
  for (guint from = 0; from < stretch.triggers->len; from += PORTION)
    if (!score_portion (self, store, &stretch, from, MIN (from + PORTION, stretch.triggers->len), cancellable, error))
      return FALSE;
  return TRUE;
}

static gboolean
count_wanted (TptJobScore *self, TptStore *store, GArray *deployments, GError **error)
{
  for (guint i = 0; i < deployments->len; i++)
    {
      g_autoptr (GArray) triggers = tpt_store_read_score_triggers (store, g_array_index (deployments, gint64, i), self->batch, self->again, error);

      if (triggers == NULL)
        return FALSE;
      for (guint k = 0; k < triggers->len; k++)
        self->wanted += g_array_index (triggers, TptScoreTrigger, k).wanted;
    }
  return TRUE;
}

static gboolean
tpt_job_score_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobScore *self = TPT_JOB_SCORE (job);
  g_autoptr (GArray) deployments = tpt_store_list_unscored (store, self->batch, self->again, error);

  if (deployments == NULL || !count_wanted (self, store, deployments, error))
    return FALSE;
  tpt_exif_init ();
  for (guint i = 0; i < deployments->len; i++)
    if (!score_deployment (self, store, g_array_index (deployments, gint64, i), cancellable, error))
      return FALSE;
  return TRUE;
}

static void
tpt_job_score_finalize (GObject *object)
{
  TptJobScore *self = TPT_JOB_SCORE (object);

  g_free (self->batch);

  G_OBJECT_CLASS (tpt_job_score_parent_class)->finalize (object);
}

static void
tpt_job_score_class_init (TptJobScoreClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_job_score_finalize;
  TPT_JOB_CLASS (klass)->run = tpt_job_score_run;
  TPT_JOB_CLASS (klass)->writes = TRUE;
  TPT_JOB_CLASS (klass)->lengthy = TRUE;
}

static void
tpt_job_score_init (TptJobScore *self)
{
}

TptJobScore *
tpt_job_score_new (const char *batch, gboolean again)
{
  TptJobScore *self = g_object_new (TPT_TYPE_JOB_SCORE, NULL);

  self->batch = g_strdup (batch);
  self->again = again;
  return self;
}

gint64
tpt_job_score_get_triggers (TptJobScore *self)
{
  return self->triggers;
}

gint64
tpt_job_score_get_scored (TptJobScore *self)
{
  return self->scored;
}

gint64
tpt_job_score_get_unseen (TptJobScore *self)
{
  return self->unseen;
}
