#include "sci-survival.h"

#include <math.h>

#include "sci-special.h"

/* A pivot smaller than this share of its variance is none. */
#define LEAST_PIVOT 1e-10

typedef struct {
  size_t n_groups;
  double at_risk[SCI_LOG_RANK_GROUPS];
  double failed[SCI_LOG_RANK_GROUPS]; /* at one age */
  double observed[SCI_LOG_RANK_GROUPS];
  double expected[SCI_LOG_RANK_GROUPS];
  double variance[SCI_LOG_RANK_GROUPS][SCI_LOG_RANK_GROUPS];
} Tally;

static double
add_up (const double *values, size_t n)
{
  double sum = 0;

  for (size_t i = 0; i < n; i++)
    sum += values[i];
  return sum;
}

/* One age: what failed against what would if the groups were alike, which is
 * hypergeometric. */
static void
tally_age (Tally *tally)
{
  double n = add_up (tally->at_risk, tally->n_groups), d = add_up (tally->failed, tally->n_groups);
  double scale = n > 1 ? d * (n - d) / (n * n * (n - 1)) : 0;

  for (size_t g = 0; d > 0 && g < tally->n_groups; g++)
    {
      tally->observed[g] += tally->failed[g];
      tally->expected[g] += d * tally->at_risk[g] / n;
      for (size_t h = 0; h < tally->n_groups; h++)
        tally->variance[g][h] += scale * tally->at_risk[g] * ((g == h ? n : 0) - tally->at_risk[h]);
    }
}

static void
tally_lives (Tally *tally, const SciLife *lives, size_t n)
{
  for (size_t i = 0; i < n; i++)
    tally->at_risk[lives[i].group]++;
  for (size_t i = 0; i < n;)
    {
      size_t end = i;

      for (size_t g = 0; g < tally->n_groups; g++)
        tally->failed[g] = 0;
      for (; end < n && lives[end].time == lives[i].time; end++)
        tally->failed[lives[end].group] += lives[end].failed;
      tally_age (tally);
      for (; i < end; i++)
        tally->at_risk[lives[i].group]--;
    }
}

/* u' V^-1 u over the groups in @kept by elimination, NaN when V is singular. */
static double
solve (const Tally *tally, const size_t *kept, size_t n)
{
  double v[SCI_LOG_RANK_GROUPS][SCI_LOG_RANK_GROUPS], u[SCI_LOG_RANK_GROUPS];
  double chi2 = 0;

  for (size_t i = 0; i < n; i++)
    {
      u[i] = tally->observed[kept[i]] - tally->expected[kept[i]];
      for (size_t j = 0; j < n; j++)
        v[i][j] = tally->variance[kept[i]][kept[j]];
    }
  for (size_t i = 0; i < n; i++)
    {
      if (!(v[i][i] > LEAST_PIVOT * tally->variance[kept[i]][kept[i]]))
        return NAN;
      for (size_t row = i + 1; row < n; row++)
        {
          double factor = v[row][i] / v[i][i];

          for (size_t j = i; j < n; j++)
            v[row][j] -= factor * v[i][j];
          u[row] -= factor * u[i];
        }
      chi2 += u[i] * u[i] / v[i][i];
    }
  return chi2;
}

/* The last of the groups follows from the others. */
static SciLogRank
test_tally (const Tally *tally)
{
  size_t kept[SCI_LOG_RANK_GROUPS], n = 0;
  SciLogRank result = { NAN, 0, NAN };

  for (size_t g = 0; g < tally->n_groups; g++)
    if (tally->expected[g] > 0)
      kept[n++] = g;
  if (n < 2)
    return result;
  result.chi2 = solve (tally, kept, n - 1);
  if (isnan (result.chi2))
    return result;
  result.df = (int) n - 1;
  result.p = sci_gamma_q (result.df / 2.0, result.chi2 / 2);
  return result;
}

SciLogRank
sci_log_rank (SciLife *lives, size_t n, size_t n_groups, double *observed, double *expected)
{
  Tally tally = { .n_groups = n_groups };

  if (n_groups < 2 || n_groups > SCI_LOG_RANK_GROUPS)
    return (SciLogRank) { NAN, 0, NAN };
  sci_lives_sort (lives, n);
  tally_lives (&tally, lives, n);
  for (size_t g = 0; g < n_groups; g++)
    {
      if (observed != NULL)
        observed[g] = tally.observed[g];
      if (expected != NULL)
        expected[g] = tally.expected[g];
    }
  return test_tally (&tally);
}
