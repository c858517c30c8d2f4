#include "config.h"

#include "tpt-job-frames.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "sci-sun.h"
#include "tpt-error.h"
#include "tpt-frame-item-private.h"
#include "tpt-frames.h"
#include "tpt-names-private.h"
#include "tpt-opinions.h"
#include "tpt-scan.h"

struct _TptJobFrameRows {
  TptJob parent_instance;

  /* Input arguments */
  GArray *refs;      /* (owned) (element-type TptFrameRef) */
  gint64 trigger_id; /* instead of @refs, or 0 */
  GStrv codes;       /* (owned) (nullable): likewise */

  /* In-progress data */
  TptStore *store;   /* (unowned) */
  TptNamer *namer;   /* (owned) */
  gint64 read_of;    /* the trigger that @opinions are of */
  GArray *opinions;  /* (owned) (element-type TptOpinion) */

  /* Results */
  GPtrArray *rows; /* (owned) (element-type TptFrameRow) */
};

G_DEFINE_FINAL_TYPE (TptJobFrameRows, tpt_job_frame_rows, TPT_TYPE_JOB)

/* Pages show the frames of a trigger one after another: its opinions are read once. */
static gboolean
read_opinions (TptJobFrameRows *self, const TptFrameDetail *facts, GError **error)
{
  if (facts->trigger_id != 0 && facts->trigger_id == self->read_of)
    return TRUE;
  g_clear_pointer (&self->opinions, g_array_unref);
  self->read_of = facts->trigger_id;
  self->opinions = facts->trigger_id != 0 ? tpt_store_read_opinions (self->store, facts->trigger_id, error)
                                          : tpt_store_read_frame_opinions (self->store, facts->frame_id, error);
  return self->opinions != NULL;
}

static TptSeen *
see (const TptOpinion *opinion, const char *common)
{
  TptSeen *seen = tpt_seen_new ();

  seen->observation = g_strdup (opinion->observation);
  seen->type = g_strdup (opinion->type);
  seen->species = g_strdup (opinion->species);
  seen->common = g_strdup (common);
  seen->count = opinion->count;
  seen->sex = g_strdup (opinion->sex);
  seen->life_stage = g_strdup (opinion->life_stage);
  seen->behaviour = g_strdup (opinion->behaviour);
  seen->individual = g_strdup (opinion->individual);
  seen->notes = g_strdup (opinion->notes);
  seen->certainty = opinion->certainty;
  seen->by = g_strdup (opinion->by);
  seen->at = opinion->at;
  seen->opinion = opinion->opinion;
  return seen;
}

static gboolean
add_seen (TptJobFrameRows *self, TptFrameRow *row, GError **error)
{
  for (guint i = 0; i < self->opinions->len; i++)
    {
      const TptOpinion *opinion = &g_array_index (self->opinions, TptOpinion, i);
      GError *failure = NULL;
      const char *common = opinion->species_id != 0 ? tpt_namer_get (self->namer, opinion->species_id, &failure) : NULL;

      if (failure != NULL)
        {
          g_propagate_error (error, failure);
          return FALSE;
        }
      g_ptr_array_add (row->seen, see (opinion, common));
    }
  row->disagreement = tpt_seen_differ (row->seen);
  return TRUE;
}

static int
find_night (const TptFrameDetail *facts)
{
  if (facts->at == TPT_NO_INSTANT || isnan (facts->latitude))
    return -1;
  return sci_sun_altitude (facts->at, facts->latitude, facts->longitude) < SCI_CIVIL_ALTITUDE;
}

/* Takes the texts over from @facts. */
static TptFrameRow *
make_row (TptJobFrameRows *self, TptFrameDetail *facts)
{
  TptFrameRow *row = tpt_frame_row_new ();

  row->ref = (TptFrameRef){ facts->frame_id, facts->trigger_id };
  row->path = g_build_filename (tpt_store_get_folder (self->store), facts->file, NULL);
  row->file = g_strdup (facts->file);
  row->frame = g_steal_pointer (&facts->frame);
  row->sha256 = g_steal_pointer (&facts->sha256);
  row->kind = g_steal_pointer (&facts->kind);
  if (row->kind == NULL) /* taken in before it was noted */
    row->kind = g_strdup (tpt_scan_kind_to_string (tpt_scan_kind_from_name (facts->file)));
  row->at = facts->at;
  row->camera_time = g_steal_pointer (&facts->camera_time);
  row->time_source = g_steal_pointer (&facts->time_source);
  row->temperature_c = facts->temperature_c;
  row->flash = facts->flash;
  row->damage = g_steal_pointer (&facts->damage);
  row->place = facts->place;
  row->n_frames = facts->n_frames;
  row->blank_score = facts->blank_score;
  row->station_title = g_strdup (facts->station_name != NULL ? facts->station_name : facts->station);
  row->station = g_steal_pointer (&facts->station);
  row->deployment = g_steal_pointer (&facts->deployment);
  row->batch = g_steal_pointer (&facts->batch);
  row->night = find_night (facts);
  row->marked = facts->marked;
  return row;
}

static gboolean
add_row (TptJobFrameRows *self, gint64 frame_id, GError **error)
{
  TptFrameDetail facts = { 0 };
  GError *failure = NULL;
  TptFrameRow *row;
  gboolean good;

  if (!tpt_store_read_frame (self->store, frame_id, &facts, &failure))
    {
      if (failure != NULL)
        g_propagate_error (error, failure);
      return failure == NULL;
    }
  row = make_row (self, &facts);
  g_ptr_array_add (self->rows, row);
  good = read_opinions (self, &facts, error) && add_seen (self, row, error);
  tpt_frame_detail_clear (&facts);
  return good;
}

static gboolean
find_codes (TptJobFrameRows *self, GError **error)
{
  for (guint i = 0; self->codes != NULL && self->codes[i] != NULL; i++)
    {
      GError *failure = NULL;
      TptFrameRef ref;

      ref.frame_id = tpt_store_find_frame_id (self->store, self->codes[i], &ref.trigger_id, &failure);
      if (failure != NULL)
        g_propagate_error (error, failure);
      else if (ref.frame_id == 0)
        g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("There is no frame “%s” in this project"), self->codes[i]);
      if (ref.frame_id == 0)
        return FALSE;
      g_array_append_val (self->refs, ref);
    }
  return TRUE;
}

static gboolean
read_rows (TptJobFrameRows *self, GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) frames = NULL;

  if (self->trigger_id == 0)
    {
      for (guint i = 0; i < self->refs->len; i++)
        if (g_cancellable_set_error_if_cancelled (cancellable, error) ||
            !add_row (self, g_array_index (self->refs, TptFrameRef, i).frame_id, error))
          return FALSE;
      return TRUE;
    }
  frames = tpt_store_list_trigger_frames (self->store, self->trigger_id, error);
  if (frames == NULL)
    return FALSE;
  for (guint i = 0; i < frames->len; i++)
    if (!add_row (self, g_array_index (frames, gint64, i), error))
      return FALSE;
  return TRUE;
}

static gboolean
tpt_job_frame_rows_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobFrameRows *self = TPT_JOB_FRAME_ROWS (job);
  gboolean good;

  self->store = store;
  self->namer = tpt_namer_new (store, NULL);
  good = find_codes (self, error) && read_rows (self, cancellable, error);
  g_clear_pointer (&self->namer, tpt_namer_free);
  g_clear_pointer (&self->opinions, g_array_unref);
  self->store = NULL;
  return good;
}

static void
tpt_job_frame_rows_dispose (GObject *object)
{
  TptJobFrameRows *self = TPT_JOB_FRAME_ROWS (object);

  g_assert (self->store == NULL && self->namer == NULL && self->opinions == NULL);
  g_clear_pointer (&self->refs, g_array_unref);
  g_clear_pointer (&self->codes, g_strfreev);
  g_clear_pointer (&self->rows, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_job_frame_rows_parent_class)->dispose (object);
}

static void
tpt_job_frame_rows_class_init (TptJobFrameRowsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_frame_rows_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_frame_rows_run;
}

static void
tpt_job_frame_rows_init (TptJobFrameRows *self)
{
  self->refs = g_array_new (FALSE, FALSE, sizeof (TptFrameRef));
  self->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_frame_row_free);
}

TptJobFrameRows *
tpt_job_frame_rows_new (const TptFrameRef *refs, guint n)
{
  TptJobFrameRows *self = g_object_new (TPT_TYPE_JOB_FRAME_ROWS, NULL);

  g_array_append_vals (self->refs, refs, n);
  return self;
}

TptJobFrameRows *
tpt_job_frame_rows_new_for_codes (const char *const *codes)
{
  TptJobFrameRows *self = g_object_new (TPT_TYPE_JOB_FRAME_ROWS, NULL);

  self->codes = g_strdupv ((char **) codes);
  return self;
}

TptJobFrameRows *
tpt_job_frame_rows_new_for_trigger (gint64 trigger_id)
{
  TptJobFrameRows *self = g_object_new (TPT_TYPE_JOB_FRAME_ROWS, NULL);

  self->trigger_id = trigger_id;
  return self;
}

GPtrArray *
tpt_job_frame_rows_get_rows (TptJobFrameRows *self)
{
  return self->rows;
}
