#include "sci-trend.h"

#include <math.h>

#include "sci-special.h"

#define TERMS_MOST 4
#define NEWTON_MOST 60
#define HALVINGS_MOST 30
#define PRECISION 1e-12

/* A slope of the logarithm beyond this in a year is no trend but a count that came or went. */
#define SLOPE_MOST 50

/* A month cannot be expected to have more than e to this. */
#define EXPONENT_MOST 600

/* A month that stands alone is fitted exactly, whatever its count. */
#define LEVERAGE_MOST 0.95

typedef struct {
  const SciTrendMonth *months;
  size_t n;
  size_t terms;
  double middle;
} Problem;

/* Where Newton stands. */
typedef struct {
  double beta[TERMS_MOST];
  double gradient[TERMS_MOST];
  double information[TERMS_MOST][TERMS_MOST];
  double log_likelihood; /* without what does not depend on beta */
} Fit;

static void
fill_terms (double terms[TERMS_MOST], double years, double middle)
{
  double angle = 2 * M_PI * years;

  terms[0] = 1;
  terms[1] = years - middle;
  terms[2] = cos (angle);
  terms[3] = sin (angle);
}

static double
take_mean (const Problem *problem, const SciTrendMonth *month, const double *beta, double terms[TERMS_MOST])
{
  double log_rate = 0;

  fill_terms (terms, month->years, problem->middle);
  for (size_t k = 0; k < problem->terms; k++)
    log_rate += beta[k] * terms[k];
  return month->effort * exp (fmin (log_rate, EXPONENT_MOST));
}

static void
weigh (const Problem *problem, Fit *fit)
{
  fit->log_likelihood = 0;
  for (size_t j = 0; j < problem->terms; j++)
    {
      fit->gradient[j] = 0;
      for (size_t k = 0; k < problem->terms; k++)
        fit->information[j][k] = 0;
    }
  for (size_t i = 0; i < problem->n; i++)
    {
      const SciTrendMonth *month = &problem->months[i];
      double terms[TERMS_MOST], mean;

      if (!(month->effort > 0))
        continue;
      mean = take_mean (problem, month, fit->beta, terms);
      fit->log_likelihood += (month->n > 0 ? (double) month->n * log (mean) : 0) - mean;
      for (size_t j = 0; j < problem->terms; j++)
        {
          fit->gradient[j] += ((double) month->n - mean) * terms[j];
          for (size_t k = 0; k < problem->terms; k++)
            fit->information[j][k] += mean * terms[j] * terms[k];
        }
    }
}

/* @lower x its transpose is the information; false where that is singular. */
static bool
factor (const Problem *problem, const Fit *fit, double lower[TERMS_MOST][TERMS_MOST])
{
  for (size_t j = 0; j < problem->terms; j++)
    for (size_t i = j; i < problem->terms; i++)
      {
        double rest = fit->information[i][j];

        for (size_t k = 0; k < j; k++)
          rest -= lower[i][k] * lower[j][k];
        if (i == j && !(rest > 1e-12 * fit->information[j][j]))
          return false;
        lower[i][j] = i == j ? sqrt (rest) : rest / lower[j][j];
      }
  return true;
}

/* Information x @x = @right. */
static bool
solve (const Problem *problem, const Fit *fit, const double *right, double *x)
{
  double lower[TERMS_MOST][TERMS_MOST] = { { 0 } };

  if (!factor (problem, fit, lower))
    return false;
  for (size_t i = 0; i < problem->terms; i++)
    {
      x[i] = right[i];
      for (size_t k = 0; k < i; k++)
        x[i] -= lower[i][k] * x[k];
      x[i] /= lower[i][i];
    }
  for (size_t i = problem->terms; i-- > 0;)
    {
      for (size_t k = i + 1; k < problem->terms; k++)
        x[i] -= lower[k][i] * x[k];
      x[i] /= lower[i][i];
    }
  return true;
}

/* A step that does not lower the likelihood. */
static bool
step (const Problem *problem, Fit *fit, double *longest)
{
  double move[TERMS_MOST];
  double share = 1;

  if (!solve (problem, fit, fit->gradient, move))
    return false;
  for (int halving = 0; halving < HALVINGS_MOST; halving++, share /= 2)
    {
      Fit next = *fit;

      *longest = 0;
      for (size_t k = 0; k < problem->terms; k++)
        {
          next.beta[k] += share * move[k];
          *longest = fmax (*longest, fabs (share * move[k]));
        }
      weigh (problem, &next);
      if (next.log_likelihood >= fit->log_likelihood - PRECISION * fabs (fit->log_likelihood))
        {
          *fit = next;
          return true;
        }
    }
  return false;
}

static bool
climb (const Problem *problem, double level, Fit *fit)
{
  double longest = INFINITY;

  *fit = (Fit) { .beta = { level } };
  weigh (problem, fit);
  for (int i = 0; i < NEWTON_MOST && longest > PRECISION; i++)
    if (!step (problem, fit, &longest) || fabs (fit->beta[1]) > SLOPE_MOST)
      return false;
  return longest <= 1e-8;
}

static double
multiply (const Problem *problem, const double *a, const double *b)
{
  double sum = 0;

  for (size_t k = 0; k < problem->terms; k++)
    sum += a[k] * b[k];
  return sum;
}

/* How far the counts lie from what is fitted: Pearson's chi-square, and the variance of the slope as
 * the counts themselves show it, each residual made larger by the pull it has on its own fit. */
static bool
measure_scatter (const Problem *problem, const Fit *fit, const double *column, double *pearson, double *robust)
{
  *pearson = *robust = 0;
  for (size_t i = 0; i < problem->n; i++)
    {
      double terms[TERMS_MOST], own[TERMS_MOST], mean, residual, leverage, pull;

      if (!(problem->months[i].effort > 0))
        continue;
      mean = take_mean (problem, &problem->months[i], fit->beta, terms);
      if (!solve (problem, fit, terms, own))
        return false;
      residual = (double) problem->months[i].n - mean;
      leverage = fmin (mean * multiply (problem, terms, own), LEVERAGE_MOST);
      pull = multiply (problem, terms, column) * residual / (1 - leverage);
      *pearson += residual * residual / mean;
      *robust += pull * pull;
    }
  return true;
}

static bool
tell_slope (const Problem *problem, const Fit *fit, double level, SciTrend *trend)
{
  static const double slope[TERMS_MOST] = { 0, 1, 0, 0 };
  double column[TERMS_MOST], df = (double) (trend->months - problem->terms), pearson, robust, error, reach;

  if (!solve (problem, fit, slope, column) || !measure_scatter (problem, fit, column, &pearson, &robust))
    return false;
  trend->dispersion = pearson / df;
  trend->error_even = sqrt (column[1] * fmax (1, trend->dispersion));
  trend->error_own = sqrt (robust);
  error = fmax (trend->error_even, trend->error_own);
  reach = error * sci_student_quantile_two_sided (1 - level, df);
  trend->per_year = exp (fit->beta[1]);
  trend->lower = exp (fit->beta[1] - reach);
  trend->upper = exp (fit->beta[1] + reach);
  trend->p = sci_student_two_sided (fit->beta[1] / error, df);
  trend->middle = problem->middle;
  for (size_t k = 0; k < problem->terms; k++)
    trend->coefficient[k] = fit->beta[k];
  return true;
}

/* What there is of months with effort. */
typedef struct {
  double effort;
  double middle; /* of the effort */
  double first;  /* year */
  double last;
  unsigned of_year; /* a bit for each of twelve */
} Record;

static void
add_month (const SciTrendMonth *month, SciTrend *trend, Record *record)
{
  double of_year = floor (12 * (month->years - floor (month->years)));

  record->effort += month->effort;
  record->middle += month->effort * month->years;
  record->first = fmin (record->first, month->years);
  record->last = fmax (record->last, month->years);
  record->of_year |= 1u << (unsigned) of_year;
  trend->months++;
  trend->months_seen += month->n > 0;
  trend->events += month->n;
}

static Record
add_up (const SciTrendMonth *months, size_t n, SciTrend *trend)
{
  Record record = { 0, 0, INFINITY, -INFINITY, 0 };
  int of_year = 0;

  for (size_t i = 0; i < n; i++)
    if (months[i].effort > 0)
      add_month (&months[i], trend, &record);
  for (int k = 0; k < 12; k++)
    of_year += record.of_year >> k & 1;
  record.middle /= record.effort;
  trend->months_spanned = trend->months > 0 ? (size_t) lround (12 * (record.last - record.first)) + 1 : 0;
  trend->seasonal = of_year >= SCI_TREND_SEASON_MONTHS;
  trend->months_seen_needed = SCI_TREND_MONTHS_SEEN + (trend->seasonal ? 2 : 0);
  return record;
}

static SciTrendState
judge (const SciTrend *trend)
{
  if (trend->months < SCI_TREND_MONTHS)
    return SCI_TREND_FEW_MONTHS;
  if (trend->months_spanned < SCI_TREND_SPAN)
    return SCI_TREND_SHORT;
  if (trend->events == 0)
    return SCI_TREND_NO_EVENTS;
  if (trend->events < SCI_TREND_EVENTS)
    return SCI_TREND_FEW_EVENTS;
  return trend->months_seen < trend->months_seen_needed ? SCI_TREND_FEW_MONTHS_SEEN : SCI_TREND_FOUND;
}

SciTrend
sci_trend (const SciTrendMonth *months, size_t n, double level)
{
  SciTrend trend = {
    .per_year = NAN, .lower = NAN, .upper = NAN, .p = NAN, .dispersion = NAN, .error_even = NAN, .error_own = NAN
  };
  Record record = add_up (months, n, &trend);
  Problem problem = { months, n, trend.seasonal ? 4 : 2, record.middle };
  Fit fit;

  trend.state = judge (&trend);
  if (trend.state == SCI_TREND_FOUND && !(climb (&problem, log ((double) trend.events / record.effort), &fit) &&
                                          tell_slope (&problem, &fit, level, &trend)))
    trend.state = SCI_TREND_NO_FIT;
  return trend;
}

double
sci_trend_rate (const SciTrend *trend, double years)
{
  double terms[TERMS_MOST], log_rate = 0;

  if (trend->state != SCI_TREND_FOUND)
    return NAN;
  fill_terms (terms, years, trend->middle);
  for (int k = 0; k < TERMS_MOST; k++)
    log_rate += trend->coefficient[k] * terms[k];
  return exp (log_rate);
}
