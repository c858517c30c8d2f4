/* The likelihood of occupancy on what it takes of the data. */
#pragma once

#include <stdbool.h>

#include "sci-occupancy.h"

/* Sites without a detection, by their visits. */
typedef struct {
  double visits;
  double sites;
  double missed; /* the chance of that where the species is, at the p in force */
} SciSilent;

typedef struct {
  double sites;
  double visits;     /* to all of them */
  double detected;   /* sites with a detection */
  double detections;
  double misses;     /* visits to these sites without one */
  bool repeated;     /* some site has a second visit */
  SciSilent *silent; /* owned */
  size_t n_silent;
  double p;          /* in force */
} SciOccupancyData;

/* False without memory. */
bool sci_occupancy_data_init (SciOccupancyData *self, const SciOccupancySite *sites, size_t n);
void sci_occupancy_data_clear (SciOccupancyData *self);

/* The p that the functions below go by. */
void sci_occupancy_set_p (SciOccupancyData *self, double p);

/* lnL, and its slope in p. */
double sci_occupancy_value (const SciOccupancyData *self, double psi);
double sci_occupancy_slope (const SciOccupancyData *self, double psi);

/* The psi of the greatest lnL; at least one site has a detection. */
double sci_occupancy_best_psi (const SciOccupancyData *self);
