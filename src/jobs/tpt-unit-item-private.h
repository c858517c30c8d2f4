/* For the jobs that fill a unit's item. */
#pragma once

#include "tpt-query.h"
#include "tpt-unit-item.h"

G_BEGIN_DECLS

/* On the shelf, or retired, until something else is told. */
TptUnitItem *tpt_unit_item_new (TptRecord *record);

/* One of its fittings, in any order; what has not begun at @on does not count. */
void tpt_unit_item_take_fitting (TptUnitItem *self, TptRecord *fitting, TptRecord *station, TptInstant on);
void tpt_unit_item_take_reading (TptUnitItem *self, const TptLastReading *reading);
/* One of its log entries, in any order. */
void tpt_unit_item_take_entry (TptUnitItem *self, TptRecord *entry, TptInstant on);

/* By kind, camera first, then by code. */
int tpt_unit_item_compare (TptUnitItem *a, TptUnitItem *b);

G_END_DECLS
