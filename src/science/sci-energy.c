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
sci_flash_mas (double full_power_ws, double power_fraction, double pack_volts)
{
  if (!(full_power_ws >= 0) || !(power_fraction >= 0 && power_fraction <= 1) || !(pack_volts > 0))
    return NAN;
  return 1000 * full_power_ws * power_fraction / (pack_volts * SCI_FLASH_EFFICIENCY);
}

/* Anything that is not one of ours is unknown. */
static SciChemistry
known_or_not (SciChemistry chemistry)
{
  return find_curve (chemistry) != NULL ? chemistry : SCI_CHEMISTRY_UNKNOWN;
}

double
sci_cells_usual_mah (SciChemistry chemistry, SciCellSize size)
{
  static const double alkaline_mah[] = { NAN, 1000, 2400, 7000, 13000, 550, NAN, NAN };
  static const double nimh_mah[] = { NAN, 800, 2000, 4000, 8000, 200, NAN, NAN };
  static const double lithium_mah[] = { NAN, 1200, 3000, NAN, NAN, 1000, NAN, NAN };
  static const double li_ion_mah[] = { NAN, NAN, NAN, NAN, NAN, 600, 2600, 4500 };

  switch (chemistry)
    {
    case SCI_CHEMISTRY_ALKALINE:
      return alkaline_mah[size];
    case SCI_CHEMISTRY_NIMH:
      return nimh_mah[size];
    case SCI_CHEMISTRY_LITHIUM:
      return lithium_mah[size];
    case SCI_CHEMISTRY_LI_ION:
      return li_ion_mah[size];
    case SCI_CHEMISTRY_LEAD_ACID:
    case SCI_CHEMISTRY_UNKNOWN:
    default:
      return NAN;
    }
}

double
sci_cells_nominal_volts (SciChemistry chemistry)
{
  switch (chemistry)
    {
    case SCI_CHEMISTRY_NIMH:
      return 1.2;
    case SCI_CHEMISTRY_LI_ION:
      return 3.6;
    case SCI_CHEMISTRY_LEAD_ACID:
      return 2.0;
    case SCI_CHEMISTRY_ALKALINE:
    case SCI_CHEMISTRY_LITHIUM:
    case SCI_CHEMISTRY_UNKNOWN:
    default:
      return 1.5;
    }
}

double
sci_cells_temperature_share (SciChemistry chemistry, double celsius)
{
  static const double at[] = { -40, -20, 0, 20, 50 };
  static const double shares[][5] = {
    [SCI_CHEMISTRY_UNKNOWN] = { 1, 1, 1, 1, 1 },
    [SCI_CHEMISTRY_ALKALINE] = { 0.05, 0.25, 0.7, 1, 1 },
    [SCI_CHEMISTRY_NIMH] = { 0.1, 0.5, 0.85, 1, 0.9 },
    [SCI_CHEMISTRY_LITHIUM] = { 0.5, 0.85, 0.95, 1, 1 },
    [SCI_CHEMISTRY_LI_ION] = { 0.2, 0.6, 0.85, 1, 1 },
    [SCI_CHEMISTRY_LEAD_ACID] = { 0.2, 0.5, 0.8, 1, 1 },
  };
  const double *curve = shares[known_or_not (chemistry)];
  int i = 0;

  if (isnan (celsius))
    return 1;
  while (i < 3 && celsius > at[i + 1])
    i++;
  return mix (curve[i], curve[i + 1], fmax (0, fmin (1, (celsius - at[i]) / (at[i + 1] - at[i]))));
}

double
sci_cells_self_discharge (SciChemistry chemistry, double celsius)
{
  static const double yearly[] = {
    [SCI_CHEMISTRY_UNKNOWN] = 0,    [SCI_CHEMISTRY_ALKALINE] = 0.025, [SCI_CHEMISTRY_NIMH] = 0.3,
    [SCI_CHEMISTRY_LITHIUM] = 0.01, [SCI_CHEMISTRY_LI_ION] = 0.25,    [SCI_CHEMISTRY_LEAD_ACID] = 0.4,
  };

  return yearly[known_or_not (chemistry)] / 365.25 * (isnan (celsius) ? 1 : exp2 ((celsius - 20) / 10));
}

double
sci_cells_age_share (SciChemistry chemistry, double years)
{
  double yearly = chemistry == SCI_CHEMISTRY_NIMH || chemistry == SCI_CHEMISTRY_LEAD_ACID ? 0.08
                  : chemistry == SCI_CHEMISTRY_LI_ION                                     ? 0.05
                                                                                          : 0;

  return isnan (years) ? 1 : fmax (0.5, 1 - yearly * fmax (0, years));
}
