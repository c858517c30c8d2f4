/* The findings in words, as far as the jobs do not say them. */
#pragma once

#include "tpt-choice-chips.h"
#include "tpt-job-activity.h"
#include "tpt-job-months.h"
#include "tpt-job-occupancy.h"

G_BEGIN_DECLS

/* All (transfer full). */

/* (nullable): one part of what is chosen: "3 stations", "March 2026", "17:00 to 20:00",
 * "compared with Sambar"; %NULL where nothing is. */
char *tpt_findings_words_part (TptFindingsChoice *choice, TptFindingsPart part, TptZone *zone, TptNaming name_station,
                               TptNaming name_species, gpointer data);

/* "March 2026" and "2026" for whole ones, else as tpt_words_period(). */
char *tpt_findings_words_period (TptRange period, TptZone *zone);

/* (nullable): what the second is beside the first: how often, and in which hours; what is
 * not known is not said. @first, @second: %NULL for an earlier and a later period.
 * @ratio and @overlap (nullable). */
char *tpt_findings_words_beside (const char *first, const char *second, const TptRateRatio *ratio, const TptOverlap *overlap);

/* (nullable): when in the day most were seen, of one or of two; %NULL where there is no curve to go by.
 * @second (nullable). */
char *tpt_findings_words_hours (const TptActivity *first, const TptActivity *second);

/* Shares of the light, the middle of the day and whether there is one. */
char *tpt_findings_words_light (const TptActivity *activity);
char *tpt_findings_words_rhythm (const TptActivity *activity);

/* "0.62", "below 0.001" */
char *tpt_findings_words_p (double p);

G_END_DECLS
