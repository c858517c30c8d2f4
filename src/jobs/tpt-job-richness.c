#include "config.h"

#include "tpt-job-richness.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "sci-community.h"
#include "tpt-accumulation.h"
#include "tpt-findings-jobs-private.h"
#include "tpt-pass-private.h"
#include "tpt-richness-words-private.h"

#define LEVEL 0.95

/* Of all species there are: what more stations are counted for. */
#define WISHED_SHARE 0.95

struct _TptJobRichness {
  TptJob parent_instance;

  /* Input arguments */
  TptFilter *filter; /* (owned) */

  /* In-progress data */
  TptPass *pass; /* (owned) */

  /* Results */
  TptRichness richness;
  TptFigure *figure; /* (owned) */
  char *sentence;    /* (owned) */
  char *method;      /* (owned) */
};

G_DEFINE_FINAL_TYPE (TptJobRichness, tpt_job_richness, TPT_TYPE_JOB)

/* Which unit each place is, or -1: those that worked, and those that saw something in a
 * stretch that does not count as effort. */
static int *
number_units (TptPass *pass, const gboolean *chosen, guint *n)
{
  int *units = g_new (int, pass->places->len + 1);

  for (guint i = 0; i < pass->places->len; i++)
    units[i] = pass->nights[i] > 0 ? 0 : -1;
  for (guint i = 0; i < pass->detections->len; i++)
    {
      const TptDetection *detection = &g_array_index (pass->detections, TptDetection, i);

      if (chosen[detection->species])
        units[detection->place] = 0;
    }
  *n = 0;
  for (guint i = 0; i < pass->places->len; i++)
    if (units[i] == 0)
      units[i] = (int) (*n)++;
  return units;
}

static gboolean
tally (TptJobRichness *self, const gboolean *chosen, SciTally *result)
{
  TptPass *pass = self->pass;
  g_autofree int *units = number_units (pass, chosen, &self->richness.stations);
  SciPresence presence;
  gboolean good;

  if (!sci_presence_init (&presence, self->richness.stations, pass->species->len))
    return FALSE;
  for (guint i = 0; i < pass->detections->len; i++)
    {
      const TptDetection *detection = &g_array_index (pass->detections, TptDetection, i);

      if (chosen[detection->species])
        sci_presence_set (&presence, detection->species, (gsize) units[detection->place]);
    }
  good = sci_tally_init (result, &presence);
  sci_presence_clear (&presence);
  return good;
}

static void
take_richness (TptRichness *r, const SciTally *counts)
{
  SciRichness got = sci_richness (counts);
  SciInterval limits = sci_richness_limits (&got, LEVEL);

  r->observed = (guint) got.species;
  r->incidences = (guint) got.incidences;
  r->uniques = (guint) got.uniques;
  r->duplicates = (guint) got.duplicates;
  r->chao2 = got.chao2;
  r->chao2_se = got.chao2_error;
  r->chao2_low = limits.lower;
  r->chao2_high = limits.upper;
  r->jack1 = got.jack1;
  r->jack1_se = got.jack1_error;
  r->jack2 = got.jack2;
  r->boot = got.boot;
  r->boot_se = got.boot_error;
  for (gsize q = 0; q < 3; q++)
    r->hill[q] = got.hill[q];
  r->coverage = got.coverage;
  r->more = sci_richness_more_units (&got, WISHED_SHARE);
  r->mean = g_new0 (double, r->stations + 1);
  r->sd = g_new0 (double, r->stations + 1);
  sci_accumulation (counts, r->mean, r->sd);
  r->why_not = tpt_richness_doubt (r);
}

static void
estimate (TptJobRichness *self, const gboolean *chosen)
{
  SciTally counts;

  if (!tally (self, chosen, &counts))
    g_error ("Out of memory for %u stations", self->richness.stations); /* as GLib does */
  self->richness.nights = self->pass->all_nights;
  take_richness (&self->richness, &counts);
  sci_tally_clear (&counts);
}

static void
set_caption (TptJobRichness *self)
{
  TptFigureCaption caption = TPT_FIGURE_CAPTION_INIT;
  g_autofree char *species = tpt_pass_name_species (self->pass, (const char *const *) self->filter->species);
  g_autofree char *title = g_strdup_printf (_("%s: how many so many stations see"), species);

  caption.title = title;
  caption.summary = self->sentence;
  caption.n = self->richness.observed;
  caption.n_of = _("species");
  caption.trap_nights = self->pass->all_nights;
  caption.period = self->pass->period;
  caption.zone = self->pass->zone;
  caption.method = self->method;
  caption.units = _("species seen");
  tpt_figure_set_caption (self->figure, &caption);
}

static void
make_figure (TptJobRichness *self)
{
  const TptRichness *r = &self->richness;

  self->figure = tpt_accumulation_new ();
  for (guint i = 0; r->observed > 0 && i < r->stations; i++)
    tpt_accumulation_add (self->figure, i + 1, r->mean[i], r->sd[i]);
  if (isfinite (r->chao2))
    tpt_accumulation_add_level (self->figure, "Chao2", r->chao2, r->chao2_low, r->chao2_high);
  set_caption (self);
}

static gboolean
compute (TptJobRichness *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autofree gboolean *chosen = NULL;

  self->pass = tpt_pass_get (store, self->filter, cancellable, error);
  chosen = self->pass != NULL ? tpt_pass_choose (self->pass, (const char *const *) self->filter->species, error) : NULL;
  if (chosen == NULL)
    return FALSE;
  estimate (self, chosen);
  self->sentence = tpt_richness_say (&self->richness, self->pass->period, self->pass->zone);
  self->method = g_strdup (
    _("Stations that worked or saw something are the units of sampling; one that saw nothing counts as one. "
      "Mean and standard deviation over all ways to choose so many of them, exact; Chao2 with limits "
      "after Chao 1987."));
  make_figure (self);
  return TRUE;
}

gboolean
tpt_job_richness_compute (TptJobRichness *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  gboolean good = compute (self, store, cancellable, error);

  g_clear_pointer (&self->pass, tpt_pass_unref);
  return good;
}

static gboolean
tpt_job_richness_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  return tpt_job_richness_compute (TPT_JOB_RICHNESS (job), store, cancellable, error);
}

static void
tpt_job_richness_dispose (GObject *object)
{
  TptJobRichness *self = TPT_JOB_RICHNESS (object);

  g_assert (self->pass == NULL);
  g_clear_pointer (&self->filter, tpt_filter_free);
  g_clear_pointer (&self->richness.mean, g_free);
  g_clear_pointer (&self->richness.sd, g_free);
  g_clear_pointer (&self->richness.why_not, g_free);
  g_clear_pointer (&self->figure, tpt_figure_unref);
  g_clear_pointer (&self->sentence, g_free);
  g_clear_pointer (&self->method, g_free);

  G_OBJECT_CLASS (tpt_job_richness_parent_class)->dispose (object);
}

static void
tpt_job_richness_class_init (TptJobRichnessClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_richness_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_richness_run;
}

static void
tpt_job_richness_init (TptJobRichness *self)
{
}

TptJobRichness *
tpt_job_richness_new (const TptFilter *filter)
{
  TptJobRichness *self = g_object_new (TPT_TYPE_JOB_RICHNESS, NULL);

  self->filter = tpt_filter_copy (filter);
  return self;
}

const TptRichness *
tpt_job_richness_get (TptJobRichness *self)
{
  return &self->richness;
}

TptFigure *
tpt_job_richness_get_figure (TptJobRichness *self)
{
  return self->figure;
}

const char *
tpt_job_richness_get_sentence (TptJobRichness *self)
{
  return self->sentence;
}

const char *
tpt_job_richness_get_method (TptJobRichness *self)
{
  return self->method;
}
