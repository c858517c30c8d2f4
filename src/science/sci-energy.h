/* From a meter reading to charge, and from flashes to charge. */
#pragma once

typedef enum {
  SCI_CHEMISTRY_UNKNOWN,
  SCI_CHEMISTRY_ALKALINE,
  SCI_CHEMISTRY_NIMH,
  SCI_CHEMISTRY_LITHIUM,
  SCI_CHEMISTRY_LI_ION,
  SCI_CHEMISTRY_LEAD_ACID,
} SciChemistry;

/* A share and how well it is known. */
typedef struct {
  double fraction;
  double sd;
} SciFraction;

/* Share of the charge left, from the voltage at rest.
 *
 * Given:
 *   chemistry       SciChemistry  SCI_CHEMISTRY_LITHIUM is the primary 1.5 V
 *                                 iron disulfide cell, SCI_CHEMISTRY_LI_ION
 *                                 the rechargeable 3.6 V cell
 *   volts_per_cell  double        V, pack voltage / cells in series, without
 *                                 load, near 20 C
 *
 * Returned:
 *   fraction  double  0..1
 *   sd        double  standard deviation of that fraction, absolute
 *   both NaN for an unknown chemistry or a voltage that is not positive
 *
 * Notes:
 *   Straight lines between points. Points and deviations are from memory of
 *   common practice, without a source; deviations are meant wide. A flat
 *   chemistry says little: nickel-metal hydride and lithium iron disulfide
 *   carry an sd of up to 0.28, which is what knowing nothing but 'neither
 *   full nor empty' is worth (a uniform share has 0.289). Temperature, load
 *   and rest time are left out.
 */
SciFraction sci_cells_fraction (SciChemistry chemistry, double volts_per_cell);

/* The deviation of the logarithm that matches a share and its sd.
 *
 * Given:
 *   share  SciFraction  fraction > 0
 *
 * Returned:
 *   sqrt (ln (1 + (sd / fraction)^2)), the log sd of the lognormal with that
 *   mean and sd; NaN for a fraction of 0 or less
 */
double sci_fraction_log_sd (SciFraction share);

/* Share of the energy taken from the cells that reaches the flash capacitor.
 * Common practice for small flyback chargers, from memory, no source. */
#define SCI_FLASH_EFFICIENCY 0.6

/* Charge taken from a pack to recharge a flash once.
 *
 * Given:
 *   full_power_ws   double  energy of a full-power flash, W s
 *   power_fraction  double  share of full power used, 0..1
 *   pack_volts      double  V under load, > 0
 *
 * Returned:
 *   mA s; NaN outside the ranges
 *
 * Notes:
 *   1000 * energy * fraction / (volts * SCI_FLASH_EFFICIENCY). Idle leakage of
 *   the capacitor belongs to the sleep current.
 */
double sci_flash_mas (double full_power_ws, double power_fraction, double pack_volts);
