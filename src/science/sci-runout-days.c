/* Inverses and integrals over time of the chances in sci-runout.c. */
#include "sci-runout.h"

#include <math.h>
#include <stdbool.h>

#include "sci-special.h"

/* Run-outs sooner than this, in days, are reported as 0. */
#define SHORTEST 1e-6
#define CHANCE_TOLERANCE 1e-7
/* For whole forecasts: some minutes in a month. */
#define ROUGH_TOLERANCE 2e-5
/* How far from a look, in deviates, the parabola is believed. */
#define NEAR 0.35
#define TIME_TOLERANCE 1e-9
#define MAX_STEPS 100
#define MAX_DEPTH 30
/* The two rules differ by a twelfth of the fourth difference, which may vanish by
 * chance: so many times the tolerance is allowed to the third ones. */
#define BENT 50
#define MONTH 28.0

typedef struct {
  const SciRate *rate;
  const SciUnit *units;
  size_t n_units;
  const SciCard *card;
} Station;

/* A root being closed in on. Time is logarithmic and the chance is taken as a
 * normal deviate: on these scales the curve is nearly a straight line. */
typedef struct {
  double low;
  double high;
  bool low_tried;
  bool high_tried;
  double t;
  double miss;
  double slope;
} Search;

static double
p_down (const Station *station, double days)
{
  return sci_station_p_down (station->rate, station->units, station->n_units, station->card, days);
}

static double
deviate (double p)
{
  return sci_normal_quantile (fmax (1e-9, fmin (1 - 1e-9, p)));
}

/* Days at the mean rate until the first part is out. */
static double
guess_days (const Station *station)
{
  double per_day = station->rate->a / station->rate->b, days = SCI_RUNOUT_HORIZON;

  for (size_t i = 0; i < station->n_units; i++)
    {
      const SciUnit *unit = &station->units[i];

      days = fmin (days, unit->charge_mah / (24 * unit->sleep_ma + unit->mas_per_trigger * per_day / 3600));
    }
  if (station->card != NULL)
    days = fmin (days, station->card->frames_left / station->card->frames_per_trigger / per_day);
  return fmax (days, SHORTEST);
}

/* Variance of the logarithm of a drain of which @share is by triggers. */
static double
count_spread (const SciRate *rate, double days, double share)
{
  double size, odds;

  sci_rate_count (rate, days, &size, &odds);
  return share * share * (1 + odds) / fmax (size * odds, 1e-9);
}

static double
unit_spread (const SciRate *rate, const SciUnit *unit, double days)
{
  double triggers = unit->mas_per_trigger * sci_rate_mean (rate, days) / 3600;
  double share = triggers / (24 * unit->sleep_ma * days + triggers);

  return unit->charge_log_sd * unit->charge_log_sd + (share > 0 ? count_spread (rate, days, share) : 0);
}

/* Deviates per unit of log time about some time, roughly: those of the best
 * known part. */
static double
guess_slope (const Station *station, double days)
{
  double least = INFINITY;

  days = fmax (SHORTEST, fmin (days, SCI_RUNOUT_HORIZON));
  for (size_t i = 0; i < station->n_units; i++)
    least = fmin (least, unit_spread (station->rate, &station->units[i], days));
  if (station->card != NULL && !isnan (station->card->frames_left))
    least = fmin (least, station->card->log_sd * station->card->log_sd + count_spread (station->rate, days, 1));
  return 1 / sqrt ((isfinite (least) ? least : 1) + 1e-4);
}

/* Where to look next: a secant step, an end of the bracket never looked at, or
 * the middle. */
static double
next_time (const Search *search)
{
  double next = search->t - search->miss / search->slope;

  if (next > search->low && next < search->high)
    return next;
  if (!search->high_tried && next >= search->high)
    return search->high;
  if (!search->low_tried && next <= search->low)
    return search->low;
  return (search->low + search->high) / 2;
}

static void
note_miss (Search *search, double t, double miss)
{
  double slope = (miss - search->miss) / (t - search->t);

  if (isfinite (slope) && slope > 0)
    search->slope = slope;
  search->t = t;
  search->miss = miss;
  if (miss < 0)
    {
      search->low = t;
      search->low_tried = true;
    }
  else
    {
      search->high = t;
      search->high_tried = true;
    }
}

static double
solve_days (const Station *station, double p, double guess, double slope, double tolerance)
{
  Search search = { log (SHORTEST), log (SCI_RUNOUT_HORIZON), false, false, NAN, NAN, slope };
  double t = fmax (search.low, fmin (search.high, log (guess)));

  for (int i = 0; i < MAX_STEPS; i++)
    {
      double chance = p_down (station, exp (t));

      if (isnan (chance))
        return NAN;
      if (chance < p && t >= log (SCI_RUNOUT_HORIZON))
        return INFINITY;
      if (chance >= p && t <= log (SHORTEST))
        return 0;
      if (fabs (chance - p) < tolerance)
        return exp (t);
      note_miss (&search, t, deviate (chance) - deviate (p));
      if (search.high - search.low < TIME_TOLERANCE)
        return exp (search.high);
      t = next_time (&search);
    }
  return exp (t);
}

/* Log time at a deviate, by the parabola through three points (Neville). */
static double
interpolate (const double z[3], const double t[3], double at)
{
  double low = ((at - z[1]) * t[0] - (at - z[0]) * t[1]) / (z[0] - z[1]);
  double high = ((at - z[2]) * t[1] - (at - z[1]) * t[2]) / (z[1] - z[2]);

  return ((at - z[2]) * low - (at - z[0]) * high) / (z[0] - z[2]);
}

/* One look at the curve, on the scales on which it is nearly straight. */
static bool
look (const Station *station, double t, double *z)
{
  double chance;

  if (!(t > log (SHORTEST) && t < log (SCI_RUNOUT_HORIZON)))
    return false;
  chance = p_down (station, exp (t));
  *z = sci_normal_quantile (chance);
  return chance > 1e-6 && chance < 1 - 1e-6;
}

/* A look within NEAR of the deviate @wanted, starting from the point @t0, @z0. */
static bool
look_near (const Station *station, double t0, double z0, double *slope, double wanted, double *t, double *z)
{
  *t = t0;
  *z = z0;
  for (int i = 0; i < 4; i++)
    {
      double from = *t, at = *z;

      if (i > 0 && fabs (at - wanted) < NEAR)
        return true;
      *t = from + (wanted - at) / *slope;
      if (!look (station, *t, z) || !((*z - at) * (*t - from) > 0))
        return false;
      *slope = (*z - at) / (*t - from);
    }
  return false;
}

/* All three at once from a few looks. Fails where the curve is not smooth:
 * jumps, ends of the scale. */
static bool
look_up_three (const Station *station, double guess, SciRunoutDays *days)
{
  const double far = sci_normal_quantile (0.9);
  double slope = guess_slope (station, guess), t[3], z[3], found[3];

  if (!look (station, log (guess), &z[1]))
    return false;
  t[1] = log (guess);
  if (fabs (z[1]) > NEAR && !look_near (station, t[1], z[1], &slope, 0, &t[1], &z[1]))
    return false;
  if (!look_near (station, t[1], z[1], &slope, -far, &t[0], &z[0])
      || !look_near (station, t[1], z[1], &slope, far, &t[2], &z[2]))
    return false;
  for (int i = 0; i < 3; i++)
    found[i] = exp (interpolate (z, t, (i - 1) * far));
  *days = (SciRunoutDays) { found[0], found[1], found[2] };
  return found[0] < found[1] && found[1] < found[2] && found[2] < SCI_RUNOUT_HORIZON;
}

static SciRunoutDays
solve_three (const Station *station)
{
  double guess = guess_days (station), slope, p50, from, step;
  SciRunoutDays days;

  if (look_up_three (station, guess, &days))
    return days;
  slope = guess_slope (station, guess);
  p50 = solve_days (station, 0.5, guess, slope, ROUGH_TOLERANCE);
  if (isnan (p50))
    return (SciRunoutDays) { NAN, NAN, NAN };
  from = fmin (p50, SCI_RUNOUT_HORIZON);
  step = sci_normal_quantile (0.9) / slope;
  return (SciRunoutDays) {
    .p10 = solve_days (station, 0.1, from * exp (-step), slope, ROUGH_TOLERANCE),
    .p50 = p50,
    .p90 = isinf (p50) ? INFINITY : solve_days (station, 0.9, from * exp (step), slope, ROUGH_TOLERANCE),
  };
}

static bool
is_chance (double p)
{
  return p > 0 && p < 1;
}

double
sci_station_quantile (const SciRate *rate,
                      const SciUnit *units,
                      size_t n_units,
                      const SciCard *card,
                      double p)
{
  const Station station = { rate, units, n_units, card };

  return is_chance (p) ? solve_days (&station, p, guess_days (&station), guess_slope (&station, guess_days (&station)), CHANCE_TOLERANCE) : NAN;
}

double
sci_unit_quantile (const SciRate *rate, const SciUnit *unit, double p)
{
  return sci_station_quantile (rate, unit, 1, NULL, p);
}

static bool
is_plain (const SciRate *rate)
{
  return rate->clump == 0 && rate->drift == 0 && rate->season.cosine == 0 && rate->season.sine == 0;
}

/* With y = b / (b + T), the chance of fewer than n triggers is I_y (a, n). */
double
sci_card_quantile (const SciRate *rate, const SciCard *card, double p)
{
  double n = card != NULL ? ceil (card->frames_left / card->frames_per_trigger) : NAN;
  double share, days;

  if (!is_chance (p) || !(rate->a > 0 && rate->b > 0) || card == NULL
      || isnan (card->frames_left) || isnan (card->frames_per_trigger))
    return NAN;
  if (!is_plain (rate) || card->log_sd > 0)
    return sci_station_quantile (rate, NULL, 0, card, p);
  if (card->frames_left <= 0)
    return 0;
  if (!(card->frames_per_trigger > 0))
    return INFINITY;
  /* Solved for whichever of y and 1 - y is the smaller. */
  if (n > rate->a)
    {
      share = sci_beta_i_inverse (rate->a, n, 1 - p);
      days = rate->b * (1 - share) / share;
    }
  else
    {
      share = sci_beta_i_inverse (n, rate->a, p);
      days = rate->b * share / (1 - share);
    }
  return days > SCI_RUNOUT_HORIZON ? INFINITY : days;
}

/* Integral of the chance over from..to, whose ends and middle are known.
 * A chance that grows cannot hide anything: the area between the ends bounds
 * the error whatever the shape. */
static double
integrate (const Station *station, double from, double to, const double p[3], double tolerance, int depth)
{
  double middle = (from + to) / 2, width = to - from;
  double left[3], right[3], rough, fine, bend;

  rough = width * (p[0] + 4 * p[1] + p[2]) / 6;
  if (width * (p[2] - p[0]) < tolerance || depth == 0)
    return rough;
  left[0] = p[0];
  left[1] = p_down (station, (from + middle) / 2);
  left[2] = right[0] = p[1];
  right[1] = p_down (station, (middle + to) / 2);
  right[2] = p[2];
  fine = width * (p[0] + 4 * left[1] + 2 * p[1] + 4 * right[1] + p[2]) / 12;
  bend = fmax (fabs (right[1] - 3 * p[1] + 3 * left[1] - p[0]), fabs (p[2] - 3 * right[1] + 3 * p[1] - left[1]));
  if (fabs (fine - rough) < tolerance && width * bend < BENT * tolerance)
    return fine;
  return integrate (station, from, middle, left, tolerance / 2, depth - 1)
         + integrate (station, middle, to, right, tolerance / 2, depth - 1);
}

double
sci_station_lost_nights (const SciRate *rate,
                         const SciUnit *units,
                         size_t n_units,
                         const SciCard *card,
                         double days)
{
  const Station station = { rate, units, n_units, card };
  const double p[3] = { p_down (&station, 0), p_down (&station, days / 2), p_down (&station, days) };

  if (isnan (p[2]))
    return NAN;
  return fmin (days, integrate (&station, 0, days, p, fmax (1e-3, 1e-4 * days), MAX_DEPTH));
}

/* A chance that is below another's for certain: told by the days at which it
 * is 10 and 50 %. */
static bool
is_less_likely (const SciRunout *runout, double days, double chance)
{
  return (runout->days.p10 > days && chance >= 0.1) || (runout->days.p50 > days && chance >= 0.5);
}

static size_t
find_first_out (const SciRunout *runouts, size_t n)
{
  size_t first = 0;

  for (size_t i = 1; i < n; i++)
    if (runouts[i].days.p50 < runouts[first].days.p50 || isnan (runouts[first].days.p50))
      first = i;
  return first;
}

/* The part most likely to be out at @days. */
static int
find_limiting (const Station *station, double days, const SciRunout *runouts)
{
  double greatest = 0, likely = 0, chance;
  int limiting = SCI_LIMITING_NONE;

  if (runouts != NULL && station->n_units > 0)
    likely = sci_unit_p_out (station->rate, &station->units[find_first_out (runouts, station->n_units)], days);
  for (size_t i = 0; i < station->n_units; i++)
    {
      if (runouts != NULL && is_less_likely (&runouts[i], days, likely))
        continue;
      chance = sci_unit_p_out (station->rate, &station->units[i], days);
      if (chance > greatest)
        {
          greatest = chance;
          limiting = (int) i;
        }
    }
  chance = sci_card_p_full (station->rate, station->card, days);
  return chance > greatest ? SCI_LIMITING_CARD : limiting;
}

static SciRunout
forecast_card (const SciRate *rate, const SciCard *card, double days)
{
  const Station alone = { rate, NULL, 0, card };
  SciRunout runout = { .p_out = sci_card_p_full (rate, card, days) };

  if (card != NULL && (card->log_sd > 0 || !is_plain (rate)))
    runout.days = solve_three (&alone);
  else
    runout.days = (SciRunoutDays) {
      .p10 = sci_card_quantile (rate, card, 0.1),
      .p50 = sci_card_quantile (rate, card, 0.5),
      .p90 = sci_card_quantile (rate, card, 0.9),
    };
  return runout;
}

void
sci_runout_forecast (const SciRate *rate,
                     const SciUnit *units,
                     size_t n_units,
                     const SciCard *card,
                     double days,
                     SciForecast *forecast,
                     SciRunout *unit_runouts)
{
  const Station station = { rate, units, n_units, card };

  for (size_t i = 0; unit_runouts != NULL && i < n_units; i++)
    {
      const Station alone = { rate, &units[i], 1, NULL };

      unit_runouts[i] = (SciRunout) { p_down (&alone, days), solve_three (&alone) };
    }
  forecast->card = forecast_card (rate, card, days);
  forecast->station = (SciRunout) { p_down (&station, days), solve_three (&station) };
  forecast->lost_nights = sci_station_lost_nights (rate, units, n_units, card, days);
  forecast->triggers_per_day = sci_rate_mean (rate, MONTH) / MONTH;
  forecast->limiting = find_limiting (&station, fmin (forecast->station.days.p50, SCI_RUNOUT_HORIZON), unit_runouts);
}
