/* How long a fit of occupancy and an accumulation of species take; called by
 * bench-community.py, which makes the data and does the same with other programs.
 *
 *   bench-community occupancy REPEATS < lines of "visits detections", a site each
 *   bench-community accumulation REPEATS UNITS SPECIES < units x species of 0 or 1
 *
 * Prints seconds of one run, then the results.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "sci-community.h"
#include "sci-occupancy.h"

static double
read_clock (void)
{
  struct timespec now;

  clock_gettime (CLOCK_MONOTONIC, &now);
  return (double) now.tv_sec + 1e-9 * (double) now.tv_nsec;
}

static int
run_occupancy (int repeats)
{
  static SciOccupancySite sites[100000];
  SciOccupancy fit = { 0 };
  size_t n = 0;
  double began;

  while (n < 100000 && scanf ("%zu %zu", &sites[n].visits, &sites[n].detections) == 2)
    n++;
  began = read_clock ();
  for (int i = 0; i < repeats; i++)
    fit = sci_occupancy_fit (sites, n, 0.95);
  printf ("%.9g\n", (read_clock () - began) / repeats);
  printf ("%.12g %.12g %.12g %.12g %.12g %.12g %.12g %.12g %.12g\n", fit.psi.estimate, fit.psi_error, fit.psi.lower, fit.psi.upper,
          fit.p.estimate, fit.p_error, fit.p.lower, fit.p.upper, fit.log_likelihood);
  return 0;
}

static int
run_accumulation (int repeats, size_t units, size_t species)
{
  double *mean = calloc (units, sizeof *mean), *sd = calloc (units, sizeof *sd), began;
  SciPresence presence;

  if (mean == NULL || sd == NULL || !sci_presence_init (&presence, units, species))
    return 1;
  for (size_t u = 0; u < units; u++)
    for (size_t s = 0, found; s < species && scanf ("%zu", &found) == 1; s++)
      if (found)
        sci_presence_set (&presence, s, u);
  began = read_clock ();
  for (int i = 0; i < repeats; i++)
    {
      SciTally tally;

      if (!sci_tally_init (&tally, &presence))
        return 1;
      sci_accumulation (&tally, mean, sd);
      sci_richness (&tally);
      sci_tally_clear (&tally);
    }
  printf ("%.9g\n", (read_clock () - began) / repeats);
  for (size_t k = 0; k < units; k++)
    printf ("%.12g %.12g\n", mean[k], sd[k]);
  sci_presence_clear (&presence);
  free (mean);
  free (sd);
  return 0;
}

int
main (int argc, char *argv[])
{
  if (argc == 3 && strcmp (argv[1], "occupancy") == 0)
    return run_occupancy (atoi (argv[2]));
  if (argc == 5 && strcmp (argv[1], "accumulation") == 0)
    return run_accumulation (atoi (argv[2]), (size_t) atoi (argv[3]), (size_t) atoi (argv[4]));
  fprintf (stderr, "Usage: see the head of bench-community.c\n");
  return 2;
}
