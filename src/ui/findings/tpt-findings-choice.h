/* What the findings are about, as one thing that all panes share: which stations,
 * species, period and hours, and what they are set beside.
 *
 * Signal "changed" (#TptFindingsPart): what is another than before; several at once are
 * told once. Choosing what is chosen already changes nothing.
 *
 * Every change can be gone back on, the latest first.
 */
#pragma once

#include <glib-object.h>

#include "tpt-filter.h"

G_BEGIN_DECLS

typedef enum {
  TPT_PART_NONE = 0,
  TPT_PART_STATIONS = 1 << 0,
  TPT_PART_SPECIES = 1 << 1,
  TPT_PART_PERIOD = 1 << 2,
  TPT_PART_HOURS = 1 << 3,
  TPT_PART_OTHER = 1 << 4, /* the second species or period */
  TPT_PART_ALL = (1 << 5) - 1,
} TptFindingsPart;

/* What stands beside what is chosen. */
typedef enum {
  TPT_BESIDE_NOTHING,
  TPT_BESIDE_SPECIES,
  TPT_BESIDE_PERIOD,
} TptBeside;

#define TPT_TYPE_FINDINGS_CHOICE (tpt_findings_choice_get_type ())
G_DECLARE_FINAL_TYPE (TptFindingsChoice, tpt_findings_choice, TPT, FINDINGS_CHOICE, GObject)

TptFindingsChoice *tpt_findings_choice_new (void);

/* --- choosing ----------------------------------------------------------- */

/* @codes (nullable): copied; %NULL or none chooses all. With @add what is not chosen
 * yet is as well, and of a single code that is chosen, is not any more. */
void tpt_findings_choice_set_stations (TptFindingsChoice *self, const char *const *codes, gboolean add);

/* @name (nullable): scientific; %NULL for all. A second species that is the same, or
 * stands beside all, is given up. */
void tpt_findings_choice_set_species (TptFindingsChoice *self, const char *name);

/* Both ends %TPT_NO_INSTANT for all the time, which gives a second period up. */
void tpt_findings_choice_set_period (TptFindingsChoice *self, TptRange period);

/* Hours 0 to 24, over midnight when @to <= @from; NAN, and 0 to 24, for any. */
void tpt_findings_choice_set_hours (TptFindingsChoice *self, double from, double to, gboolean by_sun);

/* Sets a species beside the one chosen; chosen instead when none is. @name (nullable): none any more. */
void tpt_findings_choice_compare_species (TptFindingsChoice *self, const char *name);

/* Sets two periods side by side in one step. */
void tpt_findings_choice_compare_periods (TptFindingsChoice *self, TptRange period, TptRange other);

/* Leaves @parts out of what is chosen. Without the first of two species the other one
 * is what is left. */
void tpt_findings_choice_clear (TptFindingsChoice *self, TptFindingsPart parts);

gboolean tpt_findings_choice_can_go_back (TptFindingsChoice *self);
void tpt_findings_choice_go_back (TptFindingsChoice *self);

/* Nothing chosen, nothing to go back to: for another project. Emits nothing. */
void tpt_findings_choice_reset (TptFindingsChoice *self);

/* --- what is chosen ----------------------------------------------------- */

/* Parts of which something is chosen. */
TptFindingsPart tpt_findings_choice_get_parts (TptFindingsChoice *self);
/* (transfer none) (nullable) */
const char *const *tpt_findings_choice_get_stations (TptFindingsChoice *self);
const char *tpt_findings_choice_get_species (TptFindingsChoice *self);
TptRange tpt_findings_choice_get_period (TptFindingsChoice *self);
/* NAN for any. */
double tpt_findings_choice_get_hour_from (TptFindingsChoice *self);
double tpt_findings_choice_get_hour_to (TptFindingsChoice *self);
gboolean tpt_findings_choice_get_hours_by_sun (TptFindingsChoice *self);
TptBeside tpt_findings_choice_get_beside (TptFindingsChoice *self);
/* (nullable) */
const char *tpt_findings_choice_get_other_species (TptFindingsChoice *self);
TptRange tpt_findings_choice_get_other_period (TptFindingsChoice *self);

/* (transfer full): what is chosen, without some of its @without. */
TptFilter *tpt_findings_choice_make_filter (TptFindingsChoice *self, TptFindingsPart without);

/* (transfer full) (nullable): of what stands beside it; %NULL when nothing does, or when
 * it would be the same without @without. */
TptFilter *tpt_findings_choice_make_other_filter (TptFindingsChoice *self, TptFindingsPart without);

/* --- periods ------------------------------------------------------------ */

/* @period by the calendar a number of years later; 29 February becomes 28 where there is
 * none. Open ends stay open. */
TptRange tpt_findings_shift_years (TptRange period, int years, TptZone *zone);

G_END_DECLS
