/* What an estimate of occupancy says, and why there is none. */
#pragma once

#include "sci-occupancy.h"
#include "tpt-job-occupancy.h"

G_BEGIN_DECLS

/* (transfer full) (nullable): why there can be no estimate, and what would be needed. */
char *tpt_occupancy_refuse (const SciOccupancy *fit, int days);

/* (transfer full) (nullable): why an estimate is weak, and what would be needed. */
char *tpt_occupancy_doubt (const TptOccupancy *occupancy, SciOccupancyState state);

/* (transfer full) */
char *tpt_occupancy_say (const TptOccupancy *occupancy, const char *species, int days, TptZone *zone);

/* (transfer full) */
char *tpt_occupancy_describe_method (int days);

G_END_DECLS
