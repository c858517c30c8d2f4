#include "config.h"

#include "tpt-job-moon.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "sci-moon.h"
#include "sci-night.h"
#include "sci-poisson.h"
#include "sci-special.h"
#include "tpt-moon-nights-private.h"
#include "tpt-pass-private.h"
#include "tpt-phases.h"
#include "tpt-words.h"

#define LEVEL 0.95

/* Pearson's chi-square wants five expected in a part on average and one in each: Cochran 1954,
 * Biometrics 10:417-451, from memory, made simpler. */
#define EXPECTED_MEAN 5
#define EXPECTED_LEAST 1

struct _TptJobMoon {
  TptJob parent_instance;

  /* Input arguments */
  TptFilter *filter; /* (owned) */

  /* In-progress data */
  TptPass *pass; /* (owned) */

  /* Results */
  TptMoonlight light;
  TptFigure *figure; /* (owned) */
  char *sentence;    /* (owned) */
};

G_DEFINE_FINAL_TYPE (TptJobMoon, tpt_job_moon, TPT_TYPE_JOB)

static void
count_detections (TptJobMoon *self, const gboolean *chosen)
{
  TptMoonlight *light = &self->light;

  light->mean_lit = 0;
  for (guint i = 0; i < self->pass->detections->len; i++)
    {
      const TptDetection *detection = &g_array_index (self->pass->detections, TptDetection, i);
      SciMoonLight moon;

      /* without a position there is no altitude, and this is false */
      if (!chosen[detection->species] || !(tpt_pass_get_altitude (self->pass, detection) < TPT_DARK_ALTITUDE))
        continue;
      moon = sci_moon_light (sci_ephemeris_day (detection->at));
      light->parts[sci_moon_eighth (moon.elongation)].detections++;
      light->dark++;
      light->mean_lit += moon.lit;
    }
  light->mean_lit = light->dark > 0 ? light->mean_lit / (double) light->dark : NAN;
}

static void
fill_parts (TptMoonlight *light, const TptMoonNights *nights)
{
  for (guint i = 0; i < TPT_MOON_PARTS; i++)
    {
      TptMoonPart *part = &light->parts[i];
      SciInterval rate;

      part->nights = nights->all_ms > 0 ? nights->nights * nights->dark_ms[i] / nights->all_ms : 0;
      rate = sci_poisson_rate (part->detections, part->nights, 100, LEVEL);
      part->rate = rate.estimate;
      part->low = rate.lower;
      part->high = rate.upper;
    }
  light->expected_lit = nights->lit;
}

/* Detections that the test needs, with the dark time as it was; 0 where one part at most was worked. */
static gint64
find_needed (const TptMoonlight *light, double nights, guint *parts)
{
  double least = 1;

  *parts = 0;
  for (guint i = 0; i < TPT_MOON_PARTS; i++)
    if (light->parts[i].nights > 0)
      {
        least = MIN (least, light->parts[i].nights / nights);
        (*parts)++;
      }
  return *parts < 2 ? 0 : MAX (EXPECTED_MEAN * (gint64) *parts, (gint64) ceil (EXPECTED_LEAST / least));
}

static double
take_chi_square (const TptMoonlight *light, double nights)
{
  double sum = 0;

  for (guint i = 0; i < TPT_MOON_PARTS; i++)
    {
      double expected = (double) light->dark * light->parts[i].nights / nights;
      double difference = (double) light->parts[i].detections - expected;

      sum += expected > 0 ? difference * difference / expected : 0;
    }
  return sum;
}

static void
test_parts (TptMoonlight *light, const TptMoonNights *nights)
{
  guint parts;
  gint64 needed = nights->all_ms > 0 ? find_needed (light, nights->nights, &parts) : 0;

  light->p = NAN;
  if (nights->nights <= 0)
    light->why_not = g_strdup (nights->without_place > 0
                                 ? _("No station that worked has a position, so night cannot be told from day.")
                                 : _("No station worked in this period, so nothing can be said."));
  else if (nights->all_ms <= 0)
    light->why_not = g_strdup (_("The sun never went 6° below the horizon while a camera worked."));
  else if (needed == 0)
    light->why_not =
      g_strdup (_("The cameras worked in one part of the moon’s round only; a month of nights is needed."));
  else if (light->dark < needed)
    light->why_not = g_strdup_printf (
      g_dngettext (GETTEXT_PACKAGE,
                   "To tell the parts of the moon’s round apart, %2$d detections in the dark are needed; there is "
                   "%1$d.",
                   "To tell the parts of the moon’s round apart, %2$d detections in the dark are needed; there are "
                   "%1$d.",
                   (gulong) light->dark),
      (int) light->dark, (int) needed);
  else
    light->p = sci_gamma_q ((parts - 1) / 2.0, take_chi_square (light, nights->nights) / 2);
}

static char *
say_sentence (TptJobMoon *self)
{
  const TptMoonlight *light = &self->light;
  g_autofree char *species = tpt_pass_name_species (self->pass, (const char *const *) self->filter->species);
  g_autofree char *count = tpt_words_number ((double) light->dark), *seen = NULL, *lit = NULL, *p = NULL;

  seen = g_strdup_printf (
    g_dngettext (GETTEXT_PACKAGE, "%s detection in the dark", "%s detections in the dark", (gulong) light->dark),
    count);
  if (light->dark == 0 || isnan (light->expected_lit))
    /* Translators: a species, "12 detections in the dark", and a sentence. */
    return g_strdup_printf (_("%1$s: %2$s. %3$s"), species, seen, light->why_not);
  lit = g_strdup_printf (_("with %1$.0f %% of the moon lit on average; by chance it would be %2$.0f %%"),
                         100 * light->mean_lit, 100 * light->expected_lit);
  if (light->why_not != NULL)
    return g_strdup_printf (_("%1$s: %2$s, %3$s. %4$s"), species, seen, lit, light->why_not);
  p = tpt_words_chance (light->p);
  return g_strdup_printf (
    light->p < 1 - LEVEL
      ? _("%1$s: %2$s, %3$s. The parts of the moon’s round differ (%4$s).")
      : _("%1$s: %2$s, %3$s. Chance alone could make the parts of the moon’s round differ so much (%4$s)."),
    species, seen, lit, p);
}

static char *
say_method (TptJobMoon *self, const TptMoonNights *nights)
{
  g_autofree char *counted = tpt_pass_describe_method (self->pass);
  g_autofree char *all =
    g_strdup_printf (_("%s Dark: sun more than 6° below the horizon at the station. Expected: the dark time worked "
                       "in each eighth of the moon’s round. Intervals: exact Poisson, 95 %%; test: chi-square, "
                       "detections taken as independent."),
                     counted);

  if (nights->without_place == 0)
    return g_steal_pointer (&all);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s %u station without a position is left out.",
                                       "%s %u stations without a position are left out.", nights->without_place),
                          all, nights->without_place);
}

static void
add_parts (TptFigure *figure, const TptMoonlight *light)
{
  static const char *const labels[TPT_MOON_PARTS] = {
    NC_("moon", "new"), NC_("moon", "waxing crescent"), NC_("moon", "first quarter"), NC_("moon", "waxing gibbous"),
    NC_("moon", "full"), NC_("moon", "waning gibbous"), NC_("moon", "last quarter"), NC_("moon", "waning crescent"),
  };

  for (guint i = 0; i < TPT_MOON_PARTS; i++)
    {
      const TptMoonPart *part = &light->parts[i];
      TptPhase phase = {
        .label = g_dpgettext2 (GETTEXT_PACKAGE, "moon", labels[i]),
        .lit = (1 - cos (2 * G_PI * i / TPT_MOON_PARTS)) / 2,
        .waxing = i < TPT_MOON_PARTS / 2,
        .nights = part->nights,
        .detections = part->detections,
        .rate = part->rate,
        .low = part->low,
        .high = part->high,
      };

      tpt_phases_add (figure, &phase);
    }
}

static void
make_figure (TptJobMoon *self, const TptMoonNights *nights)
{
  TptFigureCaption caption = TPT_FIGURE_CAPTION_INIT;
  g_autofree char *species = tpt_pass_name_species (self->pass, (const char *const *) self->filter->species);
  g_autofree char *title = g_strdup_printf (_("%s: nights by the moon"), species);
  g_autofree char *method = say_method (self, nights);

  self->figure = tpt_phases_new ();
  add_parts (self->figure, &self->light);
  caption.title = title;
  caption.summary = self->sentence;
  caption.n = self->light.dark;
  caption.n_of = _("detections in the dark");
  caption.trap_nights = nights->nights;
  caption.period = self->pass->period;
  caption.zone = self->pass->zone;
  caption.method = method;
  caption.units = _("detections per 100 trap nights");
  tpt_figure_set_caption (self->figure, &caption);
}

static gboolean
compute (TptJobMoon *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autofree gboolean *chosen = NULL;
  TptMoonNights nights;

  self->pass = tpt_pass_get (store, self->filter, cancellable, error);
  chosen = self->pass != NULL ? tpt_pass_choose (self->pass, (const char *const *) self->filter->species, error) : NULL;
  if (chosen == NULL || !tpt_moon_nights_sum (self->pass, &nights, cancellable, error))
    return FALSE;
  count_detections (self, chosen);
  fill_parts (&self->light, &nights);
  test_parts (&self->light, &nights);
  self->sentence = say_sentence (self);
  make_figure (self, &nights);
  return TRUE;
}

static gboolean
tpt_job_moon_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobMoon *self = TPT_JOB_MOON (job);
  gboolean good = compute (self, store, cancellable, error);

  g_clear_pointer (&self->pass, tpt_pass_unref);
  return good;
}

static void
tpt_job_moon_dispose (GObject *object)
{
  TptJobMoon *self = TPT_JOB_MOON (object);

  g_assert (self->pass == NULL);
  g_clear_pointer (&self->filter, tpt_filter_free);
  g_clear_pointer (&self->light.why_not, g_free);
  g_clear_pointer (&self->figure, tpt_figure_unref);
  g_clear_pointer (&self->sentence, g_free);

  G_OBJECT_CLASS (tpt_job_moon_parent_class)->dispose (object);
}

static void
tpt_job_moon_class_init (TptJobMoonClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_moon_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_moon_run;
}

static void
tpt_job_moon_init (TptJobMoon *self)
{
}

TptJobMoon *
tpt_job_moon_new (const TptFilter *filter)
{
  TptJobMoon *self = g_object_new (TPT_TYPE_JOB_MOON, NULL);

  self->filter = tpt_filter_copy (filter);
  return self;
}

const TptMoonlight *
tpt_job_moon_get (TptJobMoon *self)
{
  return &self->light;
}

TptFigure *
tpt_job_moon_get_figure (TptJobMoon *self)
{
  return self->figure;
}

const char *
tpt_job_moon_get_sentence (TptJobMoon *self)
{
  return self->sentence;
}
