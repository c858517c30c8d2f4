/* Run-out forecast of one station: energy units and the card.
 *
 * All parts of a station see the same triggers. Their number until T, N(T), is
 * negative binomial (sci_rate_count()). Given N(T) = n the parts are
 * independent:
 *
 *   a unit is out when sleep_ma * 24 * T + mas_per_trigger * n / 3600 reaches
 *   its charge, which is lognormal;
 *   the card is full when n reaches frames_left / frames_per_trigger, whose
 *   frames may be lognormal too.
 *
 * Every chance below is the sum over n of the chance given n. Nothing is drawn
 * at random: the same input gives the same bytes.
 *
 * Time runs from the moment of asking (time 0), in days of 24 h.
 */
#pragma once

#include <stddef.h>

#include "sci-rate.h"

/* Ten years. Later run-outs are reported as infinity: no forecast reaches there. */
#define SCI_RUNOUT_HORIZON 3652.5

/* One thing with cells of its own: camera, trigger, flash, pack. A unit with
 * any NaN is unknown. */
typedef struct {
  double charge_mah;      /* median left at time 0, mAh: cells in parallel x
                             capacity x share left */
  double charge_log_sd;   /* sd of its logarithm, >= 0 */
  double sleep_ma;        /* >= 0 */
  double mas_per_trigger; /* mA s per trigger, all in, >= 0 */
} SciUnit;

typedef struct {
  double frames_left;        /* at time 0; NaN: unknown or no card */
  double frames_per_trigger; /* >= 0; NaN: unknown */
  double log_sd;             /* of frames_left: what is not known of the size of
                                frames, >= 0; 0: the count is exact */
} SciCard;

/* Days until run-out at chances of 10, 50 and 90 %: infinity past
 * SCI_RUNOUT_HORIZON, NaN when unknown. */
typedef struct {
  double p10;
  double p50;
  double p90;
} SciRunoutDays;

/* One part or the whole station. */
typedef struct {
  double p_out; /* chance of being out by the time asked about; NaN: unknown */
  SciRunoutDays days;
} SciRunout;

#define SCI_LIMITING_CARD (-1)
#define SCI_LIMITING_NONE (-2)

typedef struct {
  SciRunout station;
  SciRunout card;
  double lost_nights;      /* expected nights down until the time asked about */
  double triggers_per_day; /* posterior mean of the next 28 days */
  int limiting;            /* index of a unit, SCI_LIMITING_CARD or _NONE */
} SciForecast;

/* Chance that a unit is out by a time.
 *
 * Given:
 *   rate  SciRate
 *   unit  SciUnit
 *   days  double   T, >= 0
 *
 * Returned:
 *   0..1, growing with T; NaN when the unit is unknown
 *
 * Notes:
 *   A charge of 0 or less is out at once; a unit that draws nothing never is.
 *   Absolute error against the full sum over n measured below 1e-7, whether
 *   N(T) is in the tens or in the hundred thousands.
 */
double sci_unit_p_out (const SciRate *rate, const SciUnit *unit, double days);

/* Chance that the card is full by a time.
 *
 * Given:
 *   rate  SciRate  a at most 1e8
 *   card  SciCard
 *   days  double   T, >= 0
 *
 * Returned:
 *   P(N(T) >= ceil (frames_left / frames_per_trigger)); NaN when unknown
 *
 * Notes:
 *   Closed form, accurate as sci_beta_i(); with a log_sd the frames are
 *   lognormal and the sum over n is that of a unit's charge. No frames left: full at once; no
 *   frames per trigger: never full.
 */
double sci_card_p_full (const SciRate *rate, const SciCard *card, double days);

/* Chance that a station is down by a time: at least one part out.
 *
 * Given:
 *   rate     SciRate
 *   units    SciUnit[n_units]  unknown units are passed over
 *   n_units  size_t            may be 0
 *   card     SciCard           may be NULL: no card known
 *   days     double            T, >= 0
 *
 * Returned:
 *   0..1, at least the greatest single chance; NaN when every part is unknown
 *
 * Notes:
 *   Absolute error as for sci_unit_p_out().
 */
double sci_station_p_down (const SciRate *rate,
                           const SciUnit *units,
                           size_t n_units,
                           const SciCard *card,
                           double days);

/* Days until a chance is reached: the inverses of the three above.
 *
 * Given:
 *   as above
 *   p  double  chance, 0 < p < 1
 *
 * Returned:
 *   days, infinity when the chance at SCI_RUNOUT_HORIZON is still below p, NaN
 *   when unknown
 *
 * Notes:
 *   Solved until the chance is within 1e-7 of p or the days are known to one
 *   part in 1e9 (a chance may jump). A card of exact count at a plain rate (no
 *   clumping, drift or season) is solved in closed form.
 */
double sci_unit_quantile (const SciRate *rate, const SciUnit *unit, double p);
double sci_card_quantile (const SciRate *rate, const SciCard *card, double p);
double sci_station_quantile (const SciRate *rate,
                             const SciUnit *units,
                             size_t n_units,
                             const SciCard *card,
                             double p);

/* Expected nights lost until a time: the integral of the chance of being down.
 *
 * Given:
 *   as for sci_station_p_down()
 *
 * Returned:
 *   nights, 0..days; NaN when every part is unknown
 *
 * Notes:
 *   Adaptive; absolute error below 0.001 night or 1e-4 of the days asked.
 */
double sci_station_lost_nights (const SciRate *rate,
                                const SciUnit *units,
                                size_t n_units,
                                const SciCard *card,
                                double days);

/* Everything at once.
 *
 * Given:
 *   rate     SciRate
 *   units    SciUnit[n_units]  may be NULL when n_units is 0
 *   n_units  size_t
 *   card     SciCard           may be NULL
 *   days     double            time asked about (next round), > 0
 *
 * Returned:
 *   forecast      SciForecast
 *   unit_runouts  SciRunout[n_units]  may be NULL
 *
 * Notes:
 *   The limiting part is the one most likely to be out at the station's own
 *   median run-out (at the horizon, if that comes later): the part to look at
 *   if the station is found down. Equal chances go to the lower index, units
 *   before the card. SCI_LIMITING_NONE when nothing is known or nothing can
 *   run out.
 *   Days are solved until the chance is within 2e-5, some minutes in a month.
 *   About 0.4 ms for five units and a card.
 */
void sci_runout_forecast (const SciRate *rate,
                          const SciUnit *units,
                          size_t n_units,
                          const SciCard *card,
                          double days,
                          SciForecast *forecast,
                          SciRunout *unit_runouts);
