/* A trend in words. */
#pragma once

#include <glib.h>

#include "sci-trend.h"

G_BEGIN_DECLS

/* (transfer full) (nullable): why there is none, and what would be needed. */
char *tpt_trend_say_why_not (const SciTrend *trend);

G_END_DECLS
