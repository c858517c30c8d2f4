#include "sci-count.h"

#include <math.h>
#include <stdbool.h>

#include "sci-special.h"

/* Fewest counts taken as an integral, most added one by one at a time. */
#define BLOCK 32
#define NEGLIGIBLE 1e-8

typedef struct {
  double size;
  double odds;
  double sd;
  double below;
  const SciCountFunc *func;
} Sum;

static double
mass_at (const Sum *sum, double n)
{
  return exp (sci_negbin_log_mass (n, sum->size, sum->odds));
}

static double
term_at (const Sum *sum, double n)
{
  double mass = mass_at (sum, n);

  return mass > 0 ? mass * sum->func->value (sum->func->data, n) : 0;
}

/* The mass goes from one count to the next by a ratio; from nothing it is
 * worked out anew. */
static double
add_terms (const Sum *sum, double low, double high)
{
  double share = sum->odds / (1 + sum->odds), mass = mass_at (sum, low), total = 0;

  for (double n = low; n < high; n++)
    {
      if (mass > 0)
        total += mass * sum->func->value (sum->func->data, n);
      mass = mass > 0 ? mass * (n + sum->size) / (n + 1) * share : mass_at (sum, n + 1);
    }
  return total;
}

/* The terms low <= n < high as an integral from low - 1/2 to high - 1/2. */
static double
integrate_terms (const Sum *sum, double low, double high)
{
  static const double nodes[] = {
    0.183434642495649805, 0.525532409916328986, 0.796666477413626740, 0.960289856497536232,
  };
  static const double weights[] = {
    0.362683783378361983, 0.313706645877887287, 0.222381034453374471, 0.101228536290376259,
  };
  double middle = (low + high - 1) / 2, half = (high - low) / 2;
  double total = 0;

  for (int i = 0; i < 4; i++)
    total += weights[i] * (term_at (sum, middle - half * nodes[i]) + term_at (sum, middle + half * nodes[i]));
  return half * total;
}

/* Euler-Maclaurin correction where a run of integrals begins at @n; less it
 * where a run ends. */
static double
border_correction (const Sum *sum, double n)
{
  return (term_at (sum, n) - term_at (sum, n - 1)) / 24;
}

/* Length of the next block from @n; the mass itself is smooth over three
 * deviations, and near 0 over a few times n. */
static double
next_block (const Sum *sum, double n, int direction)
{
  double near_zero = direction > 0 ? 2 * n : 2 * n / 3;
  double reach = sum->func->reach (sum->func->data, n, direction);

  return floor (fmin (fmin (3 * sum->sd, near_zero), reach));
}

/* Upper bound of the mass from @n onward, when it falls geometrically or faster. */
static double
bound_above (const Sum *sum, double n)
{
  double ratio = (n + sum->size) / (n + 1) * (sum->odds / (1 + sum->odds));

  return ratio < 1 ? mass_at (sum, n) / (1 - ratio) : 1;
}

static double
bound_below (const Sum *sum, double n)
{
  double ratio = n / (n - 1 + sum->size) * ((1 + sum->odds) / sum->odds);

  return n > 0 && ratio < 1 ? mass_at (sum, n) / (1 - ratio) : 1;
}

static double
walk_up (const Sum *sum, double n)
{
  double total = 0;
  bool in_run = false;

  while (n < sum->below)
    {
      double block = next_block (sum, n, 1);
      bool smooth = fmin (block, sum->below - n) >= BLOCK;
      double end = fmin (n + (smooth ? block : BLOCK), sum->below);

      if (smooth != in_run)
        total += (smooth ? 1 : -1) * border_correction (sum, n);
      in_run = smooth;
      total += smooth ? integrate_terms (sum, n, end) : add_terms (sum, n, end);
      n = end;
      if (fmin (bound_above (sum, n), sum->func->value (sum->func->data, n)) < NEGLIGIBLE)
        break;
    }
  return in_run ? total - border_correction (sum, n) : total;
}

static double
walk_down (const Sum *sum, double n)
{
  double total = 0;
  bool in_run = false;

  while (n > 0)
    {
      double block = next_block (sum, n, -1);
      bool smooth = block >= BLOCK;
      double end = fmax (n - (smooth ? block : BLOCK), 0);

      if (smooth != in_run)
        total += (smooth ? -1 : 1) * border_correction (sum, n);
      in_run = smooth;
      total += smooth ? integrate_terms (sum, end, n) : add_terms (sum, end, n);
      n = end;
      if (bound_below (sum, n) < NEGLIGIBLE)
        break;
    }
  return in_run ? total + border_correction (sum, n) : total;
}

double
sci_count_expect (double size, double odds, const SciCountFunc *func, double below)
{
  Sum sum = { size, odds, sqrt (size * odds * (1 + odds)), below, func };
  double mode = fmax (0, floor ((size - 1) * odds));
  double start = fmin (mode, below);

  return fmin (1, walk_up (&sum, start) + walk_down (&sum, start));
}
