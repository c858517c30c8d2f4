#include "config.h"

#include "tpt-richness-words-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-words.h"

#define LEAST_STATIONS 2

/* With less of the community seen than this, estimates of the rest are little more than lower limits. */
#define FAIR_COVERAGE 0.9

static char *
say_coverage (const TptRichness *r)
{
  return tpt_words_number (r->coverage < 1 ? fmin (round (1000 * r->coverage) / 10, 99.9) : 100);
}

static char *
doubt_coverage (const TptRichness *r)
{
  g_autofree char *coverage = say_coverage (r), *more = NULL;

  if (!(r->more > 0))
    return g_strdup_printf (
      _("The species seen make up only %s %% of what there is to see, so the estimates are lower limits: "
        "more stations would be needed, and species at two of them to tell how many."),
      coverage);
  more = tpt_words_number (ceil (r->more));
  return g_strdup_printf (
    _("The species seen make up only %s %% of what there is to see, so the estimates are lower limits: at "
      "least some %s more stations would be needed to see 95 %% of the species."),
    coverage, more);
}

char *
tpt_richness_doubt (const TptRichness *r)
{
  if (r->stations == 0)
    return g_strdup_printf (_("At least %d stations that worked would be needed."), LEAST_STATIONS);
  if (r->observed == 0)
    return g_strdup (_("No species was seen, and then nothing tells what was missed: at least one would be needed."));
  if (r->stations < LEAST_STATIONS)
    return g_strdup_printf (
      _("One station tells nothing of how species differ between stations: at least %d would be needed."),
      LEAST_STATIONS);
  if (r->coverage < FAIR_COVERAGE)
    return doubt_coverage (r);
  if (r->duplicates == 0 && r->uniques > 0)
    return g_strdup (
      _("No species was seen at exactly two stations, which the estimates build on: they are coarse. More "
        "stations would be needed."));
  return NULL;
}

static char *
say_estimate (const TptRichness *r)
{
  g_autofree char *chao2 = tpt_words_number (round (r->chao2)), *low = tpt_words_number (floor (r->chao2_low));
  g_autofree char *high = tpt_words_number (ceil (r->chao2_high)), *coverage = say_coverage (r);

  if (r->uniques == 0)
    return g_strdup (_("Each was seen at more than one station, so there is no sign of others."));
  return g_strdup_printf (_("There may be some %s species in all (%s to %s, Chao2); those seen make up %s %% of what "
                            "there is to see."),
                          chao2, low, high, coverage);
}

char *
tpt_richness_say (const TptRichness *r, TptRange period, TptZone *zone)
{
  g_autofree char *when = NULL, *nights = NULL, *seen = NULL, *where = NULL, *first = NULL, *estimate = NULL;

  if (r->stations == 0 || period.from == TPT_NO_INSTANT)
    return g_strdup (_("No station worked in this period, so nothing can be said."));
  when = tpt_words_period (period, zone);
  nights = tpt_words_number (round (r->nights));
  seen = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u species", "%u species", r->observed), r->observed);
  where = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "at one station", "at %u stations", r->stations), r->stations);
  /* Translators: "27 species at 15 stations in 8,123 trap nights, 1 March to 15 August 2025." */
  first = g_strdup_printf (_("%s %s in %s trap nights, %s."), seen, where, nights, when);
  if (isnan (r->chao2))
    return g_steal_pointer (&first);
  estimate = say_estimate (r);
  return g_strdup_printf ("%s %s", first, estimate);
}
