/* Short dates for lists, beside the words of tpt-words.h. */
#pragma once

#include "tpt-time.h"

G_BEGIN_DECLS

/* (transfer full): "14 Jun", with its year when that is not the year of @now. */
char *tpt_format_day_short (TptInstant at, TptZone *zone, TptInstant now);

/* (transfer full): "2026-06-14" */
char *tpt_format_iso_day (TptInstant at, TptZone *zone);

G_END_DECLS
