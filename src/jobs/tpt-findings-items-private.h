/* The rows of the findings, while they are being counted. */
#pragma once

#include "tpt-job-findings.h"

G_BEGIN_DECLS

TptSpeciesItem *tpt_species_item_new (TptRecord *record);
TptRate *tpt_species_item_edit_rate (TptSpeciesItem *self);

/* Most detections first, then by title. */
void tpt_species_items_sort (GListStore *items);

/* By its scientific name or a common name in any language; case does not matter. */
gboolean tpt_species_is_called (TptRecord *species, const char *name);

TptPlaceItem *tpt_place_item_new (TptRecord *record);
TptRate *tpt_place_item_edit_rate (TptPlaceItem *self);

G_END_DECLS
