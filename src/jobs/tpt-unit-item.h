/* A unit in a list: what it is, where it is, and how it was last seen. */
#pragma once

#include "tpt-record.h"

G_BEGIN_DECLS

typedef enum {
  TPT_UNIT_IN_RIG,
  TPT_UNIT_ON_SHELF,
  TPT_UNIT_RETIRED,
} TptUnitPlace;

#define TPT_TYPE_UNIT_ITEM (tpt_unit_item_get_type ())
G_DECLARE_FINAL_TYPE (TptUnitItem, tpt_unit_item, TPT, UNIT_ITEM, GObject)

TptRecord *tpt_unit_item_get_record (TptUnitItem *self);
const char *tpt_unit_item_get_code (TptUnitItem *self);
/* Its label, or its code without one. */
const char *tpt_unit_item_get_title (TptUnitItem *self);
TptUnitPlace tpt_unit_item_get_place (TptUnitItem *self);

/* (nullable): code and name of the station whose rig it is in. */
const char *tpt_unit_item_get_station (TptUnitItem *self);
const char *tpt_unit_item_get_station_title (TptUnitItem *self);

/* When it came where it is: fitted, or taken from its last rig;
 * %TPT_NO_INSTANT when it never was in one. */
TptInstant tpt_unit_item_get_since (TptUnitItem *self);

/* Whether harm or loss was noted after which nothing was repaired. */
gboolean tpt_unit_item_is_harmed (TptUnitItem *self);

/* (transfer full): "At Otter bank since 3 May". */
char *tpt_unit_item_word_place (TptUnitItem *self, TptZone *zone, TptInstant now);

/* (transfer full) (nullable): "58 % left on 3 May", "damage on 3 May: moisture";
 * %NULL when nothing was ever seen of it. */
char *tpt_unit_item_word_state (TptUnitItem *self, TptZone *zone, TptInstant now);

G_END_DECLS
