/* Numbers that look random and are not: a counter-based generator. */
#pragma once

#include <stdint.h>

/* The number at a place in a stream.
 *
 * Given:
 *   seed     uint64_t  names the whole sequence
 *   stream   uint64_t  what the number is for, so that none is used twice
 *   counter  uint64_t  which number of the stream
 *
 * Returned:
 *   sci_random_bits:     64 bits
 *   sci_random_uniform:  0 <= u < 1, in steps of 2^-53
 *
 * Notes:
 *   No state: the same place gives the same number, whatever was asked before
 *   and on whichever thread. Not for secrets.
 *
 * References:
 *   Steele, Lea & Flood 2014, "Fast splittable pseudorandom number
 *   generators", OOPSLA: the mixing function (their variant 13 constants,
 *   from memory).
 */
uint64_t sci_random_bits (uint64_t seed, uint64_t stream, uint64_t counter);
double sci_random_uniform (uint64_t seed, uint64_t stream, uint64_t counter);
