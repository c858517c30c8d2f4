/* Chooses the period a finding is about: presets, or two days.
 *
 * Signal "period-set" (from, to): two instants, either of which may be
 * %TPT_NO_INSTANT for an open end.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-time.h"

G_BEGIN_DECLS

#define TPT_TYPE_PERIOD_BUTTON (tpt_period_button_get_type ())
G_DECLARE_FINAL_TYPE (TptPeriodButton, tpt_period_button, TPT, PERIOD_BUTTON, GtkWidget)

/* @zone (nullable): whose days; UTC without. @now ends 'the last days'. */
void tpt_period_button_set_moment (TptPeriodButton *self, TptZone *zone, TptInstant now);

/* Shows @period; emits nothing. */
void tpt_period_button_set_period (TptPeriodButton *self, TptRange period);

/**
 * tpt_period_parse:
 * @first: an ISO date, or empty for an open start
 * @last: an ISO date, or empty for an open end; the day belongs to the period
 * @zone: whose days
 * @period: (out): from the first instant of @first to the last of @last
 *
 * Returns: %FALSE with %TPT_ERROR_USAGE or %TPT_ERROR_DATA
 */
gboolean tpt_period_parse (const char *first, const char *last, TptZone *zone, TptRange *period, GError **error);

/* Writes the first and the last day of a period into entries; an open end leaves one empty. */
void tpt_period_show_days (GtkEntry *first, GtkEntry *last, TptRange period, TptZone *zone);

G_END_DECLS
