#include "config.h"

#include "tpt-job-visit.h"

#include "tpt-error.h"
#include "tpt-job-edit-private.h"
#include "tpt-visit-private.h"

typedef struct {
  TptRecord *visit; /* (owned) */
  GPtrArray *lines; /* (owned) (element-type TptVisitLine) */
  gboolean bring_in;
} Told;

static void
free_told (gpointer data)
{
  Told *told = data;

  g_clear_object (&told->visit);
  g_clear_pointer (&told->lines, g_ptr_array_unref);
  g_free (told);
}

static gboolean
refuse (TptJobEdit *job, const Told *told, const TptVisitFault *fault, GError **error)
{
  const TptVisitLine *line = fault->line >= 0 ? told->lines->pdata[fault->line] : NULL;

  g_set_error_literal (error, TPT_ERROR, TPT_ERROR_DATA, fault->reason);
  return tpt_job_edit_blame (job, line != NULL ? line->reading : told->visit, fault->column);
}

static gboolean
prepare (TptJobEdit *job, TptStore *store, gpointer data, GError **error)
{
  Told *told = data;
  g_autoptr (TptVisitFacts) facts = tpt_visit_facts_read (store, tpt_record_get_text (told->visit, "station"),
                                                          tpt_record_get_instant (told->visit, "at"), error);
  g_autoptr (TptVisitPlan) plan = NULL;
  GPtrArray *records;

  if (facts == NULL || !tpt_visit_facts_add_lines (facts, store, told->lines, error))
    return FALSE;
  plan = tpt_visit_plan_new (facts, told->visit, told->lines, told->bring_in);
  if (tpt_visit_plan_get_faults (plan)->len > 0)
    return refuse (job, told, tpt_visit_plan_get_faults (plan)->pdata[0], error);
  records = tpt_visit_plan_get_records (plan);
  for (guint i = 0; i < records->len; i++)
    tpt_job_edit_save (job, records->pdata[i]);
  return TRUE;
}

TptJobEdit *
tpt_job_visit_new (const char *what, TptRecord *visit, GPtrArray *lines, gboolean bring_in)
{
  TptJobEdit *job = tpt_job_edit_new (what);
  Told *told = g_new0 (Told, 1);

  told->visit = g_object_ref (visit);
  told->lines = g_ptr_array_ref (lines);
  told->bring_in = bring_in;
  tpt_job_edit_set_prepare (job, prepare, told, free_told);
  return job;
}

struct _TptJobVisitFacts {
  TptJob parent_instance;

  /* Input arguments */
  char *station; /* (owned) */
  TptInstant at;

  /* Results */
  TptVisitFacts *facts; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptJobVisitFacts, tpt_job_visit_facts, TPT_TYPE_JOB)

static gboolean
tpt_job_visit_facts_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobVisitFacts *self = TPT_JOB_VISIT_FACTS (job);
  g_autoptr (TptVisitFacts) facts = tpt_visit_facts_read (store, self->station, self->at, error);

  if (facts == NULL || !tpt_visit_facts_add_all (facts, store, error))
    return FALSE;
  self->facts = g_steal_pointer (&facts);
  return TRUE;
}

static void
tpt_job_visit_facts_dispose (GObject *object)
{
  TptJobVisitFacts *self = TPT_JOB_VISIT_FACTS (object);

  g_clear_pointer (&self->station, g_free);
  g_clear_pointer (&self->facts, tpt_visit_facts_free);

  G_OBJECT_CLASS (tpt_job_visit_facts_parent_class)->dispose (object);
}

static void
tpt_job_visit_facts_class_init (TptJobVisitFactsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_visit_facts_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_visit_facts_run;
}

static void
tpt_job_visit_facts_init (TptJobVisitFacts *self)
{
}

TptJobVisitFacts *
tpt_job_visit_facts_new (const char *station, TptInstant at)
{
  TptJobVisitFacts *self = g_object_new (TPT_TYPE_JOB_VISIT_FACTS, NULL);

  self->station = g_strdup (station);
  self->at = at;
  return self;
}

TptVisitFacts *
tpt_job_visit_facts_steal (TptJobVisitFacts *self)
{
  return g_steal_pointer (&self->facts);
}
