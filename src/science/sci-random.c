#include "sci-random.h"

static uint64_t
mix (uint64_t z)
{
  z = (z ^ (z >> 30)) * UINT64_C (0xbf58476d1ce4e5b9);
  z = (z ^ (z >> 27)) * UINT64_C (0x94d049bb133111eb);
  return z ^ (z >> 31);
}

/* Each part is mixed in before the next is added: places that differ in one
 * part only are as far apart as any others. */
uint64_t
sci_random_bits (uint64_t seed, uint64_t stream, uint64_t counter)
{
  const uint64_t golden = UINT64_C (0x9e3779b97f4a7c15);

  return mix (mix (mix (seed + golden) + stream * golden) + counter * golden);
}

double
sci_random_uniform (uint64_t seed, uint64_t stream, uint64_t counter)
{
  return (double) (sci_random_bits (seed, stream, counter) >> 11) * 0x1p-53;
}
