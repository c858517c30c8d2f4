#include "config.h"

#include "tpt-job-rate.h"

#include <math.h>

#include "tpt-due-facts-private.h"

struct _TptJobRate {
  TptJob parent_instance;

  /* Results */
  double triggers_per_day;
};

G_DEFINE_FINAL_TYPE (TptJobRate, tpt_job_rate, TPT_TYPE_JOB)

static gboolean
tpt_job_rate_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptInstant now = tpt_store_get_now (store);
  g_autoptr (TptDueFacts) facts = tpt_due_facts_new (store, now, now + TPT_DAY, error);

  if (facts == NULL || g_cancellable_set_error_if_cancelled (cancellable, error))
    return FALSE;
  TPT_JOB_RATE (job)->triggers_per_day = facts->traffic.prior_a / facts->traffic.prior_b;
  return TRUE;
}

static void
tpt_job_rate_class_init (TptJobRateClass *klass)
{
  TPT_JOB_CLASS (klass)->run = tpt_job_rate_run;
}

static void
tpt_job_rate_init (TptJobRate *self)
{
  self->triggers_per_day = NAN;
}

TptJobRate *
tpt_job_rate_new (void)
{
  return g_object_new (TPT_TYPE_JOB_RATE, NULL);
}

double
tpt_job_rate_get_triggers_per_day (TptJobRate *self)
{
  return self->triggers_per_day;
}
