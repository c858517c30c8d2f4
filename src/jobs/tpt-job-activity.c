#include "config.h"

#include "tpt-job-activity.h"

#include "tpt-activity-private.h"
#include "tpt-discretion-private.h"
#include "tpt-findings-jobs-private.h"

/* The finest grid for the times of the sun without leave, decimals of a degree. */
#define FINEST_DECIMALS 1

struct _TptJobActivity {
  TptJob parent_instance;

  /* Input arguments */
  TptFilter *filter; /* (owned) */
  TptFilter *other;  /* (owned) (nullable) */
  TptActivityOrder order;
  gboolean discreet;

  /* Results */
  TptActivitySeries *series[2]; /* (owned), the second (nullable) */
  TptOverlap *overlap;          /* (owned) (nullable) */
  TptFigure *figure;            /* (owned) */
  char *sentence;               /* (owned) */
  char *method;                 /* (owned) */
};

G_DEFINE_FINAL_TYPE (TptJobActivity, tpt_job_activity, TPT_TYPE_JOB)

static int
find_coarsest (const TptActivitySeries *series, int decimals)
{
  for (guint i = 0; i < series->pass->places->len; i++)
    decimals = MIN (decimals, tpt_discretion_decimals (series->pass->places->pdata[i]));
  for (guint i = 0; i < series->picked->len; i++)
    {
      guint species = g_array_index (series->picked, TptDetection, i).species;

      decimals = MIN (decimals, tpt_discretion_decimals (series->pass->species->pdata[species]));
    }
  return decimals;
}

static int
choose_decimals (TptJobActivity *self, TptStore *store)
{
  int decimals = MIN (FINEST_DECIMALS, tpt_discretion_floor (store));

  if (!self->discreet)
    return -1;
  decimals = find_coarsest (self->series[0], decimals);
  return self->series[1] != NULL ? find_coarsest (self->series[1], decimals) : decimals;
}

/* What each is beside the other, for the legend. */
static void
name_difference (TptActivitySeries *self, const TptActivitySeries *other)
{
  g_free (self->found.label);
  self->found.label = tpt_pass_name_difference (self->pass, self->filter, other->filter);
}

static gboolean
count (TptJobActivity *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  self->series[0] = tpt_activity_series_new (store, self->filter, cancellable, error);
  if (self->series[0] == NULL)
    return FALSE;
  if (self->other == NULL)
    return TRUE;
  self->series[1] = tpt_activity_series_new (store, self->other, cancellable, error);
  if (self->series[1] == NULL)
    return FALSE;
  name_difference (self->series[0], self->series[1]);
  name_difference (self->series[1], self->series[0]);
  return TRUE;
}

static gboolean
compare (TptJobActivity *self, GCancellable *cancellable, GError **error)
{
  if (self->series[1] == NULL)
    {
      self->sentence = tpt_activity_say (self->series[0], self->order.by_sun);
      return TRUE;
    }
  self->overlap = tpt_activity_overlap_new (self->series[0], self->series[1], &self->order, cancellable, error);
  if (self->overlap == NULL)
    return FALSE;
  self->sentence = tpt_activity_say_overlap (self->series[0], self->series[1], self->overlap);
  return TRUE;
}

gboolean
tpt_job_activity_compute (TptJobActivity *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  if (!count (self, store, cancellable, error))
    return FALSE;
  self->order.decimals = choose_decimals (self, store);
  for (guint i = 0; i < G_N_ELEMENTS (self->series) && self->series[i] != NULL; i++)
    if (!tpt_activity_series_fill (self->series[i], &self->order, cancellable, error))
      return FALSE;
  if (!compare (self, cancellable, error))
    return FALSE;
  self->method = tpt_activity_say_method (self->series[0], self->series[1], self->overlap, &self->order);
  self->figure = tpt_activity_draw (self->series[0], self->series[1], &self->order, self->sentence, self->method);
  return TRUE;
}

static gboolean
tpt_job_activity_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  return tpt_job_activity_compute (TPT_JOB_ACTIVITY (job), store, cancellable, error);
}

static void
tpt_job_activity_dispose (GObject *object)
{
  TptJobActivity *self = TPT_JOB_ACTIVITY (object);

  g_clear_pointer (&self->filter, tpt_filter_free);
  g_clear_pointer (&self->other, tpt_filter_free);
  for (guint i = 0; i < G_N_ELEMENTS (self->series); i++)
    g_clear_pointer (&self->series[i], tpt_activity_series_free);
  g_clear_pointer (&self->overlap, tpt_activity_overlap_free);
  g_clear_pointer (&self->figure, tpt_figure_unref);
  g_clear_pointer (&self->sentence, g_free);
  g_clear_pointer (&self->method, g_free);

  G_OBJECT_CLASS (tpt_job_activity_parent_class)->dispose (object);
}

static void
tpt_job_activity_class_init (TptJobActivityClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_activity_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_activity_run;
}

static void
tpt_job_activity_init (TptJobActivity *self)
{
  self->order = (TptActivityOrder){ FALSE, TPT_ACTIVITY_POINTS, TPT_ACTIVITY_BOOT, TPT_ACTIVITY_SEED, -1 };
}

TptJobActivity *
tpt_job_activity_new (const TptFilter *filter, gboolean by_sun)
{
  TptJobActivity *self = g_object_new (TPT_TYPE_JOB_ACTIVITY, NULL);

  self->filter = tpt_filter_copy (filter);
  self->order.by_sun = by_sun;
  return self;
}

void
tpt_job_activity_compare (TptJobActivity *self, const TptFilter *other)
{
  g_clear_pointer (&self->other, tpt_filter_free);
  self->other = tpt_filter_copy (other);
}

void
tpt_job_activity_set_detail (TptJobActivity *self, guint points, guint boot)
{
  self->order.points = CLAMP (points, TPT_ACTIVITY_POINTS_LEAST, TPT_ACTIVITY_POINTS_MOST);
  self->order.boot = MIN (boot, TPT_ACTIVITY_BOOT_MOST);
}

void
tpt_job_activity_set_seed (TptJobActivity *self, guint64 seed)
{
  self->order.seed = seed;
}

void
tpt_job_activity_set_discreet (TptJobActivity *self, gboolean discreet)
{
  self->discreet = discreet;
}

const TptActivity *
tpt_job_activity_get (TptJobActivity *self, guint which)
{
  return self->series[which] != NULL ? &self->series[which]->found : NULL;
}

const TptOverlap *
tpt_job_activity_get_overlap (TptJobActivity *self)
{
  return self->overlap;
}

TptFigure *
tpt_job_activity_get_figure (TptJobActivity *self)
{
  return self->figure;
}

const char *
tpt_job_activity_get_sentence (TptJobActivity *self)
{
  return self->sentence;
}

const char *
tpt_job_activity_get_method (TptJobActivity *self)
{
  return self->method;
}
