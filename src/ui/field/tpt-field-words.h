/* What the station page says of units, visits and places. */
#pragma once

#include "tpt-job-station.h"
#include "tpt-station-item.h"

G_BEGIN_DECLS

/* (transfer none): how people call a unit. */
const char *tpt_field_words_unit (TptRecord *unit);

/* (transfer full): "4 × NiMH, out 3 to 10 June". @forecast is that of the station. */
char *tpt_field_words_rig (TptRigItem *item, const TptForecast *forecast, TptZone *zone, TptInstant on);

/* (nullable): what the forecast says of @unit, by code. */
const TptUnitForecast *tpt_field_words_find (const TptForecast *forecast, const char *unit);

/* (transfer full): "Card full, 2,104 frames on the card". */
char *tpt_field_words_visit (TptRecord *visit);

/* (transfer full): the place, rounded to a tenth of a degree unless @exact. */
char *tpt_field_words_position (TptRecord *station, gboolean exact);

G_END_DECLS
