/* Single-season occupancy with constant psi and p: at what share of the sites a
 * species is, allowing for sites where it was and went unseen.
 *
 * psi is the chance that a site is occupied, p the chance to detect the species
 * in one visit to an occupied site; nothing is detected where it is not. Visits
 * are independent, and the species neither comes nor goes for good meanwhile.
 * Occasions without a visit are left out of the likelihood, whatever the reason
 * they are missing for as long as that has nothing to do with the species.
 *
 * With constant psi and p the order of the visits is of no account: the
 * detections and visits of each site are all there is to know.
 */
#pragma once

#include <stddef.h>

#include "sci-poisson.h"

/* One site. Without a visit it says nothing and is not counted. */
typedef struct {
  size_t visits;
  size_t detections; /* visits with one, <= visits */
} SciOccupancySite;

/* How a fit came out. */
typedef enum {
  SCI_OCCUPANCY_INSIDE,    /* psi and p both between 0 and 1 */
  SCI_OCCUPANCY_PSI_ONE,   /* the likelihood is greatest at psi = 1: then p = detections / visits */
  SCI_OCCUPANCY_P_ONE,     /* at p = 1: every visit to a site with the species found it; psi is the naive share */
  SCI_OCCUPANCY_UNSEEN,    /* nothing detected, or no site: nothing to estimate */
  SCI_OCCUPANCY_ONCE,      /* no site has a second visit: only psi times p can be known */
} SciOccupancyState;

/* What cannot be known is NaN. The errors and their covariance are so on a boundary
 * too; the limits are not. The first four numbers always hold. */
typedef struct {
  SciOccupancyState state;
  size_t sites;          /* with a visit */
  size_t sites_detected;
  size_t visits;
  size_t detections;
  double naive;          /* sites_detected / sites */
  SciInterval psi;
  SciInterval p;
  double psi_error;
  double p_error;
  double covariance;     /* of psi and p */
  double log_likelihood; /* at the maximum */
  double aic;            /* -2 lnL + 4 */
  double aic_corrected;  /* aic + 12 / (sites - 3); NaN up to 3 sites */
} SciOccupancy;

/* The fit of greatest likelihood.
 *
 * Given:
 *   sites  SciOccupancySite[n]  in any order
 *   level  double               coverage of the limits, 0 < level < 1
 *
 * Returned:
 *   estimates, standard errors from the second derivatives of lnL (analytic), and
 *   limits by profile likelihood: where lnL, made as great as the other parameter
 *   allows, has fallen by half the chi-square quantile with one degree of freedom
 *   (1.92 for 95 %). A profile that does not fall so far before 1 ends there
 *
 * Notes:
 *   For given p, lnL is concave in psi and its maximum the root of a monotone
 *   function; the best p lies between detections / visits of all sites and of the
 *   sites with detections, and each maximum along the way is looked at, so that no
 *   starting value is needed. Against CHECKS E (Nelder-Mead and R nlm): estimates,
 *   errors and limits within 1e-6, lnL within 1e-9. Work grows with the
 *   number of different numbers of visits, not with the sites.
 *   Profile limits are the choice here: those symmetric on the logit scale are
 *   too sure of themselves near 1 and do not exist on the boundary.
 *
 * References:
 *   MacKenzie et al. 2002, Ecology 83:2248-2255;
 *   MacKenzie et al. 2006, Occupancy Estimation and Modeling, ch. 4 (from memory);
 *   Venzon & Moolgavkar 1988, Appl. Stat. 37:87-94 (profile limits, from memory).
 */
SciOccupancy sci_occupancy_fit (const SciOccupancySite *sites, size_t n, double level);

/* The logarithm of the likelihood.
 *
 * Given:
 *   sites   SciOccupancySite[n]
 *   psi, p  double  0..1
 *
 * Returned:
 *   sum over sites of ln (psi p^y (1 - p)^(k - y), and 1 - psi more where y = 0);
 *   -infinity where the data cannot be. NaN outside the ranges
 */
double sci_occupancy_log_likelihood (const SciOccupancySite *sites, size_t n, double psi, double p);

/* The chance that a site without a detection is occupied.
 *
 * Given:
 *   psi, p  double  0..1
 *   visits  double  made to it
 *
 * Returned:
 *   psi (1 - p)^visits / (1 - psi + psi (1 - p)^visits)
 *
 * Notes:
 *   NaN outside the ranges, and where psi and p are both 1.
 *
 * References:
 *   MacKenzie et al. 2006, p. 97 (from memory).
 */
double sci_occupancy_missed (double psi, double p, double visits);

/* Visits after which an occupied site has shown the species.
 *
 * Given:
 *   p       double  0..1
 *   chance  double  that it has, 0 < chance < 1
 *
 * Returned:
 *   the least whole number k with 1 - (1 - p)^k >= chance; 1 at p = 1, NaN at p = 0
 *   and outside the ranges
 */
double sci_occupancy_visits_needed (double p, double chance);
