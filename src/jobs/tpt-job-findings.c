#include "config.h"

#include "tpt-job-findings.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-findings-items-private.h"
#include "tpt-findings-private.h"
#include "tpt-findings-strip-private.h"
#include "tpt-pass-private.h"
#include "tpt-words.h"

struct _TptJobFindings {
  TptJob parent_instance;

  /* Input arguments */
  TptFilter *filter; /* (owned) */
  TptFilter *other;  /* (owned) (nullable): what the strip shows beside it */

  gboolean without_strip;

  /* In-progress data */
  gboolean *chosen; /* (owned): for each species of the pass */

  /* Results */
  TptPass *pass;       /* (owned) */
  GListStore *species; /* (owned) */
  GListStore *places;  /* (owned) */
  GArray *detections;  /* (owned) (element-type TptDetection): of the chosen species, by time */
  TptPass *other_pass; /* (owned) (nullable) */
  GArray *other_detections; /* (owned) (nullable): the same of the other filter */
  TptRate rate;
  char *sentence;   /* (owned) */
  TptFigure *strip; /* (owned) */
};

G_DEFINE_FINAL_TYPE (TptJobFindings, tpt_job_findings, TPT_TYPE_JOB)

/* Items have records of their own: the pass and its records stay with the worker. */
static GPtrArray *
make_places (TptJobFindings *self)
{
  GPtrArray *items = g_ptr_array_new ();

  for (guint i = 0; i < self->pass->places->len; i++)
    {
      g_autoptr (TptRecord) record = tpt_record_copy (self->pass->places->pdata[i]);
      g_autoptr (TptPlaceItem) item = tpt_place_item_new (record);

      tpt_place_item_edit_rate (item)->nights = self->pass->nights[i];
      g_list_store_append (self->places, item);
      g_ptr_array_add (items, item); /* the list keeps it */
    }
  return items;
}

static GPtrArray *
make_species (TptJobFindings *self)
{
  GPtrArray *items = g_ptr_array_new ();

  for (guint i = 0; i < self->pass->species->len; i++)
    {
      g_autoptr (TptRecord) record = tpt_record_copy (self->pass->species->pdata[i]);
      g_autoptr (TptSpeciesItem) item = tpt_species_item_new (record);

      tpt_species_item_edit_rate (item)->nights = self->pass->all_nights;
      g_list_store_append (self->species, item);
      g_ptr_array_add (items, item); /* the list keeps it */
    }
  return items;
}

static void
add_detection (TptRate *rate, const TptDetection *detection)
{
  rate->detections++;
  rate->individuals += detection->animals;
}

/* Detections of the pass come by species and station, so a new pair is a new station of the species. */
static void
count_all (TptJobFindings *self, GPtrArray *species, GPtrArray *places)
{
  const TptDetection *last = NULL;

  for (guint i = 0; i < self->pass->detections->len; i++)
    {
      const TptDetection *detection = &g_array_index (self->pass->detections, TptDetection, i);
      TptRate *rate = tpt_species_item_edit_rate (species->pdata[detection->species]);

      add_detection (rate, detection);
      rate->stations += last == NULL || last->species != detection->species || last->place != detection->place;
      last = detection;
      if (!self->chosen[detection->species])
        continue;
      add_detection (tpt_place_item_edit_rate (places->pdata[detection->place]), detection);
      add_detection (&self->rate, detection);
    }
}

static void
count (TptJobFindings *self)
{
  g_autoptr (GPtrArray) species = make_species (self), places = make_places (self);

  count_all (self, species, places);
  for (guint i = 0; i < species->len; i++)
    tpt_rate_fill (tpt_species_item_edit_rate (species->pdata[i]));
  for (guint i = 0; i < places->len; i++)
    {
      TptRate *rate = tpt_place_item_edit_rate (places->pdata[i]);

      rate->stations = rate->detections > 0;
      self->rate.stations += rate->stations;
      tpt_rate_fill (rate);
    }
  self->rate.nights = self->pass->all_nights;
  tpt_rate_fill (&self->rate);
  tpt_species_items_sort (self->species);
}

char *
tpt_job_findings_name_species (TptJobFindings *self)
{
  return tpt_pass_name_species (self->pass, (const char *const *) self->filter->species);
}

static guint
count_worked (TptJobFindings *self)
{
  guint worked = 0;

  for (guint i = 0; i < self->pass->places->len; i++)
    worked += self->pass->nights[i] > 0;
  return worked;
}

static char *
say_sentence (TptJobFindings *self)
{
  g_autofree char *species = tpt_job_findings_name_species (self);
  g_autofree char *period = NULL, *hours = tpt_filter_describe_hours (self->filter), *count = NULL, *nights = NULL;
  g_autofree char *rate = NULL, *low = NULL, *high = NULL, *where = NULL, *seen = NULL;
  guint worked = count_worked (self);

  if (self->rate.nights <= 0)
    return g_strdup_printf (_("%s: no station worked in this period, so nothing can be said."), species);

  period = tpt_words_period (self->pass->period, self->pass->zone);
  count = tpt_words_number ((double) self->rate.detections);
  nights = tpt_words_number (round (self->rate.nights));
  rate = tpt_words_number (self->rate.per_100);
  low = tpt_words_number (self->rate.low);
  high = tpt_words_number (self->rate.high);
  where = g_strdup_printf (self->filter->stations == NULL
                             ? g_dngettext (GETTEXT_PACKAGE, "at the one station that worked", "at all %u stations that worked", worked)
                             : g_dngettext (GETTEXT_PACKAGE, "at one station", "at %u stations", worked),
                           worked);
  seen = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s detection", "%s detections", (gulong) self->rate.detections), count);
  return g_strdup_printf (_("%s, %s, %s, %s. %s in %s trap nights: %s per 100 (%s to %s)."), species, where, period, hours, seen,
                          nights, rate, low, high);
}

char *
tpt_job_findings_describe_method (TptJobFindings *self)
{
  g_autofree char *counted = tpt_pass_describe_method (self->pass);

  return g_strdup_printf (_("%s Interval: exact Poisson, 95 %%."), counted);
}

static void
set_caption (TptJobFindings *self, TptFigure *figure)
{
  TptFigureCaption caption = TPT_FIGURE_CAPTION_INIT;
  g_autofree char *species = tpt_pass_name_both (self->pass, self->filter, self->other_pass, self->other);
  g_autofree char *title = g_strdup_printf (_("%s: stations through time"), species);
  g_autofree char *method = tpt_job_findings_describe_method (self);

  caption.title = title;
  caption.n = self->other != NULL ? -1 : self->rate.detections; /* of two, the legend tells */
  caption.n_of = _("detections");
  /* Two species stand on the same nights, two periods do not: a sum would be true of one of them only. */
  caption.trap_nights = self->other_pass == NULL || self->other_pass == self->pass ? self->rate.nights : NAN;
  caption.period = tpt_pass_unite_periods (self->pass, self->other_pass);
  caption.zone = self->pass->zone;
  caption.method = method;
  tpt_figure_set_caption (figure, &caption);
}

TptFigure *
tpt_job_findings_draw_strip (TptJobFindings *self, gboolean named)
{
  g_autofree char *label = NULL, *other_label = NULL;
  TptStripSet set = { self->pass, self->detections, NULL }, second = { self->other_pass, self->other_detections, NULL };
  TptFigure *strip;

  if (self->other != NULL)
    {
      set.label = label = tpt_pass_name_difference (self->pass, self->filter, self->other);
      second.label = other_label = tpt_pass_name_difference (self->other_pass, self->other, self->filter);
    }
  strip = tpt_findings_strip_new (&set, self->other != NULL ? &second : NULL, named);
  set_caption (self, strip);
  return strip;
}

static gboolean
pick_other (TptJobFindings *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autofree gboolean *chosen = NULL;

  if (self->other == NULL)
    return TRUE;
  self->other_pass = tpt_pass_get (store, self->other, cancellable, error);
  chosen = self->other_pass != NULL
             ? tpt_pass_choose (self->other_pass, (const char *const *) self->other->species, error)
             : NULL;
  if (chosen == NULL)
    return FALSE;
  self->other_detections = tpt_pass_pick (self->other_pass, chosen);
  return TRUE;
}

gboolean
tpt_job_findings_compute (TptJobFindings *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  self->pass = tpt_pass_get (store, self->filter, cancellable, error);
  self->chosen =
    self->pass != NULL ? tpt_pass_choose (self->pass, (const char *const *) self->filter->species, error) : NULL;
  if (self->chosen == NULL)
    return FALSE;
  count (self);
  self->detections = tpt_pass_pick (self->pass, self->chosen);
  g_clear_pointer (&self->chosen, g_free);
  self->sentence = say_sentence (self);
  return pick_other (self, store, cancellable, error);
}

static gboolean
tpt_job_findings_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobFindings *self = TPT_JOB_FINDINGS (job);

  if (!tpt_job_findings_compute (self, store, cancellable, error))
    return FALSE;
  if (!self->without_strip)
    self->strip = tpt_job_findings_draw_strip (self, TRUE);
  return TRUE;
}

static void
tpt_job_findings_dispose (GObject *object)
{
  TptJobFindings *self = TPT_JOB_FINDINGS (object);

  g_assert (self->chosen == NULL);
  g_clear_pointer (&self->filter, tpt_filter_free);
  g_clear_pointer (&self->other, tpt_filter_free);
  g_clear_pointer (&self->pass, tpt_pass_unref);
  g_clear_pointer (&self->other_pass, tpt_pass_unref);
  g_clear_object (&self->species);
  g_clear_object (&self->places);
  g_clear_pointer (&self->detections, g_array_unref);
  g_clear_pointer (&self->other_detections, g_array_unref);
  g_clear_pointer (&self->sentence, g_free);
  g_clear_pointer (&self->strip, tpt_figure_unref);

  G_OBJECT_CLASS (tpt_job_findings_parent_class)->dispose (object);
}

static void
tpt_job_findings_class_init (TptJobFindingsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_findings_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_findings_run;
}

static void
tpt_job_findings_init (TptJobFindings *self)
{
  self->species = g_list_store_new (TPT_TYPE_SPECIES_ITEM);
  self->places = g_list_store_new (TPT_TYPE_PLACE_ITEM);
}

TptJobFindings *
tpt_job_findings_new (const TptFilter *filter)
{
  TptJobFindings *self = g_object_new (TPT_TYPE_JOB_FINDINGS, NULL);

  self->filter = tpt_filter_copy (filter);
  return self;
}

void
tpt_job_findings_compare (TptJobFindings *self, const TptFilter *other)
{
  g_assert (self->pass == NULL);

  g_clear_pointer (&self->other, tpt_filter_free);
  self->other = tpt_filter_copy (other);
  g_strfreev (self->other->stations); /* the same rows */
  self->other->stations = g_strdupv (self->filter->stations);
}

void
tpt_job_findings_leave_strip (TptJobFindings *self)
{
  self->without_strip = TRUE;
}

GListModel *
tpt_job_findings_get_species (TptJobFindings *self)
{
  return G_LIST_MODEL (self->species);
}

GListModel *
tpt_job_findings_get_places (TptJobFindings *self)
{
  return G_LIST_MODEL (self->places);
}

const TptRate *
tpt_job_findings_get_rate (TptJobFindings *self)
{
  return &self->rate;
}

TptRange
tpt_job_findings_get_period (TptJobFindings *self)
{
  return self->pass->period;
}

const char *
tpt_job_findings_get_sentence (TptJobFindings *self)
{
  return self->sentence;
}

TptFigure *
tpt_job_findings_get_strip (TptJobFindings *self)
{
  return self->strip;
}
