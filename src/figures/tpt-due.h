/* What is due: the list of stations with the interval in which each gives out,
 * on one axis of time, and the next round. */
#pragma once

#include "tpt-figure.h"
#include "tpt-interval.h"
#include "tpt-symbol.h"

G_BEGIN_DECLS

/**
 * TptDueRow:
 * @label: the station
 * @key: (nullable): what the caller knows it by
 * @limiting: (nullable): what gives out first: "camera battery", "card"
 * @symbol: its symbol
 * @interval: when
 * @lost_nights: expected nights lost if nobody goes before the round; NAN unknown
 */
typedef struct {
  const char *label;
  const char *key;
  const char *limiting;
  TptSymbol symbol;
  TptInterval interval;
  double lost_nights;
} TptDueRow;

/* @next_round may be %TPT_NO_INSTANT. */
TptFigure *tpt_due_new (TptRange range, TptZone *zone, TptInstant next_round);

/* Copies. Rows are drawn in the order added. */
void tpt_due_add_row (TptFigure *figure, const TptDueRow *row);

G_END_DECLS
