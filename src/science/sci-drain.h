/* What a unit really draws, learned from what was seen of it.
 *
 * A unit's data sheet gives the share of a charge that ought to be used by a
 * time, its expected use. What it really uses is that times a factor: the
 * unit's own (its electronics, its sheet), times one of each set of cells (their
 * true capacity). Both are taken as lognormal; what was seen on visits narrows
 * them. The rest of this file works with the logarithm of the factor on a grid
 * from -2.7 to 2.7 in steps of 0.075, exactly where a conjugate step would need the
 * readings to be lognormal, which percents near 0 and 100 are not.
 */
#pragma once

#include <stddef.h>

/* A lognormal factor. */
typedef struct {
  double log_mean;
  double log_sd;
} SciFactor;

typedef enum {
  SCI_LOOK_SHARE, /* a meter: this share of the charge is left */
  SCI_LOOK_ALIVE, /* it was working */
  SCI_LOOK_OUT,   /* it was found out of charge, or so it seemed */
} SciLookKind;

/* A unit seen on a visit. */
typedef struct {
  SciLookKind kind;
  int cells;           /* which set of cells or charge, growing */
  double expected;     /* share of a charge that ought to be used, >= 0 */
  double expected_rel; /* relative deviation of that: triggers not counted, >= 0 */
  double share;        /* left, 0..1; SCI_LOOK_SHARE only */
  double share_sd;     /* > 0 */
} SciLook;

/* Charge left of the present cells, as a multiple of a whole charge's expected
 * use: lognormal median and deviation of the logarithm. */
typedef struct {
  double median;
  double log_sd;
} SciCharge;

/* Deviation of a set of cells around its rating, of the logarithm: make, age on
 * the shelf, load. Common practice, no source. */
#define SCI_CELLS_LOG_SD 0.10

/* Deviation of a unit around its sheet before anything was seen of it or its
 * kind. Common practice, no source. */
#define SCI_UNIT_LOG_SD 0.28

/* Points of the grid. */
#define SCI_DRAIN_GRID 73

/* How likely each factor of a unit is, from what was seen of it alone. */
typedef struct {
  double likelihood[SCI_DRAIN_GRID];
  size_t n_looks;
} SciDrain;

/* What a unit's sets of cells before the present one say of its own factor.
 *
 * Given:
 *   looks  SciLook[n]  by cells, then time; may be NULL when n is 0
 *   n      size_t
 *
 * Returned:
 *   drain  SciDrain
 *
 * Notes:
 *   A meter's share counts as normal around 1 - factor x expected (not below
 *   0) with 1 reading in 200 worth nothing; 'working' and 'out' as the chance
 *   of either, with one in ten found out for another reason than charge. The
 *   cells' own factor is integrated out per set. A share that has hardly
 *   moved says little, and a flat chemistry less: that comes out by itself.
 */
void sci_drain_look (const SciLook *looks, size_t n, SciDrain *drain);

/* A unit's own factor.
 *
 * Given:
 *   prior  SciFactor
 *   drain  SciDrain
 *
 * Returned:
 *   mean and deviation of the logarithm of the posterior; the prior when
 *   nothing was looked at
 *
 * Notes:
 *   Tested against a plain double integral: 0.01 in both numbers.
 *
 * References:
 *   Gelman et al., Bayesian Data Analysis, ch. 3 and 5, for the arithmetic.
 */
SciFactor sci_drain_factor (SciFactor prior, const SciDrain *drain);

/* What the present cells have left.
 *
 * Given:
 *   unit      SciFactor   the unit's own factor, from sci_drain_factor()
 *   looks     SciLook[n]  at the present cells, by time; their field cells is
 *                         not looked at
 *   n         size_t
 *   expected  double      expected use up to the moment asked about, >= 0
 *
 * Returned:
 *   SciCharge: 1 / factor - expected, given that it is above 0; the median and
 *   the deviation that puts its 10 and 90 % points right. 0, 0 when nothing
 *   above 0 is likely at all.
 *
 * Notes:
 *   One set of cells in twenty was not whole when it came in; then what was
 *   read last is what there was. So a reading that the pace cannot explain is
 *   believed rather than averaged away.
 */
SciCharge sci_drain_left (SciFactor unit, const SciLook *looks, size_t n, double expected);

/* The common factor of a kind of unit and how far single ones differ.
 *
 * Given:
 *   units  SciFactor[n]  each learned alone from @prior
 *   n      size_t
 *   prior  SciFactor     what each was learned from
 *
 * Returned:
 *   the prior for a unit of that kind: mean and deviation of the logarithm
 *
 * Notes:
 *   Each posterior is taken as normal and the prior divided out; the mean is
 *   weighted by precision, the deviation by the moments of DerSimonian &
 *   Laird, the mean drawn towards @prior as if one unit had told it, the
 *   deviation as if four had.
 *
 * References:
 *   DerSimonian & Laird 1986, Controlled Clinical Trials 7:177-188, from memory.
 */
SciFactor sci_drain_kind (const SciFactor *units, size_t n, SciFactor prior);
