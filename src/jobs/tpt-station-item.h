/* A station with what the forecast says of it: a row of the due list, a symbol
 * on the map. */
#pragma once

#include "tpt-interval.h"
#include "tpt-record.h"
#include "tpt-symbol.h"

G_BEGIN_DECLS

/**
 * TptUnitForecast: one unit that runs on energy.
 * @unit: (owned): its code
 * @kind: (owned): camera, trigger, flash, pack
 * @label: (owned): how people call it, never empty
 * @p_out: chance of being out by the date of the next round
 * @left: expected share of its charge at the moment of asking, 0 to 1; NAN unknown
 * @interval: when it gives out
 * @why: (owned) (nullable): "cannot say because …" where no honest number exists
 */
typedef struct {
  char *unit;
  char *kind;
  char *label;
  double p_out;
  double left;
  TptInterval interval;
  char *why;
} TptUnitForecast;

/**
 * TptCardForecast:
 * @unit: (owned) (nullable): the card's code
 * @frames_left: from the last visit; NAN unknown
 * @left: expected share of the card at the moment of asking; NAN unknown
 * @why: (owned) (nullable): as for a unit
 */
typedef struct {
  char *unit;
  double frames_left;
  double p_full;
  double left;
  TptInterval interval;
  char *why;
} TptCardForecast;

/**
 * TptForecast: one station.
 * @state: fine, soon, now, down; unknown when no rig stands there
 * @p_down: chance that something is out by the next round
 * @lost_nights: expected trap nights lost from the moment of asking until then
 * @interval: when the first thing gives out
 * @limiting: (owned) (nullable): code of the unit, or "card"
 * @limiting_label: (owned) (nullable): in words
 * @triggers_per_day: posterior mean
 * @known_at: the visit or start the forecast stands on
 * @units: (owned) (element-type TptUnitForecast)
 * @why: (owned) (nullable): why nothing can be said of the whole station
 */
typedef struct {
  TptSymbolState state;
  double p_down;
  double lost_nights;
  TptInterval interval;
  char *limiting;
  char *limiting_label;
  double triggers_per_day;
  TptInstant known_at;
  GPtrArray *units;
  TptCardForecast card;
  char *why;
} TptForecast;

#define TPT_TYPE_STATION_ITEM (tpt_station_item_get_type ())
G_DECLARE_FINAL_TYPE (TptStationItem, tpt_station_item, TPT, STATION_ITEM, GObject)

/* @deployment (nullable): the one at work at the moment of asking. */
TptStationItem *tpt_station_item_new (TptRecord *station, TptRecord *deployment);

/* (transfer full): with a forecast of its own. */
TptStationItem *tpt_station_item_copy (TptStationItem *self);

TptRecord *tpt_station_item_get_record (TptStationItem *self);
TptRecord *tpt_station_item_get_deployment (TptStationItem *self);
/* For the job that fills it; (transfer none). */
TptForecast *tpt_station_item_get_forecast (TptStationItem *self);

/* Property "code" and "title" too. The name, else the code. */
const char *tpt_station_item_get_title (TptStationItem *self);
const char *tpt_station_item_get_code (TptStationItem *self);

TptSymbol tpt_station_item_get_symbol (TptStationItem *self);

/* (transfer full): "card full, probably since 30 May" or "camera pack, out
 * 3 to 10 June": one line below the title. */
char *tpt_station_item_describe (TptStationItem *self, TptZone *zone, TptInstant on);

G_END_DECLS
