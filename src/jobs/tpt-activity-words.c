#include "config.h"

#include "tpt-activity-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "sci-circular.h"
#include "tpt-words.h"

/* What the word 'chance' is used for in sentences. Common practice. */
#define RARE 0.05

#define LEAST_SPAN 1.0 /* hours */

static char *
say_count (guint n)
{
  g_autofree char *number = tpt_words_number (n);

  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s detection", "%s detections", n), number);
}

static char *
say_too_few (guint n, guint n_without)
{
  g_autofree char *count = say_count (n), *more = NULL;

  if (n_without == 0)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE,
                                         "A curve of the day takes at least %2$d detections; there is %1$u.",
                                         "A curve of the day takes at least %2$d detections; there are %1$u.", n),
                            n, SCI_ACTIVITY_LEAST);
  more = say_count (n_without);
  /* Translators: both are such as "12 detections". */
  return g_strdup_printf (_("A curve of the day takes at least %3$d detections with an hour by the sun; there are %1$s "
                            "with one, and %2$s without, at stations whose position is not known or where the sun did "
                            "not rise and set."),
                          count, more, SCI_ACTIVITY_LEAST);
}

char *
tpt_activity_say_why_not (const GArray *hours, guint n_without)
{
  double begin, span = sci_circular_span ((const double *) (gpointer) hours->data, hours->len, &begin);
  g_autofree char *from = NULL, *to = NULL;

  if (hours->len < SCI_ACTIVITY_LEAST)
    return say_too_few (hours->len, n_without);
  if (span >= LEAST_SPAN)
    return NULL;
  from = tpt_words_hour (begin);
  to = tpt_words_hour (sci_hour_wrap (begin + span));
  return g_strdup_printf (_("All %1$u detections fall between %2$s and %3$s; a curve of the day takes detections that "
                            "are more than an hour apart."),
                          hours->len, from, to);
}

/* "by day 62 %, in twilight 12 %, at night 26 %" */
static char *
say_light (const TptActivity *found)
{
  return g_strdup_printf (_("By day %1$.0f %%, in twilight %2$.0f %%, at night %3$.0f %%."), 100 * found->day.share,
                          100 * found->twilight.share, 100 * found->night.share);
}

char *
tpt_activity_say (const TptActivitySeries *self, gboolean by_sun)
{
  const TptActivity *found = &self->found;
  g_autofree char *count = say_count (found->n), *light = NULL, *peak = NULL;
  GString *text = g_string_new (NULL);

  if (isnan (found->peak_hour))
    /* Translators: a species, such as "60 detections". */
    g_string_append_printf (text, _("%1$s: %2$s."), found->label, count);
  else
    {
      peak = tpt_words_hour (found->peak_hour);
      /* Translators: a species, such as "60 detections", and a time of day. */
      g_string_append_printf (text,
                              by_sun ? _("%1$s: %2$s, most about %3$s by the sun, which rises at 06:00 and sets at "
                                         "18:00.")
                                     : _("%1$s: %2$s, most about %3$s."),
                              found->label, count, peak);
    }
  if (found->n_light > 0)
    {
      light = say_light (found);
      g_string_append_printf (text, " %s", light);
    }
  if (found->why_not != NULL)
    g_string_append_printf (text, " %s", found->why_not);
  return g_string_free (text, FALSE);
}

/* (nullable): in words first: how likely such a difference is by chance. */
static char *
say_test (const TptOverlap *overlap)
{
  g_autofree char *chance = NULL;

  if (isnan (overlap->watson_p))
    return NULL;
  chance = tpt_words_chance (overlap->watson_p);
  return g_strdup_printf (overlap->watson_p < RARE
                          ? _("The hours differ by more than chance would bring about (%s).")
                          : _("The hours differ by no more than chance would bring about (%s)."), chance);
}

/* (nullable) */
static char *
say_value (const TptOverlap *overlap)
{
  if (isnan (overlap->value))
    return NULL;
  if (isnan (overlap->low))
    return g_strdup_printf (_("Their curves overlap by %.0f %%."), 100 * overlap->value);
  return g_strdup_printf (_("Their curves overlap by %1$.0f %% (95 %% interval %2$.0f to %3$.0f)."),
                          100 * overlap->value, 100 * overlap->low, 100 * overlap->high);
}

static char *
compare (const TptActivitySeries *self, const TptActivitySeries *other, const TptOverlap *overlap)
{
  g_autofree char *first = say_count (self->found.n), *second = say_count (other->found.n), *test = say_test (overlap);
  g_autofree char *value = say_value (overlap);
  GString *text = g_string_new (NULL);

  /* Translators: what is compared, such as "Sun bear: 60 detections; Sambar: 112 detections." */
  g_string_append_printf (text, _("%1$s: %2$s; %3$s: %4$s."), self->found.label, first, other->found.label, second);
  if (value != NULL)
    g_string_append_printf (text, " %s", value);
  if (test != NULL)
    g_string_append_printf (text, " %s", test);
  if (overlap->why_not != NULL)
    g_string_append_printf (text, " %s", overlap->why_not);
  return g_string_free (text, FALSE);
}

char *
tpt_activity_say_overlap (const TptActivitySeries *self,
                          const TptActivitySeries *other,
                          const TptOverlap *overlap)
{
  g_autofree char *species = tpt_pass_name_species (self->pass, (const char *const *) self->filter->species);
  g_autofree char *second = tpt_pass_name_species (other->pass, (const char *const *) other->filter->species);
  g_autofree char *said = compare (self, other, overlap);

  if (!g_str_equal (species, second)) /* then the two are called by their species */
    return g_steal_pointer (&said);
  /* Translators: a species, and a sentence that begins with a period, a station or hours. */
  return g_strdup_printf (_("%1$s, %2$s"), species, said);
}

static char *
say_clock (const TptActivitySeries *self, gboolean by_sun)
{
  return by_sun ? g_strdup (_("Hours of the sun’s day at the station: sunrise 6, sunset 18."))
                : g_strdup_printf (_("Hours of the clock in %s."), tpt_zone_get_identifier (self->pass->zone));
}

static char *
say_kernel (const TptActivitySeries *self, const TptActivitySeries *other)
{
  g_autofree char *first = self->curve != NULL ? tpt_words_number (self->found.kappa) : NULL, *second = NULL;

  if (other == NULL)
    return g_strdup_printf (_("Curve: von Mises kernel, concentration %s by Taylor’s rule, the largest of three "
                              "moments."),
                            first);
  second = tpt_words_number (other->found.kappa);
  return g_strdup_printf (_("Curves: von Mises kernels, concentrations %1$s and %2$s by Taylor’s rule, the largest of "
                            "three moments, not scaled further."),
                          first, second);
}

static char *
say_resamples (guint boot)
{
  g_autofree char *number = tpt_words_number (boot);

  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s resample drawn from the curve",
                                       "%s resamples drawn from the curve", boot),
                          number);
}

/* Of two curves the one may have more records than are resampled. */
static char *
say_band (const TptActivitySeries *self, const TptActivitySeries *other)
{
  guint boot = self->found.boot, other_boot = other != NULL ? other->found.boot : boot;
  g_autofree char *resamples = MAX (boot, other_boot) > 0 ? say_resamples (MAX (boot, other_boot)) : NULL;

  if (resamples == NULL)
    return g_strdup (_("Band: 95 % at each hour, by the standard error."));
  if (boot == other_boot)
    /* Translators: such as "1,000 resamples drawn from the curve". */
    return g_strdup_printf (_("Band: 95 %% at each hour, %s."), resamples);
  /* Translators: what a curve is of, "1,000 resamples drawn from the curve", and what another curve is of. */
  return g_strdup_printf (_("Bands: 95 %% at each hour, that of %1$s by %2$s, that of %3$s by the standard error."),
                          boot > 0 ? self->found.label : other->found.label, resamples,
                          boot > 0 ? other->found.label : self->found.label);
}

static char *
say_estimator (const TptOverlap *overlap)
{
  const char *name = g_str_equal (overlap->estimator, "d1") ? "Δ1" : "Δ4";
  g_autofree char *resamples = NULL;

  if (isnan (overlap->low))
    return g_strdup_printf (_("Overlap: %s. Test of the same hours: Watson’s U²."), name);
  if (overlap->boot == 0)
    return g_strdup_printf (_("Overlap: %s, its interval by the standard error. Test of the same hours: Watson’s U²."),
                            name);
  resamples = say_resamples (overlap->boot);
  return g_strdup_printf (_("Overlap: %1$s, its interval by %2$s. Test of the same hours: Watson’s U²."), name,
                          resamples);
}

char *
tpt_activity_say_method (const TptActivitySeries *self,
                         const TptActivitySeries *other,
                         const TptOverlap *overlap,
                         const TptActivityOrder *order)
{
  g_autofree char *counted = tpt_pass_describe_method (self->pass), *clock = say_clock (self, order->by_sun);
  GString *text = g_string_new (NULL);
  const TptActivitySeries *drawn = self->curve != NULL ? self : other;

  g_string_append_printf (text, "%s %s", counted, clock);
  if (drawn != NULL && drawn->curve != NULL)
    {
      const TptActivitySeries *second = drawn == self && other != NULL && other->curve != NULL ? other : NULL;
      g_autofree char *kernel = say_kernel (drawn, second);
      g_autofree char *band = say_band (drawn, second);

      g_string_append_printf (text, " %s %s", kernel, band);
    }
  if (overlap != NULL && !isnan (overlap->value))
    {
      g_autofree char *estimator = say_estimator (overlap);

      g_string_append_printf (text, " %s", estimator);
    }
  return g_string_free (text, FALSE);
}
