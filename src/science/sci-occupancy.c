#include "sci-occupancy.h"

#include <math.h>

#include "sci-occupancy-private.h"
#include "sci-special.h"

/* lnL is looked at in so many places for maxima in p. */
#define STEPS 24

/* Steps outward from the estimate, each this much nearer to the end, and how many. */
#define NEARER 0.7
#define MOST_STEPS 400

/* What is to be as great as possible in p: at one psi, or at the best for each p (NaN). */
typedef struct {
  SciOccupancyData *data;
  double psi;
} Search;

typedef double (*Function) (void *data, double x);

/* The root between two places of different signs: regula falsi, with the Illinois
 * halving of the end that stays (Dowell & Jarratt 1971, BIT 11:168-174, from memory). */
static double
find_root (Function function, void *data, double a, double fa, double b, double fb)
{
  for (int i = 0; i < 200 && fabs (b - a) > 1e-15 * (fabs (a) + fabs (b)); i++)
    {
      double x = isfinite (fa) && isfinite (fb) && i % 12 != 11 ? b - fb * (b - a) / (fb - fa) : (a + b) / 2;
      double fx = function (data, x);

      if (fx == 0)
        return x;
      if ((fx > 0) != (fb > 0))
        {
          a = b;
          fa = fb;
        }
      else
        fa /= 2;
      b = x;
      fb = fx;
    }
  return b;
}

static double
choose_psi (const Search *search)
{
  return isnan (search->psi) ? sci_occupancy_best_psi (search->data) : search->psi;
}

static double
measure_slope (void *data, double p)
{
  Search *search = data;

  sci_occupancy_set_p (search->data, p);
  return sci_occupancy_slope (search->data, choose_psi (search));
}

static double
measure_value (void *data, double p)
{
  Search *search = data;

  sci_occupancy_set_p (search->data, p);
  return sci_occupancy_value (search->data, choose_psi (search));
}

static void
take_better (Search *search, double p, double *best_p, double *best)
{
  double value = measure_value (search, p);

  if (value > *best)
    {
      *best = value;
      *best_p = p;
    }
}

/* The best p. It is no less than the share of visits with a detection, which is best
 * when all sites are occupied, and no more than that share of the sites with one. */
static double
search_p (Search *search, double *best)
{
  const SciOccupancyData *data = search->data;
  double low = data->detections / data->visits, high = data->detections / (data->detections + data->misses);
  double best_p = low, left = low, left_slope = measure_slope (search, low);

  *best = -INFINITY;
  take_better (search, low, &best_p, best);
  take_better (search, high, &best_p, best);
  for (int i = 1; i <= STEPS && high > low; i++)
    {
      double right = i < STEPS ? low + (high - low) * i / STEPS : high;
      double right_slope = measure_slope (search, right);

      if (left_slope > 0 && right_slope < 0)
        take_better (search, find_root (measure_slope, search, left, left_slope, right, right_slope), &best_p, best);
      left = right;
      left_slope = right_slope;
    }
  return best_p;
}

/* How far a profile lies above its threshold. */
typedef struct {
  SciOccupancyData *data;
  double threshold;
} Profile;

static double
profile_psi (void *data, double psi)
{
  Profile *profile = data;
  Search search = { profile->data, psi };
  double best;

  search_p (&search, &best);
  return best - profile->threshold;
}

static double
profile_p (void *data, double p)
{
  Profile *profile = data;
  Search search = { profile->data, NAN };

  return measure_value (&search, p) - profile->threshold;
}

/* Outward from the estimate to where the profile falls below its threshold, or to @end. */
static double
find_limit (Function function, Profile *profile, double estimate, double end)
{
  double near = estimate, above = function (profile, estimate), left = end - estimate;

  if (estimate == end || (end > 0 && function (profile, end) >= 0))
    return end;
  for (int i = 0; i < MOST_STEPS; i++)
    {
      double far = end - (left *= NEARER), below = function (profile, far);

      if (below < 0)
        return find_root (function, profile, near, above, far, below);
      near = far;
      above = below;
    }
  return end;
}

static void
find_limits (SciOccupancyData *data, double level, SciOccupancy *fit)
{
  double z = sci_normal_quantile ((1 + level) / 2);
  Profile profile = { data, fit->log_likelihood - z * z / 2 };

  fit->psi.lower = find_limit (profile_psi, &profile, fit->psi.estimate, 0);
  fit->psi.upper = find_limit (profile_psi, &profile, fit->psi.estimate, 1);
  fit->p.lower = find_limit (profile_p, &profile, fit->p.estimate, 0);
  fit->p.upper = find_limit (profile_p, &profile, fit->p.estimate, 1);
}

/* From the matrix of second derivatives, turned and inverted. */
static void
find_errors (const SciOccupancyData *data, SciOccupancy *fit)
{
  double psi = fit->psi.estimate, p = fit->p.estimate, q = 1 - p;
  double psi_psi = data->detected / (psi * psi), psi_p = 0, p_p = data->detections / (p * p) + data->misses / (q * q);
  double determinant;

  for (size_t i = 0; i < data->n_silent; i++)
    {
      double k = data->silent[i].visits, n = data->silent[i].sites, missed = data->silent[i].missed;
      double first = -k * missed / q, second = k * (k - 1) * missed / (q * q);
      double chance = 1 - psi + psi * missed;

      psi_psi += n * (1 - missed) * (1 - missed) / (chance * chance);
      psi_p -= n * first / (chance * chance);
      p_p -= n * psi * (second / chance - psi * first * first / (chance * chance));
    }
  determinant = psi_psi * p_p - psi_p * psi_p;
  if (!(determinant > 1e-12 * psi_psi * fabs (p_p)) || !(p_p > 0))
    return;
  fit->psi_error = sqrt (p_p / determinant);
  fit->p_error = sqrt (psi_psi / determinant);
  fit->covariance = -psi_p / determinant;
}

static void
fit_data (SciOccupancyData *data, double level, SciOccupancy *fit)
{
  Search search = { data, NAN };

  fit->p.estimate = search_p (&search, &fit->log_likelihood);
  sci_occupancy_set_p (data, fit->p.estimate);
  fit->psi.estimate = sci_occupancy_best_psi (data);
  fit->aic = 4 - 2 * fit->log_likelihood;
  if (fit->sites > 3)
    fit->aic_corrected = fit->aic + 12 / ((double) fit->sites - 3);
  fit->state = fit->psi.estimate == 1 ? SCI_OCCUPANCY_PSI_ONE
               : fit->p.estimate == 1 ? SCI_OCCUPANCY_P_ONE
                                      : SCI_OCCUPANCY_INSIDE;
  if (fit->state == SCI_OCCUPANCY_INSIDE)
    find_errors (data, fit);
  find_limits (data, level, fit);
}

SciOccupancy
sci_occupancy_fit (const SciOccupancySite *sites, size_t n, double level)
{
  SciInterval none = { NAN, NAN, NAN };
  SciOccupancy fit = { SCI_OCCUPANCY_UNSEEN, 0, 0, 0, 0, NAN, none, none, NAN, NAN, NAN, NAN, NAN, NAN };
  SciOccupancyData data;

  if (!(level > 0 && level < 1) || !sci_occupancy_data_init (&data, sites, n))
    return fit;
  fit.sites = (size_t) data.sites;
  fit.sites_detected = (size_t) data.detected;
  fit.visits = (size_t) data.visits;
  fit.detections = (size_t) data.detections;
  fit.naive = data.sites > 0 ? data.detected / data.sites : NAN;
  if (data.detected > 0 && !data.repeated)
    fit.state = SCI_OCCUPANCY_ONCE;
  else if (data.detected > 0)
    fit_data (&data, level, &fit);
  sci_occupancy_data_clear (&data);
  return fit;
}

double
sci_occupancy_log_likelihood (const SciOccupancySite *sites, size_t n, double psi, double p)
{
  SciOccupancyData data;
  double value;

  if (!(psi >= 0 && psi <= 1 && p >= 0 && p <= 1) || !sci_occupancy_data_init (&data, sites, n))
    return NAN;
  sci_occupancy_set_p (&data, p);
  value = sci_occupancy_value (&data, psi);
  sci_occupancy_data_clear (&data);
  return value;
}

double
sci_occupancy_missed (double psi, double p, double visits)
{
  double missed;

  if (!(psi >= 0 && psi <= 1 && p >= 0 && p <= 1 && visits >= 0))
    return NAN;
  missed = psi * pow (1 - p, visits);
  return missed / (1 - psi + missed);
}

double
sci_occupancy_visits_needed (double p, double chance)
{
  if (!(p > 0 && p <= 1 && chance > 0 && chance < 1))
    return NAN;
  return p < 1 ? fmax (1, ceil (log1p (-chance) / log1p (-p))) : 1;
}
