#include "sci-community.h"

#include <math.h>

#include "sci-special.h"

/* What the estimates take. */
typedef struct {
  double n;
  double found;
  double incidences;
  double uniques;
  double duplicates;
} Counts;

static Counts
count (const SciTally *tally)
{
  Counts counts = { .n = (double) tally->units };

  for (size_t m = 0; m < tally->units; m++)
    {
      counts.found += tally->absent[m];
      counts.incidences += tally->absent[m] * (double) (tally->units - m);
    }
  counts.uniques = tally->units >= 1 ? tally->absent[tally->units - 1] : 0;
  counts.duplicates = tally->units >= 2 ? tally->absent[tally->units - 2] : 0;
  return counts;
}

static void
estimate_chao2 (const Counts *c, SciRichness *richness)
{
  double a = (c->n - 1) / c->n, q1 = c->uniques, q2 = c->duplicates, r = q1 / q2, variance;

  richness->chao2_corrected = c->found + a * q1 * (q1 - 1) / (2 * (q2 + 1));
  if (q2 > 0)
    {
      richness->chao2 = c->found + a * q1 * r / 2;
      variance = q2 * (a * r * r / 2 + a * a * r * r * r + a * a * r * r * r * r / 4);
    }
  else
    {
      richness->chao2 = c->found + a * q1 * (q1 - 1) / 2;
      variance = a * q1 * (q1 - 1) / 2 +
                 a * a * (q1 * (2 * q1 - 1) * (2 * q1 - 1) / 4 - q1 * q1 * q1 * q1 / (4 * richness->chao2));
    }
  richness->chao2_error = sqrt (fmax (variance, 0));
}

static void
estimate_jackknife (const SciTally *tally, const Counts *c, SciRichness *richness)
{
  double n = c->n, q1 = c->uniques, squares = 0;

  for (size_t u = 0; u < tally->units; u++)
    squares += tally->single[u] * tally->single[u];
  richness->jack1 = c->found + q1 * (n - 1) / n;
  richness->jack1_error = sqrt (fmax ((n - 1) / n * (squares - q1 * q1 / n), 0));
  richness->jack2 = c->found + q1 * (2 * n - 3) / n - c->duplicates * (n - 2) * (n - 2) / (n * (n - 1));
}

/* Each species is missed by n units drawn with replacement with a chance (m / n)^n. */
static void
estimate_bootstrap (const SciTally *tally, const Counts *c, SciRichness *richness)
{
  double missed = 0, pairs = 0;

  for (size_t m = 0; m <= tally->units; m++)
    {
      double chance = pow ((double) m / c->n, c->n);

      missed += tally->absent[m] * chance;
      pairs += tally->pairs[m] * chance;
    }
  richness->boot = c->found + missed;
  richness->boot_error = sqrt (fmax (pairs - missed * missed, 0));
}

static void
estimate_hill (const SciTally *tally, const Counts *c, SciRichness *richness)
{
  double entropy = 0, squares = 0;

  for (size_t m = 0; m < tally->units; m++)
    {
      double share = (double) (tally->units - m) / c->incidences;

      entropy -= tally->absent[m] * share * log (share);
      squares += tally->absent[m] * share * share;
    }
  richness->hill[0] = c->found;
  richness->hill[1] = exp (entropy);
  richness->hill[2] = 1 / squares;
}

static double
find_coverage (const Counts *c)
{
  double first = (c->n - 1) * c->uniques;

  return c->uniques > 0 ? 1 - c->uniques / c->incidences * first / (first + 2 * c->duplicates) : 1;
}

SciRichness
sci_richness (const SciTally *tally)
{
  Counts c = count (tally);
  SciRichness richness = { (size_t) c.n, (size_t) c.found, (size_t) c.incidences, (size_t) c.uniques,
                           (size_t) c.duplicates, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, { NAN, NAN, NAN } };

  if (!(c.found > 0))
    return richness;
  estimate_hill (tally, &c, &richness);
  if (tally->units < 2)
    return richness;
  estimate_chao2 (&c, &richness);
  estimate_jackknife (tally, &c, &richness);
  estimate_bootstrap (tally, &c, &richness);
  richness.coverage = find_coverage (&c);
  return richness;
}

SciInterval
sci_richness_limits (const SciRichness *richness, double level)
{
  double found = (double) richness->species, unseen = richness->chao2 - found, spread;

  if (isnan (richness->chao2) || !(level > 0 && level < 1))
    return (SciInterval) { NAN, NAN, NAN };
  if (!(unseen > 0))
    return (SciInterval) { richness->chao2, found, found };
  spread = richness->chao2_error / unseen;
  spread = exp (sci_normal_quantile ((1 + level) / 2) * sqrt (log1p (spread * spread)));
  return (SciInterval) { richness->chao2, found + unseen / spread, found + unseen * spread };
}

double
sci_richness_more_units (const SciRichness *richness, double share)
{
  double found = (double) richness->species, unseen = richness->chao2 - found;
  double twice = 2 * (double) richness->duplicates, once = (double) (richness->units - 1) * (double) richness->uniques;
  double rate = twice / (once + twice);

  if (isnan (richness->chao2) || richness->uniques == 0 || richness->duplicates == 0 || !(share > 0 && share < 1))
    return NAN;
  return fmax (0, log1p (-(share * richness->chao2 - found) / unseen) / log1p (-rate));
}
