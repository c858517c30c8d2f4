#include "sci-poisson.h"

#include <math.h>

#include "sci-special.h"

static const SciInterval nothing = { NAN, NAN, NAN };

SciInterval
sci_poisson_rate (int64_t n, double effort, double per, double level)
{
  double tail = (1 - level) / 2;
  double scale = per / effort;
  double count = (double) n;

  if (n < 0 || !(effort > 0) || !(level > 0 && level < 1))
    return nothing;
  return (SciInterval) {
    .estimate = scale * count,
    .lower = n == 0 ? 0 : scale * sci_chi_square_quantile (2 * count, tail) / 2,
    .upper = scale * sci_chi_square_quantile (2 * count + 2, 1 - tail) / 2,
  };
}

SciInterval
sci_wilson (int64_t x, int64_t n, double level)
{
  double share = (double) x / (double) n;
  double z, zz, middle, half;

  if (n <= 0 || x < 0 || x > n || !(level > 0 && level < 1))
    return nothing;
  z = -sci_normal_quantile ((1 - level) / 2);
  zz = z * z / (double) n;
  middle = (share + zz / 2) / (1 + zz);
  half = z * sqrt (share * (1 - share) / (double) n + zz / (4 * (double) n)) / (1 + zz);
  return (SciInterval) {
    .estimate = share,
    .lower = x == 0 ? 0 : middle - half,
    .upper = x == n ? 1 : middle + half,
  };
}

SciInterval
sci_newcombe (int64_t x1, int64_t n1, int64_t x2, int64_t n2, double level)
{
  SciInterval a = sci_wilson (x1, n1, level), b = sci_wilson (x2, n2, level);
  double difference = a.estimate - b.estimate;

  return (SciInterval) {
    .estimate = difference,
    .lower = difference - hypot (a.estimate - a.lower, b.upper - b.estimate),
    .upper = difference + hypot (a.upper - a.estimate, b.estimate - b.lower),
  };
}
