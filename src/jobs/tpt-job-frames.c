#include "config.h"

#include "tpt-job-frames.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-batches.h"
#include "tpt-error.h"
#include "tpt-filter.h"
#include "tpt-frames.h"
#include "tpt-records.h"

struct _TptJobFrames {
  TptJob parent_instance;

  /* Input arguments */
  TptFrameQuery *query; /* (owned) */

  /* Results */
  GArray *refs; /* (owned) (nullable) (element-type TptFrameRef) */
  gint64 triggers;
  gint64 undecided;
};

G_DEFINE_FINAL_TYPE (TptJobFrames, tpt_job_frames, TPT_TYPE_JOB)

/* Frames without a time come last. */
static TptInstant
late (TptInstant at)
{
  return at != TPT_NO_INSTANT ? at : G_MAXINT64;
}

static int
compare_times (const TptFoundFrame *a, const TptFoundFrame *b)
{
  TptInstant x = late (a->start), y = late (b->start);

  if (x != y)
    return x < y ? -1 : 1;
  if (a->trigger_id != b->trigger_id)
    return a->trigger_id < b->trigger_id ? -1 : 1;
  if (a->at != b->at)
    return late (a->at) < late (b->at) ? -1 : 1;
  return (a->frame_id > b->frame_id) - (a->frame_id < b->frame_id);
}

static int
compare_times_cb (gconstpointer a, gconstpointer b)
{
  return compare_times (a, b);
}

/* Those without a score go where nobody takes them for empty: first when the
 * empty ones are last, last when they are first. */
static int
compare_scores (const TptFoundFrame *a, const TptFoundFrame *b, int sign)
{
  double x = isnan (a->blank_score) ? -1 : a->blank_score, y = isnan (b->blank_score) ? -1 : b->blank_score;

  if (x != y)
    return x < y ? -sign : sign;
  return compare_times (a, b);
}

static int
compare_blank_last_cb (gconstpointer a, gconstpointer b)
{
  return compare_scores (a, b, 1);
}

static int
compare_blank_first_cb (gconstpointer a, gconstpointer b)
{
  return compare_scores (a, b, -1);
}

static void
sort_found (GArray *found, TptFrameOrder order)
{
  static const GCompareFunc compare[] = {
    [TPT_FRAMES_BY_TIME] = compare_times_cb,
    [TPT_FRAMES_BLANK_LAST] = compare_blank_last_cb,
    [TPT_FRAMES_BLANK_FIRST] = compare_blank_first_cb,
  };

  g_array_sort (found, compare[order]);
}

static gboolean
check_types (const char *const *types, GError **error)
{
  const TptTable *table = tpt_table_get (TPT_TABLE_OBSERVATIONS);
  const char *const *known = table->columns[tpt_table_find (table, "type")].choices;

  for (guint i = 0; types != NULL && types[i] != NULL; i++)
    if (!g_strv_contains (known, types[i]))
      {
        g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE,
                     _("“%s” is not a type: animal, human, vehicle, blank, unknown or unclassified"), types[i]);
        return FALSE;
      }
  return TRUE;
}

static GArray *
find_all (TptJobFrames *self, TptStore *store, GError **error)
{
  const TptFrameQuery *query = self->query;
  g_autoptr (GArray) species = NULL;
  TptFrameWish wish = {
    .batch = query->batch,
    .stations = (const char *const *) query->stations,
    .types = (const char *const *) query->types,
    .range = query->range,
    .certainty_below = query->certainty_below,
    .undecided = query->undecided,
    .disagreeing = query->disagreeing,
    .marked = query->marked,
    .every_frame = query->every_frame,
  };

  if (!tpt_store_check_batch (store, query->batch, error) || !check_types (wish.types, error) ||
      !tpt_store_check_stations (store, wish.stations, error))
    return NULL;
  if (query->species != NULL)
    {
      species = tpt_store_find_species (store, (const char *const *) query->species, error);
      if (species == NULL)
        return NULL;
    }
  wish.species = species;
  return tpt_store_find_frames (store, &wish, error);
}

static gboolean
is_in_hours (TptJobFrames *self, TptZone *zone, const TptFoundFrame *found)
{
  TptFilter hours = { .hour_from = self->query->hour_from, .hour_to = self->query->hour_to };

  return hours.hour_from < 0 || (found->at != TPT_NO_INSTANT && tpt_filter_has_hour (&hours, zone, found->at));
}

static gboolean
is_empty_enough (TptJobFrames *self, const TptFoundFrame *found)
{
  return !(self->query->blank_from > 0) || found->blank_score >= self->query->blank_from;
}

/* Counts triggers where they begin: in a list of every frame one trigger's
 * frames follow each other. */
static void
note_frame (TptJobFrames *self, const TptFoundFrame *found)
{
  TptFrameRef ref = { found->frame_id, found->trigger_id };
  guint n = self->refs->len;
  gboolean same = found->trigger_id != 0 && n > 0 && g_array_index (self->refs, TptFrameRef, n - 1).trigger_id == found->trigger_id;

  g_array_append_val (self->refs, ref);
  if (same)
    return;
  self->triggers++;
  self->undecided += found->trigger_id != 0 && !found->decided;
}

static gboolean
tpt_job_frames_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobFrames *self = TPT_JOB_FRAMES (job);
  g_autoptr (GArray) found = find_all (self, store, error);

  if (found == NULL)
    return FALSE;
  sort_found (found, self->query->order);
  self->refs = g_array_sized_new (FALSE, FALSE, sizeof (TptFrameRef), found->len);
  for (guint i = 0; i < found->len; i++)
    {
      const TptFoundFrame *frame = &g_array_index (found, TptFoundFrame, i);

      if (is_empty_enough (self, frame) && is_in_hours (self, tpt_store_get_zone (store), frame))
        note_frame (self, frame);
    }
  return !g_cancellable_set_error_if_cancelled (cancellable, error);
}

static void
tpt_job_frames_dispose (GObject *object)
{
  TptJobFrames *self = TPT_JOB_FRAMES (object);

  g_clear_pointer (&self->query, tpt_frame_query_free);
  g_clear_pointer (&self->refs, g_array_unref);

  G_OBJECT_CLASS (tpt_job_frames_parent_class)->dispose (object);
}

static void
tpt_job_frames_class_init (TptJobFramesClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_frames_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_frames_run;
}

static void
tpt_job_frames_init (TptJobFrames *self)
{
}

TptJobFrames *
tpt_job_frames_new (const TptFrameQuery *query)
{
  TptJobFrames *self = g_object_new (TPT_TYPE_JOB_FRAMES, NULL);

  self->query = tpt_frame_query_copy (query);
  return self;
}

GArray *
tpt_job_frames_steal_refs (TptJobFrames *self)
{
  return g_steal_pointer (&self->refs);
}

gint64
tpt_job_frames_get_triggers (TptJobFrames *self)
{
  return self->triggers;
}

gint64
tpt_job_frames_get_undecided (TptJobFrames *self)
{
  return self->undecided;
}
