/* What an estimate of richness says, and why it is weak. */
#pragma once

#include "tpt-job-richness.h"

G_BEGIN_DECLS

/* (transfer full) (nullable): see #TptRichness why_not. */
char *tpt_richness_doubt (const TptRichness *richness);

/* (transfer full) */
char *tpt_richness_say (const TptRichness *richness, TptRange period, TptZone *zone);

G_END_DECLS
