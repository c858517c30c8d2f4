#include "config.h"

#include "tpt-job-months-private.h"

#include "tpt-findings-jobs-private.h"

struct _TptJobMonths {
  TptJob parent_instance;

  /* Input arguments */
  TptFilter *filter; /* (owned) */
  TptFilter *other;  /* (owned) (nullable) */

  /* Results */
  TptMonthSeries *series[2]; /* (owned), the second (nullable) */
  TptRateRatio ratio;
  TptFigure *figure; /* (owned) */
  char *sentence;    /* (owned) */
};

G_DEFINE_FINAL_TYPE (TptJobMonths, tpt_job_months, TPT_TYPE_JOB)

gboolean
tpt_job_months_compute (TptJobMonths *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  self->series[0] = tpt_month_series_new (store, self->filter, cancellable, error);
  if (self->series[0] == NULL)
    return FALSE;
  if (self->other != NULL)
    {
      self->series[1] = tpt_month_series_new (store, self->other, cancellable, error);
      if (self->series[1] == NULL)
        return FALSE;
      self->ratio = tpt_month_series_compare (self->series[0], self->series[1]);
      self->sentence = tpt_month_series_say_ratio (self->series[0], self->series[1], &self->ratio);
    }
  else
    self->sentence = tpt_month_series_say_trend (self->series[0]);
  self->figure = tpt_month_series_draw (self->series[0], self->series[1], self->sentence);
  return TRUE;
}

static gboolean
tpt_job_months_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  return tpt_job_months_compute (TPT_JOB_MONTHS (job), store, cancellable, error);
}

static void
tpt_job_months_dispose (GObject *object)
{
  TptJobMonths *self = TPT_JOB_MONTHS (object);

  g_clear_pointer (&self->filter, tpt_filter_free);
  g_clear_pointer (&self->other, tpt_filter_free);
  for (guint i = 0; i < G_N_ELEMENTS (self->series); i++)
    g_clear_pointer (&self->series[i], tpt_month_series_free);
  g_clear_pointer (&self->figure, tpt_figure_unref);
  g_clear_pointer (&self->sentence, g_free);

  G_OBJECT_CLASS (tpt_job_months_parent_class)->dispose (object);
}

static void
tpt_job_months_class_init (TptJobMonthsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_months_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_months_run;
}

static void
tpt_job_months_init (TptJobMonths *self)
{
}

TptJobMonths *
tpt_job_months_new (const TptFilter *filter)
{
  TptJobMonths *self = g_object_new (TPT_TYPE_JOB_MONTHS, NULL);

  self->filter = tpt_filter_copy (filter);
  return self;
}

void
tpt_job_months_compare (TptJobMonths *self, const TptFilter *other)
{
  g_clear_pointer (&self->other, tpt_filter_free);
  self->other = tpt_filter_copy (other);
}

GArray *
tpt_job_months_get (TptJobMonths *self, guint which)
{
  return self->series[which] != NULL ? self->series[which]->months : NULL;
}

const TptRate *
tpt_job_months_get_rate (TptJobMonths *self, guint which)
{
  return &self->series[which]->rate;
}

const TptTrend *
tpt_job_months_get_trend (TptJobMonths *self, guint which)
{
  return &self->series[which]->trend;
}

const TptRateRatio *
tpt_job_months_get_ratio (TptJobMonths *self)
{
  return self->series[1] != NULL ? &self->ratio : NULL;
}

TptFigure *
tpt_job_months_get_figure (TptJobMonths *self)
{
  return self->figure;
}

const char *
tpt_job_months_get_sentence (TptJobMonths *self)
{
  return self->sentence;
}
