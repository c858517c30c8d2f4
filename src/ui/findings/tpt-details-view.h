/* What else can be said of one species: in which light, in which rhythm, whether it
 * becomes more or fewer, at what share of the stations, and by which moon; each as sentences.
 *
 * Signal "occasion-set" (int days): somebody wants occasions of another length.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-job-activity.h"
#include "tpt-job-months.h"
#include "tpt-job-moon.h"
#include "tpt-job-occupancy.h"

G_BEGIN_DECLS

#define TPT_TYPE_DETAILS_VIEW (tpt_details_view_get_type ())
G_DECLARE_FINAL_TYPE (TptDetailsView, tpt_details_view, TPT, DETAILS_VIEW, GtkWidget)

GtkWidget *tpt_details_view_new (void);

/* All @job (nullable): have run; without, the section is not there. */
void tpt_details_view_set_activity (TptDetailsView *self, TptJobActivity *job);
void tpt_details_view_set_months (TptDetailsView *self, TptJobMonths *job);
void tpt_details_view_set_moon (TptDetailsView *self, TptJobMoon *job);

/* @words (nullable): why there is no occupancy, without @job. */
void tpt_details_view_set_occupancy (TptDetailsView *self, TptJobOccupancy *job, const char *words);

int tpt_details_view_get_occasion_days (TptDetailsView *self);
/* Emits. @days 7, 14 or 28. */
void tpt_details_view_set_occasion_days (TptDetailsView *self, int days);

G_END_DECLS
