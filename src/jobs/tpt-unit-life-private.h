/* Everything on record about one unit, with the names of the places it was at.
 * For the job that shows a unit. */
#pragma once

#include "tpt-record.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/**
 * TptUnitEvent: a fitting, a reading or a log entry of the unit.
 * @record: (owned)
 * @at: a fitting's start
 * @to: a fitting's end; else %TPT_NO_INSTANT
 * @station: (owned) (nullable): the code of the place
 * @place: (owned) (nullable): what people call it
 * @other: (owned) (nullable): of a reading, what replaced the unit; of a
 *   fitting, what the unit came in place of
 */
typedef struct {
  TptRecord *record;
  TptInstant at;
  TptInstant to;
  char *station;
  char *place;
  char *other;
} TptUnitEvent;

/* All (owned) (element-type TptUnitEvent), by time. */
typedef struct {
  TptRecord *unit; /* (owned) */
  GPtrArray *fittings;
  GPtrArray *readings;
  GPtrArray *entries;
} TptUnitLife;

/* (transfer full): %NULL with TPT_ERROR_DATA when there is no such unit. What
 * is later than @on is left out. */
TptUnitLife *tpt_unit_life_read (TptStore *store, const char *unit, TptInstant on, GError **error);
void tpt_unit_life_free (TptUnitLife *life);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptUnitLife, tpt_unit_life_free)

G_END_DECLS
