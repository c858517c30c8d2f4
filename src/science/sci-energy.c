#include "sci-energy.h"

#include <math.h>
#include <stddef.h>

#define N_POINTS 7

typedef struct {
  double volts;
  double fraction;
  double sd;
} Point;

/* Rested cells near 20 C, ascending; from memory, no source. Below the first
 * point and above the last the end value holds. */
static const Point alkaline[N_POINTS] = {
  { 1.00, 0.00, 0.03 }, { 1.10, 0.05, 0.05 }, { 1.20, 0.15, 0.08 }, { 1.30, 0.35, 0.12 },
  { 1.40, 0.60, 0.13 }, { 1.50, 0.85, 0.12 }, { 1.60, 1.00, 0.07 },
};
static const Point nimh[N_POINTS] = {
  { 1.00, 0.00, 0.04 }, { 1.10, 0.04, 0.06 }, { 1.20, 0.20, 0.16 }, { 1.25, 0.45, 0.26 },
  { 1.30, 0.70, 0.25 }, { 1.35, 0.90, 0.15 }, { 1.42, 1.00, 0.08 },
};
static const Point lithium[N_POINTS] = {
  { 1.20, 0.00, 0.04 }, { 1.40, 0.03, 0.06 }, { 1.50, 0.10, 0.12 }, { 1.60, 0.30, 0.25 },
  { 1.68, 0.60, 0.28 }, { 1.74, 0.90, 0.18 }, { 1.79, 1.00, 0.08 },
};
static const Point li_ion[N_POINTS] = {
  { 3.00, 0.00, 0.02 }, { 3.40, 0.03, 0.04 }, { 3.60, 0.12, 0.08 }, { 3.70, 0.30, 0.12 },
  { 3.85, 0.60, 0.10 }, { 4.00, 0.80, 0.08 }, { 4.18, 1.00, 0.05 },
};
static const Point lead_acid[N_POINTS] = {
  { 1.93, 0.00, 0.06 }, { 1.96, 0.10, 0.09 }, { 1.99, 0.25, 0.11 }, { 2.02, 0.45, 0.12 },
  { 2.05, 0.65, 0.12 }, { 2.08, 0.82, 0.10 }, { 2.12, 1.00, 0.07 },
};

static const Point *
find_curve (SciChemistry chemistry)
{
  switch (chemistry)
    {
    case SCI_CHEMISTRY_ALKALINE:
      return alkaline;
    case SCI_CHEMISTRY_NIMH:
      return nimh;
    case SCI_CHEMISTRY_LITHIUM:
      return lithium;
    case SCI_CHEMISTRY_LI_ION:
      return li_ion;
    case SCI_CHEMISTRY_LEAD_ACID:
      return lead_acid;
    case SCI_CHEMISTRY_UNKNOWN:
    default:
      return NULL;
    }
}

static double
mix (double a, double b, double share)
{
  return a + share * (b - a);
}

SciFraction
sci_cells_fraction (SciChemistry chemistry, double volts_per_cell)
{
  const Point *curve = find_curve (chemistry);
  int i = 0;
  double share;

  if (curve == NULL || !(volts_per_cell > 0))
    return (SciFraction) { NAN, NAN };
  while (i < N_POINTS - 2 && volts_per_cell > curve[i + 1].volts)
    i++;
  share = (volts_per_cell - curve[i].volts) / (curve[i + 1].volts - curve[i].volts);
  share = fmax (0, fmin (1, share));
  return (SciFraction) {
    .fraction = mix (curve[i].fraction, curve[i + 1].fraction, share),
    .sd = mix (curve[i].sd, curve[i + 1].sd, share),
  };
}

double
sci_fraction_log_sd (SciFraction share)
{
  double relative = share.sd / share.fraction;

  return share.fraction > 0 ? sqrt (log1p (relative * relative)) : NAN;
}

double
sci_flash_mas (double full_power_ws, double power_fraction, double pack_volts)
{
  if (!(full_power_ws >= 0) || !(power_fraction >= 0 && power_fraction <= 1) || !(pack_volts > 0))
    return NAN;
  return 1000 * full_power_ws * power_fraction / (pack_volts * SCI_FLASH_EFFICIENCY);
}
