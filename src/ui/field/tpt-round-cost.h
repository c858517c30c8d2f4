/* What going on one day or another costs, in words. */
#pragma once

#include "tpt-time.h"

G_BEGIN_DECLS

/**
 * TptRoundCost:
 * @at: the day of the round
 * @lost: expected nights lost until then at all stations; NAN not known yet
 */
typedef struct {
  TptInstant at;
  double lost;
} TptRoundCost;

/* (transfer full): "Going on 14 June: 9.4 nights lost; on 21 June: 17.2, which
 * is 7.8 more". @other may be of no known cost; @on is the moment of asking. */
char *tpt_round_cost_compare (const TptRoundCost *planned, const TptRoundCost *other, TptZone *zone, TptInstant on);

/* (transfer full): the same as an addition to the day of @other, for somebody
 * who hears it: "17.2 nights lost, 7.8 more than on 14 June". */
char *tpt_round_cost_speak (const TptRoundCost *planned, const TptRoundCost *other, TptZone *zone, TptInstant on);

G_END_DECLS
