#include "config.h"

#include "tpt-job-occupancy.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "sci-occupancy.h"
#include "tpt-error.h"
#include "tpt-occasions-private.h"
#include "tpt-occupancy-words-private.h"

#define LEVEL 0.95

struct _TptJobOccupancy {
  TptJob parent_instance;

  /* Input arguments */
  TptFilter *filter; /* (owned) */
  int days;

  /* In-progress data */
  TptPass *pass;           /* (owned) */
  TptOccasions *occasions; /* (owned) */

  /* Results */
  TptOccupancy occupancy;
  GPtrArray *histories; /* (owned) (element-type TptHistory) */
  char *sentence;       /* (owned) */
  char *method;         /* (owned) */
};

G_DEFINE_FINAL_TYPE (TptJobOccupancy, tpt_job_occupancy, TPT_TYPE_JOB)

static void
free_history (gpointer data)
{
  TptHistory *history = data;

  g_free (history->station);
  g_free (history->occasions);
  g_free (history);
}

/* (transfer full): for each species of the pass, whether it is the one asked for. */
static gboolean *
choose_one (TptJobOccupancy *self, GError **error)
{
  g_autofree gboolean *chosen = tpt_pass_choose (self->pass, (const char *const *) self->filter->species, error);
  guint n = 0;

  if (chosen == NULL)
    return NULL;
  for (guint i = 0; i < self->pass->species->len; i++)
    n += chosen[i];
  if (n == 1 && self->filter->species != NULL)
    return g_steal_pointer (&chosen);
  g_set_error_literal (error, TPT_ERROR, TPT_ERROR_USAGE, _("Occupancy is estimated for one species at a time."));
  return NULL;
}

static void
mark_detections (TptJobOccupancy *self, const gboolean *chosen)
{
  for (guint i = 0; i < self->pass->detections->len; i++)
    {
      const TptDetection *detection = &g_array_index (self->pass->detections, TptDetection, i);

      if (chosen[detection->species])
        tpt_occasions_mark (self->occasions, detection);
    }
}

static void
add_history (TptJobOccupancy *self, guint place, const char *occasions)
{
  TptHistory *history = g_new (TptHistory, 1);

  history->station = g_strdup (tpt_record_get_code (self->pass->places->pdata[place]));
  history->occasions = g_strdup (occasions);
  g_ptr_array_add (self->histories, history);
}

/* (transfer full): of each station with an occasion. */
static SciOccupancySite *
make_sites (TptJobOccupancy *self)
{
  GPtrArray *all = self->occasions->histories;
  SciOccupancySite *sites = g_new0 (SciOccupancySite, all->len + 1);

  for (guint place = 0; place < all->len; place++)
    {
      const char *history = all->pdata[place];
      SciOccupancySite *site = &sites[self->histories->len];

      for (const char *c = history; *c != '\0'; c++)
        {
          site->visits += *c != '.';
          site->detections += *c == '1';
        }
      if (site->visits > 0)
        add_history (self, place, history);
    }
  return sites;
}

static void
take_estimate (TptOccupancy *o, const SciOccupancy *fit)
{
  o->psi = fit->psi.estimate;
  o->psi_se = fit->psi_error;
  o->psi_low = fit->psi.lower;
  o->psi_high = fit->psi.upper;
  o->p = fit->p.estimate;
  o->p_se = fit->p_error;
  o->p_low = fit->p.lower;
  o->p_high = fit->p.upper;
  o->loglik = fit->log_likelihood;
  o->aic = fit->aic;
  o->boundary = fit->state == SCI_OCCUPANCY_PSI_ONE || fit->state == SCI_OCCUPANCY_P_ONE;
  o->missed = sci_occupancy_missed (o->psi, o->p, o->occasions);
  o->needed = sci_occupancy_visits_needed (o->p, LEVEL);
  o->why_not = tpt_occupancy_doubt (o, fit->state);
}

static void
estimate (TptJobOccupancy *self)
{
  TptOccupancy *o = &self->occupancy;
  g_autofree SciOccupancySite *sites = make_sites (self);
  SciOccupancy fit = sci_occupancy_fit (sites, self->histories->len, LEVEL);

  o->sites = (guint) fit.sites;
  o->occasions = self->occasions->n;
  o->visits = (guint) fit.visits;
  o->sites_detected = (guint) fit.sites_detected;
  o->detections = (guint) fit.detections;
  o->naive = fit.naive;
  o->left_out = self->occasions->left_out;
  if (o->occasions > 0)
    o->period = (TptRange){ self->occasions->edges[0], self->occasions->edges[o->occasions] };
  o->why_not = tpt_occupancy_refuse (&fit, self->days);
  if (o->why_not == NULL)
    take_estimate (o, &fit);
}

static void
say (TptJobOccupancy *self)
{
  g_autofree char *species = tpt_pass_name_species (self->pass, (const char *const *) self->filter->species);

  self->sentence = tpt_occupancy_say (&self->occupancy, species, self->days, self->pass->zone);
  self->method = tpt_occupancy_describe_method (self->days);
}

static gboolean
compute (TptJobOccupancy *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autofree gboolean *chosen = NULL;

  self->pass = tpt_pass_get (store, self->filter, cancellable, error);
  chosen = self->pass != NULL ? choose_one (self, error) : NULL;
  self->occasions = chosen != NULL ? tpt_occasions_new (self->pass, self->days, error) : NULL;
  if (self->occasions == NULL)
    return FALSE;
  mark_detections (self, chosen);
  estimate (self);
  say (self);
  return TRUE;
}

static gboolean
tpt_job_occupancy_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobOccupancy *self = TPT_JOB_OCCUPANCY (job);
  gboolean good = compute (self, store, cancellable, error);

  g_clear_pointer (&self->occasions, tpt_occasions_free);
  g_clear_pointer (&self->pass, tpt_pass_unref);
  return good;
}

static void
tpt_job_occupancy_dispose (GObject *object)
{
  TptJobOccupancy *self = TPT_JOB_OCCUPANCY (object);

  g_assert (self->pass == NULL && self->occasions == NULL);
  g_clear_pointer (&self->filter, tpt_filter_free);
  g_clear_pointer (&self->occupancy.why_not, g_free);
  g_clear_pointer (&self->histories, g_ptr_array_unref);
  g_clear_pointer (&self->sentence, g_free);
  g_clear_pointer (&self->method, g_free);

  G_OBJECT_CLASS (tpt_job_occupancy_parent_class)->dispose (object);
}

static void
tpt_job_occupancy_class_init (TptJobOccupancyClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_occupancy_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_occupancy_run;
}

static void
tpt_job_occupancy_init (TptJobOccupancy *self)
{
  self->histories = g_ptr_array_new_with_free_func (free_history);
  self->occupancy = (TptOccupancy){
    .naive = NAN,
    .psi = NAN,
    .psi_se = NAN,
    .psi_low = NAN,
    .psi_high = NAN,
    .p = NAN,
    .p_se = NAN,
    .p_low = NAN,
    .p_high = NAN,
    .loglik = NAN,
    .aic = NAN,
    .missed = NAN,
    .needed = NAN,
    .period = { TPT_NO_INSTANT, TPT_NO_INSTANT },
  };
}

TptJobOccupancy *
tpt_job_occupancy_new (const TptFilter *filter, int occasion_days)
{
  TptJobOccupancy *self = g_object_new (TPT_TYPE_JOB_OCCUPANCY, NULL);

  g_return_val_if_fail (occasion_days >= 1, self);
  self->filter = tpt_filter_copy (filter);
  self->days = occasion_days;
  /* every record on its own: see the header */
  self->filter->independence_min = 0;
  self->filter->gap_from_first = 0;
  return self;
}

const TptOccupancy *
tpt_job_occupancy_get (TptJobOccupancy *self)
{
  return &self->occupancy;
}

const char *
tpt_job_occupancy_get_sentence (TptJobOccupancy *self)
{
  return self->sentence;
}

const char *
tpt_job_occupancy_get_method (TptJobOccupancy *self)
{
  return self->method;
}

GPtrArray *
tpt_job_occupancy_get_histories (TptJobOccupancy *self)
{
  return self->histories;
}
