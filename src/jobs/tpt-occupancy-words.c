#include "config.h"

#include "tpt-occupancy-words-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-words.h"

/* Intervals wider than this say little, and an error of 0.1 is what one would wish for. */
#define WIDE 0.5
#define WISHED_ERROR 0.1

#define LEAST_DETECTED 2

/* Percent, "72" and "3.4". */
static char *
say_percent (double share)
{
  double percent = 100 * share;

  return percent >= 9.95 || percent == 0 ? tpt_words_number (round (percent)) : g_strdup_printf ("%.1f", percent);
}

char *
tpt_occupancy_refuse (const SciOccupancy *fit, int days)
{
  if (fit->sites == 0)
    return g_strdup_printf (
      g_dngettext (GETTEXT_PACKAGE,
                   "No station worked for half an occasion of %d day: shorter occasions or more trap nights "
                   "would be needed.",
                   "No station worked for half an occasion of %d days: shorter occasions or more trap nights "
                   "would be needed.",
                   (gulong) days),
      days);
  if (fit->sites_detected == 0)
    return g_strdup_printf (_("It was never detected, and then nothing tells how often it is missed where it is: "
                              "detections at %d stations or more would be needed."),
                            LEAST_DETECTED);
  if (fit->sites < TPT_OCCUPANCY_LEAST_SITES)
    return g_strdup_printf (
      g_dngettext (GETTEXT_PACKAGE, "%u station is too few for a share of stations: at least %d would be needed.",
                   "%u stations are too few for a share of stations: at least %d would be needed.",
                   (gulong) fit->sites),
      (guint) fit->sites, TPT_OCCUPANCY_LEAST_SITES);
  if (fit->sites_detected < LEAST_DETECTED)
    return g_strdup_printf (
      _("It was detected at one station only: detections at %d stations or more would be needed."), LEAST_DETECTED);
  if (fit->state == SCI_OCCUPANCY_ONCE)
    return g_strdup (
      _("No station worked in a second occasion, so being missed cannot be told from being away: at least 2 "
        "occasions at a station would be needed, which shorter ones may give."));
  return NULL;
}

/* (transfer full): how many occasions it takes, beside those there were. */
static char *
say_needed (const TptOccupancy *o)
{
  g_autofree char *needed = tpt_words_number (o->needed),
                  *had = tpt_words_number (round (10.0 * o->visits / o->sites) / 10);

  return g_strdup_printf (_("To see it with 95 %% where it is takes %s occasions; the stations worked %s on average."),
                          needed, had);
}

static char *
doubt_boundary (const TptOccupancy *o)
{
  g_autofree char *needed = say_needed (o);

  if (o->sites_detected == o->sites)
    return g_strdup (_("It was detected at every station, so all of them is the best estimate, and there is no "
                       "standard error."));
  return g_strdup_printf (
    _("It was seen so thinly that it may be at every station: the estimate lies at its end, and there "
      "is no standard error. %s"),
    needed);
}

static char *
doubt_width (const TptOccupancy *o)
{
  double ratio = o->psi_se / WISHED_ERROR;
  g_autofree char *stations = tpt_words_number (ceil (o->sites * ratio * ratio)), *needed = say_needed (o);

  return g_strdup_printf (
    _("The interval is wide: a standard error of 10 %% would take some %s stations like these. %s"), stations, needed);
}

char *
tpt_occupancy_doubt (const TptOccupancy *o, SciOccupancyState state)
{
  if (state == SCI_OCCUPANCY_PSI_ONE)
    return doubt_boundary (o);
  if (state == SCI_OCCUPANCY_P_ONE)
    return g_strdup (
      _("Wherever it is, every occasion saw it, so none was missed and there is no standard error: shorter "
        "occasions would tell more."));
  if (o->psi_high - o->psi_low > WIDE && o->psi_se > WISHED_ERROR)
    return doubt_width (o);
  if (o->needed > (double) o->visits / o->sites)
    return say_needed (o);
  return NULL;
}

/* (transfer full): "12 occasions of 14 days, 1 March to 15 August 2025" */
static char *
say_occasions (const TptOccupancy *o, int days, TptZone *zone)
{
  g_autofree char *number = tpt_words_number (o->occasions), *period = tpt_words_period (o->period, zone);
  g_autofree char *length =
    g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "of one day", "of %d days", (gulong) days), days);
  /* Translators: "12 occasions of 14 days, 1 March to 15 August 2025" */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s occasion %s, %s", "%s occasions %s, %s", o->occasions),
                          number, length, period);
}

/* (transfer full): "detected at 9 of 15 stations (60 %)" */
static char *
say_naive (const TptOccupancy *o)
{
  g_autofree char *share = say_percent (o->naive);

  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "detected at %u of %u station (%s %%)",
                                       "detected at %u of %u stations (%s %%)", o->sites),
                          o->sites_detected, o->sites, share);
}

static char *
say_estimate (const TptOccupancy *o)
{
  g_autofree char *psi = say_percent (o->psi), *psi_low = say_percent (o->psi_low),
                  *psi_high = say_percent (o->psi_high);
  g_autofree char *p = say_percent (o->p), *p_low = say_percent (o->p_low), *p_high = say_percent (o->p_high);

  if (o->sites_detected == o->sites)
    return g_strdup_printf (
      _("None missed it, and at least %s %% of all such stations have it (95 %%). Where it is, it is "
        "seen in %s %% of the occasions (%s to %s %%)."),
      psi_low, p, p_low, p_high);
  return g_strdup_printf (
    _("Allowing for stations where it was missed, it is at %s %% of them (95 %% interval %s to %s %%). "
      "Where it is, it is seen in %s %% of the occasions (%s to %s %%)."),
    psi, psi_low, psi_high, p, p_low, p_high);
}

char *
tpt_occupancy_say (const TptOccupancy *o, const char *species, int days, TptZone *zone)
{
  g_autofree char *occasions = NULL, *naive = NULL, *first = NULL, *estimate = NULL;

  if (o->sites == 0)
    return g_strdup_printf (_("%s: no station worked for half an occasion, so nothing can be said."), species);
  occasions = say_occasions (o, days, zone);
  naive = say_naive (o);
  /* Translators: "Sun bear, 12 occasions of 14 days, 1 March to 15 August 2025: detected at 9 of 15 stations (60 %)." */
  first = g_strdup_printf (_("%s, %s: %s."), species, occasions, naive);
  if (isnan (o->psi))
    return g_steal_pointer (&first);
  estimate = say_estimate (o);
  return g_strdup_printf ("%s %s", first, estimate);
}

char *
tpt_occupancy_describe_method (int days)
{
  return g_strdup_printf (
    g_dngettext (GETTEXT_PACKAGE,
                 "Single-season occupancy with constant psi and p, occasions of %d day; one in which a station "
                 "worked less than half the time is missing there. It is taken to come to no station and "
                 "leave none for good meanwhile. Maximum likelihood, profile limits of 95 %%.",
                 "Single-season occupancy with constant psi and p, occasions of %d days; one in which a station "
                 "worked less than half the time is missing there. It is taken to come to no station and "
                 "leave none for good meanwhile. Maximum likelihood, profile limits of 95 %%.",
                 (gulong) days),
    days);
}
