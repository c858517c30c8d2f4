/* Chooses what to set beside what is chosen: a period, or another species.
 *
 * Signals: "periods-set" (gint64 from, to, other_from, other_to), instants;
 * "species-set" (char *scientific name); "none-set".
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-time.h"

G_BEGIN_DECLS

#define TPT_TYPE_COMPARE_BUTTON (tpt_compare_button_get_type ())
G_DECLARE_FINAL_TYPE (TptCompareButton, tpt_compare_button, TPT, COMPARE_BUTTON, GtkWidget)

/* @zone (nullable): whose days; UTC without. @now ends 'the last twelve months'. */
void tpt_compare_button_set_moment (TptCompareButton *self, TptZone *zone, TptInstant now);

/* The period chosen now, and the one beside it; unset for none. Emits nothing. */
void tpt_compare_button_set_periods (TptCompareButton *self, TptRange period, TptRange other);

/**
 * tpt_compare_button_set_species:
 * @names: scientific names
 * @titles: how they are called, in the same order
 * @chosen: (nullable): the one that is chosen, which another can stand beside
 * @other: (nullable): the one that stands beside it now
 *
 * Emits nothing.
 */
void tpt_compare_button_set_species (TptCompareButton *self, const char *const *names, const char *const *titles,
                                     const char *chosen, const char *other);

/* Whether there is anything to stop. */
void tpt_compare_button_set_comparing (TptCompareButton *self, gboolean comparing);

G_END_DECLS
