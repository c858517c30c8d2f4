#include "config.h"

#include "tpt-findings-words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-words.h"

/* Below this nothing more is told by the number itself. */
#define LEAST_P 0.001

/* Below this two sets of hours are said to differ: what the intervals of 95 % go by. */
#define DIFFERENT_P 0.05

/* The year and month that @at begins; %FALSE when it begins none. */
static gboolean
begins_month (TptInstant at, TptZone *zone, int *year, int *month)
{
  gint64 number = tpt_zone_local_day (zone, at);
  int day;

  tpt_civil_from_days (number, year, month, &day);
  return day == 1 && tpt_zone_day_from_number (zone, number) == at;
}

char *
tpt_findings_words_period (TptRange period, TptZone *zone)
{
  int year, month, end_year, end_month, months;

  if (period.from == TPT_NO_INSTANT || period.to == TPT_NO_INSTANT || !begins_month (period.from, zone, &year, &month) ||
      !begins_month (period.to, zone, &end_year, &end_month))
    return tpt_words_period (period, zone);
  months = (end_year - year) * 12 + end_month - month;
  if (months == 12 && month == 1)
    return g_strdup_printf ("%d", year);
  if (months == 1)
    /* Translators: a month and its year. */
    return g_strdup_printf (_("%1$s %2$d"), tpt_words_month (month), year);
  return tpt_words_period (period, zone);
}

static char *
say_stations (TptFindingsChoice *choice, TptNaming name, gpointer data)
{
  const char *const *codes = tpt_findings_choice_get_stations (choice);
  guint n = codes != NULL ? g_strv_length ((GStrv) codes) : 0;

  if (n == 0)
    return NULL;
  if (n == 1)
    return name (codes[0], data);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u station", "%u stations", n), n);
}

static char *
say_hours (TptFindingsChoice *choice)
{
  g_autoptr (TptFilter) filter = tpt_findings_choice_make_filter (choice, TPT_PART_NONE);

  return filter->hour_from >= 0 ? tpt_filter_describe_hours (filter) : NULL;
}

static char *
say_other (TptFindingsChoice *choice, TptZone *zone, TptNaming name, gpointer data)
{
  TptBeside beside = tpt_findings_choice_get_beside (choice);
  g_autofree char *other = NULL;

  if (beside == TPT_BESIDE_NOTHING)
    return NULL;
  other = beside == TPT_BESIDE_SPECIES ? name (tpt_findings_choice_get_other_species (choice), data)
                                       : tpt_findings_words_period (tpt_findings_choice_get_other_period (choice), zone);
  return g_strdup_printf (_("compared with %s"), other);
}

char *
tpt_findings_words_part (TptFindingsChoice *choice, TptFindingsPart part, TptZone *zone, TptNaming name_station,
                         TptNaming name_species, gpointer data)
{
  if (!(tpt_findings_choice_get_parts (choice) & part))
    return NULL;
  if (part == TPT_PART_STATIONS)
    return say_stations (choice, name_station, data);
  if (part == TPT_PART_SPECIES)
    return name_species (tpt_findings_choice_get_species (choice), data);
  if (part == TPT_PART_PERIOD)
    return tpt_findings_words_period (tpt_findings_choice_get_period (choice), zone);
  return part == TPT_PART_HOURS ? say_hours (choice) : say_other (choice, zone, name_species, data);
}

char *
tpt_findings_words_p (double p)
{
  return p < LEAST_P ? g_strdup (_("p below 0.001")) : g_strdup_printf (_("p = %.3f"), p);
}

/* With the interval and p in @within. */
static char *
join_ratio (const char *first, const char *second, const TptRateRatio *ratio, const char *within)
{
  g_autofree char *times = tpt_words_number (ratio->ratio);
  gboolean differs = ratio->low > 1 || ratio->high < 1;

  if (first == NULL)
    return g_strdup_printf (differs ? _("Seen %1$s times as often in the later period as in the earlier (%2$s).")
                                    : _("Seen %1$s times as often in the later period as in the earlier, but the two "
                                        "may be equal (%2$s)."),
                            times, within);
  return g_strdup_printf (differs ? _("%1$s: seen %3$s times as often as %2$s (%4$s).")
                                  : _("%1$s: seen %3$s times as often as %2$s, but the two may be equal (%4$s)."),
                          second, first, times, within);
}

static char *
say_ratio (const char *first, const char *second, const TptRateRatio *ratio)
{
  g_autofree char *low = NULL, *high = NULL, *p = NULL, *within = NULL;

  if (ratio == NULL || isnan (ratio->ratio) || isinf (ratio->ratio))
    return NULL;
  low = tpt_words_number (ratio->low);
  high = tpt_words_number (ratio->high);
  p = tpt_findings_words_p (ratio->p);
  if (isinf (ratio->high))
    within = g_strdup_printf (_("at least %s; %s"), low, p);
  else
    within = g_strdup_printf (_("%s to %s; %s"), low, high, p);
  return join_ratio (first, second, ratio, within);
}

static char *
say_overlap (const TptOverlap *overlap)
{
  g_autofree char *watson = NULL;

  if (overlap == NULL)
    return NULL;
  if (isnan (overlap->value))
    return overlap->why_not != NULL ? g_strdup_printf (_("Overlap of the hours: %s"), overlap->why_not) : NULL;
  if (!isnan (overlap->watson_p))
    watson = tpt_findings_words_p (overlap->watson_p);
  if (isnan (overlap->low))
    return g_strdup_printf (_("Overlap of the hours %.2f."), overlap->value);
  if (watson == NULL)
    return g_strdup_printf (_("Overlap of the hours %.2f (%.2f to %.2f)."), overlap->value, overlap->low, overlap->high);
  return g_strdup_printf (overlap->watson_p < DIFFERENT_P
                            ? _("Overlap of the hours %.2f (%.2f to %.2f): they differ (%s).")
                            : _("Overlap of the hours %.2f (%.2f to %.2f): no sign that they differ (%s)."),
                          overlap->value, overlap->low, overlap->high, watson);
}

char *
tpt_findings_words_beside (const char *first, const char *second, const TptRateRatio *ratio, const TptOverlap *overlap)
{
  g_autofree char *often = say_ratio (first, second, ratio);
  g_autofree char *hours = say_overlap (overlap);

  if (often == NULL || hours == NULL)
    return often != NULL ? g_steal_pointer (&often) : g_steal_pointer (&hours);
  return g_strdup_printf ("%s %s", often, hours);
}

static char *
say_share (const TptShare *share)
{
  return g_strdup_printf (_("%.0f %% (%.0f to %.0f)"), share->share * 100, share->low * 100, share->high * 100);
}

char *
tpt_findings_words_light (const TptActivity *activity)
{
  g_autofree char *day = NULL, *twilight = NULL, *night = NULL, *n = NULL;

  if (activity->n_light == 0)
    return g_strdup (_("No detection has a known height of the sun: its station would need a position."));
  day = say_share (&activity->day);
  twilight = say_share (&activity->twilight);
  night = say_share (&activity->night);
  n = tpt_words_number (activity->n_light);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Of %s detection: by day %s, in civil twilight %s, by night %s.",
                                       "Of %s detections: by day %s, in civil twilight %s, by night %s.", activity->n_light),
                          n, day, twilight, night);
}

/* (nullable): the hour where the curve is highest. */
static char *
say_peak (const TptActivity *activity)
{
  return activity == NULL || isnan (activity->peak_hour) ? NULL : tpt_words_hour (activity->peak_hour);
}

static char *
say_most (const char *peak, const TptActivity *activity)
{
  g_autofree char *light = NULL;

  if (activity->n_light == 0)
    return g_strdup_printf (_("Most about %s."), peak);
  light = g_strdup_printf (_("By day %1$.0f %%, in twilight %2$.0f %%, at night %3$.0f %%."), 100 * activity->day.share,
                           100 * activity->twilight.share, 100 * activity->night.share);
  /* Translators: an hour, and a sentence with the shares of day, twilight and night. */
  return g_strdup_printf (_("Most about %1$s. %2$s"), peak, light);
}

char *
tpt_findings_words_hours (const TptActivity *first, const TptActivity *second)
{
  g_autofree char *peak = say_peak (first), *other = say_peak (second);

  if (peak == NULL || (second != NULL && other == NULL))
    return NULL;
  if (second == NULL)
    return say_most (peak, first);
  return g_strdup_printf (_("Most about %1$s (unbroken line) and %2$s (dashed line)."), peak, other);
}

char *
tpt_findings_words_rhythm (const TptActivity *activity)
{
  g_autofree char *p = NULL, *level = NULL, *mean = NULL;

  if (activity->n == 0)
    return g_strdup (_("No detection, so nothing can be said of its hours."));
  if (isnan (activity->rayleigh_p))
    return g_strdup (activity->why_not != NULL ? activity->why_not : "");
  mean = tpt_words_hour (activity->mean_hour);
  p = tpt_findings_words_p (activity->rayleigh_p);
  level = isnan (activity->level) ? g_strdup ("") : g_strdup_printf (_(" Activity level %.2f."), activity->level);
  return g_strdup_printf (activity->rayleigh_p < DIFFERENT_P
                            ? _("Some hours are preferred: mean %s, resultant length %.2f (Rayleigh, %s).%s")
                            : _("No sign that any hour is preferred: mean %s, resultant length %.2f (Rayleigh, %s).%s"),
                          mean, activity->r, p, level);
}
