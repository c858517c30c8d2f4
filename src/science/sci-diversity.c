#include "sci-diversity.h"

#include <math.h>

static void
add_species (SciDiversity *sum, uint64_t count)
{
  sum->individuals += count;
  sum->species += count > 0;
  sum->singletons += count == 1;
  sum->doubletons += count == 2;
}

static void
measure_shares (SciDiversity *self, const uint64_t *counts, size_t n)
{
  double total = (double) self->individuals, entropy = 0, squares = 0, pairs = 0;

  for (size_t i = 0; i < n; i++)
    {
      double count = (double) counts[i], share = count / total;

      if (counts[i] == 0)
        continue;
      entropy -= share * log (share);
      squares += share * share;
      pairs += count * (count - 1);
    }
  self->shannon = entropy;
  self->simpson = 1 - squares;
  self->hill[0] = (double) self->species;
  self->hill[1] = exp (entropy);
  self->hill[2] = 1 / squares;
  if (self->individuals > 1)
    self->simpson_unbiased = 1 - pairs / (total * (total - 1));
  if (self->species > 1)
    self->evenness = entropy / log (self->hill[0]);
}

static void
estimate_unseen (SciDiversity *self)
{
  double total = (double) self->individuals, f1 = (double) self->singletons, f2 = (double) self->doubletons;
  double s = (double) self->species, a = (total - 1) / total;

  self->chao1 = s + a * (f2 > 0 ? f1 * f1 / (2 * f2) : f1 * (f1 - 1) / 2);
  self->chao1_corrected = s + f1 * (f1 - 1) / (2 * (f2 + 1));
  self->coverage = f1 > 0 ? 1 - f1 / total * (total - 1) * f1 / ((total - 1) * f1 + 2 * f2) : 1;
}

SciDiversity
sci_diversity (const uint64_t *counts, size_t n)
{
  SciDiversity self = { 0, 0, 0, 0, NAN, NAN, NAN, NAN, { NAN, NAN, NAN }, NAN, NAN, NAN };

  for (size_t i = 0; i < n; i++)
    add_species (&self, counts[i]);
  if (self.individuals > 0)
    measure_shares (&self, counts, n);
  if (self.individuals > 1)
    estimate_unseen (&self);
  return self;
}

/* ln (C(N - n, m) / C(N, m)), a product of as many factors as the smaller of the two;
 * -infinity where m individuals cannot all be of other species. */
static double
log_chance_without (double total, double count, double m)
{
  double few = fmin (count, m), many = fmax (count, m), sum = 0;

  if (count + m > total)
    return -INFINITY;
  for (double j = 0; j < few; j++)
    sum += log1p (-many / (total - j));
  return sum;
}

double
sci_rarefy (const uint64_t *counts, size_t n, uint64_t m)
{
  double total = 0, sum = 0;

  for (size_t i = 0; i < n; i++)
    total += (double) counts[i];
  if ((double) m > total)
    return NAN;
  for (size_t i = 0; i < n; i++)
    if (counts[i] > 0)
      sum -= expm1 (log_chance_without (total, (double) counts[i], (double) m));
  return sum;
}
