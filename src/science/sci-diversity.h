/* Diversity of a sample of individuals: how many species, how evenly. */
#pragma once

#include <stddef.h>
#include <stdint.h>

/* NaN where a value is not defined. */
typedef struct {
  size_t individuals;
  size_t species;
  size_t singletons; /* species with one individual */
  size_t doubletons;
  double shannon;          /* natural logarithm */
  double simpson;          /* 1 - sum p^2 */
  double simpson_unbiased; /* 1 - sum n (n - 1) / (N (N - 1)); takes two individuals */
  double evenness;         /* Shannon's over ln S; takes two species */
  double hill[3];
  double chao1;
  double chao1_corrected;
  double coverage;
} SciDiversity;

/* Measures of diversity.
 *
 * Given:
 *   counts  uint64_t[n]  individuals of each species; 0 is a species not found
 *
 * Returned:
 *   hill      numbers of order 0, 1, 2: S, exp H, 1 / sum p^2
 *   chao1     S + A f1^2 / (2 f2), A = (N - 1) / N; without doubletons
 *             S + A f1 (f1 - 1) / 2
 *   chao1_corrected  S + f1 (f1 - 1) / (2 (f2 + 1))
 *   coverage  1 - f1 / N (N - 1) f1 / ((N - 1) f1 + 2 f2)
 *
 * Notes:
 *   Individuals are taken for independent draws; those of a group are not. All NaN
 *   without an individual, and coverage and chao1 with one only. Against CHECKS F2 within
 *   1e-9 relative.
 *
 * References:
 *   Shannon 1948, Bell Syst. Tech. J. 27:379-423; Simpson 1949, Nature 163:688; Hill
 *   1973, Ecology 54:427-432; Chao 1984, Scand. J. Stat. 11:265-270; Chao & Jost 2012,
 *   Ecology 93:2533-2547 (all from memory).
 */
SciDiversity sci_diversity (const uint64_t *counts, size_t n);

/* Species to expect among so many of the individuals.
 *
 * Given:
 *   counts  uint64_t[n]
 *   m       uint64_t     individuals drawn without replacement, m <= N
 *
 * Returned:
 *   sum over species of 1 - C(N - n, m) / C(N, m); NaN for m > N
 *
 * Notes:
 *   Work grows with the smaller of N and species times m. Against CHECKS F2 within 1e-12
 *   relative.
 *
 * References:
 *   Hurlbert 1971, Ecology 52:577-586 (from memory).
 */
double sci_rarefy (const uint64_t *counts, size_t n, uint64_t m);
